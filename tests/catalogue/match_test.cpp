// SPDX-License-Identifier: Apache-2.0
// The full-load curve with a turbine, its threshold and the area of the turbine. The build is invented.
#include <gtest/gtest.h>

#include <cmath>

#include "core/catalogue/families/examples.hpp"
#include "tests/catalogue/calls.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::number_of;
using sample::outcome_of;
using sample::table_of;
Cell word(const char* text) {
    return std::string(text);
}

bool warns_of(const Outcome& outcome, const std::string& part) {
    for (const auto& warning : outcome.warnings)
        if (warning.find(part) != std::string::npos) return true;
    return false;
}

/// The parts of the worked example with another effective area, cm².
Table parts_with(double area) {
    Table parts = examples::boosted_parts();
    for (std::size_t i = 1; i < parts.rows(); ++i)
        if (const auto* kind = std::get_if<std::string>(&parts.at(i, 1)); kind && *kind == "turbine")
            parts.at(i, 7) = area;
    return parts;
}

double number_at(const Table& table, std::size_t row, std::size_t column) {
    return std::get<double>(table.at(row, column));
}
std::string text_at(const Table& table, std::size_t row, std::size_t column) {
    return std::get<std::string>(table.at(row, column));
}

TEST(FullLoadCurve, NamesWhatLimitsAtEachSpeed) {
    const Table curve =
        table_of("BUILD.CURVE", {examples::measured_engine(), parts_with(9.0), 2000.0, 6500.0, 1500.0});
    ASSERT_EQ(curve.rows(), 5U);
    EXPECT_EQ(text_at(curve, 1, 3), "turbine");
    for (std::size_t row = 2; row < 5; ++row) {
        EXPECT_EQ(text_at(curve, row, 3), "controller");
        EXPECT_NEAR(number_at(curve, row, 4), 1.0, 1e-9);  // bar of boost
        EXPECT_GT(number_at(curve, row, 7), 0.0);          // wastegate
    }
    for (std::size_t row = 1; row < 5; ++row) {
        const double torque = number_at(curve, row, 1);
        EXPECT_NEAR(number_at(curve, row, 2), torque * number_at(curve, row, 0) * pi / 30e3, 1e-6);
        EXPECT_LT(number_at(curve, row, 17), torque);
        EXPECT_GT(number_at(curve, row, 18), torque);
        EXPECT_NEAR(number_at(curve, row, 5), 101.325 + 100.0 * number_at(curve, row, 4), 1e-6);
    }
    // One row, and a step that does not end at the last speed.
    const Table one = table_of("BUILD.CURVE", {examples::measured_engine(), parts_with(9.0), 3500.0, 3500.0});
    ASSERT_EQ(one.rows(), 2U);
    EXPECT_NEAR(number_at(one, 1, 1), number_at(curve, 2, 1), 1e-4 * number_at(one, 1, 1));
    EXPECT_EQ(table_of("BUILD.CURVE", {examples::measured_engine(), parts_with(9.0), 3000.0, 4900.0, 1000.0})
                  .rows(),
              3U);
}

TEST(FullLoadCurve, BoostIsThereFromTheThresholdOn) {
    const Table threshold = table_of("BUILD.THRESHOLD", {examples::measured_engine(), parts_with(9.0), 0.9});
    const double rising = number_at(threshold, 1, 1), falling = number_at(threshold, 2, 1);
    EXPECT_LE(falling, rising);
    EXPECT_LT(number_at(threshold, 3, 1), falling);
    EXPECT_GT(number_at(threshold, 4, 1), rising);
    Table parts = parts_with(9.0);
    parts.at(5, 9) = 0.9;
    const Table around =
        table_of("BUILD.CURVE", {examples::measured_engine(), parts, rising - 5.0, rising + 5.0, 10.0});
    EXPECT_EQ(text_at(around, 1, 3), "turbine");
    EXPECT_EQ(text_at(around, 2, 3), "controller");
    // The area for that boost at that speed is the one it has.
    EXPECT_NEAR(number_of("BUILD.TURBINE.AREA", {examples::measured_engine(), parts_with(5.0), rising, 0.9}),
                9.0, 0.01);
}

TEST(FullLoadCurve, ALargerTurbineComesLater) {
    const auto rising = [](double area) {
        return number_at(table_of("BUILD.THRESHOLD", {examples::measured_engine(), parts_with(area), 1.0}), 1,
                         1);
    };
    EXPECT_LT(rising(6.0), rising(9.0));
    EXPECT_LT(rising(9.0), rising(12.0));
    const Outcome never = outcome_of("BUILD.THRESHOLD", {examples::measured_engine(), parts_with(60.0), 1.0});
    EXPECT_NE(sample::sentence(never.value).find("at no engine speed; the highest is"), std::string::npos);
}

TEST(FullLoadCurve, WhatIsToBeSaid) {
    const Outcome plain =
        outcome_of("BUILD.CURVE", {examples::measured_engine(), parts_with(9.0), 3000.0, 7000.0, 2000.0});
    EXPECT_TRUE(warns_of(plain, "not calibrated"));
    EXPECT_TRUE(warns_of(plain, "without a compressor map"));
    EXPECT_TRUE(warns_of(plain, "7000 rpm: above the redline"));
    EXPECT_FALSE(warns_of(plain, "exhaust system"));
    const Table no_exhaust{
        {word("part"), word("kind"), word("wheel diameter [mm]"), word("effective area [cm²]")},
        {word("compressor"), word("compressor"), 60.0, Cell{}},
        {word("turbine"), word("turbine"), Cell{}, 1.8}};
    const Outcome small =
        outcome_of("BUILD.CURVE", {examples::measured_engine(), no_exhaust, 6000.0, 6000.0});
    EXPECT_TRUE(warns_of(small, "no exhaust system"));
    EXPECT_TRUE(warns_of(small, "1.3 times"));
    // The engine does not bear all that is asked for.
    EXPECT_TRUE(warns_of(
        outcome_of("BUILD.TURBINE.AREA", {examples::measured_engine(), parts_with(9.0), 3000.0, 3.0}),
        "the engine bears"));
    Table with_foot = examples::measured_engine();
    with_foot.add_row({word("full boost from"), 3000.0, word("rpm")});
    EXPECT_TRUE(warns_of(outcome_of("BUILD.CURVE", {with_foot, parts_with(9.0), 3000.0, 3000.0}),
                         "the turbine decides"));
}

TEST(FullLoadCurve, TimeToTorque) {
    const Table response = table_of("BUILD.RESPONSE", {examples::measured_engine(), parts_with(9.0), 3500.0});
    const double time = number_at(response, 1, 0);
    EXPECT_GT(time, 0.1);
    EXPECT_LT(time, 5.0);
    EXPECT_EQ(number_at(response, 2, 0), 0.0);
    EXPECT_EQ(number_at(response, response.rows() - 1, 0), time);
    for (std::size_t row = 3; row < response.rows(); ++row) {
        EXPECT_GT(number_at(response, row, 0), number_at(response, row - 1, 0));
        EXPECT_GT(number_at(response, row, 2), number_at(response, row - 1, 2));
    }
    EXPECT_EQ(response.rows(), 23U);
    Table no_inertia = parts_with(9.0);
    no_inertia.at(2, 8) = Cell{};
    EXPECT_NE(sample::sentence(
                  outcome_of("BUILD.RESPONSE", {examples::measured_engine(), no_inertia, 3500.0}).value),
              std::string());
    EXPECT_TRUE(
        warns_of(outcome_of("BUILD.RESPONSE", {examples::measured_engine(), parts_with(14.0), 2500.0}),
                 "gives less boost than wanted"));
}

TEST(FullLoadCurve, ACalibratedCurveSaysNothingOfGuesses) {
    const Table measured{{word("engine speed"), 4500.0, word("rpm")},
                         {word("power"), 165.0, word("kW")},
                         {word("manifold pressure"), 201.325, word("kPa")},
                         {word("manifold temperature"), 45.0, word("°C")},
                         {word("knock-limited spark"), 9.0, word("°")}};
    const std::vector<Value> call{examples::measured_engine(),
                                  parts_with(9.0),
                                  4500.0,
                                  4500.0,
                                  250.0,
                                  0.0,
                                  Value(),
                                  Value(),
                                  Value(),
                                  measured};
    const Outcome calibrated = outcome_of("BUILD.CURVE", call);
    EXPECT_FALSE(warns_of(calibrated, "not calibrated"));
    EXPECT_NEAR(number_at(table_of("BUILD.CURVE", call), 1, 2), 165.0, 0.5);
}

TEST(FullLoadCurve, WhatIsRefused) {
    const auto sentence = [](std::initializer_list<Value> arguments) {
        const Outcome outcome = outcome_of("BUILD.CURVE", arguments);
        return sample::sentence(outcome.value);
    };
    EXPECT_NE(sentence({examples::measured_engine(), examples::parts(), 3000.0, 4000.0})
                  .find("there is no turbine among the parts"),
              std::string::npos);
    EXPECT_NE(
        sentence({examples::measured_engine(), parts_with(9.0), 4000.0, 3000.0}).find("lies below the first"),
        std::string::npos);
    EXPECT_NE(sentence({examples::measured_engine(), parts_with(9.0), 1000.0, 7000.0, 1.0}).find("6001 rows"),
              std::string::npos);
    // Speeds outside the curve of volumetric efficiency: a row that says so, not a table that fails.
    Table engine = examples::measured_engine();
    for (std::size_t i = 0; i < engine.rows(); ++i)
        if (std::get<std::string>(engine.at(i, 0)) == "volumetric efficiency")
            engine.at(i, 0) = word("volumetric efficiency at 3000 rpm");
    engine.add_row({word("volumetric efficiency at 5000 rpm"), 0.9, word("")});
    const Table rows = table_of("BUILD.CURVE", {engine, parts_with(9.0), 2500.0, 3500.0, 1000.0});
    ASSERT_EQ(rows.rows(), 3U);
    EXPECT_TRUE(std::holds_alternative<Failure>(rows.at(1, 1)));
    EXPECT_GT(number_at(rows, 2, 1), 0.0);
    EXPECT_NE(sentence({engine, parts_with(9.0), 1000.0, 2000.0}), std::string());
}

}  // namespace
}  // namespace pullsheet::catalogue
