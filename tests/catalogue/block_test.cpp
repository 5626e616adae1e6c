// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/block.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "core/catalogue/reader.hpp"
#include "tests/catalogue/sample.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::contains;
using Text = std::string;

struct Reading {
    Block block;
    std::string refused;
    Warnings warnings{true};
};

Reading read(const Table& table) {
    Reading reading;
    try {
        reading.block = read_block(table, sample::schema(), "car", Language::english, reading.warnings);
    } catch (const Refused& refused) {
        reading.refused = refused.sentence;
    }
    return reading;
}

// A block that has to be good, read.
Block good(const Table& table) {
    const Reading reading = read(table);
    if (!reading.refused.empty()) throw std::runtime_error(reading.refused);
    return reading.block;
}

TEST(BlockReader, ReadsLabelValueUnit) {
    const Reading reading = read({{Text("Mass"), 1450.0},
                                  {Text("TEMPERATURE"), 86.0, Text("°F")},
                                  {Text("front  Share"), Text("56 %")},
                                  {Text("Tyre"), Text("255/35 R19")}});
    ASSERT_EQ(reading.refused, "");
    EXPECT_DOUBLE_EQ(reading.block.number("mass"), 1450.0);
    EXPECT_NEAR(reading.block.number("temperature"), 303.15, 1e-9);
    EXPECT_DOUBLE_EQ(reading.block.number("front share"), 0.56);
    EXPECT_EQ(reading.block.text("tyre"), "255/35 R19");
}

TEST(BlockReader, DefaultsStandForWhatIsNotGiven) {
    const Reading reading =
        read({{Text("mass"), 1450.0}, {Text("temperature"), std::monostate{}}, {std::monostate{}, 3.0}});
    ASSERT_EQ(reading.refused, "");
    EXPECT_NEAR(reading.block.number("temperature"), 288.15, 1e-9);
    EXPECT_DOUBLE_EQ(reading.block.number("front share"), 0.55);
    EXPECT_FALSE(reading.block.has("temperature"));
    EXPECT_FALSE(reading.block.find("bore"));
    EXPECT_TRUE(reading.block.text("tyre").empty());
}

TEST(BlockReader, AMissingLabelIsNamed) {
    const std::string refused = read({{Text("temperature"), 20.0}}).refused;
    EXPECT_TRUE(contains(refused, "no row \"mass\"")) << refused;
    EXPECT_FALSE(read({{Text("mass"), Text("")}}).refused.empty());
}

TEST(BlockReader, ADoubledLabelIsNamed) {
    const std::string refused = read({{Text("mass"), 1450.0}, {Text("MASS"), 1500.0}}).refused;
    EXPECT_TRUE(contains(refused, "\"MASS\" twice")) << refused;
    EXPECT_TRUE(
        contains(read({{Text("mass"), 1.0}, {Text("gear 1"), 3.0}, {Text("Gear 1"), 3.0}}).refused, "twice"));
}

TEST(BlockReader, AnUnknownLabelGetsTheNearest) {
    std::string refused = read({{Text("mass"), 1.0}, {Text("temprature"), 3.0}}).refused;
    EXPECT_TRUE(contains(refused, "did you mean \"temperature\"")) << refused;
    refused = read({{Text("mass"), 1.0}, {Text("colour of the seats"), 3.0}}).refused;
    EXPECT_TRUE(contains(refused, "the labels are mass, temperature")) << refused;
}

TEST(BlockReader, LabelsThatExcludeEachOther) {
    EXPECT_TRUE(contains(read({{Text("mass"), 1.0}, {Text("bore"), 86.0}, {Text("stroke"), 86.0}}).refused,
                         "one of them"));
}

TEST(BlockReader, NumberedLabels) {
    const Reading reading =
        read({{Text("mass"), 1.0}, {Text("gear 1"), 3.6}, {Text("Gear2"), 2.1}, {Text("gear 10"), 0.7}});
    ASSERT_EQ(reading.refused, "");
    const auto gears = reading.block.numbered("gear #");
    ASSERT_EQ(gears.size(), 3u);
    EXPECT_DOUBLE_EQ(gears.at(1), 3.6);
    EXPECT_DOUBLE_EQ(gears.at(2), 2.1);
    EXPECT_DOUBLE_EQ(gears.at(10), 0.7);
}

TEST(BlockReader, UnitInTheThirdColumn) {
    EXPECT_NEAR(good({{Text("mass"), 3200.0, Text("lb")}}).number("mass"), 3200 * 0.45359237, 1e-9);
    EXPECT_NEAR(good({{Text("mass"), Text("3200"), Text("lb")}}).number("mass"), 3200 * 0.45359237, 1e-9);
    EXPECT_NEAR(good({{Text("mass"), Text("3200 lb"), Text("")}}).number("mass"), 3200 * 0.45359237, 1e-9);
    EXPECT_TRUE(contains(read({{Text("mass"), Text("3200 lb"), Text("kg")}}).refused, "carries a unit"));
    EXPECT_TRUE(contains(read({{Text("mass"), 3200.0, Text("kPa")}}).refused, "kPa is a unit of pressure"));
    EXPECT_TRUE(contains(read({{Text("mass"), 3200.0, Text("stones")}}).refused, "not known"));
    EXPECT_DOUBLE_EQ(good({{Text("mass"), 1.0}, {Text("gear 1"), 3.6, Text("-")}}).numbered("gear #").at(1),
                     3.6);
}

TEST(BlockReader, PercentInTheThirdColumn) {
    const auto share = [](double value, const char* unit) {
        return good({{Text("mass"), 1.0}, {Text("front share"), value, Text(unit)}}).number("front share");
    };
    EXPECT_DOUBLE_EQ(share(56.0, "%"), 0.56);
    EXPECT_DOUBLE_EQ(share(0.56, ""), 0.56);
    EXPECT_TRUE(
        contains(read({{Text("mass"), 1.0}, {Text("front share"), 56.0}}).refused, "did you mean 56 %?"));
}

TEST(BlockReader, UncertaintyInTheFourthColumn) {
    const Reading reading = read({{Text("mass"), 3200.0, Text("lb"), 20.0},
                                  {Text("temperature"), 68.0, Text("°F"), 1.8},
                                  {Text("front share"), 56.0, Text("%"), 1.0}});
    ASSERT_EQ(reading.refused, "");
    EXPECT_NEAR(reading.block.uncertainty("mass").value(), 20 * 0.45359237, 1e-9);
    EXPECT_NEAR(reading.block.uncertainty("temperature").value(), 1.0, 1e-9);
    EXPECT_NEAR(reading.block.uncertainty("front share").value(), 0.01, 1e-12);
    EXPECT_FALSE(good({{Text("mass"), 1.0, Text("kg"), Text("")}}).uncertainty("mass"));
    EXPECT_FALSE(read({{Text("mass"), 1.0, Text("kg"), -1.0}}).refused.empty());
}

TEST(BlockReader, ShapesAndErrors) {
    EXPECT_FALSE(read({{Text("mass")}}).refused.empty());
    EXPECT_FALSE(read({{Text("mass"), 1.0, Text("kg"), 1.0, 1.0}}).refused.empty());
    EXPECT_FALSE(read(Table()).refused.empty());
    EXPECT_TRUE(contains(read({{Text("mass"), Failure{FailureKind::no_data, "broken"}}}).refused, "broken"));
    EXPECT_TRUE(contains(read({{Text("mass"), 0.0}}).refused, "mass"));
    // An error in place of a label, which need not have a sentence of its own.
    EXPECT_TRUE(contains(read({{Failure{FailureKind::no_data, ""}, 1.0}}).refused, "holds an error"));
    EXPECT_TRUE(contains(read({{Text("mass"), Text("heavy")}}).refused, "row \"mass\""));
}

TEST(BlockReader, TellsBlocksFromRanges) {
    EXPECT_TRUE(looks_like_block({{Text("mass"), 1.0}}));
    EXPECT_FALSE(looks_like_block({{1.0, 2.0}}));
    EXPECT_FALSE(looks_like_block({{Text("85 %"), Text("20 %")}}));
    EXPECT_FALSE(looks_like_block({{Text("mass")}}));
    EXPECT_FALSE(looks_like_block(Table()));
}

TEST(Nearest, IsNearOrNothing) {
    const std::vector<std::string_view> known = {"mass", "drag area", "rolling resistance"};
    EXPECT_EQ(nearest("drag aera", known), "drag area");
    EXPECT_EQ(nearest("ROLLING_RESISTANCE", known), "rolling resistance");
    EXPECT_EQ(nearest("something else altogether", known), "");
    EXPECT_EQ(nearest("mass", {}), "");
    EXPECT_EQ(nearest(std::string(100000, 'x'), known), "");
}

TEST(NormalLabel, LeavesOutAllBlanks) {
    EXPECT_EQ(normal_label("Drag\u00a0 area_-\u00a0\u00a0"), "dragarea");
    std::string blanks;
    for (int i = 0; i < 100000; ++i) blanks += "\u00a0";
    EXPECT_EQ(normal_label(blanks), "");
}

}  // namespace
}  // namespace pullsheet::catalogue
