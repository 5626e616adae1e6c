// SPDX-License-Identifier: Apache-2.0
// What all functions have in common, and what a file relies on: the order of parameters, one name and one
// unit for a quantity, shares from 0 to 1, and results that run the same way.
#include <gtest/gtest.h>

#include <map>
#include <optional>
#include <set>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/parts_table.hpp"
#include "tests/catalogue/all_functions.hpp"

namespace pullsheet::catalogue {
namespace {

class Contract : public testing::TestWithParam<const Function*> {
  protected:
    const Function& function() const { return *GetParam(); }
    /// The answer of the example, if it is a table.
    std::optional<Table> example() const {
        const Outcome outcome = evaluate(function(), function().example.arguments);
        const auto* table = std::get_if<Table>(&outcome.value);
        return table ? std::optional(*table) : std::nullopt;
    }
};

INSTANTIATE_TEST_SUITE_P(Catalogue, Contract, testing::ValuesIn(sample::all_functions()), sample::test_name);

/// The place of a word in an order, if it has one there.
std::optional<std::size_t> place_in(const std::vector<std::set<std::string_view>>& order,
                                    std::string_view name) {
    for (std::size_t i = 0; i < order.size(); ++i)
        if (order[i].contains(name)) return i;
    return std::nullopt;
}

TEST_P(Contract, RequiredParametersStandFirstAndTheUnitLast) {
    bool optional_seen = false;
    for (const Parameter& parameter : function().parameters) {
        if (parameter.kind == Kind::list) continue;
        EXPECT_FALSE(parameter.required && optional_seen) << parameter.name;
        optional_seen = optional_seen || !parameter.required;
        if (parameter.kind == Kind::unit) {
            EXPECT_EQ(&parameter, &function().parameters.back());
        }
    }
}

// Engine, parts, operating point; then the mixture, the day, the parts and the map that may be omitted.
TEST_P(Contract, ParametersOfAKindStandInOneOrder) {
    static const std::vector<std::set<std::string_view>> required{
        {"engine"},
        {"parts", "stages"},
        {"speed", "manifold_pressure", "manifold_temperature", "spark_angle", "knock_limited_spark"}};
    static const std::vector<std::set<std::string_view>> may_be_omitted{
        {"fuel"}, {"lambda"}, {"weather"}, {"parts"}, {"map"}};
    std::size_t reached_required = 0;
    std::size_t reached_optional = 0;
    for (const Parameter& parameter : function().parameters) {
        const auto place = place_in(parameter.required ? required : may_be_omitted, parameter.name);
        std::size_t& reached = parameter.required ? reached_required : reached_optional;
        if (!place || function().family() == "PULL") continue;
        EXPECT_GE(*place, reached) << parameter.name;
        reached = *place;
    }
}

TEST_P(Contract, WithoutAHumidityTheAirIsDry) {
    for (const Parameter& parameter : function().parameters) {
        if (parameter.name == "humidity" && !parameter.required) {
            EXPECT_EQ(parameter.default_value, 0.0);
        }
        if (!parameter.schema) continue;
        for (const Label& label : parameter.schema->labels)
            if (label.name == "humidity") {
                EXPECT_EQ(label.default_value, 0.0);
            }
    }
}

TEST_P(Contract, SharesRunFromZeroToOne) {
    for (const Column& column : function().result.columns) EXPECT_NE(column.unit, "%") << column.name;
    const auto table = example();
    if (!table || table->columns() < 3) return;
    for (std::size_t r = 1; r < table->rows(); ++r) {
        const auto* label = std::get_if<std::string>(&table->at(r, 0));
        const auto* value = std::get_if<double>(&table->at(r, 1));
        const auto* unit = std::get_if<std::string>(&table->at(r, 2));
        if (!label || !value || !unit) continue;
        EXPECT_NE(*unit, "%") << *label;
        if (label->ends_with("share") || label->ends_with("efficiency")) {
            EXPECT_LE(*value, 1.0) << *label;
        }
    }
    for (std::size_t c = 0; c < function().result.columns.size(); ++c) {
        const Column& column = function().result.columns[c];
        if (column.quantity != Quantity::share) continue;
        for (std::size_t r = 1; r < table->rows(); ++r)
            if (const auto* value = std::get_if<double>(&table->at(r, c))) {
                EXPECT_LE(*value, 1.0) << column.name;
            }
    }
}

// The figures of one thing stand under one another with their units; a row is one of several things.
TEST_P(Contract, TheFiguresOfOneThingRunDown) {
    const auto table = example();
    if (!table || table->columns() < 2 || function().takes_list()) return;
    EXPECT_FALSE(table->rows() == 2 && table->columns() > 2) << function().name.view();
    const auto& columns = function().result.columns;
    for (const Column& column : columns)
        EXPECT_EQ(column.name.find(','), std::string_view::npos) << column.name;
    if (columns.front().name != "quantity") return;
    if (columns.size() == 3) {
        EXPECT_EQ(columns[1].name, "value");
        EXPECT_EQ(columns[2].name, "unit");
    }
}

TEST(ContractOfChecks, ProbabilityAndFreedomHaveHeadingsOfTheirOwn) {
    std::vector<std::vector<std::string_view>> headings;
    for (const char* name : {"CHECK.AGREEMENT", "CHECK.POWER"}) {
        auto& names = headings.emplace_back();
        for (const Column& column : find_function(name)->result.columns) names.push_back(column.name);
        names.erase(names.begin() + 1);  // "value" of one, "power" of the other
        const Function& check = *find_function(name);
        const auto table = std::get<Table>(evaluate(check, check.example.arguments).value);
        EXPECT_EQ(std::get<double>(table.at(1, 4)), 2.0) << "three values have two degrees of freedom";
        EXPECT_GT(std::get<double>(table.at(1, 5)), 0.0);
        EXPECT_LT(std::get<double>(table.at(1, 5)), 1.0);
    }
    EXPECT_EQ(headings[0], headings[1]);
    EXPECT_EQ(headings[0],
              (std::vector<std::string_view>{"quantity", "standard uncertainty", "normalised deviation",
                                             "degrees of freedom", "p", "verdict"}));
}

// ---- one name, one quantity, one unit

struct Named {
    std::string name;  ///< in the singular, as a label
    std::string where;
    std::string meaning;
    std::optional<Quantity> quantity;
    std::string unit;
};

/// The name of a row or column without the name of the part that stands before it.
std::string plain_name(std::string_view name) {
    const auto colon = name.find(": ");
    std::string label = normal_label(colon == std::string_view::npos ? name : name.substr(colon + 2));
    return label == "enginespeed" ? "speed" : label;  // in a call it is the only one
}

/// Functions that work on figures in whatever unit they come.
bool takes_any_unit(const Function& function) {
    return function.family() == "PULL" || function.family() == "UNIT" || function.family() == "FUNCTION" ||
           function.name.view() == "CHECK.AGREEMENT";
}

std::vector<Named> all_names() {
    std::vector<Named> names;
    std::set<const BlockSchema*> schemas;
    for (const Function& function : functions()) {
        if (takes_any_unit(function)) continue;
        const std::string where(function.name.view());
        for (const Parameter& parameter : function.parameters) {
            if (parameter.kind == Kind::number || parameter.kind == Kind::series) {
                std::string name = plain_name(parameter.name);
                if (parameter.kind == Kind::series) {
                    EXPECT_TRUE(name.ends_with('s'))
                        << where << ": a column of several is named in the plural: " << name;
                    name.pop_back();
                }
                names.push_back({name, where, std::string(parameter.meaning), parameter.quantity,
                                 std::string(parameter.unit)});
            }
            if (parameter.schema && schemas.insert(parameter.schema).second)
                for (const Label& label : parameter.schema->labels)
                    if (!label.is_text && !label.is_numbered())
                        names.push_back(
                            {plain_name(label.name), std::string(parameter.schema->name.view()) + " block",
                             std::string(label.meaning), label.quantity, std::string(label.unit)});
        }
        for (const Column& column : function.result.columns)
            if (column.quantity != Quantity::number)
                names.push_back(
                    {plain_name(column.name), where, "", column.quantity, std::string(column.unit)});
        if (function.result.columns.size() != 3 || function.result.columns[0].name != "quantity") continue;
        const auto table = std::get<Table>(evaluate(function, function.example.arguments).value);
        for (std::size_t r = 1; r < table.rows(); ++r)
            if (std::holds_alternative<double>(table.at(r, 1)))
                names.push_back({plain_name(std::get<std::string>(table.at(r, 0))), where, "", std::nullopt,
                                 std::get<std::string>(table.at(r, 2))});
    }
    for (const PartKind& kind : part_kinds())
        for (const PartValue& value : kind.values)
            if (value.name != "place")
                names.push_back({plain_name(value.name), "parts, " + std::string(kind.name), "",
                                 value.quantity, std::string(value.unit)});
    return names;
}

TEST(ContractOfNames, ANameHasOneQuantityAndOneUnit) {
    std::map<std::string, Named> first;
    for (const Named& named : all_names()) {
        const auto [known, is_new] = first.try_emplace(named.name, named);
        if (is_new) continue;
        EXPECT_EQ(known->second.unit, named.unit)
            << named.name << ": " << known->second.where << ", " << named.where;
        if (known->second.quantity && named.quantity && !named.unit.empty()) {
            EXPECT_EQ(*known->second.quantity, *named.quantity)
                << named.name << ": " << known->second.where << ", " << named.where;
        }
    }
}

TEST(ContractOfNames, OneMeaningHasOneName) {
    std::map<std::pair<std::string, std::string>, Named> first;
    for (const Named& named : all_names()) {
        if (named.meaning.empty() || named.unit.empty()) continue;
        const auto [known, is_new] = first.try_emplace({named.meaning, named.unit}, named);
        EXPECT_EQ(known->second.name, named.name)
            << named.meaning << ": " << known->second.where << ", " << named.where;
    }
}

// ---- share used = demand / capacity

TEST(ContractOfShares, ShareUsedIsDemandOverCapacity) {
    const Function& limits = *find_function("BUILD.LIMITS");
    Table parts = examples::parts();
    using Text = std::string;
    parts.add_row({Text("on the cam"), Text("high-pressure pump"), 10.0, Text("mm"), 4.8, Text("mm"), 4.0,
                   Text(""), 0.9, Text("")});
    parts.add_row({Text("clutch"), Text("clutch"), 600.0, Text("N·m")});
    parts.add_row({Text("rods"), Text("engine"), 400.0, Text("kW"), 560.0, Text("N·m"), 35.0, Text("bar")});
    // A cooler with the temperature that it may reach.
    for (std::size_t r = 1; r < parts.rows(); ++r)
        if (std::get<Text>(parts.at(r, 1)) == "charge cooler") {
            Table wider(parts.rows(), 12);
            for (std::size_t i = 0; i < parts.rows(); ++i)
                for (std::size_t c = 0; c < parts.columns(); ++c) wider.at(i, c) = parts.at(i, c);
            wider.at(r, 10) = 60.0;
            wider.at(r, 11) = Text("°C");
            parts = wider;
            break;
        }
    for (const Value& power : {Value(), Value(180.0), Value(260.0)})
        for (const Value& map : {Value(), Value(examples::compressor_map())}) {
            const Outcome outcome = evaluate(
                limits, std::vector<Value>{examples::engine(), parts, 0.0, Value(), power, 6500.0, map});
            const auto* table = std::get_if<Table>(&outcome.value);
            ASSERT_TRUE(table) << std::get<Failure>(outcome.value).sentence;
            std::size_t compared = 0;
            for (std::size_t r = 1; r + 1 < table->rows(); ++r) {
                const auto* demand = std::get_if<double>(&table->at(r, 4));
                const auto* capacity = std::get_if<double>(&table->at(r, 5));
                const auto* share = std::get_if<double>(&table->at(r, 3));
                if (!demand || !capacity || !share) continue;
                EXPECT_NEAR(*share, *demand / *capacity, 1e-12) << std::get<Text>(table->at(r, 0));
                ++compared;
            }
            EXPECT_GE(compared, 7u);
        }
}

}  // namespace
}  // namespace pullsheet::catalogue
