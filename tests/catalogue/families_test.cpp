// SPDX-License-Identifier: Apache-2.0
// What the families make of their blocks and tables: each way to say a thing gives what the other ways give,
// and what cannot be is refused with its sentence. The numbers of the blocks are those of the examples:
// invented.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/checks.hpp"
#include "core/catalogue/families/examples.hpp"
#include "tests/catalogue/calls.hpp"
#include "tests/catalogue/sample.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::beside;
using sample::contains;
using sample::number_of;
using sample::outcome_of;
using sample::table_of;
using Text = std::string;

const std::monostate omitted{};

bool is_text(const Cell& cell, const Text& text) {
    const auto* found = std::get_if<Text>(&cell);
    return found && *found == text;
}

/// A block without the rows of a label.
Table without(const Table& block, const Text& label) {
    Table left;
    for (std::size_t r = 0; r < block.rows(); ++r) {
        if (is_text(block.at(r, 0), label)) continue;
        std::vector<Cell> row;
        for (std::size_t c = 0; c < block.columns(); ++c) row.push_back(block.at(r, c));
        left.add_row(row);
    }
    return left;
}

/// A block with a row more, or with another value in it.
Table with(const Table& block, const Text& label, const Cell& value, const Text& unit = "") {
    Table more = without(block, label);
    more.add_row({label, value, unit});
    return more;
}

/// The sentence of a call that has to be refused.
Text refusal(const char* name, const std::vector<Value>& arguments) {
    return sample::sentence(outcome_of(name, arguments).value);
}

bool has_row(const Table& answer, const Text& label) {
    for (std::size_t r = 0; r < answer.rows(); ++r)
        if (is_text(answer.at(r, 0), label)) return true;
    return false;
}

bool in_column(const Table& answer, std::size_t column, const Text& text) {
    for (std::size_t r = 0; r < answer.rows(); ++r)
        if (is_text(answer.at(r, column), text)) return true;
    return false;
}

// ---- the engine block

TEST(EngineBlock, NeedsADisplacement) {
    const Table engine = without(examples::engine(), "displacement");
    const Text needs = "engine needs the displacement, or bore and stroke";
    EXPECT_EQ(refusal("BUILD.POINT", {engine, 200.0, 6000.0}), "BUILD.POINT: " + needs);
    EXPECT_EQ(refusal("BUILD.POINT", {with(engine, "bore", 86.0, "mm"), 200.0, 6000.0}),
              "BUILD.POINT: " + needs);
}

TEST(EngineBlock, VolumetricEfficiencyByTheEngineSpeed) {
    Table engine = without(examples::engine(), "volumetric efficiency");
    engine.add_row({Text("volumetric efficiency at 3000 rpm"), 0.88});
    engine.add_row({Text("volumetric efficiency at 6000 rpm"), 0.97});
    const double there = beside(table_of("BUILD.POINT", {engine, 200.0, 6000.0}), "manifold pressure");
    const Table plain = with(examples::engine(), "volumetric efficiency", 0.97);
    EXPECT_DOUBLE_EQ(there, beside(table_of("BUILD.POINT", {plain, 200.0, 6000.0}), "manifold pressure"));
    // Nothing is known beyond the curve.
    EXPECT_TRUE(contains(refusal("BUILD.POINT", {engine, 200.0, 6500.0}),
                         "its curve runs from 3000 rpm to 6000 rpm"));
}

TEST(EngineBlock, WhatTheCycleTakesWhereItIsNotGivenIsSaid) {
    const Table engine = examples::engine();
    // Air of the surroundings, sea level: speed, pressure, temperature.
    const std::vector<Value> point{5000.0, 180.0, 40.0, 10.0, 0.0, 0.84};
    const auto arguments = [&](const Table& block) {
        std::vector<Value> all{block};
        all.insert(all.end(), point.begin(), point.end());
        return all;
    };
    const Outcome taken = outcome_of("CYCLE.RESULT", arguments(engine));
    ASSERT_GE(taken.warnings.size(), 2u);
    EXPECT_TRUE(contains(taken.warnings[0], "no bore and stroke; bore = stroke is assumed"));
    EXPECT_TRUE(contains(taken.warnings[1], "no rod length; 1.7 times the stroke is assumed"));
    const double stroke = std::cbrt(4.0 * 1.998e-3 / (3.14159265358979323846 * 4.0)) * 1000.0;
    Table written = without(engine, "displacement");
    written.add_row({Text("bore"), stroke, Text("mm")});
    written.add_row({Text("stroke"), stroke, Text("mm")});
    written.add_row({Text("rod length"), 1.7 * stroke, Text("mm")});
    const Outcome given = outcome_of("CYCLE.RESULT", arguments(written));
    const auto power = [](const Outcome& outcome) { return beside(std::get<Table>(outcome.value), "power"); };
    EXPECT_NEAR(power(taken) / power(given), 1.0, 1e-9);
    for (const auto& warning : given.warnings) EXPECT_FALSE(contains(warning, "taken")) << warning;
    Table short_rod = without(written, "rod length");
    short_rod.add_row({Text("rod length"), 0.45 * stroke, Text("mm")});
    EXPECT_TRUE(contains(refusal("CYCLE.RESULT", arguments(short_rod)), "\"rod length\" is"));
    // The same, asked for by its name.
    std::vector<Value> asked = arguments(engine);
    asked.insert(asked.begin(), Text("CYCLE.RESULT"));
    const Outcome why = outcome_of("FUNCTION.ERROR", asked);
    EXPECT_TRUE(contains(std::get<Text>(why.value), "bore = stroke is assumed; "));
    EXPECT_TRUE(contains(std::get<Text>(why.value), "1.7 times the stroke is assumed"));
}

// ---- lambda

// Any mixture that burns for the air of a power, with a warning beyond what is usual; the model of the cycle
// holds for less.
TEST(Lambda, IsWiderForTheAirThanForTheCycle) {
    const std::vector<Value> lean{300.0, 0.0, 1.8}, richest{300.0, 0.0, 0.4}, usual{300.0, 0.0, 0.9};
    const auto air = [](const std::vector<Value>& arguments) {
        return number_of("ENGINE.AIR.FOR.POWER", arguments);
    };
    EXPECT_NEAR(air(lean) / air(usual), 2.0, 1e-12);
    EXPECT_NEAR(air(richest) / air(usual), 0.4 / 0.9, 1e-12);
    EXPECT_EQ(outcome_of("ENGINE.AIR.FOR.POWER", lean).warnings.size(), 1u);
    EXPECT_TRUE(outcome_of("ENGINE.AIR.FOR.POWER", usual).warnings.empty());
    EXPECT_TRUE(contains(refusal("ENGINE.AIR.FOR.POWER", {300.0, 0.0, 4.1}), "it must be 0.4 to 4"));
    EXPECT_TRUE(
        contains(refusal("CYCLE.RESULT", {examples::measured_engine(), 5000.0, 180.0, 40.0, 10.0, 0.0, 1.8}),
                 "it must be 0.6 to 1.5"));
}

// ---- the vehicle block

double time_of(const Table& vehicle) {
    return number_of("ROAD.TIME", {vehicle, examples::engine_speeds(), examples::torques(), 100.0, 200.0});
}

Text no_time(const Table& vehicle) {
    return refusal("ROAD.TIME", {vehicle, examples::engine_speeds(), examples::torques(), 100.0, 200.0});
}

TEST(VehicleBlock, TheDrivenWheels) {
    EXPECT_EQ(no_time(with(examples::vehicle(), "drive", Text("sideways"))),
              "ROAD.TIME: vehicle, row \"drive\": \"sideways\" is not known; choose one of front, rear, all");
    // From rest, all wheels put down more than two; the front ones, which the car lifts, less than the rear
    // ones.
    const auto from_rest = [](const char* drive) {
        return number_of("ROAD.TIME", {with(examples::vehicle(), "drive", Text(drive)),
                                       examples::engine_speeds(), examples::torques(), 0.0, 60.0});
    };
    EXPECT_LT(from_rest("all wheels"), from_rest("rear"));
    EXPECT_LT(from_rest("rear"), from_rest("front"));
}

TEST(VehicleBlock, TheTyreOrItsRadius) {
    const Table bare = without(examples::vehicle(), "tyre");
    EXPECT_EQ(no_time(bare), "ROAD.TIME: vehicle has neither a row \"tyre\" nor a row \"rolling radius\"");
    const double radius = number_of("TYRE.RADIUS", {Text("245/40 R18"), Text("mm")});
    EXPECT_NEAR(time_of(with(bare, "rolling radius", radius, "mm")), time_of(examples::vehicle()), 1e-9);
}

TEST(VehicleBlock, GearsWithoutAGap) {
    EXPECT_EQ(no_time(without(examples::vehicle(), "gear 3")), "ROAD.TIME: vehicle has no row \"gear 3\"");
    EXPECT_EQ(no_time(with(examples::vehicle(), "final drive 7", 3.45)),
              "ROAD.TIME: vehicle has no row \"gear 7\"");
}

TEST(VehicleBlock, FinalDriveOfAGear) {
    const double plain = time_of(examples::vehicle());
    EXPECT_DOUBLE_EQ(time_of(with(examples::vehicle(), "final drive 3", 3.45)), plain);
    // Half the ratio in the gear and twice in its final drive turn the engine alike.
    const Table moved = with(with(examples::vehicle(), "gear 3", 0.76), "final drive 3", 6.90);
    EXPECT_NEAR(time_of(moved), plain, 1e-9);
    EXPECT_GT(std::abs(time_of(with(examples::vehicle(), "final drive 3", 3.9)) - plain), 0.01);
}

// ---- the weather block

double power_on(const Table& weather) {
    return number_of("ROAD.TIME", {examples::vehicle(), examples::engine_speeds(), examples::torques(), 100.0,
                                   200.0, weather});
}

TEST(WeatherBlock, PressureBySeaLevelAndElevation) {
    const Table day{{Text("temperature"), 20.0, Text("°C")}};
    const Table low = with(day, "sea level pressure", 101.9, "kPa");
    EXPECT_EQ(
        refusal("ROAD.TIME",
                {examples::vehicle(), examples::engine_speeds(), examples::torques(), 100.0, 200.0, low}),
        "ROAD.TIME: weather has a sea level pressure but no elevation; give the elevation, or the station "
        "pressure");
    const double station = number_of("AIR.STATION.PRESSURE", {"101.9 kPa", 640.0, Text("kPa")});
    EXPECT_NEAR(power_on(with(low, "elevation", 640.0, "m")), power_on(with(day, "pressure", station, "kPa")),
                1e-9);
    // The height alone: the standard atmosphere there.
    const double standard = number_of("AIR.STANDARD.PRESSURE", {640.0, Text("kPa")});
    EXPECT_NEAR(power_on(with(day, "elevation", 640.0, "m")),
                power_on(with(day, "pressure", standard, "kPa")), 1e-5);
}

// ---- the parts table

Table parts_with(std::vector<Cell> row) {
    Table parts{{Text("part"), Text("kind"), Text("value"), Text("unit"), Text("value 2"), Text("unit"),
                 Text("value 3"), Text("unit"), Text("value 4"), Text("unit")}};
    parts.add_row(std::move(row));
    return parts;
}

/// What one part alone carries, at 6000 rpm.
Table limits_of(std::vector<Cell> row) {
    return table_of("BUILD.LIMITS",
                    {examples::engine(), parts_with(std::move(row)), 0.0, omitted, omitted, 6000.0});
}

TEST(PartsTable, APumpOnTheCamCarriesItsFlowLessTheMargin) {
    const Table limits = limits_of({Text("on the cam"), Text("high-pressure pump"), 9.0, Text("mm"), 4.8,
                                    Text("mm"), 4.0, Text(""), 0.92, Text("")});
    const double flow = number_of("PUMP.PLUNGER.FLOW", {9.0, 4.8, 4.0, 6000.0, 0.92, 0.5, Text("L/h")});
    const double power = std::get<double>(limits.at(1, 2));
    EXPECT_NEAR(std::get<double>(limits.at(1, 4)), flow, 1e-6 * flow);
    EXPECT_NEAR(std::get<double>(limits.at(1, 5)), flow, 1e-9 * flow);
    // The fuel of that power and a tenth more is that flow.
    const Table there = table_of("BUILD.POINT", {examples::engine(), power, 6000.0});
    EXPECT_NEAR(1.1 * beside(there, "fuel volume flow"), flow, 1e-6 * flow);
}

TEST(PartsTable, WhatTheEngineIsTrustedWith) {
    const double speed = 6000.0 * 3.14159265358979323846 / 30.0;
    const auto carries = [](std::vector<Cell> row) {
        return std::get<double>(limits_of(std::move(row)).at(1, 2));
    };
    EXPECT_NEAR(carries({Text("rods"), Text("engine"), 350.0, Text("kW")}), 350.0, 1e-6);
    EXPECT_NEAR(carries({Text("rods"), Text("engine"), omitted, Text(""), 480.0, Text("N·m")}),
                480.0 * speed / 1000.0, 1e-6);
    // p·V·n/2 of the four-stroke engine.
    EXPECT_NEAR(
        carries({Text("rods"), Text("engine"), omitted, Text(""), omitted, Text(""), 28.0, Text("bar")}),
        28e5 * 1.998e-3 * 50.0 / 1000.0, 1e-6);
}

TEST(PartsTable, APipeStandsInOneOfFourPlaces) {
    const auto point = [](const char* place) {
        return table_of("BUILD.POINT", {examples::engine(), 250.0, 6000.0, 0.0, omitted,
                                        parts_with({Text("pipe"), Text("pipe"), 57.0, Text("mm"), Text(place),
                                                    Text(""), 1.5, Text("m"), 1.2, Text("")})});
    };
    EXPECT_GT(beside(point("intake"), "intake loss"), 0.1);
    EXPECT_EQ(beside(point("hot"), "intake loss"), 0.0);
    EXPECT_GT(beside(point("hot"), "charge loss"), 0.1);
    EXPECT_EQ(beside(point("charge"), "intake loss"), 0.0);
    EXPECT_GT(beside(point("charge"), "charge loss"), 0.1);
    EXPECT_EQ(beside(point("exhaust"), "charge loss"), 0.0);
    EXPECT_GT(beside(point("exhaust"), "pipe: Mach number"), beside(point("intake"), "pipe: Mach number"));
    const Text refused = refusal(
        "BUILD.POINT", {examples::engine(), 250.0, 6000.0, 0.0, omitted,
                        parts_with({Text("pipe"), Text("pipe"), 57.0, Text("mm"), Text("boot"), Text("")})});
    EXPECT_TRUE(
        contains(refused, "\"boot\" is not a place of a pipe; choose one of intake, hot, charge, exhaust"))
        << refused;
}

TEST(PartsTable, ANumberThatMustBeGiven) {
    const Text refused = refusal(
        "BUILD.LIMITS", {examples::engine(), parts_with({Text("box"), Text("gearbox"), omitted, Text("N·m")}),
                         0.0, omitted, omitted, 6000.0});
    EXPECT_TRUE(contains(refused, "parts, part \"box\", largest torque is empty")) << refused;
    EXPECT_TRUE(contains(refused, "100000 N·m")) << refused;
}

TEST(PartsTable, AMapWithoutACompressorIsOne) {
    const Table parts = parts_with({Text("box"), Text("gearbox"), 520.0, Text("N·m")});
    const Table point = table_of(
        "BUILD.POINT", {examples::engine(), 250.0, 6000.0, 0.0, omitted, parts, examples::compressor_map()});
    EXPECT_TRUE(has_row(point, "compressor: share used"));
    EXPECT_NEAR(
        beside(point, "compressor efficiency"),
        number_of("COMPRESSOR.MAP.EFFICIENCY", {examples::compressor_map(), beside(point, "corrected flow"),
                                                beside(point, "pressure ratio")}),
        1e-6);
    // The map is not taken twice where a compressor stands among the parts.
    Table both = parts;
    both.add_row({Text("turbo"), Text("compressor")});
    const Table same = table_of(
        "BUILD.POINT", {examples::engine(), 250.0, 6000.0, 0.0, omitted, both, examples::compressor_map()});
    EXPECT_TRUE(has_row(same, "turbo: share used"));
    EXPECT_FALSE(has_row(same, "compressor: share used"));
}

TEST(PartsTable, ACompressorUpToItsShaftSpeed) {
    const Table parts = parts_with({Text("turbo"), Text("compressor"), omitted, Text(""), omitted, Text(""),
                                    omitted, Text(""), 130000.0, Text("rpm")});
    const Table limits = table_of("BUILD.LIMITS", {examples::engine(), parts, 0.0, omitted, omitted, 6000.0,
                                                   examples::compressor_map()});
    EXPECT_TRUE(is_text(limits.at(1, 6), "shaft speed [rpm]"));
    EXPECT_NEAR(std::get<double>(limits.at(1, 4)), 130000.0, 0.1);
    EXPECT_NEAR(std::get<double>(limits.at(1, 5)), 130000.0, 1e-6);
    // At the power that it carries it turns at that speed.
    const Table point = table_of("BUILD.POINT", {examples::engine(), std::get<double>(limits.at(1, 2)),
                                                 6000.0, 0.0, omitted, parts, examples::compressor_map()});
    EXPECT_NEAR(beside(point, "shaft speed"), 130000.0, 0.1);
    EXPECT_NEAR(beside(point, "turbo: shaft speed"), 130000.0, 0.1);
}

TEST(PartsTable, LimitsNeedASpeed) {
    const Table engine = without(examples::engine(), "redline");
    EXPECT_EQ(refusal("BUILD.LIMITS", {engine, examples::parts()}),
              "BUILD.LIMITS: give the speed, or the redline in the engine block");
    const auto carries = [](const std::vector<Value>& arguments) {
        return std::get<double>(table_of("BUILD.LIMITS", arguments).at(1, 2));
    };
    EXPECT_DOUBLE_EQ(carries({examples::engine(), examples::parts()}),
                     carries({engine, examples::parts(), 0.0, omitted, omitted, 6800.0}));
}

// ---- stages and fuels

/// One stage and one fuel, so that a table does not take long.
Table one_stage() {
    Table stages;
    for (std::size_t r = 0; r < 5; ++r) {
        std::vector<Cell> row;
        for (std::size_t c = 0; c < examples::stages().columns(); ++c)
            row.push_back(examples::stages().at(r, c));
        stages.add_row(row);
    }
    return stages;
}

Table one_fuel() {
    return {{Text("name"), Text("ethanol share"), Text("RON"), Text("lambda")},
            {Text("95 RON"), 0.05, 93.0, 0.83}};
}

Table measured(const char* stage, const char* fuel, double power, double uncertainty = 0.02) {
    return {
        {Text("stage"), Text(stage)},
        {Text("fuel"), Text(fuel)},
        {Text("power"), power, Text("kW"), uncertainty * power},
        {Text("engine speed"), 6000.0, Text("rpm")},
        {Text("manifold pressure"), 190.0, Text("kPa")},
        {Text("manifold temperature"), 45.0, Text("°C")},
        {Text("lambda"), 0.83},
        {Text("knock-limited spark"), 9.0, Text("°")},
    };
}

TEST(StageTable, NamesWhatIsMissing) {
    const Table engine = examples::measured_engine();
    const auto said = [&](const Table& block, const Table& stages, const Table& fuels, const Value& map) {
        return refusal("BUILD.TABLE", {block, stages, fuels, omitted, omitted, map});
    };
    EXPECT_EQ(said(without(engine, "redline"), one_stage(), one_fuel(), omitted),
              "BUILD.TABLE: engine needs the redline");
    Table fast = without(engine, "redline");
    fast.add_row({Text("redline"), 21960.0, Text("rpm")});
    EXPECT_EQ(said(fast, one_stage(), one_fuel(), omitted),
              "BUILD.TABLE: engine, row \"redline\" is 21960 rpm; it must be 0 to 20000 rpm");
    Table nameless = one_stage();
    nameless.at(1, 0) = omitted;
    EXPECT_EQ(said(engine, nameless, one_fuel(), omitted), "BUILD.TABLE: stages names no stage");
    Table empty = one_stage();
    for (std::size_t r = 1; r < empty.rows(); ++r)
        for (std::size_t c = 0; c < empty.columns(); ++c) empty.at(r, c) = omitted;
    EXPECT_EQ(said(engine, empty, one_fuel(), omitted), "BUILD.TABLE: stages names no stage");
    EXPECT_EQ(said(engine, one_stage(), {{Text("name"), Text("RON")}, {Text(""), 93.0}}, omitted),
              "BUILD.TABLE: fuels names no fuel");
    EXPECT_EQ(said(engine, one_stage(), one_fuel(), measured("Stage 9", "95 RON", 200.0)),
              "BUILD.TABLE: measured: there is no stage \"Stage 9\"; choose one of Stage 1");
    EXPECT_EQ(said(engine, one_stage(), one_fuel(), measured("stage 1", "E85", 200.0)),
              "BUILD.TABLE: measured: there is no fuel \"E85\"; choose one of 95 RON");
}

// A fuel that knocks whatever the boost: its row says so, with the name and the price of the stage; the other
// fuel's row is as without it.
TEST(StageTable, ARowThatCannotRunSaysWhy) {
    Table fuels = one_fuel();
    fuels.add_row({Text("lamp oil"), 0.0, 22.0, 0.83});
    const Table stages = one_stage();
    const Table table = table_of("BUILD.TABLE", {examples::measured_engine(), stages, fuels});
    ASSERT_EQ(table.rows(), 3u);
    EXPECT_TRUE(is_text(table.at(2, 0), "Stage 1"));
    EXPECT_TRUE(is_text(table.at(2, 1), "lamp oil"));
    EXPECT_EQ(std::get<double>(table.at(2, 8)), std::get<double>(table.at(1, 8)));
    for (std::size_t c = 2; c < table.columns(); ++c) {
        if (c == 8) continue;
        const auto* failure = std::get_if<Failure>(&table.at(2, c));
        ASSERT_TRUE(failure) << c;
        EXPECT_EQ(failure->kind, FailureKind::no_solution);
        EXPECT_TRUE(contains(failure->sentence, "BUILD.TABLE: Stage 1 on lamp oil: ")) << failure->sentence;
        EXPECT_TRUE(contains(failure->sentence, "knocks")) << failure->sentence;
    }
    const Table alone = table_of("BUILD.TABLE", {examples::measured_engine(), stages, one_fuel()});
    EXPECT_EQ(std::get<double>(table.at(1, 3)), std::get<double>(alone.at(1, 3)));
}

TEST(StageTable, AMeasuredMapMovesThePowerAndItsDoubtTheBand) {
    Table stages = one_stage();
    stages.at(3, 3) = 400.0;  // g/s of the compressor: knock is the limit
    const auto row = [&](const Value& map) {
        const Table table = table_of("BUILD.TABLE", {examples::measured_engine(), stages, one_fuel(),
                                                     examples::vehicle(), omitted, map});
        struct Row {
            double power, band, time;
        };
        const auto at = [&](std::size_t c) { return std::get<double>(table.at(1, c)); };
        return Row{at(3), (at(11) - at(10)) / at(3), at(5)};
    };
    const auto strong = row(measured("Stage 1", "95 RON", 190.0));
    const auto weak = row(measured("Stage 1", "95 RON", 170.0));
    const auto doubted = row(measured("Stage 1", "95 RON", 190.0, 0.05));
    EXPECT_EQ(doubted.power, strong.power);
    // Two standard uncertainties to both sides, of which the measured power is one part (JCGM
    // 100:2008, 5.1.2).
    EXPECT_NEAR(std::pow(doubted.band, 2) - std::pow(strong.band, 2), 16.0 * (0.05 * 0.05 - 0.02 * 0.02),
                1e-5);
    EXPECT_GT(strong.power, weak.power * (1.0 + 1e-3));
    EXPECT_LT(strong.time, weak.time);
}

// The same parts in order and in named columns: units in the heading, in a column beside it, or with the
// number; the columns in any order.
TEST(PartsTable, NamedColumnsSayTheSame) {
    const Table in_order{
        {Text("part"), Text("kind"), Text("value"), Text("unit"), Text("value 2"), Text("unit"),
         Text("value 3"), Text("unit"), Text("value 4"), Text("unit")},
        {Text("port"), Text("injectors"), 760.0, Text("cc/min"), 4.0, Text(""), 3.0, Text("bar"), 4.0,
         Text("bar")},
        {Text("tank"), Text("pump"), 310.0, Text("L/h"), 3.0, Text("bar"), 1.0, Text(""), 4.0, Text("bar")},
        {Text("tank"), Text("pump"), 200.0, Text("L/h"), 7.0, Text("bar"), 1.0, Text(""), 4.0, Text("bar")},
        {Text("box"), Text("gearbox"), 520.0, Text("N·m")}};
    const Table named{
        {Text("kind"), Text("Largest Torque [N·m]"), Text("rated flow [L/h]"), Text("fuel pressure"),
         Text("unit"), Text("part"), Text("count"), Text("rated pressure [kPa]"), Text("pump flow [L/h]"),
         Text("pump pressure")},
        {Text("injectors"), Text(""), 45.6, 4.0, Text("bar"), Text("port"), 4.0, 300.0, Text(""), 0.0},
        {Text("pump"), Text(""), Text(""), 400.0, Text("kPa"), Text("tank"), Cell(), Text(""), 310.0, 3.0},
        {Text("pump"), Text(""), Text(""), Text("4 bar"), Text(""), Text("tank"), 1.0, Text(""), 200.0,
         Text("700 kPa")},
        {Text("gearbox"), Text("520 N·m"), 0.0, Text(""), Text(""), Text("box"), Text(""), Text(""), Text(""),
         Text("")}};
    const auto limits = [](const Table& parts) {
        return table_of("BUILD.LIMITS", {examples::engine(), parts, 0.0, omitted, omitted, 6000.0});
    };
    const Table expected = limits(in_order);
    const Table found = limits(named);
    ASSERT_EQ(found.rows(), expected.rows());
    ASSERT_EQ(expected.rows(), 5u);
    for (std::size_t r = 1; r < expected.rows(); ++r)
        for (std::size_t c = 0; c < expected.columns(); ++c)
            if (const auto* number = std::get_if<double>(&expected.at(r, c)))
                EXPECT_NEAR(std::get<double>(found.at(r, c)), *number, 1e-9 * std::abs(*number))
                    << r << ", " << c;
            else
                EXPECT_TRUE(is_text(found.at(r, c), std::get<Text>(expected.at(r, c)))) << r << ", " << c;
}

TEST(PartsTable, AColumnThatWouldNotBeUsedIsRefused) {
    const auto said = [](const Table& parts) {
        return refusal("BUILD.LIMITS", {examples::engine(), parts, 0.0, omitted, omitted, 6000.0});
    };
    const auto table = [&](const Text& third, const Text& fourth) {
        return Table{{Text("part"), Text("kind"), third, fourth}, {Text("box"), Text("gearbox"), 520.0, 3.0}};
    };
    EXPECT_EQ(said(table("largest torqe [N·m]", "")),
              "BUILD.LIMITS: parts has a column \"largest torqe [N·m]\" that is not known; did you mean "
              "\"largest torque\"?");
    EXPECT_TRUE(contains(said(table("largest torque", "colour of the paint")),
                         "the columns are part, kind, rated flow"));
    EXPECT_EQ(said(table("largest torque [N·m]", "largest torque [lb-ft]")),
              "BUILD.LIMITS: parts has the column \"largest torque\" twice");
    EXPECT_EQ(said(table("largest torque", "count")),
              "BUILD.LIMITS: parts, part \"box\": the kind gearbox takes no count, but \"3\" is given");
    EXPECT_EQ(said(table("largest torque", "")),
              "BUILD.LIMITS: parts, part \"box\": \"3\" is in column 4, which has no heading");
    EXPECT_EQ(said({{Text("part"), Text("kind"), Text("value"), Text("unit"), Text("value 2")},
                    {Text("box"), Text("gearbox"), 520.0, Text("N·m"), 3.0}}),
              "BUILD.LIMITS: parts, part \"box\": the kind gearbox takes no value 2, but \"3\" is given");
    EXPECT_TRUE(contains(
        said({{Text("kind"), Text("largest torque"), Text("name")}, {Text("gearbox"), 520.0, Text("box")}}),
        "parts has a column \"name\" that is not known; the columns are part, kind"));
    EXPECT_EQ(said({{Text("kind"), Text("largest torque"), Text("")}, {Text("gearbox"), 520.0, Text("")}}),
              "BUILD.LIMITS: parts has no column \"part\"");
}

// Port injection cools the charge less than direct injection does, and knocks earlier.
TEST(KnockFamily, TheKindOfInjectionSetsHowMuchFuelEvaporatesInTheCharge) {
    const auto with = [](const char* kind) {
        Table engine = examples::measured_engine();
        if (kind) engine.add_row({Text("injection"), Text(kind), Text("")});
        return std::vector<Value>{engine, 4000.0, 160.0, 45.0, 12.0, 0.0, 0.85};
    };
    const double direct = sample::number_of("KNOCK.INTEGRAL", with("direct"));
    EXPECT_EQ(direct, sample::number_of("KNOCK.INTEGRAL", with(nullptr)));
    EXPECT_GT(sample::number_of("KNOCK.INTEGRAL", with("port")), 1.05 * direct);
    EXPECT_TRUE(contains(refusal("KNOCK.INTEGRAL", with("carburettor")), "carburettor"));
}

// A fuel that hardly knocks is limited by the peak pressure that the engine is stated to bear.
TEST(StageTable, TheStatedPeakPressureLimits) {
    const Table stages{{Text("stage"), Text("part"), Text("kind"), Text("largest peak pressure [bar]"),
                        Text("largest torque [N·m]")},
                       {Text("Stage 1"), Text("block"), Text("engine"), 70.0, 5000.0}};
    const Table fuels{{Text("name"), Text("ethanol share"), Text("RON")}, {Text("E85"), 0.85, 100.0}};
    const Outcome found = outcome_of("BUILD.TABLE", {examples::measured_engine(), stages, fuels});
    EXPECT_TRUE(is_text(std::get<Table>(found.value).at(1, 4), "peak pressure"));
    EXPECT_NEAR(std::get<double>(std::get<Table>(found.value).at(1, 18)), 70.0, 0.1);
    EXPECT_TRUE(std::none_of(found.warnings.begin(), found.warnings.end(),
                             [](const std::string& warning) { return contains(warning, "assumed"); }));
}

// Where knock holds, a larger turbocharger brings nothing, and the row says so and names the fuels on which
// it does. What is said of several rows is said once.
TEST(StageTable, AStageThatBringsNothingSaysWhatHoldsIt) {
    const Table stages{
        {Text("stage"), Text("part"), Text("kind"), Text("largest corrected flow [g/s]"),
         Text("effectiveness"), Text("largest gas temperature [°C]"), Text("latest 50 % burned angle [°]")},
        {Text("One"), Text("turbo"), Text("compressor"), 150.0, Text(""), Text(""), Text("")},
        {Text("One"), Text("block"), Text("engine"), Text(""), Text(""), 1250.0, 25.0},
        {Text("One"), Text("cooler"), Text("charge cooler"), Text(""), 0.8, Text(""), Text("")},
        {Text("Two"), Text("turbo"), Text("compressor"), 800.0, Text(""), Text(""), Text("")},
        {Text("Three"), Text("turbo"), Text("compressor"), 1000.0, Text(""), Text(""), Text("")}};
    const Table fuels{{Text("name"), Text("ethanol share"), Text("RON")},
                      {Text("95 RON"), 0.05, 93.0},
                      {Text("E50"), 0.5, 95.0},
                      {Text("E85"), 0.85, 95.0}};
    const std::vector<Value> arguments{examples::measured_engine(), stages, fuels};
    const Outcome found = outcome_of("BUILD.TABLE", arguments);
    const auto& table = std::get<Table>(found.value);
    ASSERT_EQ(table.rows(), 10u);
    constexpr std::size_t power = 3, limit = 4, gain = 21, remark = 22;
    EXPECT_TRUE(is_text(table.at(0, gain), "gain over the stage before [kW]"));
    const auto number = [&](std::size_t r, std::size_t c) { return std::get<double>(table.at(r, c)); };
    const auto text = [&](std::size_t r) { return std::get<Text>(table.at(r, remark)); };
    for (std::size_t r = 1; r <= 3; ++r) {
        EXPECT_TRUE(is_text(table.at(r, gain), ""));
        EXPECT_EQ(text(r), "");
    }
    for (std::size_t r = 4; r <= 9; ++r)
        EXPECT_NEAR(number(r, gain), number(r, power) - number(r - 3, power), 1e-9);
    EXPECT_EQ(text(6), "");
    EXPECT_TRUE(is_text(table.at(7, limit), "knock"));
    EXPECT_EQ(text(7), "knock holds Three on 95 RON at the power of Two; it pays on none of these fuels");
    EXPECT_EQ(std::get<Text>(table.at(9, limit)), "peak pressure (assumed)");
    const auto of = [&](const char* words) {
        return std::count_if(found.warnings.begin(), found.warnings.end(),
                             [&](const std::string& warning) { return contains(warning, words); });
    };
    EXPECT_EQ(of("assumed peak pressure of 140 bar holds Two on E85; Three on E85"), 1);
    EXPECT_EQ(of("octane number"), 1);
    // In German the remark is German, and the figures are the same.
    const auto german =
        std::get<Table>(evaluate(*find_function("BUILD.TABLE"), arguments, Language::german).value);
    EXPECT_EQ(std::get<Text>(german.at(7, remark)),
              "Klopfen hält Three mit 95 RON auf der Leistung von Two; es lohnt sich mit keinem dieser "
              "Kraftstoffe");
    EXPECT_EQ(std::get<double>(german.at(7, power)), number(7, power));
}

// Every kind of limit has its name in the remark.
TEST(StageTable, TheRemarkNamesEachKindOfLimit) {
    const auto remark = [](const char* column, Cell later, const Value& map = {}) {
        const Table stages{{Text("stage"), Text("part"), Text("kind"), Text("effectiveness"), Text(column)},
                           {Text("One"), Text("cooler"), Text("charge cooler"), 0.8, Text("")},
                           {Text("Two"), Text("what changes"), Text("engine"), Text(""), std::move(later)}};
        return std::get<Text>(
            table_of("BUILD.TABLE", {examples::measured_engine(), stages, one_fuel(), omitted, omitted, map})
                .at(2, 22));
    };
    EXPECT_TRUE(contains(remark("largest torque [N·m]", 90.0),
                         "the part what changes holds Two on 95 RON below the power of One"));
    EXPECT_TRUE(contains(remark("largest peak pressure [bar]", 50.0), "the stated peak pressure holds Two"));
    EXPECT_TRUE(contains(remark("largest gas temperature [°C]", 930.0), "the exhaust temperature holds Two"));
    EXPECT_TRUE(contains(remark("latest 50 % burned angle [°]", 14.0), "knock holds Two"));
    // A pump whose curve ends.
    const Table stages{{Text("stage"), Text("part"), Text("kind"), Text("effectiveness"),
                        Text("pump flow [L/h]"), Text("pump pressure [bar]")},
                       {Text("One"), Text("cooler"), Text("charge cooler"), 0.8, Text(""), Text("")},
                       {Text("Two"), Text("pump"), Text("pump"), Text(""), 300.0, 3.0},
                       {Text("Two"), Text("pump"), Text("pump"), Text(""), 290.0, 3.3}};
    EXPECT_TRUE(contains(
        std::get<Text>(table_of("BUILD.TABLE", {examples::measured_engine(), stages, one_fuel()}).at(2, 22)),
        "the end of the data of pump holds Two on 95 RON below the power of One"));
}

// Gas much hotter than where it was measured, here of a leaner mixture, is said once.
TEST(StageTable, HotterGasThanMeasuredIsSaid) {
    const Table stages{{Text("stage"), Text("part"), Text("kind"), Text("effectiveness"),
                        Text("largest gas temperature [°C]")},
                       {Text("Stage 1"), Text("cooler"), Text("charge cooler"), 0.8, Text("")},
                       {Text("Stage 1"), Text("manifold"), Text("engine"), Text(""), 1200.0}};
    Table fuels = one_fuel();
    fuels.add_row({Text("lean"), 0.05, 98.0, 0.98});
    const Outcome found = outcome_of("BUILD.TABLE", {examples::measured_engine(), stages, fuels, omitted,
                                                     omitted, measured("Stage 1", "95 RON", 190.0)});
    EXPECT_EQ(std::count_if(found.warnings.begin(), found.warnings.end(),
                            [](const std::string& warning) {
                                return contains(warning,
                                                "Stage 1 on lean: the gas before the turbine is up to");
                            }),
              1);
}

// Far from the map that was measured the table says in what.
TEST(StageTable, TheBasisSaysHowFarThePredictionLies) {
    Table stages{{Text("stage"), Text("part"), Text("kind"), Text("compression ratio")},
                 {Text("Stage 1"), Text("block"), Text("engine"), Text("")},
                 {Text("Stage 2"), Text("pistons"), Text("engine"), 8.5}};
    Table fuels = one_fuel();
    fuels.add_row({Text("E85"), 0.85, 95.0, 0.83});
    Table map = measured("Stage 1", "95 RON", 190.0);
    const auto basis = [&](std::size_t row) {
        return std::get<Text>(
            table_of("BUILD.TABLE", {examples::measured_engine(), stages, fuels, omitted, omitted, map})
                .at(row, 20));
    };
    // The greatest power stands at the redline.
    EXPECT_EQ(basis(1), "extrapolated in speed");
    EXPECT_TRUE(contains(basis(4), "extrapolated in speed, boost, fuel and compression ratio")) << basis(4);
    map.at(3, 1) = beside(examples::measured_engine(), "redline", 1);
    EXPECT_FALSE(contains(basis(1), "extrapolated")) << basis(1);
}

// A later engine row never erases a limit that it does not name.
TEST(StageTable, LimitsOfTheEngineAreMergedValueByValue) {
    const auto table = [](double later_torque) {
        Table stages{{Text("stage"), Text("part"), Text("kind"), Text("largest peak pressure [bar]"),
                      Text("largest torque [N·m]")},
                     {Text("Stage 1"), Text("block"), Text("engine"), 105.0, Text("")}};
        stages.add_row({Text("Stage 2"), Text("rods"), Text("engine"), Text(""), later_torque});
        return table_of("BUILD.TABLE", {examples::measured_engine(), stages, one_fuel()});
    };
    const Table found = table(2000.0);
    ASSERT_EQ(found.rows(), 3u);
    EXPECT_LE(std::get<double>(found.at(1, 18)), 105.0 * 1.001);
    EXPECT_EQ(std::get<double>(found.at(2, 3)), std::get<double>(found.at(1, 3)));
    EXPECT_LE(std::get<double>(found.at(2, 18)), 105.0 * 1.001);
    EXPECT_TRUE(is_text(found.at(2, 20), "guess"));
    EXPECT_TRUE(is_text(table(60.0).at(2, 4), "rods"));
}

// A larger turbine that states no gas temperature stands what the one before it stood.
TEST(StageTable, TheGasTemperatureOfTheTurbineStays) {
    const auto hottest = [](const Cell& first, const Cell& second) {
        const Table stages{
            {Text("stage"), Text("part"), Text("kind"), Text("effective area [cm²]"),
             Text("largest gas temperature [°C]"), Text("effectiveness")},
            {Text("One"), Text("compressor"), Text("compressor"), Text(""), Text(""), Text("")},
            {Text("One"), Text("cooler"), Text("charge cooler"), Text(""), Text(""), 0.8},
            {Text("One"), Text("turbine"), Text("turbine"), 10.0, first, Text("")},
            {Text("Two"), Text("larger turbine"), Text("turbine"), 11.0, second, Text("")}};
        return std::get<double>(
            table_of("BUILD.TABLE", {examples::measured_engine(), stages, one_fuel()}).at(2, 17));
    };
    EXPECT_NEAR(hottest(940.0, Text("")), 940.0, 1.0);
    EXPECT_NEAR(hottest(940.0, 960.0), 960.0, 1.0);
    EXPECT_GT(hottest(Text(""), Text("")), 970.0);
}

TEST(StageTable, NamedColumnsSayTheSame) {
    // 75 % and 0.75 are the same number to the last bit, as 70 % and 0.7 are not.
    const Table in_order{
        {Text("stage"), Text("part"), Text("kind"), Text("value"), Text("unit"), Text("value 2"),
         Text("unit"), Text("price")},
        {Text("Stage 1"), Text("injectors"), Text("injectors"), 430.0, Text("cc/min"), 4.0, Text(""), 950.0},
        {Text("Stage 1"), Text("turbo"), Text("compressor"), 215.0, Text("g/s"), 0.75, Text(""), Text("")}};
    const Table named{
        {Text("price"), Text("stage"), Text("kind"), Text("part"), Text("largest corrected flow [g/s]"),
         Text("compressor efficiency [%]"), Text("rated flow [cc/min]"), Text("count")},
        {950.0, Text("Stage 1"), Text("injectors"), Text("injectors"), Text(""), Text(""), 430.0, 4.0},
        {Text(""), Text("Stage 1"), Text("compressor"), Text("turbo"), 215.0, 75.0, Text(""), Text("")}};
    const auto row = [](const Table& stages) {
        return table_of("BUILD.TABLE", {examples::measured_engine(), stages, one_fuel()});
    };
    const Table expected = row(in_order);
    const Table found = row(named);
    for (const std::size_t c : {3u, 8u})
        EXPECT_EQ(std::get<double>(found.at(1, c)), std::get<double>(expected.at(1, c)));
    EXPECT_TRUE(is_text(found.at(1, 4), std::get<Text>(expected.at(1, 4))));
    Table doubled = named;
    doubled.at(0, 7) = Text("price");
    EXPECT_EQ(refusal("BUILD.TABLE", {examples::measured_engine(), doubled, one_fuel()}),
              "BUILD.TABLE: stages has the column \"price\" twice");
}

// ---- the check of a power

TEST(PowerCheck, TheRoadTellsThePowerThatDroveIt) {
    const Table speeds = examples::engine_speeds();
    const Table torques = examples::torques();
    const Table weather = examples::weather();
    double greatest = 0.0;
    Table evidence;
    for (std::size_t i = 0; i < speeds.rows(); ++i) {
        const double rpm = std::get<double>(speeds.at(i, 0));
        const double torque = std::get<double>(torques.at(i, 0));
        greatest = std::max(greatest, number_of("ENGINE.POWER", {torque, rpm}));
        evidence.add_row(
            {"torque at " + std::to_string(static_cast<int>(rpm)) + " rpm", torque, Text("N·m")});
    }
    const double time = number_of("ROAD.TIME", {examples::vehicle(), speeds, torques, 100.0, 200.0, weather});
    const Table run =
        table_of("ROAD.DISTANCE.TIME", {examples::vehicle(), speeds, torques, 402.336, weather});
    const double trap = beside(run, "trap, mean of the last 66 ft", 3);
    ASSERT_GT(trap, 100.0);
    evidence.add_row({Text("road time"), time, Text("s")});
    evidence.add_row({Text("trap speed"), trap, Text("km/h")});
    const Table told = table_of("CHECK.POWER", {evidence, omitted, examples::vehicle(), 0.0, weather});
    // The curve between its points may rise a little over the greatest of them.
    EXPECT_NEAR(beside(told, "road time") / greatest, 1.0, 5e-3);
    EXPECT_NEAR(beside(told, "trap speed") / greatest, 1.0, 5e-3);
    EXPECT_NEAR(beside(told, "road time") / beside(told, "trap speed"), 1.0, 1e-3);
    EXPECT_TRUE(is_text(told.at(1, 6), "all agree"));
}

TEST(PowerCheck, SaysWhoStandsOut) {
    const auto verdicts = [](double rollers) {
        Table evidence{{Text("rollers"), rollers, Text("kW"), 6.0},
                       {Text("air flow"), 236.0, Text("g/s"), 6.0},
                       {Text("injector duty"), 0.50, Text(""), 0.01},
                       {Text("injectors"), 4.0, Text(""), Text("")},
                       {Text("injector flow"), 760.0, Text("cc/min"), 15.0}};
        return table_of("CHECK.POWER", {evidence});
    };
    EXPECT_TRUE(is_text(verdicts(240.0).at(1, 6), "all agree"));
    const Table flattering = verdicts(330.0);
    EXPECT_TRUE(is_text(flattering.at(1, 6), "do not agree"));
    EXPECT_TRUE(is_text(flattering.at(2, 0), "rollers"));
    EXPECT_TRUE(is_text(flattering.at(2, 6), "stands out, farthest"));
}

// ---- logs and traces

TEST(LoggedHeights, RefuseARunThatIsTooSteep) {
    const Table times = examples::log_times();
    Table heights(times.rows(), 1);
    // 120 m of rise over the log; the run of 100 to 150 km/h takes about 174 m of it.
    for (std::size_t r = 0; r < heights.rows(); ++r) heights.at(r, 0) = 0.5 * static_cast<double>(r);
    const std::vector<Value> level{times, examples::log_speeds(), 100.0, 150.0};
    std::vector<Value> climbing = level;
    climbing.push_back(heights);
    EXPECT_DOUBLE_EQ(number_of("ROAD.LOG.TIME", climbing), number_of("ROAD.LOG.TIME", level));
    climbing.push_back(0.02);
    EXPECT_TRUE(contains(refusal("ROAD.LOG.TIME", climbing), "7.2 %")) << refusal("ROAD.LOG.TIME", climbing);
    climbing.back() = 0.1;
    EXPECT_DOUBLE_EQ(number_of("ROAD.LOG.TIME", climbing), number_of("ROAD.LOG.TIME", level));
}

TEST(RunTrace, SaysWhatLimits) {
    Table vehicle = with(examples::vehicle(), "grip", 2.5);
    const Table run = table_of("ROAD.TRACE", {with(vehicle, "drive", Text("all")), examples::engine_speeds(),
                                              examples::torques(), 120.0});
    EXPECT_TRUE(in_column(run, 6, "clutch"));
    EXPECT_TRUE(in_column(run, 6, "engine"));
    EXPECT_TRUE(in_column(run, 6, "shift"));
    EXPECT_FALSE(in_column(run, 6, "grip"));
    const Table slipping = table_of("ROAD.TRACE", {with(examples::vehicle(), "grip", 0.5),
                                                   examples::engine_speeds(), examples::torques(), 120.0});
    EXPECT_TRUE(in_column(slipping, 6, "grip"));
}

TEST(BoostLimit, ByTheExhaustTemperature) {
    // The bound is what a probe before the turbine reads: 40 K less than the gas has.
    std::vector<Value> free{examples::measured_engine(), 5000.0, 40.0, 0.0, 0.85, 24.0};
    free.resize(8);
    std::vector<Value> bound = free;
    free.push_back(1400.0);
    const Table knock = table_of("KNOCK.BOOST.LIMIT", free);
    const double reading = beside(knock, "gas temperature before the turbine") - 40.0;
    bound.push_back(reading - 15.0);
    const Table cooler = table_of("KNOCK.BOOST.LIMIT", bound);
    EXPECT_TRUE(is_text(knock.at(6, 1), "knock"));
    EXPECT_TRUE(is_text(cooler.at(6, 1), "exhaust temperature"));
    EXPECT_NEAR(beside(cooler, "gas temperature before the turbine") - 40.0, reading - 15.0, 0.1);
    EXPECT_LT(beside(cooler, "manifold pressure"), beside(knock, "manifold pressure"));
    EXPECT_LT(beside(cooler, "50 % burned angle"), beside(knock, "50 % burned angle"));
}

TEST(BoostLimit, ByThePeakPressure) {
    std::vector<Value> bound{examples::measured_engine(), 5000.0, 40.0, 0.0, 0.85, 24.0, {}, 80.0, 1400.0};
    const Table held = table_of("KNOCK.BOOST.LIMIT", bound);
    EXPECT_TRUE(is_text(held.at(6, 1), "peak pressure"));
    EXPECT_NEAR(beside(held, "peak pressure"), 80.0, 0.02);
}

// ---- units, choices, functions of functions

TEST(UnitConvert, SaysWhyNot) {
    EXPECT_EQ(refusal("UNIT.CONVERT", {1.0, Text("bara"), Text("barg")}),
              "UNIT.CONVERT: bara and barg count from different zeros; add or subtract the pressure of the "
              "surroundings");
    EXPECT_TRUE(contains(refusal("UNIT.CONVERT", {-300.0, Text("°C"), Text("K")}), "-273.15"));
    EXPECT_NEAR(number_of("UNIT.CONVERT", {-273.15, Text("°C"), Text("K")}), 0.0, 1e-12);
}

TEST(Choices, ANearOneIsOffered) {
    EXPECT_TRUE(
        contains(refusal("DYNO.FACTOR", {Text("SAE J1348"), 25.0, 99.0}),
                 "standard is \"SAE J1348\"; did you mean \"SAE J1349\"? Choose one of ISO 1585, SAE J1349"));
}

TEST(FunctionUncertainty, KeepsTheWarningsOfTheValue) {
    const Outcome outcome = outcome_of(
        "FUNCTION.UNCERTAINTY", {Text("ENGINE.AIR.FOR.POWER"), Table{{3.0}, {0.0}, {0.02}}, 300.0, 0.0, 1.8});
    const Outcome plain = outcome_of("ENGINE.AIR.FOR.POWER", {300.0, 0.0, 1.8});
    ASSERT_EQ(plain.warnings.size(), 1u);
    const Text said = plain.warnings[0].substr(plain.warnings[0].find(": ") + 2);
    ASSERT_FALSE(outcome.warnings.empty());
    EXPECT_TRUE(contains(outcome.warnings[0], said)) << outcome.warnings[0];
    // Relative: 1 % of the power and 1/90 of lambda.
    const Table& table = std::get<Table>(outcome.value);
    EXPECT_NEAR(beside(table, "standard uncertainty") / beside(table, "value"), std::hypot(0.01, 0.02 / 1.8),
                1e-6);
}

// The unit asked for is that of the answer; the value itself must exist.
TEST(FunctionUncertainty, AnswersInTheUnitAskedFor) {
    const auto of = [](const Value& torque, const Value& unit) {
        return table_of("FUNCTION.UNCERTAINTY",
                        {Text("ENGINE.POWER"), Table{{1.2}, {3.0}, {}}, torque, 5500.0, unit});
    };
    const Table kilowatts = of(400.0, {});
    const Table metric = of(400.0, Text("PS"));
    EXPECT_EQ(cell_text(metric.at(1, 2)), "PS");
    EXPECT_NEAR(std::get<double>(metric.at(1, 1)), std::get<double>(kilowatts.at(1, 1)) / 0.73549875, 1e-9);
    EXPECT_NEAR(std::get<double>(metric.at(2, 1)), std::get<double>(kilowatts.at(2, 1)) / 0.73549875, 1e-6);
    EXPECT_EQ(refusal("FUNCTION.UNCERTAINTY", {Text("ENGINE.POWER"), Table{{1.2}, {0.0}}, 400.0, -5.0}),
              "FUNCTION.UNCERTAINTY: " + refusal("ENGINE.POWER", {400.0, -5.0}));
}

TEST(FunctionError, SaysWhyAnElementFails) {
    const Outcome why =
        outcome_of("FUNCTION.ERROR", {Text("ENGINE.POWER"), Table{{100.0}, {Text("much")}}, 5000.0});
    EXPECT_TRUE(contains(std::get<Text>(why.value), "row 2")) << std::get<Text>(why.value);
    EXPECT_TRUE(contains(std::get<Text>(why.value), "much")) << std::get<Text>(why.value);
    const Outcome well =
        outcome_of("FUNCTION.ERROR", {Text("ENGINE.POWER"), Table{{100.0}, {200.0}}, 5000.0});
    EXPECT_EQ(std::get<Text>(well.value), "");
}

TEST(FunctionSolve, TakesWhatAnswersWithOneNumber) {
    EXPECT_EQ(refusal("FUNCTION.SOLVE", {Text("ROAD.TRACE"), 4.0, 1.0, 0.0, 1.0}),
              "FUNCTION.SOLVE: ROAD.TRACE does not return a single number");
    EXPECT_EQ(
        refusal("FUNCTION.SOLVE", {Text("ENGINE.POWER"), 1.0, 1.0, 0.0, 1.0, 1.0, 2.0, Text("kW"), 4.0}),
        "FUNCTION.SOLVE: 4 arguments were given; at most 3 are taken");
}

TEST(QuickCalls, AnElementThatIsRefusedHasNoSentence) {
    const Function* power = find_function("ENGINE.POWER");
    const std::vector<Value> arguments{Table{{100.0}, {Text("much")}, {200.0}}, 5000.0};
    const Value value = value_of(*power, arguments);
    const Table& answer = std::get<Table>(value);
    EXPECT_EQ(std::get<double>(answer.at(0, 0)), (number_of("ENGINE.POWER", {100.0, 5000.0})));
    ASSERT_TRUE(std::holds_alternative<Failure>(answer.at(1, 0)));
    EXPECT_EQ(std::get<Failure>(answer.at(1, 0)).kind, FailureKind::wrong_argument);
    EXPECT_EQ(std::get<Failure>(answer.at(1, 0)).sentence, "");
    EXPECT_EQ(std::get<double>(answer.at(2, 0)), (number_of("ENGINE.POWER", {200.0, 5000.0})));
}

TEST(QuickCalls, WhatIsRememberedIsTheSameValue) {
    const Function* limit = find_function("KNOCK.SPARK.LIMIT");
    const std::vector<Value> arguments = limit->example.arguments;
    const double first = std::get<double>(value_of(*limit, arguments));
    EXPECT_EQ(std::get<double>(value_of(*limit, arguments)), first);
    EXPECT_EQ(std::get<double>(evaluate(*limit, arguments).value), first);
}

TEST(CheckValues, ACellOutsideTheTableIsSaid) {
    const CheckResult outside =
        run(identity("FUNCTION.LIST", {}, 1.0, Tolerance::exact(), "no such row").at(9999, 0));
    EXPECT_FALSE(outside.agrees);
    EXPECT_EQ(outside.sentence, "FUNCTION.LIST: the table has no such cell");
}

}  // namespace
}  // namespace pullsheet::catalogue
