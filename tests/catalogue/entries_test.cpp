// SPDX-License-Identifier: Apache-2.0
// What every entry of the catalogue must have, and its example.
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/reader.hpp"
#include "tests/catalogue/all_functions.hpp"
#include "tests/pattern.hpp"

namespace pullsheet::catalogue {
namespace {

class Entries : public testing::TestWithParam<const Function*> {
  protected:
    const Function& function() const { return *GetParam(); }
    bool reads_a_sheet() const {
        for (const Parameter& parameter : function().parameters)
            if (parameter.kind == Kind::cell) return true;
        return false;
    }
};

INSTANTIATE_TEST_SUITE_P(Catalogue, Entries, testing::ValuesIn(sample::all_functions()), sample::test_name);

void expect_range(std::string_view where, Interval range, const std::optional<Interval>& established,
                  const std::optional<double>& default_value) {
    EXPECT_FALSE(std::isnan(range.low) || std::isnan(range.high)) << where;
    EXPECT_LT(range.low, range.high) << where;
    if (established) {
        EXPECT_LT(established->low, established->high) << where;
        EXPECT_GE(established->low, range.low) << where;
        EXPECT_LE(established->high, range.high) << where;
    }
    if (default_value) {
        EXPECT_TRUE(range.contains(*default_value)) << where << ": the default is refused";
        if (established) {
            EXPECT_TRUE(established->contains(*default_value)) << where << ": the default warns";
        }
    }
}

void expect_unit(std::string_view where, Quantity quantity, std::string_view unit) {
    if (quantity == Quantity::share && unit == "%") return;  // a column of a table may say so
    if (!sample::has_units(quantity)) {
        EXPECT_TRUE(unit.empty()) << where << ": a plain number has no unit";
        return;
    }
    const Unit* found = find_unit(unit);
    ASSERT_NE(found, nullptr) << where << ": no such unit: " << unit;
    EXPECT_EQ(found->quantity, unit_quantity(quantity)) << where;
}

TEST_P(Entries, NameIsUpperCaseFamilyAndQuantity) {
    const std::string name(function().name.view());
    EXPECT_TRUE(tests::Pattern("^[A-Z][A-Z0-9]*(\\.[A-Z0-9]+)+$").is_in(name)) << name;
    EXPECT_TRUE(tests::Pattern("^[a-z][A-Za-z0-9]*$").is_in(function().identifier()))
        << function().identifier();
    EXPECT_EQ(find_function(name), &function());
}

TEST_P(Entries, TextsAreThere) {
    EXPECT_FALSE(function().summary.view().empty());
    EXPECT_FALSE(function().method.view().empty());
    EXPECT_FALSE(function().result.meaning.empty());
    EXPECT_EQ(function().summary.view().find('\n'), std::string_view::npos);
}

TEST_P(Entries, SourcesStandInTheBibliography) {
    EXPECT_FALSE(function().sources.keys.empty());
    for (const auto key : function().sources.keys) EXPECT_FALSE(citation(key).empty()) << key;
}

TEST_P(Entries, ParametersAreComplete) {
    std::set<std::string> names;
    for (const Parameter& parameter : function().parameters) {
        const std::string where = std::string(function().name.view()) + ", " + std::string(parameter.name);
        EXPECT_TRUE(tests::Pattern("^[a-z][a-z0-9]*(_[a-z0-9]+)*$").is_in(std::string(parameter.name)))
            << where;
        EXPECT_TRUE(names.insert(normal_label(parameter.name)).second) << where << " stands twice";
        EXPECT_FALSE(parameter.meaning.empty()) << where;
        EXPECT_FALSE(parameter.kind == Kind::list && &parameter != &function().parameters.back()) << where;
        switch (parameter.kind) {
            case Kind::number:
            case Kind::series:
                expect_unit(where, parameter.quantity, parameter.unit);
                expect_range(where, parameter.range, parameter.established_range, parameter.default_value);
                break;
            case Kind::choice: {
                EXPECT_FALSE(parameter.choices.empty()) << where;
                std::set<std::string> choices;
                for (const auto choice : parameter.choices)
                    EXPECT_TRUE(choices.insert(normal_label(choice)).second) << where << ": " << choice;
                break;
            }
            case Kind::fuel:
            case Kind::block: ASSERT_NE(parameter.schema, nullptr) << where; break;
            default: break;
        }
        if (!parameter.required && parameter.kind == Kind::number) {
            EXPECT_TRUE(parameter.default_value || !parameter.default_text.empty())
                << where << ": what does leaving it out mean?";
        }
        if (parameter.kind == Kind::unit) {
            EXPECT_EQ(&parameter, &function().parameters.back()) << where;
        }
    }
}

TEST_P(Entries, BlockLabelsAreComplete) {
    for (const Parameter& parameter : function().parameters) {
        if (!parameter.schema) continue;
        std::set<std::string> names;
        for (const Label& label : parameter.schema->labels) {
            const std::string where =
                std::string(parameter.schema->name.view()) + ", " + std::string(label.name);
            EXPECT_FALSE(label.name.empty()) << where;
            EXPECT_FALSE(label.meaning.empty()) << where;
            EXPECT_TRUE(names.insert(normal_label(label.name)).second) << where << " stands twice";
            if (label.is_text) continue;
            expect_unit(where, label.quantity, label.unit);
            expect_range(where, label.range, label.established_range, label.default_value);
        }
        for (const auto& group : parameter.schema->one_of)
            for (const auto name : group)
                EXPECT_TRUE(names.contains(normal_label(name)))
                    << parameter.schema->name.view() << ": " << name;
    }
}

TEST_P(Entries, ResultHasItsUnit) {
    const Result& result = function().result;
    if (result.kind == ResultKind::number) {
        expect_unit("result", result.quantity, result.unit);
        const bool takes_unit =
            !function().parameters.empty() && function().parameters.back().kind == Kind::unit;
        EXPECT_EQ(takes_unit, sample::has_units(result.quantity) && !function().takes_list());
    }
    if (result.kind == ResultKind::table) {
        EXPECT_FALSE(result.columns.empty());
    }
    for (const Column& column : result.columns) {
        EXPECT_FALSE(column.name.empty());
        expect_unit(column.name, column.quantity, column.unit);
    }
}

TEST_P(Entries, ExampleIsExecutedAndAgrees) {
    const Example& example = function().example;
    const Outcome outcome = evaluate(function(), example.arguments);
    if (reads_a_sheet()) {
        // Without a sheet there is nothing to read; tests in Calc run these examples.
        const auto* failure = std::get_if<Failure>(&outcome.value);
        ASSERT_NE(failure, nullptr);
        EXPECT_NE(failure->sentence.find("Calc"), std::string::npos) << failure->sentence;
        return;
    }
    Cell cell;
    if (const auto* table = std::get_if<Table>(&outcome.value)) {
        ASSERT_LT(example.row, table->rows());
        ASSERT_LT(example.column, table->columns());
        cell = table->at(example.row, example.column);
    } else if (const auto* number = std::get_if<double>(&outcome.value)) {
        cell = *number;
    } else if (const auto* text = std::get_if<std::string>(&outcome.value)) {
        cell = *text;
    } else if (const auto* failure = std::get_if<Failure>(&outcome.value)) {
        FAIL() << failure->sentence;
    }
    if (const auto* failure = std::get_if<Failure>(&cell)) FAIL() << failure->sentence;
    ASSERT_EQ(cell.index(), example.expected.index());
    if (const auto* expected = std::get_if<double>(&example.expected)) {
        const double tolerance =
            example.tolerance * std::max(std::abs(*expected), *expected == 0.0 ? 1.0 : 0.0);
        EXPECT_NEAR(std::get<double>(cell), *expected, tolerance);
    } else {
        EXPECT_EQ(std::get<std::string>(cell), std::get<std::string>(example.expected));
    }
    // What nothing measured stands behind says so wherever it is used.
    const auto told_always = [](const std::string& warning) {
        return warning.find("not calibrated to a measured point") != std::string::npos ||
               warning.find("the threshold is known to about") != std::string::npos;
    };
    for (const std::string& warning : outcome.warnings)
        EXPECT_TRUE(told_always(warning)) << "an example should not warn: " << warning;
}

TEST(CatalogueNames, AreUnique) {
    std::set<std::string> names;
    std::set<std::string> identifiers;
    for (const Function& function : functions()) {
        EXPECT_TRUE(names.insert(normal_label(function.name.view())).second) << function.name.view();
        EXPECT_TRUE(identifiers.insert(function.identifier()).second) << function.identifier();
    }
}

TEST(CatalogueNames, OfAFamilyStandTogether) {
    std::set<std::string_view> closed;
    std::string_view current;
    for (const Function& function : functions()) {
        if (function.family() == current) continue;
        EXPECT_FALSE(closed.contains(function.family())) << function.name.view();
        closed.insert(current);
        current = function.family();
    }
}

TEST(CatalogueNames, AreFoundInAnyCase) {
    EXPECT_NE(find_function("unit.convert"), nullptr);
    EXPECT_EQ(find_function("unit.convert"), find_function(" UNIT.CONVERT "));
    EXPECT_EQ(find_function("UNIT"), nullptr);
    EXPECT_NE(unknown_function("UNIT.CONVRET").find("UNIT.CONVERT"), std::string::npos);
}

TEST(Bibliography, KeysAreUniqueAndUsedWithACitation) {
    std::set<std::string_view> keys;
    for (const auto key : citation_keys()) {
        EXPECT_TRUE(keys.insert(key).second) << key;
        EXPECT_FALSE(citation(key).empty()) << key;
    }
    EXPECT_TRUE(citation("no such key").empty());
}

}  // namespace
}  // namespace pullsheet::catalogue
