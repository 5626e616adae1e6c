// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "core/catalogue/families/examples.hpp"
#include "tests/catalogue/calls.hpp"
#include "tests/catalogue/sample.hpp"

namespace pullsheet::catalogue::measured_tables {
namespace {

using sample::contains;
using sample::outcome_of;
using sample::table_of;
using Text = std::string;

// What was measured, as a block and as tables: INVENTED.
Table block_of(double speed, double power) {
    return {{Text("stage"), Text("Stage 1")},
            {Text("fuel"), Text("95 RON")},
            {Text("power"), power, Text("kW")},
            {Text("engine speed"), speed, Text("rpm")},
            {Text("manifold pressure"), 178.0, Text("kPa")},
            {Text("manifold temperature"), 45.0, Text("°C")},
            {Text("knock-limited spark"), 9.0, Text("°")}};
}

Table pull() {
    return {{Text("stage"), Text("fuel"), Text("engine speed [rpm]"), Text("power [kW]"),
             Text("manifold pressure [bar]"), Text("manifold temperature"), Text("knock-limited spark")},
            {Text("Stage 1"), Text("95 RON"), 3500.0, 95.0, 1.70, 40.0, 3.0},
            {Text(""), Text(""), 4500.0, 127.0, 1.72, 42.0, 5.5},
            {Text(""), Text(""), 5500.0, 150.0, 1.66, 45.0, 8.0},
            {Text(""), Text(""), 6300.0, 158.0, 1.58, 48.0, 9.5}};
}

std::vector<Value> arguments(const Value& measured) {
    return {examples::measured_engine(),
            examples::stages(),
            examples::fuels(),
            std::monostate{},
            std::monostate{},
            measured};
}

Table built(const Value& measured) {
    return table_of("BUILD.TABLE", arguments(measured));
}

std::string said(const Value& measured) {
    return sample::sentence(outcome_of("BUILD.TABLE", arguments(measured)).value);
}

Table with(Table table, std::size_t row, std::size_t column, const Cell& cell) {
    table.at(row, column) = cell;
    return table;
}

// A further column of a table.
Table with_column(const Table& table, const std::string& heading, const std::vector<Cell>& cells) {
    Table wider(table.rows(), table.columns() + 1);
    for (std::size_t r = 0; r < table.rows(); ++r) {
        for (std::size_t c = 0; c < table.columns(); ++c) wider.at(r, c) = table.at(r, c);
        if (r > 0 && r <= cells.size()) wider.at(r, table.columns()) = cells[r - 1];
    }
    wider.at(0, table.columns()) = heading;
    return wider;
}

std::vector<std::string> warnings(const Value& measured) {
    return outcome_of("BUILD.TABLE", arguments(measured)).warnings;
}

bool warned(const Value& measured, const std::string& words) {
    for (const std::string& warning : warnings(measured))
        if (contains(warning, words)) return true;
    return false;
}

void expect_equal(const Table& a, const Table& b) {
    ASSERT_EQ(a.rows(), b.rows());
    for (std::size_t r = 0; r < a.rows(); ++r)
        for (std::size_t c = 0; c < a.columns(); ++c)
            if (const auto* number = std::get_if<double>(&a.at(r, c)))
                EXPECT_NEAR(*number, std::get<double>(b.at(r, c)), 1e-9 * std::abs(*number)) << r << ' ' << c;
}

TEST(MeasuredTable, OneRowSaysTheSameAsABlock) {
    const Table one{
        {Text("engine speed"), Text("stage"), Text("fuel"), Text("Manifold Pressure [bar]"),
         Text("torque [Nm]"), Text("manifold temperature [K]"), Text("knock-limited spark"), Text("lambda")},
        {6000.0, Text("stage 1"), Text("95 ron"), 1.78, Text("150 kW"), 318.15, 9.0, 0.0}};
    Table by_power = one;
    by_power.at(0, 4) = Text("power");
    expect_equal(built(block_of(6000.0, 150.0)), built(by_power));
    Table by_torque = one;
    by_torque.at(1, 4) = 150e3 / (6000.0 * 3.14159265358979323846 / 30.0);
    expect_equal(built(by_torque), built(by_power));
    // Both, where they agree.
    expect_equal(built(with_column(by_torque, "power", {150.0})), built(by_power));
    EXPECT_TRUE(contains(
        said(with_column(by_torque, "power", {160.0})),
        "measured, row 2: the torque of 238.732 N·m is 150 kW at that engine speed, but the power is 160"))
        << said(with_column(by_torque, "power", {160.0}));
}

TEST(MeasuredTable, RowsInAnyOrderAndEmptyOnesBetween) {
    const Table table = pull();
    Table shuffled;
    for (const std::size_t r : {0u, 3u, 1u, 4u, 2u}) {
        std::vector<Cell> row;
        for (std::size_t c = 0; c < table.columns(); ++c) row.push_back(table.at(r, c));
        row[0] = r == 0 ? table.at(0, 0) : Cell(Text("Stage 1"));
        row[1] = r == 0 ? table.at(0, 1) : Cell(Text("95 RON"));
        shuffled.add_row(row);
        if (r == 1) shuffled.add_row(std::vector<Cell>(table.columns(), Cell(0.0)));
    }
    shuffled.add_row(std::vector<Cell>(table.columns(), Cell(Text(""))));
    expect_equal(built(table), built(shuffled));
    // The curve moves the table.
    EXPECT_NE(std::get<double>(built(table).at(1, 3)),
              std::get<double>(built(block_of(6000.0, 150.0)).at(1, 3)));
}

TEST(MeasuredTable, NamesWhatItCannotRead) {
    const Table table = pull();
    EXPECT_EQ(said(with(table, 0, 3, Text("powr [kW]"))),
              "BUILD.TABLE: measured has a column \"powr [kW]\" that is not known; did you mean \"power\"?");
    EXPECT_TRUE(contains(said(with(table, 0, 3, Text("weather"))),
                         "measured has a column \"weather\" that is not known"));
    EXPECT_EQ(said(with(table, 0, 3, Text("fuel"))), "BUILD.TABLE: measured has the column \"fuel\" twice");
    EXPECT_TRUE(contains(said(with(table, 0, 2, Text(""))), "measured has no column \"engine speed\""))
        << said(with(table, 0, 2, Text("")));
    EXPECT_EQ(said(with(table, 3, 0, Text("Stage 9"))),
              "BUILD.TABLE: measured: there is no stage \"Stage 9\"; choose one of Stage 1, Stage 2");
    EXPECT_EQ(said(with(table, 3, 1, Text("E85"))),
              "BUILD.TABLE: measured: there is no fuel \"E85\"; choose one of 95 RON, E20");
    EXPECT_TRUE(contains(said(with(table, 3, 4, Text("much"))),
                         "measured, row 4, column \"manifold pressure\" is \"much\", which is not a number"))
        << said(with(table, 3, 4, Text("much")));
    EXPECT_TRUE(contains(said(with(table, 3, 4, Text(""))),
                         "measured, row 4 has nothing in the column \"manifold pressure\""))
        << said(with(table, 3, 4, Text("")));
    EXPECT_EQ(said(with(table, 2, 3, Text(""))), "BUILD.TABLE: measured, row 3 has neither power nor torque");
    EXPECT_TRUE(contains(said(with(table, 1, 0, Text(""))), "measured names no stage"));
    EXPECT_TRUE(contains(said(with(table, 1, 1, Text(""))), "measured names no fuel"));
    EXPECT_EQ(said(with_column(table, "knock began", {Text("maybe")})),
              "BUILD.TABLE: measured, row 2, column \"knock began\" is \"maybe\"; write yes or no");
    EXPECT_TRUE(contains(said(with(with_column(table, "knock began", {Text("yes")}), 0, 7, Text(""))),
                         "\"yes\" is in column 8, which has no heading"));
    Table headings;
    std::vector<Cell> first;
    for (std::size_t c = 0; c < table.columns(); ++c) first.push_back(table.at(0, c));
    headings.add_row(first);
    EXPECT_EQ(said(headings), "BUILD.TABLE: measured holds no row with numbers");
    EXPECT_TRUE(
        contains(said(with_column(with_column(table, "air flow", {100.0}), "volumetric efficiency", {0.9})),
                 "air flow"));
}

TEST(MeasuredTable, ARowThatDoesNotFitIsNamed) {
    const Table table = with(pull(), 2, 3, 900.0);
    EXPECT_TRUE(
        warned(table, "measured, Stage 1 on 95 RON, 4500 rpm: not used; the measured power would need"));
    EXPECT_FALSE(warned(pull(), "not used"));
    EXPECT_TRUE(warned(with_column(pull(), "lambda", {0.78, 0.78, 0.78, 0.78}),
                       "measured, Stage 1 on 95 RON: it was measured at lambda 0.78, not 0.83"));
    EXPECT_TRUE(warned(with_column(pull(), "knock began", {Text("no"), Text("no"), Text("no"), Text("no")}),
                       "knock did not begin"));
}

TEST(MeasuredTable, WhatElseWasMeasuredCounts) {
    const auto power = [&](const std::string& heading, const std::vector<Cell>& cells) {
        return std::get<double>(built(with_column(pull(), heading, cells)).at(2, 3));
    };
    const double e20 = std::get<double>(built(pull()).at(2, 3));
    EXPECT_NE(power("air flow [g/s]", {87.0, 115.0, 136.0, 147.0}), e20);
    EXPECT_NE(power("50 % burned angle", {27.0, 25.0, 24.0, 23.0}), e20);
    EXPECT_NE(power("knock began", {Text("no"), Text("yes"), Text("yes"), Text("no")}), e20);
    EXPECT_NE(power("gas temperature [°C]", {900.0, 910.0, 925.0, 935.0}), e20);
    // Yes in one row is yes for the pull: above its last speed the power is held.
    const Table held =
        built(with_column(pull(), "peak power of the pull", {Text(""), Text(""), Text(""), Text("yes")}));
    EXPECT_NEAR(std::get<double>(held.at(1, 16)), 6300.0, 1e-6);
    EXPECT_NEAR(std::get<double>(held.at(1, 3)), 158.0, 0.5);
    // A second map.
    Table two = pull();
    for (std::size_t r = 1; r < 5; ++r) {
        std::vector<Cell> row;
        for (std::size_t c = 0; c < two.columns(); ++c) row.push_back(pull().at(r, c));
        row[1] = Text("E20");
        row[3] = 1.06 * std::get<double>(row[3]);
        row[4] = 1.04 * std::get<double>(row[4]);
        row[6] = std::get<double>(row[6]) + 1.5;
        two.add_row(row);
    }
    const Table both = built(two);
    const auto* basis = std::get_if<std::string>(&both.at(2, 20));
    ASSERT_TRUE(basis);
    EXPECT_EQ(*basis, "extrapolated in speed");
    const Table one = built(pull());
    EXPECT_EQ(std::get<std::string>(one.at(2, 20)), "extrapolated in speed and fuel");
}

// The knock functions and the table stand on one calibrated engine.
TEST(BuildCalibration, IsThatOfTheFunctionsForOnePoint) {
    const Table car = examples::measured_engine();
    const Table answer = table_of("BUILD.CALIBRATION",
                                  {car, examples::stages(), examples::fuels(), examples::measured_pull()});
    ASSERT_EQ(answer.rows(), 5u);
    const Table fuel{{Text("ethanol share"), 0.05}, {Text("RON"), 93.0}};
    const Table pull = examples::measured_pull();
    for (std::size_t r = 1; r < 5; ++r) {
        const auto measured = [&](std::size_t c) { return std::get<double>(pull.at(r, c)); };
        const auto at = [&](std::size_t c) { return std::get<double>(answer.at(r, c)); };
        EXPECT_NEAR(at(2), measured(2), 1e-9);
        EXPECT_NEAR(at(3), measured(3), 1e-9);
        EXPECT_NEAR(at(4), measured(3), 2e-3 * measured(3)) << r;
        EXPECT_NEAR(at(6),
                    sample::number_of("KNOCK.CALIBRATE",
                                      {car, measured(2), measured(4), measured(5), measured(6), fuel, 0.83}),
                    1e-6)
            << r;
        EXPECT_NEAR(at(7),
                    sample::number_of("CYCLE.EFFICIENCY.FACTOR", {car, measured(2), measured(4), measured(5),
                                                                  measured(6), measured(3), fuel, 0.83}),
                    1e-6)
            << r;
        EXPECT_EQ(std::get<Text>(answer.at(r, 5)), "knock");
        EXPECT_EQ(std::get<Text>(answer.at(r, 16)), "");
    }
}

TEST(BuildCalibration, RemarksSayWhatBecameOfAPoint) {
    const auto remark = [](const Table& pull, std::size_t row, const Table& stages = examples::stages()) {
        return std::get<Text>(
            table_of("BUILD.CALIBRATION", {examples::measured_engine(), stages, examples::fuels(), pull})
                .at(row, 16));
    };
    EXPECT_TRUE(contains(remark(with(examples::measured_pull(), 2, 3, 900.0), 2),
                         "not used: the measured power would need"));
    const Table reserve = with_column(examples::measured_pull(), "knock began",
                                      {Text("yes"), Text("no"), Text("yes"), Text("yes")});
    EXPECT_EQ(remark(reserve, 2), "knock did not begin");
    EXPECT_EQ(remark(reserve, 1), "");
    // A compressor stated smaller than what flowed through it.
    const Table small = with(examples::stages(), 3, 3, 120.0);
    EXPECT_EQ(remark(examples::measured_pull(), 4, small), "below the measured power");
    bool said = false;
    for (const std::string& warning :
         outcome_of("BUILD.TABLE", {examples::measured_engine(), small, examples::fuels(), std::monostate{},
                                    std::monostate{}, examples::measured_pull()})
             .warnings)
        said =
            said || contains(warning, "6300 rpm: parts or stated limits hold the engine below the measured");
    EXPECT_TRUE(said);
}

}  // namespace
}  // namespace pullsheet::catalogue::measured_tables
