// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/reader.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/catalogue/sample.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::contains;

struct Answered {
    double si = std::nan("");
    std::string refused;
    Warnings warnings{true};
};

Answered read(const Cell& content, Quantity quantity, const char* unit, Interval range = finite) {
    Answered answered;
    const Wanted wanted{"value", quantity, *unit ? find_unit(unit) : nullptr, range};
    try {
        answered.si = read_number(content, wanted, Language::english, answered.warnings);
    } catch (const Refused& refused) {
        answered.refused = refused.sentence;
    }
    return answered;
}

Answered text(const char* written, Quantity quantity, const char* unit, Interval range = finite) {
    return read(std::string(written), quantity, unit, range);
}

TEST(ReaderNumbers, AreReadInAnyUsualWriting) {
    for (const char* written :
         {"1.5", "1,5", " 1.5 ", "+1.5", "1.50", "0001.5", "15e-1", "0.15E1", "1.5 kPa", "1.5kPa",
          "1,5\u00a0kPa", "1.5\u202fkPa", "1.5\tkPa", "1500 Pa", "15 mbar", "15 hPa", "0.015 bar"})
        EXPECT_NEAR(text(written, Quantity::pressure, "kPa").si, 1500.0, 1e-9) << written;
    for (const char* written : {"-1.5", "−1.5", "−1,5", "-1,5 °C", "−1.5°C", "29.3 °F"})
        EXPECT_NEAR(text(written, Quantity::temperature, "°C").si, 271.65, 1e-9) << written;
}

TEST(ReaderNumbers, OnesThatMayMeanTwoThingsAreRefused) {
    for (const char* written : {"1.000.000", "1,000,000", "1.000,5", "1,000.5"})
        EXPECT_TRUE(contains(text(written, Quantity::power, "kW").refused, "thousands")) << written;
}

TEST(ReaderNumbers, WhatIsNoneIsRefused) {
    for (const char* written :
         {"hello", "", "  ", "-", "+", ".", "e5", "nan", "inf", "-inf", "1e999", "kW", "--5", "%"}) {
        const Answered answered = text(written, Quantity::power, "kW");
        EXPECT_TRUE(std::isnan(answered.si)) << written;
        EXPECT_FALSE(answered.refused.empty()) << written;
    }
    for (const double value : {std::nan(""), std::numeric_limits<double>::infinity()})
        EXPECT_TRUE(contains(read(value, Quantity::power, "kW").refused, "not a finite number"));
    EXPECT_FALSE(read(std::monostate{}, Quantity::power, "kW").refused.empty());
}

TEST(ReaderNumbers, PlainOnesTakeTheDefaultUnit) {
    EXPECT_DOUBLE_EQ(read(200.0, Quantity::power, "kW").si, 200000.0);
    EXPECT_DOUBLE_EQ(text("200", Quantity::power, "kW").si, 200000.0);
    EXPECT_DOUBLE_EQ(read(200.0, Quantity::number, "").si, 200.0);
}

TEST(ReaderUnits, OfAnotherQuantityAreRefusedByName) {
    const std::string refused = text("5 kg", Quantity::power, "kW").refused;
    EXPECT_TRUE(contains(refused, "kg is a unit of mass")) << refused;
    EXPECT_TRUE(contains(refused, "PS")) << refused;
    EXPECT_TRUE(contains(text("5 flurbs", Quantity::power, "kW").refused, "\"flurbs\" is not known"));
    EXPECT_TRUE(contains(text("5 kg", Quantity::number, "").refused, "without a unit"));
}

TEST(ReaderUnits, PsIsNotHp) {
    EXPECT_NEAR(text("750 PS", Quantity::power, "kW").si, 551624.0625, 1e-6);
    EXPECT_NEAR(text("750 hp", Quantity::power, "kW").si, 559274.9036867, 1e-6);
}

TEST(ReaderPressure, GaugeIsNotAbsolute) {
    EXPECT_NEAR(text("1.4 bara", Quantity::pressure, "kPa").si, 140000.0, 1e-6);
    EXPECT_NEAR(text("1.4 bar", Quantity::pressure, "kPa").si, 140000.0, 1e-6);
    EXPECT_TRUE(contains(text("1.4 barg", Quantity::pressure, "kPa").refused, "gauge"));
    EXPECT_TRUE(contains(text("20 psig", Quantity::pressure, "kPa").refused, "gauge"));
    EXPECT_NEAR(text("1.4 barg", Quantity::pressure_difference, "bar").si, 140000.0, 1e-6);
    EXPECT_NEAR(text("22 psi", Quantity::pressure_difference, "bar").si, 22 * 6894.757293168361, 1e-6);
    EXPECT_TRUE(contains(text("1.4 bara", Quantity::pressure_difference, "bar").refused, "absolute"));
    EXPECT_TRUE(contains(text("36 psia", Quantity::pressure_difference, "bar").refused, "absolute"));
}

TEST(ReaderShare, EightyFiveIsNotEightyFivePercent) {
    EXPECT_DOUBLE_EQ(text("85 %", Quantity::share, "", unit_share).si, 0.85);
    EXPECT_DOUBLE_EQ(text("85%", Quantity::share, "", unit_share).si, 0.85);
    EXPECT_DOUBLE_EQ(text("0,85", Quantity::share, "", unit_share).si, 0.85);
    EXPECT_DOUBLE_EQ(read(0.85, Quantity::share, "", unit_share).si, 0.85);
    EXPECT_TRUE(contains(read(85.0, Quantity::share, "", unit_share).refused, "did you mean 85 %?"));
    EXPECT_TRUE(contains(text("85", Quantity::share, "", unit_share).refused, "did you mean 85 %?"));
    EXPECT_FALSE(text("185 %", Quantity::share, "", unit_share).refused.empty());
    EXPECT_FALSE(text("-1 %", Quantity::share, "", unit_share).refused.empty());
}

TEST(ReaderShare, TheNameOfAFuelIsNoShare) {
    for (const char* written : {"E85", "e85", "E20"}) {
        const std::string refused = text(written, Quantity::share, "", unit_share).refused;
        EXPECT_TRUE(contains(refused, "measured ethanol share")) << refused;
    }
}

TEST(ReaderRange, IsKeptInEveryUnit) {
    const Interval range = between(-100, 100);
    EXPECT_TRUE(read(100.0, Quantity::temperature, "°C", range).refused.empty());
    EXPECT_TRUE(text("212 °F", Quantity::temperature, "°C", range).refused.empty());
    EXPECT_TRUE(text("373.15 K", Quantity::temperature, "°C", range).refused.empty());
    EXPECT_FALSE(text("213 °F", Quantity::temperature, "°C", range).refused.empty());
    const std::string refused = text("400 °F", Quantity::temperature, "°C", range).refused;
    EXPECT_TRUE(contains(refused, "400 °F")) << refused;
    EXPECT_TRUE(contains(refused, "-100 to 100 °C")) << refused;
    EXPECT_TRUE(contains(read(0.0, Quantity::power, "kW", positive).refused, "0 or empty"));
}

TEST(ReaderRange, OutsideTheEstablishedOneWarns) {
    const Interval established = between(15, 27);
    Warnings warnings{true};
    const Wanted wanted{"temperature", Quantity::temperature, find_unit("°C"), between(-100, 100),
                        &established};
    EXPECT_DOUBLE_EQ(read_number(20.0, wanted, Language::english, warnings), 293.15);
    EXPECT_TRUE(warnings.take().empty());
    EXPECT_DOUBLE_EQ(read_number(40.0, wanted, Language::english, warnings), 313.15);
    const auto sentences = warnings.take();
    ASSERT_EQ(sentences.size(), 1u);
    EXPECT_TRUE(contains(sentences[0], "40 °C")) << sentences[0];
    EXPECT_TRUE(contains(sentences[0], "15 to 27 °C")) << sentences[0];
}

TEST(ReaderRange, NoWarningIsWrittenWhereNoneIsWanted) {
    const Interval established = between(15, 27);
    Warnings warnings{false};
    const Wanted wanted{"temperature", Quantity::temperature, find_unit("°C"), between(-100, 100),
                        &established};
    EXPECT_DOUBLE_EQ(read_number(40.0, wanted, Language::english, warnings), 313.15);
    EXPECT_TRUE(warnings.take().empty());
}

TEST(ReaderRange, IsSaidInWords) {
    EXPECT_EQ(allowed_text(between(0, 5), Quantity::length, find_unit("mm"), Language::english), "0 to 5 mm");
    EXPECT_EQ(allowed_text(positive, Quantity::length, find_unit("mm"), Language::english), "above 0 mm");
    EXPECT_EQ(allowed_text(from(1), Quantity::ratio, nullptr, Language::english), "1 or more");
    EXPECT_EQ(allowed_text(finite, Quantity::number, nullptr, Language::english), "a number");
}

TEST(ResultUnits, AreAskedForByName) {
    EXPECT_NEAR(std::get<double>(sample::call({350.0, 5500.0})), 201.585529, 5e-7);
    EXPECT_NEAR(std::get<double>(sample::call({350.0, 5500.0, {}, "PS"})), 274.080042, 5e-7);
    EXPECT_NEAR(std::get<double>(sample::call({350.0, 5500.0, {}, "hp"})), 270.330647, 5e-7);
    EXPECT_NEAR(std::get<double>(sample::call({"250 lb-ft", 6000.0, {}, "hp"})), 285.599332, 5e-7);
    EXPECT_TRUE(
        contains(sample::sentence(sample::call({350.0, 5500.0, {}, "bar"})), "bar is a unit of pressure"));
    EXPECT_TRUE(contains(sample::sentence(sample::call({350.0, 5500.0, {}, "horses"})), "not known"));
    EXPECT_TRUE(contains(sample::sentence(sample::call({350.0, 5500.0, {}, 3.0})), "not known"));
    EXPECT_FALSE(sample::sentence(sample::call({350.0, 5500.0, {}, Table{{"kW"}, {"PS"}}})).empty());
}

TEST(ResultUnits, OfPressureKeepTheirKind) {
    EXPECT_THROW(read_result_unit(std::string("barg"), Quantity::pressure, Language::english), Refused);
    EXPECT_THROW(read_result_unit(std::string("bara"), Quantity::pressure_difference, Language::english),
                 Refused);
    EXPECT_EQ(read_result_unit(std::string("bara"), Quantity::pressure, Language::english)->factor, 1e5);
    EXPECT_EQ(read_result_unit(std::string("psi"), Quantity::pressure_difference, Language::english)->symbol,
              "psi");
}

}  // namespace
}  // namespace pullsheet::catalogue
