// SPDX-License-Identifier: Apache-2.0
// What bounds the work and the words of one call.
#include <gtest/gtest.h>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/sentences.hpp"
#include "tests/catalogue/sample.hpp"

namespace pullsheet::catalogue {
namespace {

using sample::contains;

std::string text(const char* written) {
    return written;
}

Value call(const char* name, const std::vector<Value>& arguments) {
    return evaluate(*find_function(name), arguments).value;
}

// Each level of itself would repeat every range below once more: ten cells in five levels, 100,000 calls.
TEST(FunctionError, DoesNotExplainItself) {
    EXPECT_TRUE(
        contains(sample::sentence(call("FUNCTION.ERROR", {text("FUNCTION.ERROR"), text("AIR.DENSITY")})),
                 "explains other functions"));
}

TEST(FunctionError, ExplainsOneCall) {
    const Value answer = call("FUNCTION.ERROR", {Table{{text("AIR.DENSITY")}, {text("AIR.HUMIDITY")}}, 20.0});
    const auto* table = std::get_if<Table>(&answer);
    ASSERT_NE(table, nullptr);
    EXPECT_TRUE(contains(std::get<Failure>(table->at(1, 0)).sentence, "one value is wanted"));
}

// The search would compute the whole range at each of its steps and find no number in it.
TEST(FunctionSolve, TakesNoRanges) {
    const Value answer = call(
        "FUNCTION.SOLVE", {text("ENGINE.POWER"), 1.0, 300.0, 100.0, 1000.0, {}, Table{{5000.0}, {6000.0}}});
    EXPECT_TRUE(contains(sample::sentence(answer), "speed is a range of 2 × 1 cells"))
        << sample::sentence(answer);
}

TEST(Sentences, CutLongTexts) {
    const std::string sentence =
        say(Language::english, Phrase::unknown_function, {{"value", std::string(100000, 'x')}});
    EXPECT_LT(sentence.size(), 2000u);
    // Not in the middle of a character.
    std::string marks = "x";
    for (int i = 0; i < 10000; ++i) marks += "°";
    EXPECT_TRUE(contains(say(Language::english, Phrase::unknown_function, {{"value", marks}}), "°…"));
}

// The tables of maps, parts and stages are read without their warnings; what refuses them is said all the
// same.
TEST(Sentences, OfABadCellInATableAreNotLost) {
    for (const char* name : {"COMPRESSOR.MAP.MARGIN", "BUILD.POINT", "BUILD.LIMITS", "BUILD.TABLE"}) {
        const Function& function = *find_function(name);
        std::size_t tables = 0;
        for (std::size_t i = 0; i < function.example.arguments.size(); ++i) {
            if (function.parameters[i].kind != Kind::table) continue;
            const auto* whole = std::get_if<Table>(&function.example.arguments[i]);
            if (!whole) continue;
            for (std::size_t c = 0; c < whole->columns(); ++c) {
                if (!std::holds_alternative<double>(whole->at(1, c))) continue;
                ++tables;
                for (const Cell& bad : {Cell(text("hello")), Cell(-1e300), Cell(text("5 bananas"))}) {
                    Table table = *whole;
                    table.at(1, c) = bad;
                    std::vector<Value> arguments = function.example.arguments;
                    arguments[i] = table;
                    const std::string sentence = sample::sentence(evaluate(function, arguments).value);
                    EXPECT_GT(sentence.size(), std::string(name).size() + 10)
                        << name << ", argument " << i + 1 << ", column " << c + 1;
                }
            }
        }
        EXPECT_GT(tables, 0u) << name;
    }
}

// The kind of an error is a part of the call: with it the answer changes.
TEST(Remembered, ErrorsOfAnotherKindAreOtherCalls) {
    for (const Function& function : functions()) {
        if (!function.remembered) continue;
        for (const FailureKind kind :
             {FailureKind::no_data, FailureKind::no_solution, FailureKind::wrong_argument}) {
            std::vector<Value> arguments = function.example.arguments;
            arguments[0] = Failure{kind, "the same"};
            const Value answer = evaluate(function, arguments).value;
            EXPECT_EQ(std::get<Failure>(answer).kind, kind) << function.name.view();
        }
    }
}

// Where one argument ends and the next begins is a part of the call too.
TEST(Remembered, ArgumentsDoNotRunIntoEachOther) {
    for (const Function& function : functions()) {
        if (!function.remembered) continue;
        std::vector<Value> arguments = function.example.arguments;
        arguments[0] = Failure{FailureKind::no_data, "one"};
        arguments[1] = std::monostate{};
        const std::string first = sample::sentence(evaluate(function, arguments).value);
        EXPECT_TRUE(first.ends_with("one")) << function.name.view();
        arguments[0] = Failure{FailureKind::no_data, "one-"};
        arguments.erase(arguments.begin() + 1);
        EXPECT_NE(sample::sentence(evaluate(function, arguments).value), first) << function.name.view();
    }
}

}  // namespace
}  // namespace pullsheet::catalogue
