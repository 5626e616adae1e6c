// SPDX-License-Identifier: Apache-2.0
// One curve through the same points, whichever function reads it, and one meaning of the rows "volumetric
// efficiency at # rpm". The numbers are invented.
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/engine_block.hpp"
#include "core/catalogue/families/end_of_data.hpp"
#include "core/catalogue/families/examples.hpp"
#include "tests/catalogue/calls.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::beside;
using sample::number_of;
using sample::outcome_of;
using sample::table_of;
using Text = std::string;

Table column(const std::vector<double>& values) {
    Table table(values.size(), 1);
    for (std::size_t i = 0; i < values.size(); ++i) table.at(i, 0) = values[i];
    return table;
}

/// An engine block whose volumetric efficiency is a number, or a curve.
Table filled(const Table& engine, const std::vector<std::pair<double, double>>& curve) {
    Table block;
    for (std::size_t r = 0; r < engine.rows(); ++r)
        if (!cell_text(engine.at(r, 0)).starts_with("volumetric efficiency"))
            block.add_row({engine.at(r, 0), engine.at(r, 1), engine.at(r, 2)});
    for (const auto& [at, value] : curve)
        block.add_row({at > 0.0 ? Cell("volumetric efficiency at " + std::to_string(at) + " rpm")
                                : Cell(Text("volumetric efficiency")),
                       value, Text()});
    return block;
}

/// Every number of an answer, row by row.
std::vector<double> numbers(const Value& answer) {
    std::vector<double> all;
    if (const auto* number = std::get_if<double>(&answer)) all.push_back(*number);
    if (const auto* table = std::get_if<Table>(&answer))
        for (std::size_t r = 0; r < table->rows(); ++r)
            for (std::size_t c = 0; c < table->columns(); ++c)
                if (const auto* number = std::get_if<double>(&table->at(r, c))) all.push_back(*number);
    return all;
}

// Every function that takes an engine block, found by its schema: a curve of one value is the number, another
// value gives another answer, and a curve that is not constant is not ignored either.
TEST(VolumetricEfficiency, AConstantCurveIsTheNumberInEveryFunction) {
    int with_engine = 0;
    for (const Function& function : functions()) {
        for (std::size_t i = 0; i < function.parameters.size(); ++i) {
            if (function.parameters[i].schema != &engine_schema()) continue;
            ++with_engine;
            SCOPED_TRACE(Text(function.name.view()));
            const auto answer = [&](const std::vector<std::pair<double, double>>& curve) {
                std::vector<Value> arguments = function.example.arguments;
                arguments[i] = filled(std::get<Table>(arguments[i]), curve);
                return evaluate(function, arguments).value;
            };
            const auto number = numbers(answer({{0.0, 0.80}}));
            const auto curve = numbers(answer({{1000.0, 0.80}, {4000.0, 0.80}, {9000.0, 0.80}}));
            ASSERT_FALSE(number.empty()) << sample::sentence(answer({{0.0, 0.80}}));
            ASSERT_EQ(number.size(), curve.size());
            for (std::size_t k = 0; k < number.size(); ++k)
                EXPECT_NEAR(curve[k], number[k], 1e-9 * std::abs(number[k])) << k;
            if (function.name.view() == "CHECK.POWER") continue;  // takes lambda and efficiency alone
            const auto omitted_row = numbers(answer({}));
            EXPECT_NE(omitted_row, number);
            EXPECT_NE(numbers(answer({{1000.0, 0.70}, {4000.0, 0.80}, {9000.0, 0.90}})), omitted_row);
        }
    }
    EXPECT_GE(with_engine, 9);
}

const std::vector<double> curve_rpm{2000, 3000, 4000, 5200, 6500};
const std::vector<double> shape{0.78, 0.93, 0.985, 0.97, 0.82};

// A curve counts at the speed in question, as PULL.AT reads it, for the chain, the cycle and knock.
TEST(OneCurve, VolumetricEfficiencyIsReadAsByPullAt) {
    const Table block = examples::measured_engine();
    std::vector<std::pair<double, double>> points;
    for (std::size_t i = 0; i < curve_rpm.size(); ++i) points.emplace_back(curve_rpm[i], shape[i]);
    for (const double speed : {2150.0, 3500.0, 5900.0, 6400.0}) {
        const double there = number_of("PULL.AT", {column(curve_rpm), column(shape), speed});
        const Table curve = filled(block, points), number = filled(block, {{0.0, there}});
        EXPECT_NEAR(beside(table_of("BUILD.POINT", {curve, 150.0, speed}), "volumetric efficiency"), there,
                    1e-12);
        EXPECT_NEAR(number_of("KNOCK.INTEGRAL", {curve, speed, 160.0, 45.0, 12.0}) /
                        number_of("KNOCK.INTEGRAL", {number, speed, 160.0, 45.0, 12.0}),
                    1.0, 1e-12);
    }
}

// Outside its points a curve is not known, and one row is no curve.
TEST(OneCurve, VolumetricEfficiencyOutsideItsPoints) {
    const Table ends = filled(examples::measured_engine(), {{2000.0, 0.9}, {6000.0, 0.9}});
    const auto refusal = [&](const Table& engine) {
        return sample::sentence(outcome_of("CYCLE.RESULT", {engine, 6800.0, 160.0, 45.0, 12.0}).value);
    };
    EXPECT_NE(refusal(ends).find("its curve runs from 2000 rpm to 6000 rpm"), Text::npos) << refusal(ends);
    const Text one = refusal(filled(examples::measured_engine(), {{2000.0, 0.9}}));
    EXPECT_NE(one.find("give a second speed"), Text::npos) << one;
}

// Torque between the rows: the run over the measured rows takes as long as over the same curve read off by
// PULL.RESAMPLE in steps so small that how they are joined does not matter.
TEST(OneCurve, RoadRunsOnTheCurveOfPull) {
    const std::vector<double> torques{255, 262, 300, 290, 210};
    const Table fine = table_of(
        "PULL.RESAMPLE", {column(curve_rpm), column(torques), curve_rpm.front(), curve_rpm.back(), 5.0});
    std::vector<double> speeds_read, torques_read;
    for (std::size_t r = 0; r < fine.rows(); ++r)
        if (const auto* speed = std::get_if<double>(&fine.at(r, 0))) {
            speeds_read.push_back(*speed);
            torques_read.push_back(std::get<double>(fine.at(r, 1)));
        }
    ASSERT_GT(speeds_read.size(), 500U);
    // Launch and shifts bring the engine into the first and the last interval.
    EXPECT_NEAR(
        number_of("ROAD.TIME", {examples::vehicle(), column(curve_rpm), column(torques), 40.0, 200.0}) /
            number_of("ROAD.TIME",
                      {examples::vehicle(), column(speeds_read), column(torques_read), 40.0, 200.0}),
        1.0, 2e-6);
}

// PUMP.POWER and BUILD know a pump from one point on, hold its first flow below, and nothing beyond.
TEST(OneCurve, PumpIsReadAsByPullAtInPumpPowerAndBuild) {
    const std::vector<double> bar{3, 5, 7}, flow{310, 262, 200};
    const Table engine = examples::engine();
    Table parts;
    parts.add_row({Text("part"), Text("kind"), Text("value"), Text("unit"), Text("value"), Text("unit"),
                   Text("value"), Text("unit"), Text("value"), Text("unit"), Text("value")});
    for (std::size_t i = 0; i < bar.size(); ++i)
        parts.add_row({Text("pump"), Text("pump"), flow[i], Text("L/h"), bar[i], Text("bar"), 1.0, Text(),
                       3.6, Text("bar"), 0.0});
    const auto carried = [](double litres) {
        return number_of("PUMP.POWER", {column({3, 5, 7}), column({litres, litres, litres}), 5.0});
    };
    for (const double pressure : {3.2, 4.0, 6.7})
        EXPECT_NEAR(number_of("PUMP.POWER", {column(bar), column(flow), pressure}),
                    carried(number_of("PULL.AT", {column(bar), column(flow), pressure})), 1e-9);
    EXPECT_NEAR(number_of("PUMP.POWER", {column(bar), column(flow), 2.0}), carried(310), 1e-9);
    EXPECT_NEAR(number_of("PUMP.POWER", {column({5}), column({262}), 4.0}), carried(262), 1e-9);
    EXPECT_NE(sample::sentence(outcome_of("PUMP.POWER", {column(bar), column(flow), 7.5}).value)
                  .find("7.5 bar lies beyond the pump's curve, which ends at 7 bar"),
              Text::npos);
    // In BUILD the rail stands 3.6 bar over the manifold.
    const Table point =
        table_of("BUILD.POINT", {engine, 200.0, 6000.0, 0.0, examples::weather(), std::move(parts)});
    const double rail = 3.6 + beside(point, "boost");
    EXPECT_GT(rail, 3.7);
    EXPECT_NEAR(beside(point, "pump: fuel volume flow") / beside(point, "pump: share used"),
                number_of("PULL.AT", {column(bar), column(flow), rail}), 1e-7);
}

/// A build whose pump is typed up to a pressure: the rail stands 3.6 bar over the manifold.
Table parts_with_pump_to(double last) {
    Table parts;
    const auto row = [&](const char* part, const char* kind, std::vector<Cell> values) {
        values.resize(10);
        values.insert(values.begin(), {Text(part), Text(kind)});
        parts.add_row(values);
    };
    row("part", "kind", {});
    for (const double bar : {3.0, 4.0, 5.0, 7.0, 9.0})
        if (bar <= last)
            row("fuel pump", "pump",
                {520.0 - 20.0 * bar, Text("L/h"), bar, Text("bar"), 1.0, Text(), 3.6, Text("bar")});
    row("gearbox", "gearbox", {460.0, Text("N·m")});
    return parts;
}

// The end of the pump's curve is not where the pump gives out: the row says what is not known, the last row
// that data are missing, and a warning why.
TEST(EndOfData, BuildLimitsNamesNoPartWhoseDataEnd) {
    const auto call = [](double last, const Value& wanted) {
        return outcome_of("BUILD.LIMITS", {examples::engine(), parts_with_pump_to(last), 0.0,
                                           examples::weather(), wanted, 6500.0});
    };
    const Outcome complete = call(9.0, {});
    const Table& known = std::get<Table>(complete.value);
    EXPECT_EQ(cell_text(known.at(known.rows() - 1, 0)), "gives out first: gearbox");
    EXPECT_TRUE(complete.warnings.empty());
    for (const double last : {4.0, 5.0}) {
        for (const Value& wanted : {Value{}, Value{300.0}}) {
            const Outcome outcome = call(last, wanted);
            const Table& answer = std::get<Table>(outcome.value);
            const std::size_t end = answer.rows() - 1;
            EXPECT_TRUE(cell_text(answer.at(1, 2)).starts_with("not known beyond "))
                << cell_text(answer.at(1, 2));
            const Text bar = last == 4.0 ? "4 bar" : "5 bar";
            EXPECT_NE(cell_text(answer.at(1, 6)).find("the curve ends at " + bar), Text::npos);
            EXPECT_EQ(cell_text(answer.at(end, 0)), "missing data: fuel pump");
            EXPECT_LT(std::get<double>(answer.at(end, 2)), std::get<double>(known.at(end, 2)));
            // The gearbox carries what it carries, whatever is known of the pump.
            EXPECT_NEAR(std::get<double>(answer.at(2, 2)), std::get<double>(known.at(2, 2)), 1e-9);
            ASSERT_FALSE(outcome.warnings.empty());
            EXPECT_NE(
                outcome.warnings[0].find("missing data limit the result: fuel pump is not known beyond"),
                Text::npos);
            EXPECT_NE(outcome.warnings[0].find("ends at " + bar), Text::npos);
        }
    }
}

// What each end of data says, in both languages.
TEST(EndOfData, SaysWhereTheDataEnd) {
    using families::end_of_data;
    const Warning right{Reason::map_ends_right,
                        {{2.0, Quantity::ratio}, {0.3, Quantity::mass_flow}, {0.31, Quantity::mass_flow}}};
    const Warning left{Reason::map_ends_left,
                       {{2.0, Quantity::ratio}, {0.05, Quantity::mass_flow}, {0.04, Quantity::mass_flow}}};
    const Warning above{Reason::map_ends_above, {{2.5, Quantity::ratio}, {2.6, Quantity::ratio}}};
    EXPECT_EQ(end_of_data(right, Language::english), "the map ends at 300 g/s");
    EXPECT_EQ(end_of_data(left, Language::english), "the map begins at 50 g/s");
    EXPECT_EQ(end_of_data(above, Language::english), "the map ends at a pressure ratio of 2.5");
    EXPECT_NE(end_of_data(above, Language::german).find("2,5"), Text::npos);
    const Warning missed{Reason::map_missed, {{680.0, Quantity::angular_speed}}};
    EXPECT_EQ(end_of_data(missed, Language::english), say(Language::english, missed.reason, missed.details));
}

// The last row: the power wanted and the power that all parts carry, and their ratio.
TEST(EndOfData, TheLastRowOfBuildLimitsIsFinite) {
    for (const double last : {2.0, 3.0, 5.0, 9.0})
        for (const Value& wanted : {Value{}, Value{50.0}, Value{3000.0}}) {
            const Table answer = table_of("BUILD.LIMITS", {examples::engine(), parts_with_pump_to(last), 0.0,
                                                           examples::weather(), wanted, 6500.0});
            const std::size_t end = answer.rows() - 1;
            const double power = std::get<double>(answer.at(end, 2));
            EXPECT_GT(power, 0.0) << last;
            const auto* kilowatts = std::get_if<double>(&wanted);
            EXPECT_NEAR(std::get<double>(answer.at(end, 3)), (kilowatts ? *kilowatts : power) / power, 1e-9);
            EXPECT_EQ(cell_text(answer.at(end, 6)), "power [kW]");
        }
}

TEST(EndOfData, BuildTableSaysThatDataAreMissing) {
    const auto call = [](double last) {
        Table stages = examples::stages();
        for (std::size_t r = 1; r < stages.rows(); ++r)
            if (cell_text(stages.at(r, 2)) == "pump") stages.at(r, 5) = last;
        return outcome_of("BUILD.TABLE", {examples::measured_engine(), std::move(stages), examples::fuels()});
    };
    const Outcome ends = call(4.6), complete = call(12.0);
    const Table& bound = std::get<Table>(ends.value);
    const Table& known = std::get<Table>(complete.value);
    EXPECT_EQ(cell_text(bound.at(1, 4)), "missing data: pump");
    EXPECT_LT(std::get<double>(bound.at(1, 3)), std::get<double>(known.at(1, 3)));
    EXPECT_FALSE(cell_text(known.at(1, 4)).starts_with("missing data"));
    bool said = false;
    for (const Text& warning : ends.warnings)
        said = said || warning.find("Stage 1 on 95 RON: missing data of pump limit the result") != Text::npos;
    EXPECT_TRUE(said);
}

}  // namespace
}  // namespace pullsheet::catalogue
