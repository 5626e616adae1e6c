// SPDX-License-Identifier: Apache-2.0
// The turbine, what follows it and what sets the boost, as rows of a parts table. The build is invented.
#include <gtest/gtest.h>

#include "core/catalogue/families/examples.hpp"
#include "tests/catalogue/calls.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::beside;
using sample::number_of;
using sample::outcome_of;
using sample::table_of;
using Text = std::string;

Cell t(const char* text) {
    return Text(text);
}

/// A build in named columns.
Table build(double area, bool with_exhaust = true, bool with_compressor = true) {
    Table parts{{t("part"), t("kind"), t("largest corrected flow [g/s]"), t("compressor efficiency"),
                 t("largest shaft speed [rpm]"), t("wheel diameter [mm]"), t("effective area [cm²]"),
                 t("turbine efficiency"), t("wastegate area [mm²]"), t("pressure loss [kPa]"),
                 t("reference flow [g/s]"), t("largest boost [bar]"), t("wastegate spring pressure [bar]")}};
    const auto row = [&](const char* part, const char* kind, std::initializer_list<Cell> values) {
        std::vector<Cell> cells{t(part), t(kind)};
        cells.insert(cells.end(), values);
        parts.add_row(cells);
    };
    const Cell no{};
    if (with_compressor) row("wheel", "compressor", {310.0, 0.72, no, no, no, no, no, no, no, no, no});
    row("housing", "turbine", {no, no, no, no, area, 0.68, no, no, no, no, no});
    if (with_exhaust) row("exhaust", "exhaust system", {no, no, no, no, no, no, no, 20.0, 250.0, no, no});
    return parts;
}

Outcome point(Table parts, double power = 230.0, double speed = 6000.0) {
    return outcome_of("BUILD.POINT",
                      {examples::engine(), power, speed, 0.0, examples::weather(), std::move(parts)});
}

bool says(const Outcome& outcome, const Text& part) {
    for (const auto& warning : outcome.warnings)
        if (warning.find(part) != Text::npos) return true;
    return false;
}

TEST(TurbineParts, ThePointTellsWhatTheTurbineDoes) {
    const Outcome outcome = point(build(8.0));
    const auto& answer = std::get<Table>(outcome.value);
    const std::size_t last = answer.rows() - 1;
    EXPECT_EQ(cell_text(answer.at(last, 0)), "turbine drives it");
    EXPECT_EQ(cell_text(answer.at(last, 1)), "yes");
    const double gas = beside(answer, "air flow") + beside(answer, "fuel flow") / 3.6;
    // The same by the functions of the turbine, at the gas temperature that is assumed.
    const double after = beside(answer, "exhaust: pressure after the turbine above ambient") * 100.0 + 98.0;
    const Table by_hand =
        table_of("TURBINE.WASTEGATE", {gas, 900.0, after, 8.0, beside(answer, "compressor power"), 0.68});
    EXPECT_NEAR(beside(answer, "pressure before the turbine"), beside(by_hand, "inlet pressure"), 1e-6);
    EXPECT_NEAR(beside(answer, "wastegate flow share"), beside(by_hand, "wastegate flow share"), 1e-8);
    EXPECT_GT(beside(answer, "wastegate flow share"), 0.02);
    EXPECT_LT(beside(answer, "housing: share used"), 1.0);
    EXPECT_FALSE(says(outcome, "exhaust system"));
}

TEST(TurbineParts, ATurbineTooLargeDoesNotDrive) {
    const Outcome outcome = point(build(25.0));
    const auto& answer = std::get<Table>(outcome.value);
    EXPECT_EQ(cell_text(answer.at(answer.rows() - 1, 1)), "no");
    EXPECT_GT(beside(answer, "housing: share used"), 1.0);
    EXPECT_FALSE(outcome.warnings.empty());
}

TEST(TurbineParts, WithoutATurbineNothingIsSaidOfIt) {
    const Table answer = table_of("BUILD.POINT", {examples::engine(), 230.0, 6000.0});
    for (std::size_t r = 0; r < answer.rows(); ++r)
        EXPECT_EQ(cell_text(answer.at(r, 0)).find("turbine"), Text::npos) << cell_text(answer.at(r, 0));
}

TEST(TurbineParts, LimitsHoldTheTurbineAsAPart) {
    const auto limits = [](double area) {
        return table_of("BUILD.LIMITS",
                        {examples::engine(), build(area), 0.0, examples::weather(), {}, 3000.0});
    };
    const Table small = limits(6.0), large = limits(14.0);
    EXPECT_EQ(cell_text(small.at(2, 1)), "turbine");
    EXPECT_EQ(cell_text(small.at(2, 6)), "shaft power [kW]");
    EXPECT_EQ(cell_text(small.at(3, 2)), "no limit");
    // At this speed the larger turbine gives out first, and carries less than the smaller.
    EXPECT_EQ(cell_text(large.at(large.rows() - 1, 0)), "gives out first: housing");
    const auto* carried = std::get_if<double>(&small.at(2, 2));
    EXPECT_TRUE(!carried || *carried > std::get<double>(large.at(2, 2)));
    // At the power that it carries the compressor takes up what the turbine gives.
    const Table at = std::get<Table>(point(build(14.0), std::get<double>(large.at(2, 2)), 3000.0).value);
    EXPECT_NEAR(beside(at, "housing: share used"), 1.0, 1e-6);
    EXPECT_NEAR(beside(at, "wastegate flow share"), 0.0, 1e-5);
}

TEST(TurbineParts, WhatIsNotKnownIsSaid) {
    EXPECT_TRUE(says(point(build(10.0, false)), "no exhaust system among the parts"));
    EXPECT_NE(sample::sentence(point(build(10.0, true, false)).value).find("a turbine drives a compressor"),
              Text::npos);
    Table area = build(10.0);
    area.at(2, 6) = 0.0;
    EXPECT_NE(sample::sentence(point(area).value).find("effective area"), Text::npos);
}

TEST(TurbineParts, TheWheelTellsTheShaftSpeedWithoutAMap) {
    Table parts = build(10.0);
    parts.at(1, 5) = 66.0;
    const Outcome outcome = point(parts);
    const auto& answer = std::get<Table>(outcome.value);
    EXPECT_TRUE(says(outcome, "estimated from the wheel diameter of the compressor"));
    const double speed = beside(answer, "shaft speed");
    EXPECT_GT(speed, 60000.0);
    EXPECT_LT(speed, 200000.0);
    // A stated highest speed is a limit then.
    parts.at(1, 2) = Cell{};
    parts.at(1, 4) = speed;
    const Table limits =
        table_of("BUILD.LIMITS", {examples::engine(), parts, 0.0, examples::weather(), {}, 6000.0});
    EXPECT_NEAR(std::get<double>(limits.at(1, 2)), 230.0, 1e-4);
    EXPECT_EQ(cell_text(limits.at(1, 6)), "shaft speed [rpm]");
}

TEST(TurbineParts, BoostControlLimitsAndItsSpringWarns) {
    Table parts = build(8.0);
    parts.add_row({t("valve"), t("boost control"), {}, {}, {}, {}, {}, {}, {}, {}, {}, 0.9, 0.6});
    const Table limits =
        table_of("BUILD.LIMITS", {examples::engine(), parts, 0.0, examples::weather(), {}, 6000.0});
    EXPECT_EQ(cell_text(limits.at(4, 6)), "boost [bar]");
    const double power = std::get<double>(limits.at(4, 2));
    const Outcome at_limit = point(parts, power);
    EXPECT_NEAR(beside(std::get<Table>(at_limit.value), "boost"), 0.9, 1e-6);
    EXPECT_FALSE(says(at_limit, "spring"));
    const Outcome below = point(parts, 0.7 * power);
    EXPECT_LT(beside(std::get<Table>(below.value), "boost"), 0.6);
    EXPECT_TRUE(says(below, "at which the spring of the wastegate opens"));
}

TEST(TurbineParts, WhatTheTurbineCannotDoIsSaid) {
    Table parts = build(8.0);
    EXPECT_FALSE(says(point(parts), "the wastegate would have to open"));
    parts.at(2, 8) = 5.0;  // mm²
    EXPECT_TRUE(says(point(parts), "and has 0.05 cm²: the boost rises"));
    parts.at(2, 8) = 900.0;
    EXPECT_FALSE(says(point(parts), "the wastegate would have to open"));
    parts.at(0, 9) = t("largest gas temperature [°C]");
    parts.at(0, 10) = t("inertia [kg·m²]");
    parts.at(2, 9) = 850.0;
    parts.at(2, 10) = 1e-4;
    const Outcome outcome = point([&] {
        Table table;
        for (std::size_t r = 0; r < 3; ++r) {
            std::vector<Cell> row;
            for (std::size_t c = 0; c < parts.columns(); ++c) row.push_back(parts.at(r, c));
            table.add_row(row);
        }
        return table;
    }());
    EXPECT_TRUE(says(outcome, "assumed at 900 °C; the turbine stands 850 °C"));
    EXPECT_TRUE(says(outcome, "the inertia of the turbine has no effect"));
}

TEST(TurbineParts, ValuesInOrderReachTheTenth) {
    Table parts{{t("part"),        t("kind"), t("value"),         t("unit"), t("second value"), t("unit"),
                 t("third value"), t("unit"), t("fourth value"),  t("unit"), t("fifth value"),  t("unit"),
                 t("sixth value"), t("unit"), t("seventh value"), t("unit"), t("eighth value"), t("unit"),
                 t("ninth value"), t("unit"), t("tenth value"),   t("unit")}};
    parts.add_row({t("wheel"), t("compressor"),
                   310.0,      t("g/s"),
                   0.72,       t(""),
                   {},         {},
                   {},         {},
                   {},         {},
                   {},         {},
                   {},         {},
                   {},         {},
                   {},         {},
                   {},         {}});
    parts.add_row({t("housing"), t("turbine"), 5.0, t("cm²"), 0.68,  t(""),  0.0,  t(""),
                   {},           {},           {},  {},       {},    {},     1e-4, t("kg·m²"),
                   {},           {},           2.0, t(""),    980.0, t("°C")});
    parts.add_row({t("exhaust"), t("exhaust system"),
                   20.0,         t("kPa"),
                   250.0,        t("g/s"),
                   {},           {},
                   {},           {},
                   {},           {},
                   {},           {},
                   {},           {},
                   {},           {},
                   {},           {},
                   {},           {}});
    // Two turbines of 5 cm² are one of 10 cm².
    EXPECT_NEAR(beside(std::get<Table>(point(parts).value), "pressure before the turbine"),
                beside(std::get<Table>(point(build(10.0)).value), "pressure before the turbine"), 1e-7);
}

TEST(TurbineFunctions, AreasInTradeUnits) {
    EXPECT_NEAR(number_of("TURBINE.AREA", {160.0, 900.0, 180.0, 104.0, {}, Text("mm²")}), 876.704609, 5e-7);
    EXPECT_NEAR(number_of("TURBINE.AREA", {160.0, 900.0, 180.0, 104.0, {}, Text("sq in")}),
                8.76704609 / 6.4516, 1e-8);
    EXPECT_NEAR(number_of("TURBINE.FLOW", {950.0, 236.0, 105.0, Text("1.86 in²")}),
                number_of("TURBINE.FLOW", {950.0, 236.0, 105.0, 1.86 * 6.4516}), 1e-9);
}

TEST(TurbineFunctions, WastegateAsPublishedEquationsGiveIt) {
    // Computed twice by independent programs.
    const Table two = table_of("TURBINE.WASTEGATE", {500.0, 950.0, 135.0, 12.0, 95.0, 0.68});
    EXPECT_NEAR(beside(two, "wastegate flow share"), 0.0711128874, 5e-10);
    EXPECT_NEAR(beside(two, "wastegate area"), 0.903902143, 5e-8);
    EXPECT_NEAR(beside(two, "inlet pressure"), 348.46561, 5e-5);
    EXPECT_NEAR(beside(two, "pressure ratio"), 2.58122674, 5e-8);
    const Table one = table_of("TURBINE.WASTEGATE", {500.0, 950.0, 135.0, 12.0, 95.0, 0.68, 0.0, 1.0});
    EXPECT_NEAR(beside(one, "wastegate flow share"), 0.063793209, 5e-10);
    EXPECT_NEAR(beside(one, "wastegate area"), 0.817681003, 5e-8);
    EXPECT_NEAR(beside(one, "inlet pressure"), 345.560082, 5e-5);
    EXPECT_NEAR(beside(one, "pressure ratio"), 2.55970431, 5e-8);
    EXPECT_EQ(beside(two, "pulse factor"), 1.0);
    EXPECT_GT(
        beside(table_of("TURBINE.WASTEGATE", {500.0, 950.0, 135.0, 12.0, 80.0, 0.68, 0.5}), "pulse factor"),
        1.0);
    const Text sentence =
        sample::sentence(outcome_of("TURBINE.WASTEGATE", {500.0, 950.0, 135.0, 12.0, 150.0, 0.68}).value);
    EXPECT_NE(sentence.find("the turbine would have to give 150 kW"), Text::npos) << sentence;
}

/// Points that two nozzles in series of this area pass, cm², corrected to 15 °C and 101.325 kPa.
Table nozzles_map(double area, bool in_pounds = false) {
    Table map{{t("pressure ratio"), in_pounds ? t("corrected flow [lb/min]") : t("corrected flow")}};
    for (double ratio = 1.1; ratio < 3.6; ratio += 0.1) {
        const double flow = number_of("TURBINE.FLOW", {15.0, 101.325, 101.325 / ratio, area});
        map.add_row({ratio, in_pounds ? flow * 0.06 / 0.45359237 : flow});
    }
    return map;
}

Outcome mapped(Table parts, const Value& map, double power = 230.0) {
    return outcome_of("BUILD.POINT", {examples::engine(), power, 6000.0, 0.0, examples::weather(),
                                      std::move(parts), Value(), map});
}

TEST(TurbineMaps, AMapOfTwoNozzlesIsATurbineByItsArea) {
    const Table by_area = std::get<Table>(point(build(8.0)).value);
    for (const bool in_pounds : {false, true}) {
        const Outcome outcome = mapped(build(8.0), nozzles_map(8.0, in_pounds));
        const auto& by_map = std::get<Table>(outcome.value);
        EXPECT_NEAR(beside(by_map, "pressure before the turbine"),
                    beside(by_area, "pressure before the turbine"), 0.05);
        EXPECT_NEAR(beside(by_map, "wastegate flow share"), beside(by_area, "wastegate flow share"), 1e-3);
        EXPECT_FALSE(says(outcome, "turbine map"));
    }
    // The map of a larger turbine holds, whatever the effective area says.
    EXPECT_LT(
        beside(std::get<Table>(mapped(build(8.0), nozzles_map(12.0)).value), "pressure before the turbine"),
        beside(by_area, "pressure before the turbine") - 20.0);
}

TEST(TurbineMaps, ColumnsWithoutHeadingsAndWithEfficiency) {
    Table map;
    for (double ratio = 1.2; ratio < 3.1; ratio += 0.3) {
        const double flow = number_of("TURBINE.FLOW", {15.0, 101.325, 101.325 / ratio, 8.0});
        map.add_row({ratio, flow, 0.72});
    }
    // A better turbine than the row of the parts says needs less pressure.
    const Table better = std::get<Table>(mapped(build(8.0), map).value);
    EXPECT_LT(beside(better, "pressure before the turbine"),
              beside(std::get<Table>(point(build(8.0)).value), "pressure before the turbine"));
    EXPECT_LT(beside(better, "housing: share used"),
              beside(std::get<Table>(point(build(8.0)).value), "housing: share used"));
}

TEST(TurbineMaps, WhatIsWrongIsSaid) {
    const auto sentence = [](const Value& map) { return sample::sentence(mapped(build(8.0), map).value); };
    Table few{{t("pressure ratio"), t("corrected flow")}, {1.5, 150.0}};
    EXPECT_FALSE(sentence(few).empty());
    EXPECT_NE(sentence(Table{{t("ratio of pressures"), t("corrected flow")}, {1.5, 150.0}})
                  .find("needs the columns pressure ratio and corrected flow"),
              Text::npos);
    EXPECT_NE(sentence(Table{{1.5}, {2.0}}).find("needs the columns"), Text::npos);
    EXPECT_NE(sentence(Table{{1.5, 150.0}, {0.9, 160.0}}).find("row 2"), Text::npos);
    // Without a turbine there is nothing that it belongs to.
    EXPECT_NE(sample::sentence(
                  outcome_of("BUILD.POINT", {examples::engine(), 230.0, 6000.0, 0.0, examples::weather(),
                                             examples::parts(), Value(), nozzles_map(8.0)})
                      .value)
                  .find("there is no turbine among the parts"),
              Text::npos);
    // Beyond its points the map is extrapolated, and it is said.
    Table narrow{{t("pressure ratio"), t("corrected flow")}};
    for (const double ratio : {1.2, 1.3})
        narrow.add_row({ratio, number_of("TURBINE.FLOW", {15.0, 101.325, 101.325 / ratio, 8.0})});
    EXPECT_TRUE(says(mapped(build(8.0), narrow), "outside the turbine map"));
}

}  // namespace
}  // namespace pullsheet::catalogue
