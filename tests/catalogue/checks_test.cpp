// SPDX-License-Identifier: Apache-2.0
// The check values that `pullsheet verify` prints.
#include <gtest/gtest.h>

#include <map>
#include <string>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/checks.hpp"

namespace pullsheet::catalogue {
namespace {

TEST(CheckValues, AllAgree) {
    EXPECT_FALSE(checks().empty());
    for (const Check& check : checks()) {
        const CheckResult result = run(check);
        EXPECT_TRUE(result.agrees) << check.function << ", expected " << check.expected << " by "
                                   << check.source << ", deviation " << result.deviation << " "
                                   << result.sentence;
    }
}

TEST(CheckValues, NameTheirSource) {
    for (const Check& check : checks()) {
        EXPECT_NE(find_function(check.function), nullptr) << check.function;
        EXPECT_GE(check.source.size(), 10u) << check.function;
        EXPECT_GT(check.tolerance.value, 0.0) << check.function;
    }
}

TEST(CheckValues, AWrongValueFails) {
    const CheckResult wrong =
        run(identity("UNIT.CONVERT", {1.0, "PS", "W"}, 745.7, Tolerance::printed(1), "a wrong value"));
    EXPECT_FALSE(wrong.agrees);
    ASSERT_TRUE(wrong.computed);
    EXPECT_NEAR(wrong.deviation, 735.49875 - 745.7, 1e-9);
    const CheckResult refused =
        run(identity("UNIT.CONVERT", {1.0, "PS", "bar"}, 1.0, Tolerance::exact(), "a wrong call"));
    EXPECT_FALSE(refused.agrees);
    EXPECT_FALSE(refused.sentence.empty());
    EXPECT_FALSE(run(identity("UNIT.NOTHING", {}, 1.0, Tolerance::exact(), "no function")).agrees);
}

TEST(CheckValues, KindsAreCounted) {
    const Reference book{"a book", "a copy"};
    const Reference remembered{"a book"};
    const std::vector<Check> some = {
        printed("UNIT.CONVERT", {1.0, "in", "mm"}, 25.4, 1, book, "page 1"),
        printed("AIR.DENSITY", {}, 1.2, 1, remembered, "page 2"),
        printed("AIR.DENSITY", {}, 1.2, 1, book, "page 3").within(Tolerance::relative(0.1), "another gas"),
        independent("AIR.DENSITY", {}, 1.2, Tolerance::printed(1), "a program"),
        identity("AIR.DENSITY", {}, 1.2, Tolerance::exact(), "by definition").at(2, 3)};
    const Counts counts = count(some);
    EXPECT_EQ(counts.printed, 2u);
    EXPECT_EQ(counts.conversions, 1u);
    EXPECT_EQ(counts.remembered, 1u);
    EXPECT_EQ(counts.wider, 1u);
    EXPECT_EQ(counts.independent, 1u);
    EXPECT_EQ(counts.identities, 1u);
    EXPECT_EQ(some[1].source, "a book, page 2");
    EXPECT_EQ(some[4].row, 2u);
    EXPECT_EQ(some[4].column, 3u);
}

TEST(CheckValues, ThereAreAsManyAsStated) {
    const Counts now = count(checks());
    EXPECT_TRUE(is_enough(now));
    EXPECT_FALSE(is_enough({}));
    Counts fewer = least_counts();
    EXPECT_TRUE(is_enough(fewer));
    --fewer.printed;
    EXPECT_FALSE(is_enough(fewer));
    fewer = least_counts();
    --fewer.independent;
    EXPECT_FALSE(is_enough(fewer));
    fewer = least_counts();
    ++fewer.conversions;
    EXPECT_FALSE(is_enough(fewer));
    fewer = least_counts();
    ++fewer.remembered;
    EXPECT_FALSE(is_enough(fewer));
}

// Every family that answers with numbers has three values that somebody else has printed, within the printed
// digits or a stated wider tolerance; what joins several families is held against other programs.
TEST(CheckValues, EveryFamilyHasPrintedValues) {
    std::map<std::string, std::size_t> printed_values;
    std::map<std::string, std::size_t> independent_values;
    for (const Check& check : checks()) {
        const std::string family(check.function.substr(0, check.function.find('.')));
        if (check.evidence == Evidence::printed) ++printed_values[family];
        if (check.evidence == Evidence::independent) ++independent_values[family];
    }
    for (const Function& function : functions()) {
        const std::string family(function.name.view().substr(0, function.name.view().find('.')));
        if (family == "BUILD" || family == "FUNCTION") continue;
        if (family == "CHECK")
            EXPECT_GE(independent_values[family], 3u) << family;
        else
            EXPECT_GE(printed_values[family], 3u) << family;
    }
}

TEST(CheckValues, AChangeIsTheDifferenceOfTwoCalls) {
    const Check change =
        identity("UNIT.CONVERT", {3.0, "kg", "g"}, 1000.0, Tolerance::exact(), "by definition")
            .change({1.0, "kg", "g"}, 2.0);
    EXPECT_TRUE(run(change).agrees);
    const Check refused =
        identity("UNIT.CONVERT", {3.0, "kg", "g"}, 1000.0, Tolerance::exact(), "by definition")
            .change({1.0, "kg", "bar"}, 2.0);
    EXPECT_FALSE(run(refused).agrees);
    EXPECT_FALSE(run(refused).sentence.empty());
}

TEST(CheckValues, APrintedValueIsHeldToItsLastDigit) {
    for (const Check& check : checks()) {
        if (check.evidence != Evidence::printed) continue;
        if (check.is_wider)
            EXPECT_FALSE(check.note.empty()) << check.function << ", " << check.source;
        else
            EXPECT_FALSE(check.tolerance.is_relative) << check.function << ", " << check.source;
    }
}

TEST(CheckValues, ToleranceIsHalfAUnitOfTheLastDigit) {
    EXPECT_DOUBLE_EQ(Tolerance::printed(2).value, 0.005);
    EXPECT_DOUBLE_EQ(Tolerance::printed(0).value, 0.5);
    EXPECT_DOUBLE_EQ(Tolerance::printed(-1).value, 5.0);
    EXPECT_FALSE(Tolerance::printed(2).is_relative);
}

}  // namespace
}  // namespace pullsheet::catalogue
