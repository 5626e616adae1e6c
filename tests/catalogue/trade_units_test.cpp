// SPDX-License-Identifier: Apache-2.0
// Units as they stand on parts and in catalogues of the trade: injectors rated in lb/h, fractions of miles
// and inches, pressures that say from where they count, tables in another unit.
#include <gtest/gtest.h>

#include <cmath>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/describe.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/reader.hpp"
#include "tests/catalogue/sample.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::contains;

std::string written(const char* text) {
    return text;
}

Outcome outcome(const char* name, const std::vector<Value>& arguments) {
    return evaluate(*find_function(name), arguments);
}

double number_of(const Outcome& outcome) {
    const auto* number = std::get_if<double>(&outcome.value);
    return number ? *number : std::nan("");
}

// n-heptane is the test fluid of SAE J1832; its density at 20 °C, 684 kg/m³ (CRC Handbook of Chemistry and
// Physics; from memory). The pound and the gallon are exact.
constexpr double pounds_an_hour = 0.45359237 / 3600.0;
constexpr double cc_a_minute(double mass_flow, double density) {
    return mass_flow / density * 60e6;
}

TEST(InjectorsByMass, AreReadWithTheTestFluidAndSaySo) {
    const Outcome rated = outcome("INJECTOR.FLOW", {written("60 lb/h"), 3.0, 3.0});
    EXPECT_NEAR(number_of(rated), cc_a_minute(60.0 * pounds_an_hour, 684.0), 1e-6);
    ASSERT_EQ(rated.warnings.size(), 1u);
    EXPECT_TRUE(contains(rated.warnings[0], "684 kg/m³")) << rated.warnings[0];
    const Outcome other_fluid = outcome("INJECTOR.FLOW", {written("60 lb/h"), 3.0, 3.0, 720.0});
    EXPECT_NEAR(number_of(other_fluid), cc_a_minute(60.0 * pounds_an_hour, 720.0), 1e-6);
    ASSERT_EQ(other_fluid.warnings.size(), 1u);
    EXPECT_TRUE(contains(other_fluid.warnings[0], "720 kg/m³")) << other_fluid.warnings[0];

    const double flow = cc_a_minute(52.0 * pounds_an_hour, 684.0);
    for (const auto& [name, by_mass, by_volume] :
         {std::tuple<const char*, std::vector<Value>, std::vector<Value>>{
              "INJECTOR.DUTY", {60.0, 4.0, written("52 lb/h")}, {60.0, 4.0, flow}},
          {"INJECTOR.POWER", {written("52 lb/h"), 4.0}, {flow, 4.0}}}) {
        const Outcome found = outcome(name, by_mass);
        EXPECT_NEAR(number_of(found), number_of(outcome(name, by_volume)), 1e-9 * number_of(found)) << name;
        ASSERT_FALSE(found.warnings.empty()) << name;
        EXPECT_TRUE(contains(found.warnings[0], "n-heptane")) << found.warnings[0];
    }
    // Asked for so, a size is a rating on the test fluid.
    const Outcome size = outcome("INJECTOR.SIZE", {99.0, 4.0, {}, {}, written("lb/h")});
    const double plain = number_of(outcome("INJECTOR.SIZE", {99.0, 4.0}));
    EXPECT_NEAR(cc_a_minute(number_of(size) * pounds_an_hour, 684.0), plain, 1e-9 * plain);
    ASSERT_EQ(size.warnings.size(), 1u);
    EXPECT_TRUE(contains(size.warnings[0], "684 kg/m³")) << size.warnings[0];
    // A fuel's volume flow has its own density, and no test fluid.
    EXPECT_TRUE(
        contains(sample::sentence(outcome("FUEL.VOLUME.FLOW", {74.5, 0.0, {}, written("lb/h")}).value),
                 "unit of mass flow"));
}

TEST(InjectorsByMass, AreReadInTablesAndBlocksToo) {
    const Value by_mass =
        Table{{written("part"), written("kind"), written("value"), written("unit"), written("value 2")},
              {written("set"), written("injectors"), 60.0, written("lb/h"), 4.0}};
    const Value by_volume =
        Table{{written("part"), written("kind"), written("value"), written("unit"), written("value 2")},
              {written("set"), written("injectors"), cc_a_minute(60.0 * pounds_an_hour, 684.0), {}, 4.0}};
    const auto limits = [](const Value& parts) {
        return outcome("BUILD.LIMITS", {examples::engine(), parts, 0.0, {}, {}, 6500.0});
    };
    const Outcome found = limits(by_mass);
    const auto* table = std::get_if<Table>(&found.value);
    ASSERT_NE(table, nullptr) << sample::sentence(found.value);
    EXPECT_NEAR(std::get<double>(table->at(1, 2)),
                std::get<double>(std::get<Table>(limits(by_volume).value).at(1, 2)), 1e-6);
    ASSERT_FALSE(found.warnings.empty());
    EXPECT_TRUE(contains(found.warnings[0], "684 kg/m³")) << found.warnings[0];
}

TEST(Fractions, AreRead) {
    const auto length = [](const char* number, const char* unit) {
        return number_of(outcome("UNIT.CONVERT", {written(number), written(unit), written("m")}));
    };
    EXPECT_DOUBLE_EQ(length("1/4", "mi"), 402.336);
    EXPECT_DOUBLE_EQ(length("⅛", "mile"), 201.168);
    EXPECT_DOUBLE_EQ(length("2 1/2", "in"), 0.0635);
    EXPECT_DOUBLE_EQ(length("2½", "in"), 0.0635);
    EXPECT_DOUBLE_EQ(length("-1/2", "in"), -0.0127);
    EXPECT_DOUBLE_EQ(length("−1 1/2", "in"), -0.0381);
    for (const char* written : {"1/4 mi", "1/4 mile", "¼ mile", "0.25 mi", "1/4mi"}) {
        NumberText parsed;
        ASSERT_TRUE(split_number(written, parsed)) << written;
        EXPECT_DOUBLE_EQ(parsed.number, 0.25) << written;
        EXPECT_EQ(find_unit(parsed.unit)->symbol, "mi") << written;
    }
    // Neither a unit nor a date is one.
    NumberText parsed;
    ASSERT_TRUE(split_number("6000 1/min", parsed));
    EXPECT_EQ(parsed.number, 6000.0);
    EXPECT_EQ(find_unit(parsed.unit)->symbol, "rpm");
    for (const char* none : {"1/4/26", "1/0 in", "1.5 1/2 in", "2 5/4 in", "1/2.5 in"}) {
        ASSERT_TRUE(split_number(none, parsed)) << none;
        EXPECT_EQ(find_unit(parsed.unit), nullptr) << none;
    }
    const Outcome quarter = outcome("ROAD.DISTANCE.TIME", {examples::vehicle(), examples::engine_speeds(),
                                                           examples::torques(), written("1/4 mi")});
    ASSERT_TRUE(std::holds_alternative<Table>(quarter.value)) << sample::sentence(quarter.value);
    EXPECT_NEAR(std::get<double>(std::get<Table>(quarter.value).at(1, 1)), 402.336, 1e-9);
}

TEST(Pressures, SayHowTheyCountAndTakeBothSpellings) {
    struct Case {
        const char* function;
        const char* parameter;
        const char* takes;
    };
    for (const Case& said : {Case{"INJECTOR.FLOW", "rated_pressure", "above ambient pressure"},
                             Case{"INJECTOR.FLOW", "fuel_pressure", "above manifold pressure"},
                             Case{"PUMP.POWER", "pump_pressures", "above ambient pressure"},
                             Case{"COMPRESSOR.PRESSURE.RATIO", "intake_loss", "between two points"},
                             Case{"COMPRESSOR.PRESSURE.RATIO", "charge_loss", "between two points"},
                             Case{"COMPRESSOR.PRESSURE.RATIO", "ambient_pressure", "absolute"}}) {
        const Function& function = *find_function(said.function);
        bool is_found = false;
        for (const Parameter& parameter : function.parameters) {
            if (parameter.name != said.parameter) continue;
            is_found = true;
            EXPECT_TRUE(contains(conditions(function, parameter).takes, said.takes)) << said.parameter;
        }
        EXPECT_TRUE(is_found) << said.parameter;
    }
    const double flow = number_of(outcome("INJECTOR.FLOW", {550.0, 3.0, 4.0}));
    for (const char* rated : {"3 bar", "3 barg", "3 bard", "3 bar(d)", "300 kPa diff"})
        EXPECT_NEAR(number_of(outcome("INJECTOR.FLOW", {550.0, written(rated), 4.0})), flow, 1e-9) << rated;
    const Outcome over_manifold = outcome("INJECTOR.FLOW", {550.0, 3.0, written("4 barg")});
    EXPECT_NEAR(number_of(over_manifold), flow, 1e-9);
    ASSERT_EQ(over_manifold.warnings.size(), 1u);
    EXPECT_TRUE(contains(over_manifold.warnings[0], "from manifold pressure")) << over_manifold.warnings[0];
    EXPECT_TRUE(outcome("INJECTOR.FLOW", {550.0, 3.0, written("4 bard")}).warnings.empty());

    const double ratio = number_of(outcome("COMPRESSOR.PRESSURE.RATIO", {0.8, 100.0, 3.0, 8.0}));
    EXPECT_DOUBLE_EQ(number_of(outcome("COMPRESSOR.PRESSURE.RATIO", {written("0.8 barg"), written("100 kPaa"),
                                                                     written("3 kPad"), written("8 kPa")})),
                     ratio);
    for (const auto& [arguments, said] :
         {std::pair<std::vector<Value>, const char*>{{0.8, 100.0, 3.0, written("8 kPag")},
                                                     "between two points"},
          {{0.8, 100.0, 3.0, written("8 kPaa")}, "pressure difference is wanted"},
          {{0.8, written("100 kPad")}, "absolute pressure is wanted"}}) {
        const std::string sentence = sample::sentence(outcome("COMPRESSOR.PRESSURE.RATIO", arguments).value);
        EXPECT_TRUE(contains(sentence, said)) << sentence;
    }
    // A reading of a gauge is a difference; neither is an absolute pressure.
    EXPECT_DOUBLE_EQ(number_of(outcome("UNIT.CONVERT", {1.0, written("barg"), written("kPad")})), 100.0);
    EXPECT_TRUE(
        contains(sample::sentence(outcome("UNIT.CONVERT", {1.0, written("bara"), written("kPad")}).value),
                 "different zeros"));
}

// A table whose columns measure one quantity takes the unit like any other function.
TEST(TablesOfOneQuantity, AnswerInTheUnitAskedFor) {
    std::size_t tables = 0;
    for (const Function& function : functions()) {
        if (function.result.kind != ResultKind::table) continue;
        const Column* only = nullptr;
        bool is_one = true;
        for (const Column& column : function.result.columns) {
            if (!column.default_unit || column.quantity == Quantity::share) continue;
            is_one = is_one && (!only || only->quantity == column.quantity);
            only = &column;
        }
        const bool takes_unit = !function.parameters.empty() && function.parameters.back().kind == Kind::unit;
        if (!function.takes_list()) {
            EXPECT_EQ(takes_unit, only != nullptr && is_one) << function.name.view();
        }
        if (!takes_unit) continue;
        ++tables;
        const auto answered = [&](const Value& unit) {
            std::vector<Value> arguments = function.example.arguments;
            arguments.resize(function.parameters.size());
            arguments.back() = unit;
            return std::get<Table>(evaluate(function, arguments).value);
        };
        const Table plain = answered({});
        for (const auto symbol : unit_symbols(only->quantity)) {
            const Table asked = answered(std::string(symbol));
            const Unit* unit = find_unit(symbol);
            ASSERT_EQ(asked.rows(), plain.rows());
            for (std::size_t c = 0; c < plain.columns(); ++c) {
                const Column& column = function.result.columns[c];
                const bool is_measured = column.default_unit && column.quantity == only->quantity;
                EXPECT_EQ(contains(std::get<std::string>(asked.at(0, c)), "[" + std::string(symbol) + "]"),
                          is_measured)
                    << function.name.view();
                for (std::size_t r = 1; r < plain.rows(); ++r) {
                    const auto* number = std::get_if<double>(&plain.at(r, c));
                    if (!number) continue;
                    const double expected =
                        is_measured ? unit->from_si(column.default_unit->to_si(*number, column.quantity),
                                                    column.quantity)
                                    : *number;
                    EXPECT_NEAR(std::get<double>(asked.at(r, c)), expected,
                                1e-9 * std::abs(expected) + 1e-12);
                }
            }
        }
    }
    EXPECT_GE(tables, 3u);
}

// The clock of a run from rest starts after the rollout: the same wherever it is given.
TEST(Rollout, MeansTheSameEverywhere) {
    const auto car = [](double rollout) {
        Table vehicle = examples::vehicle();
        std::vector<Cell> row(vehicle.columns());
        row[0] = written("rollout");
        row[1] = rollout;
        vehicle.add_row(row);
        return Value(vehicle);
    };
    const Value speeds = examples::engine_speeds();
    const Value torques = examples::torques();
    const auto quarter = [&](const Value& vehicle, const Value& rollout) {
        return outcome("ROAD.DISTANCE.TIME", {vehicle, speeds, torques, 402.336, {}, rollout});
    };
    const auto time = [](const Outcome& found) {
        return std::get<double>(std::get<Table>(found.value).at(1, 2));
    };
    const double from_rest = time(quarter(examples::vehicle(), {}));
    const double by_argument = time(quarter(examples::vehicle(), 0.3));
    EXPECT_LT(by_argument, from_rest - 0.05);
    EXPECT_DOUBLE_EQ(time(quarter(car(0.3), {})), by_argument);
    EXPECT_TRUE(quarter(car(0.3), 0.3).warnings.empty());
    // Both: the argument counts, and that is said.
    const Outcome both = quarter(car(0.2), 0.3);
    EXPECT_DOUBLE_EQ(time(both), by_argument);
    ASSERT_EQ(both.warnings.size(), 1u);
    EXPECT_TRUE(contains(both.warnings[0], "twice")) << both.warnings[0];
    EXPECT_DOUBLE_EQ(time(quarter(car(0.3), 0.0)), from_rest);

    // From rest in every function of the road; a rolling start has none.
    const auto from_to = [&](const Value& vehicle, double from) {
        return number_of(outcome("ROAD.TIME", {vehicle, speeds, torques, from, 100.0}));
    };
    EXPECT_NEAR(from_to(examples::vehicle(), 0.0) - from_to(car(0.3), 0.0), from_rest - by_argument, 1e-6);
    EXPECT_DOUBLE_EQ(from_to(examples::vehicle(), 50.0), from_to(car(0.3), 50.0));
    const Outcome trace = outcome("ROAD.TRACE", {car(0.3), speeds, torques, 100.0});
    const auto& rows = std::get<Table>(trace.value);
    EXPECT_NEAR(std::get<double>(rows.at(rows.rows() - 1, 0)), from_to(car(0.3), 0.0), 1e-6);
    const double power = 200.0;
    const auto needed = [&](const Value& vehicle, double seconds) {
        return number_of(outcome("ROAD.POWER.FOR.TIME", {vehicle, speeds, torques, 0.0, 100.0, seconds}));
    };
    EXPECT_NEAR(needed(car(0.3), from_to(car(0.3), 0.0)),
                needed(examples::vehicle(), from_to(examples::vehicle(), 0.0)), 1e-3 * power);
    EXPECT_TRUE(contains(sample::sentence(outcome("ROAD.TIME", {car(1.0), speeds, torques, 0.0, 1.0}).value),
                         "before timing starts"));

    // The offer's quarter mile is that of the road.
    const auto offered = [&](const Value& vehicle) {
        const Outcome found = outcome(
            "BUILD.TABLE", {examples::measured_engine(), examples::stages(), examples::fuels(), vehicle});
        const auto& table = std::get<Table>(found.value);
        for (std::size_t c = 0; c < table.columns(); ++c)
            if (std::get<std::string>(table.at(0, c)) == "quarter mile after rollout [s]")
                return std::get<double>(table.at(1, c));
        return std::nan("");
    };
    EXPECT_GT(offered(examples::vehicle()) - offered(car(0.3)), 0.05);
}

}  // namespace
}  // namespace pullsheet::catalogue
