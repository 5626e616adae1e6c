// SPDX-License-Identifier: Apache-2.0
// What is said in each language, and what must not depend on it.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/languages/table.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/texts.hpp"
#include "tests/catalogue/sample.hpp"
#include "tests/pattern.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::contains;
using sample::sentence;

// An error of a cell is an error in each language, whatever its sentence says.
bool same(const Cell& a, const Cell& b) {
    if (a.index() != b.index()) return false;
    if (const auto* failure = std::get_if<Failure>(&a)) return failure->kind == std::get<Failure>(b).kind;
    if (const auto* number = std::get_if<double>(&a)) return *number == std::get<double>(b);
    if (const auto* text = std::get_if<std::string>(&a)) return *text == std::get<std::string>(b);
    return true;
}

void expect_same(std::string_view name, const Value& english, const Value& german) {
    ASSERT_EQ(english.index(), german.index()) << name;
    const auto* table = std::get_if<Table>(&english);
    if (!table) {
        std::visit(
            [&](const auto& content) {
                using Content = std::decay_t<decltype(content)>;
                if constexpr (!std::is_same_v<Content, Table>) {
                    EXPECT_TRUE(same(content, std::get<Content>(german))) << name;
                }
            },
            english);
        return;
    }
    const Table& other = std::get<Table>(german);
    ASSERT_EQ(table->rows(), other.rows()) << name;
    ASSERT_EQ(table->columns(), other.columns()) << name;
    for (std::size_t r = 0; r < table->rows(); ++r)
        for (std::size_t c = 0; c < table->columns(); ++c)
            EXPECT_TRUE(same(table->at(r, c), other.at(r, c))) << name << ", row " << r << ", column " << c;
}

std::set<std::string> placeholders(std::string_view text) {
    static const tests::Pattern pattern("\\{([a-z0-9_]*)\\}");
    std::set<std::string> names;
    std::string rest(text);
    for (auto found = pattern.find(rest); !found.empty(); found = pattern.find(rest)) {
        names.insert(found[1]);
        rest.erase(0, rest.find(found[0]) + found[0].size());
    }
    return names;
}

TEST(Languages, AreToldByTheLocale) {
    for (const auto german : {"de", "de-DE", "de-AT", "de_CH.UTF-8", "de_DE@euro", "de.UTF-8"})
        EXPECT_EQ(language_of(german), Language::german) << german;
    for (const auto other : {"", "C", "C.UTF-8", "en-US", "en_GB.UTF-8", "den", "fr_FR", "DE"})
        EXPECT_EQ(language_of(other), Language::english) << other;
}

// The remarks of a table are sentences.
Value without_remark(const Value& value) {
    const auto* table = std::get_if<Table>(&value);
    if (!table || table->rows() == 0 || table->columns() == 0) return value;
    const auto* heading = std::get_if<std::string>(&table->at(0, table->columns() - 1));
    if (!heading || *heading != "remark") return value;
    Table rest = *table;
    for (std::size_t r = 0; r < rest.rows(); ++r) rest.at(r, rest.columns() - 1) = std::monostate{};
    return rest;
}

TEST(Languages, ValuesOfCellsAreTheSameInAll) {
    for (const Function& function : functions()) {
        if (function.name.view() == "FUNCTION.ERROR") continue;  // its value is a sentence
        const auto& arguments = function.example.arguments;
        expect_same(function.name, without_remark(evaluate(function, arguments, Language::english).value),
                    without_remark(evaluate(function, arguments, Language::german).value));
    }
}

TEST(Languages, ErrorsAndReasonsInCellsAreTheSameInAll) {
    // A power for which a row says why its part carries nothing.
    const Function& limits = *find_function("BUILD.LIMITS");
    std::vector<Value> arguments = limits.example.arguments;
    arguments[4] = 3000.0;
    const Value english = evaluate(limits, arguments, Language::english).value;
    ASSERT_TRUE(std::holds_alternative<Table>(english)) << sentence(english);
    std::string measures;
    for (std::size_t r = 1; r < std::get<Table>(english).rows(); ++r)
        if (const auto* measure = std::get_if<std::string>(&std::get<Table>(english).at(r, 6)))
            measures += *measure + "\n";
    EXPECT_TRUE(contains(measures, "the curve ends at 7 bar")) << measures;
    expect_same("BUILD.LIMITS", english, evaluate(limits, arguments, Language::german).value);
    const Function& power = *find_function("ENGINE.POWER");
    const std::vector<Value> bad{Table{{Cell(100.0)}, {Cell(std::string("x"))}}, 5000.0};
    expect_same("ENGINE.POWER", evaluate(power, bad, Language::english).value,
                evaluate(power, bad, Language::german).value);
}

TEST(Languages, EveryTextOfTheCatalogueIsTranslated) {
    const auto table = languages::german();
    for (const CatalogueText& text : texts()) {
        const auto found = std::find_if(table.begin(), table.end(),
                                        [&](const auto& entry) { return entry.english == text.english; });
        ASSERT_NE(found, table.end()) << text.where << ": " << text.english;
        EXPECT_FALSE(found->translated.empty()) << text.where << ": " << text.english;
        EXPECT_EQ(translated(Language::german, text.english), found->translated) << text.where;
        EXPECT_EQ(translated(Language::english, text.english), text.english);
    }
}

TEST(Languages, TheTextsOfTheCatalogueAreAllThere) {
    std::set<std::string_view> found;
    for (const CatalogueText& text : texts()) found.insert(text.english);
    for (const Function& function : functions()) {
        EXPECT_TRUE(found.contains(function.summary)) << function.name.view();
        EXPECT_TRUE(found.contains(function.method)) << function.name.view();
        for (const Parameter& parameter : function.parameters)
            EXPECT_TRUE(found.contains(parameter.meaning)) << function.name.view() << ", " << parameter.name;
    }
    // The first and the last of the enumerations.
    EXPECT_TRUE(found.contains(english(Phrase::wanted)));
    EXPECT_TRUE(found.contains(english(Phrase::price_of)));
    EXPECT_TRUE(found.contains(english(Reason::out_of_range)));
    EXPECT_TRUE(found.contains(english(Reason::one_sided_difference)));
    EXPECT_TRUE(found.contains(quantity_name(Quantity::mass_per_volume_and_cycle)));
}

TEST(Languages, TranslationsNameTheSamePlaceholders) {
    for (const auto& [english, translated] : languages::german())
        EXPECT_EQ(placeholders(english), placeholders(translated)) << english;
}

TEST(Languages, TheTableIsSorted) {
    const auto table = languages::german();
    EXPECT_TRUE(std::is_sorted(table.begin(), table.end(),
                               [](const auto& a, const auto& b) { return a.english < b.english; }));
    EXPECT_EQ(translated(Language::german, "a text that nobody has translated"),
              "a text that nobody has translated");
}

TEST(Languages, SentencesNameTheParameterAsTheFunctionDoes) {
    const Function& density = *find_function("AIR.DENSITY");
    const std::vector<Value> bad{"22 psi", 97.9};
    const std::string english = sentence(evaluate(density, bad, Language::english).value);
    const std::string german = sentence(evaluate(density, bad, Language::german).value);
    EXPECT_EQ(
        english,
        "AIR.DENSITY: temperature is \"22 psi\"; psi is a unit of pressure, but a unit of temperature is "
        "wanted (°C, °F, K)");
    EXPECT_EQ(german,
              "AIR.DENSITY: temperature ist „22 psi“; psi ist eine Einheit für Druck, erwartet wird "
              "Temperatur (°C, °F, K)");
}

TEST(Languages, WarningsSpeakTheLanguageAsked) {
    const Function& factor = *find_function("DYNO.FACTOR");
    const std::vector<Value> hot{"ISO 1585", 60.0, 70.0, 0.1};
    const auto english = evaluate(factor, hot, Language::english).warnings;
    const auto german = evaluate(factor, hot, Language::german).warnings;
    ASSERT_FALSE(english.empty());
    ASSERT_EQ(english.size(), german.size());
    EXPECT_TRUE(contains(english.front(), "the limits of")) << english.front();
    EXPECT_TRUE(contains(german.front(), "den Grenzen")) << german.front();
}

TEST(Languages, FunctionErrorSpeaksTheLanguageAsked) {
    const Function& error = *find_function("FUNCTION.ERROR");
    const auto& arguments = error.example.arguments;
    EXPECT_EQ(std::get<std::string>(evaluate(error, arguments, Language::german).value),
              "UNIT.CONVERT: PS ist eine Einheit für Leistung, bar eine für Druck; sie lassen sich nicht "
              "umrechnen");
}

}  // namespace
}  // namespace pullsheet::catalogue
