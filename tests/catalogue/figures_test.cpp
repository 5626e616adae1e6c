// SPDX-License-Identifier: Apache-2.0
// No wrong number in silence: what cannot be is refused, what shops do not meet is warned about, and every
// number of the catalogue says where the two begin.
#include "core/catalogue/figures.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/catalogue/block.hpp"
#include "core/catalogue/bounds.hpp"
#include "core/catalogue/call.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/describe.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/parts_table.hpp"
#include "tests/catalogue/sample.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::contains;

std::string in(const char* text) {
    return text;
}

Outcome answer(const char* name, const std::vector<Value>& arguments) {
    return evaluate(*find_function(name), arguments);
}

bool is_unusual(const std::string& warning) {
    return contains(warning, "in practice it is");
}

void expect_sound(const Figure& figure, Quantity quantity, const std::string& where) {
    EXPECT_FALSE(figure.basis.empty()) << where;
    EXPECT_GE(figure.usual.low, figure.possible.low) << where;
    EXPECT_LE(figure.usual.high, figure.possible.high) << where;
    EXPECT_LT(figure.usual.low, figure.usual.high) << where;
    if (figure.is_open()) return;
    const auto plain = [](Quantity q) {
        return q == Quantity::share || q == Quantity::ratio || q == Quantity::number || q == Quantity::count;
    };
    EXPECT_TRUE(unit_quantity(figure.quantity) == unit_quantity(quantity) ||
                (plain(figure.quantity) && plain(quantity)))
        << where;
    EXPECT_EQ(figure.unit.empty(), plain(quantity)) << where;
}

TEST(Figures, EveryNumericResultIsOne) {
    std::size_t results = 0;
    for (const Function& function : functions()) {
        const std::string name(function.name.view());
        const Result& result = function.result;
        if (result.kind == ResultKind::number) {
            ++results;
            ASSERT_NE(result.figure, nullptr) << name << " answers with a number without bounds";
            expect_sound(*result.figure, result.quantity, name);
        }
        if (result.kind != ResultKind::table) continue;
        for (const Column& column : result.columns)
            if (column.figure)
                expect_sound(*column.figure, column.quantity, name + ", " + std::string(column.name));
        // What the columns hold is seen in the worked example.
        const Outcome example = evaluate(function, function.example.arguments);
        const auto* table = std::get_if<Table>(&example.value);
        ASSERT_NE(table, nullptr) << name;
        for (std::size_t c = 0; c < result.columns.size() && c < table->columns(); ++c) {
            bool is_numeric = result.columns[c].default_unit != nullptr;
            for (std::size_t r = 1; r < table->rows(); ++r)
                is_numeric = is_numeric || std::holds_alternative<double>(table->at(r, c));
            if (!is_numeric) continue;
            ++results;
            EXPECT_NE(result.columns[c].figure, nullptr)
                << name << ", column " << result.columns[c].name << " holds numbers without bounds";
        }
    }
    EXPECT_GT(results, 130u);
}

bool is_bounded(Quantity quantity, const Interval& range, bool warns, std::string_view no_bounds) {
    if (warns || !no_bounds.empty()) return true;
    // A count, a share or a plain number between two ends says all by its range.
    const bool is_plain = quantity == Quantity::count || quantity == Quantity::share ||
                          quantity == Quantity::ratio || quantity == Quantity::number;
    return is_plain && std::isfinite(range.low) && std::isfinite(range.high);
}

TEST(Figures, EveryNumericParameterIsOne) {
    std::size_t parameters = 0;
    for (const Function& function : functions()) {
        for (const Parameter& parameter : function.parameters) {
            const std::string where = std::string(function.name.view()) + ", " + std::string(parameter.name);
            if (parameter.kind == Kind::number || parameter.kind == Kind::fuel ||
                parameter.kind == Kind::series) {
                ++parameters;
                EXPECT_TRUE(is_bounded(parameter.quantity, parameter.range,
                                       parameter.usual_range || parameter.established_range,
                                       parameter.no_bounds))
                    << where;
            }
            for (const auto* interval : {&parameter.usual_range, &parameter.established_range})
                if (*interval && parameter.default_value) {
                    EXPECT_TRUE((*interval)->contains(*parameter.default_value)) << where;
                }
        }
        for (const BlockSchema* schema : blocks_of(function))
            for (const Label& label : schema->labels) {
                if (label.is_text) continue;
                ++parameters;
                const std::string where =
                    std::string(schema->name.view()) + " block, " + std::string(label.name);
                EXPECT_TRUE(is_bounded(label.quantity, label.range,
                                       label.usual_range || label.established_range, label.no_bounds))
                    << where;
                for (const auto* interval : {&label.usual_range, &label.established_range})
                    if (*interval && label.default_value) {
                        EXPECT_TRUE((*interval)->contains(*label.default_value)) << where;
                    }
            }
    }
    for (const PartKind& kind : part_kinds())
        for (const PartValue& value : kind.values)
            if (value.name != "place") {
                ++parameters;
                EXPECT_TRUE(is_bounded(value.quantity, value.range, value.usual.has_value(), {}))
                    << kind.name << ", " << value.name;
                if (value.usual && value.default_value) {
                    EXPECT_TRUE(value.usual->contains(*value.default_value))
                        << kind.name << ", " << value.name;
                }
            }
    EXPECT_GT(parameters, 250u);
}

// What is sound is not warned about.
TEST(Figures, TheWorkedExamplesAreUsual) {
    for (const Function& function : functions()) {
        const Outcome outcome = evaluate(function, function.example.arguments);
        for (const auto& warning : outcome.warnings)
            EXPECT_FALSE(is_unusual(warning)) << function.name.view() << ": " << warning;
    }
}

struct Call_ {
    const char* name;
    std::vector<Value> arguments;
    const char* said;
};

TEST(Figures, WhatCannotBeIsRefused) {
    const std::vector<Call_> calls = {
        // The engine speed a tenth of what it was: ten times the filling.
        {"ENGINE.VOLUMETRIC.EFFICIENCY", {179.2263, 1.984, 550.0, 180.0, 45.0}, "not possible"},
        {"COMPRESSOR.TEMPERATURE", {20.0, 2.0, in("0.75 %")}, "efficiency is 0.75 %"},
        {"ENGINE.BSFC", {0.2, 200.0}, "1 g/kWh"},
        {"ENGINE.EFFICIENCY", {27.35, 300.0}, "not possible"},
        {"TURBINE.PRESSURE.RATIO", {214.0, 849.85, 150.0, 0.70}, "not possible"},
        {"UNIT.CONVERT", {-5.0, in("bara"), in("psia")}, "it must be 0 or more"},
        {"UNIT.CONVERT", {-5.0, in("barg"), in("psig")}, "it must be -1.1 or more"},
        {"FUEL.AKI", {88.0, 98.0}, "MON of 98 is above the RON of 88"},
        {"CHARGE.TEMPERATURE", {800.0, 30.0, 0.09}, "inlet_temperature is 800 °C"},
        {"FUEL.EXHAUST.LAMBDA", {0.0, 0.30, 0.0, 0.10}, "not possible"},
        {"ENGINE.COMPRESSION.RATIO", {86.0, 86.0, 0.0, 87.5, 0.01, 0.0}, "not possible"},
    };
    for (const Call_& call : calls) {
        const std::string sentence = sample::sentence(answer(call.name, call.arguments).value);
        EXPECT_TRUE(contains(sentence, call.said)) << call.name << ": " << sentence;
    }
}

TEST(Figures, WhatShopsDoNotMeetIsWarnedAbout) {
    const std::vector<Call_> calls = {
        {"COMPRESSOR.TEMPERATURE", {20.0, 2.0, 0.3}, "efficiency is 0.3"},
        {"ENGINE.VOLUMETRIC.EFFICIENCY", {179.2263, 1.984, 3500.0, 180.0, 45.0}, "the result is 1.57"},
        {"ENGINE.EFFICIENCY", {48.0, 300.0}, "the result is 0.51"},
        {"ENGINE.BSFC", {30.0, 200.0}, "the result is 150 g/kWh"},
        {"FUEL.AKI", {95.0, 97.0}, "MON of 97 is above the RON of 95"},
        {"CHARGE.TEMPERATURE", {240.0, 30.0, 0.1}, "effectiveness is 0.1"},
        {"ENGINE.POWER", {12000.0, 5000.0}, "torque is 12000 N·m"},
        {"TURBINE.POWER", {300.0, 1100.0, 2.0, 0.7}, "gas_temperature is 1100 °C"},
        {"TURBINE.POWER", {300.0, 950.0, 4.5, 0.7}, "pressure_ratio is 4.5"},
        {"TURBINE.EFFICIENCY", {0.05}, "blade"},
    };
    for (const Call_& call : calls) {
        const Outcome outcome = answer(call.name, call.arguments);
        EXPECT_TRUE(std::holds_alternative<double>(outcome.value))
            << call.name << ": " << sample::sentence(outcome.value);
        bool is_said = false;
        for (const auto& warning : outcome.warnings) is_said = is_said || contains(warning, call.said);
        EXPECT_TRUE(is_said) << call.name << ": "
                             << (outcome.warnings.empty() ? in("no warning") : outcome.warnings.front());
    }
}

TEST(Figures, BlocksAndTablesWarnToo) {
    const auto says = [](const Outcome& outcome, const char* said) {
        for (const auto& warning : outcome.warnings)
            if (contains(warning, said)) return true;
        return false;
    };
    Table engine = examples::engine();
    std::vector<Cell> row(engine.columns());
    row[0] = in("compression ratio");
    row[1] = 4.2;
    bool is_there = false;
    for (std::size_t r = 0; r < engine.rows(); ++r)
        if (const auto* label = std::get_if<std::string>(&engine.at(r, 0));
            label && *label == "compression ratio") {
            engine.at(r, 1) = 4.2;
            is_there = true;
        }
    if (!is_there) engine.add_row(row);
    const Outcome limits =
        answer("BUILD.LIMITS", {engine,
                                Table{{in("part"), in("kind"), in("value"), in("unit"), in("value 2")},
                                      {in("set"), in("injectors"), 20.0, in("cc/min"), 4.0}},
                                0.0,
                                {},
                                {},
                                6500.0});
    EXPECT_TRUE(std::holds_alternative<Table>(limits.value)) << sample::sentence(limits.value);
    EXPECT_TRUE(says(limits, "compression ratio\" is 4.2")) << limits.warnings.size();
    EXPECT_TRUE(says(limits, "rated flow is 20 cc/min")) << limits.warnings.size();
    const Outcome fuel =
        answer("FUEL.STOICH", {Table{{in("ethanol share"), 0.1}, {in("RON"), 90.0}, {in("MON"), 93.0}}});
    EXPECT_TRUE(says(fuel, "MON of 93"));
    EXPECT_TRUE(contains(
        sample::sentence(
            answer("FUEL.STOICH", {Table{{in("ethanol share"), 0.1}, {in("RON"), 85.0}, {in("MON"), 95.0}}})
                .value),
        "MON of 95"));
}

// One element of a range that cannot be leaves the others alone; the caller who wants no words gets the same
// values.
TEST(Figures, EachElementStandsForItself) {
    const Table efficiencies{{0.7}, {0.3}, {0.01}};
    const Outcome outcome = answer("COMPRESSOR.TEMPERATURE", {20.0, 2.0, efficiencies});
    const auto& table = std::get<Table>(outcome.value);
    EXPECT_TRUE(std::holds_alternative<double>(table.at(0, 0)));
    EXPECT_TRUE(std::holds_alternative<double>(table.at(1, 0)));
    EXPECT_TRUE(std::holds_alternative<Failure>(table.at(2, 0)));
    EXPECT_EQ(outcome.warnings.size(), 1u);
    const Value quiet =
        value_of(*find_function("COMPRESSOR.TEMPERATURE"), std::vector<Value>{20.0, 2.0, efficiencies});
    const auto& same = std::get<Table>(quiet);
    EXPECT_EQ(std::get<double>(same.at(1, 0)), std::get<double>(table.at(1, 0)));
    EXPECT_TRUE(std::holds_alternative<Failure>(same.at(2, 0)));
}

// Warnings that there is no room for are counted.
TEST(Figures, ManyWarningsAreCounted) {
    Table speeds;
    for (int i = 0; i < 40; ++i) speeds.add_row({Cell(17000.0 + i)});
    const Outcome outcome = answer("ENGINE.POWER", {350.0, speeds});
    ASSERT_EQ(outcome.warnings.size(), 9u);
    EXPECT_TRUE(contains(outcome.warnings.back(), "further warnings: ")) << outcome.warnings.back();
}

TEST(Figures, ALimitIsInsideWhateverTheUnit) {
    EXPECT_TRUE(is_possible(figures::share, 1.0 + 1e-12));
    EXPECT_FALSE(is_possible(figures::share, 1.0 + 1e-6));
    EXPECT_FALSE(is_possible(figures::efficiency, 0.0));
    EXPECT_TRUE(is_possible(figures::charge_temperature, 400.0 + 273.15));
    EXPECT_FALSE(is_possible(figures::charge_temperature, 730.0 + 273.15));
    EXPECT_FALSE(is_possible(figures::charge_temperature, std::nan("")));
}

}  // namespace
}  // namespace pullsheet::catalogue
