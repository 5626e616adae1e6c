// SPDX-License-Identifier: Apache-2.0
#include "harness/eval.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <locale>
#include <nlohmann/json.hpp>

#include "core/catalogue/catalogue.hpp"
#include "tests/harness/run.hpp"

namespace pullsheet::harness::test {
namespace {

TEST(Eval, PrintsTheValueAlone) {
    const Answer answer = pullsheet({"eval", "UNIT.CONVERT", "750", "PS", "kW"});
    EXPECT_EQ(answer.code, done);
    EXPECT_EQ(answer.out, "551.6240625\n");
    EXPECT_EQ(answer.error, "");
    EXPECT_EQ(pullsheet({"eval", "unit.convert", "1", "hp", "PS"}).out, "1.013869665\n");
}

TEST(Eval, TakesNegativeNumbers) {
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "-40", "°F", "°C"}).out, "-40\n");
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "-.5", "km", "m"}).out, "-500\n");
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "-1e3", "mm", "m"}).out, "-1\n");
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "−40", "°F", "°C"}).out, "-40\n");
    EXPECT_EQ(pullsheet({"eval", "--", "UNIT.CONVERT", "-40", "°F", "°C"}).out, "-40\n");
}

TEST(Eval, WordsOfOtherCommandsAreArguments) {
    EXPECT_TRUE(
        contains(pullsheet({"eval", "UNIT.CONVERT", "1", "list", "show"}).error, "\"list\" is not known"));
}

TEST(Eval, DashLeavesAnArgumentOut) {
    const Answer answer = pullsheet({"eval", "UNIT.CONVERT", "-", "PS", "kW"});
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_TRUE(contains(answer.error, "value is missing")) << answer.error;
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "350", "5500", "-"}).out, "201.5855286\n");
}

TEST(Eval, UnitOfTheResult) {
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "350", "5500", "--unit", "PS"}).out, "274.0800424\n");
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "350", "5500", "hp"}).out, "270.3306468\n");
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "350", "5500", "hp", "--unit", "PS"}).code, wrong_use);
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "350", "5500", "--unit", "bar"}).code, wrong_use);
    EXPECT_TRUE(
        contains(pullsheet({"eval", "UNIT.CONVERT", "1", "PS", "kW", "--unit", "W"}).error, "no unit"));
}

TEST(Eval, Digits) {
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "1", "hp", "W", "--digits", "3"}).out, "746\n");
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "1", "hp", "W", "--digits", "17"}).out,
              "745.69987158227025\n");
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "1", "hp", "W", "--digits", "0"}).code, wrong_use);
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "1", "hp", "W", "--digits", "many"}).code, wrong_use);
}

TEST(Eval, JsonCarriesValueUnitAndWarnings) {
    auto json = nlohmann::json::parse(
        pullsheet({"eval", "ENGINE.POWER", "350", "5500", "--json", "--unit", "ps"}).out);
    EXPECT_EQ(json["function"], "ENGINE.POWER");
    EXPECT_EQ(json["value"], 274.0800424);
    EXPECT_EQ(json["unit"], "PS");
    EXPECT_TRUE(json["warnings"].empty());
    const Answer failed = pullsheet({"eval", "--json", "UNIT.CONVERT", "1", "PS", "bar"});
    EXPECT_EQ(failed.code, wrong_use);
    EXPECT_TRUE(contains(nlohmann::json::parse(failed.out)["error"], "cannot be converted"));
    // Bytes that are no UTF-8 do not break the JSON.
    EXPECT_TRUE(
        nlohmann::json::accept(pullsheet({"eval", "--json", "UNIT.CONVERT", "1", "\xff\xfe", "bar"}).out));
}

TEST(Eval, AFailureIsASentenceOnStandardError) {
    const Answer answer = pullsheet({"eval", "UNIT.CONVERT", "1", "PS", "bar"});
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_EQ(answer.out, "");
    EXPECT_EQ(answer.error,
              "UNIT.CONVERT: PS is a unit of power, bar one of pressure; they cannot be converted\n");
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "", "PS", "kW"}).code, wrong_use);
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "nan", "PS", "kW"}).code, wrong_use);
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "1e999", "PS", "kW"}).code, wrong_use);
    EXPECT_EQ(pullsheet({"eval", "UNIT.CONVERT", "1", "PS", "kW", "1", "2"}).code, wrong_use);
}

TEST(Eval, AnUnknownFunctionGetsTheNearestName) {
    const Answer answer = pullsheet({"eval", "UNIT.CONVRET", "1"});
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_TRUE(contains(answer.error, "did you mean UNIT.CONVERT?")) << answer.error;
}

TEST(Eval, AMisspeltOptionIsNoArgument) {
    const Answer answer = pullsheet({"eval", "UNIT.CONVERT", "1", "PS", "kW", "--jsn"});
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_TRUE(contains(answer.error, "--jsn")) << answer.error;
}

TEST(Eval, ARangeFromAFile) {
    const Folder folder;
    const std::string column = folder.file("column.csv", "100\n200\n300 lb-ft\n");
    const Answer answer = pullsheet({"eval", "ENGINE.POWER", "@" + column, "5000"});
    EXPECT_EQ(answer.code, done) << answer.error;
    EXPECT_EQ(answer.out, "52.35987756\n104.7197551\n212.9713853\n");
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "@-", "5000", "--csv"}, "100,200\n").out,
              "52.35987756,104.7197551\n");
    EXPECT_EQ(
        pullsheet({"eval", "ENGINE.POWER", "@" + folder.file("a.tsv", "100\t200\n"), "5000", "--tsv"}).out,
        "52.35987756\t104.7197551\n");
    // Semicolons and a decimal comma, and the mark that some programs put first.
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER",
                         "@" + folder.file("b.csv",
                                           "\xEF\xBB\xBF"
                                           "100,0;200,0\r\n"),
                         "5000", "--csv"})
                  .out,
              "52.35987756,104.7197551\n");
    const auto json =
        nlohmann::json::parse(pullsheet({"eval", "ENGINE.POWER", "@" + column, "5000", "--json"}).out);
    EXPECT_EQ(json["rows"].size(), 3u);
    EXPECT_EQ(json["rows"][0][0], 52.35987756);
}

TEST(Eval, AFuelBlockFromAFile) {
    const Folder folder;
    const std::string block = folder.file("fuel.csv", "ethanol share,85,%\nRON,98\n");
    const Answer from_block = pullsheet({"eval", "FUEL.STOICH", "@" + block});
    EXPECT_EQ(from_block.code, done) << from_block.error;
    EXPECT_EQ(from_block.out, pullsheet({"eval", "FUEL.STOICH", "0.85"}).out);
    const Answer unknown =
        pullsheet({"eval", "FUEL.STOICH", "@" + folder.file("bad.csv", "ethanol share,0.85\ncolor,3\n")});
    EXPECT_EQ(unknown.code, wrong_use);
    EXPECT_TRUE(contains(unknown.error, "\"color\"")) << unknown.error;
}

TEST(Eval, ARangeOrBlockInJson) {
    const Folder folder;
    const auto power = [&](const std::string& name, const std::string& text) {
        return pullsheet({"eval", "ENGINE.POWER", "@" + folder.file(name, text), "5000", "--csv"}).out;
    };
    EXPECT_EQ(power("a.json", "[100,200]"), "52.35987756\n104.7197551\n");
    EXPECT_EQ(power("b.json", "[[100,200]]"), "52.35987756,104.7197551\n");
    EXPECT_EQ(power("c.jsonl", "100\n200\n"), "52.35987756\n104.7197551\n");
    EXPECT_EQ(pullsheet({"eval", "FUEL.STOICH",
                         "@" + folder.file("f.json", R"({"ethanol share":"85 %","RON":98})")})
                  .out,
              pullsheet({"eval", "FUEL.STOICH", "0.85"}).out);
    // The keys of objects are the titles of a table.
    EXPECT_EQ(
        pullsheet({"eval", "PULL.PEAK", "@" + folder.file("p.csv", "1000,10\n2000,20\n3000,15\n")}).error,
        pullsheet({"eval", "PULL.PEAK", "@" + folder.file("p.json", "[[1000,10],[2000,20],[3000,15]]")})
            .error);
    const Answer broken =
        pullsheet({"eval", "ENGINE.POWER", "@" + folder.file("x.json", "[100,\n{]"), "5000"});
    EXPECT_EQ(broken.code, file_not_readable);
    EXPECT_TRUE(contains(broken.error, "x.json, line 2, column 2")) << broken.error;
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "@" + folder.file("y.json", "[[1],2]"), "5000"}).code,
              file_not_readable);
}

TEST(Eval, ABadElementFailsAlone) {
    const Answer answer = pullsheet({"eval", "ENGINE.POWER", "@-", "5000", "--csv"}, "100,x,300\n");
    EXPECT_EQ(answer.code, some_failed);
    EXPECT_EQ(answer.out, "52.35987756,,157.0796327\n");
    EXPECT_TRUE(contains(answer.error, "row 1, column 2")) << answer.error;
}

TEST(Eval, AFileThatCannotBeRead) {
    const Folder folder;
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "@" + folder.path("none.csv"), "5000"}).code,
              file_not_readable);
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "@" + folder.path(""), "5000"}).code, file_not_readable);
    const Answer quote = pullsheet({"eval", "ENGINE.POWER", "@-", "5000"}, "1\n\"2\n3\n");
    EXPECT_EQ(quote.code, file_not_readable);
    EXPECT_TRUE(contains(quote.error, "never closed")) << quote.error;
    EXPECT_EQ(pullsheet({"eval", "ENGINE.POWER", "@-", "5000"}, "").code, wrong_use);
}

TEST(Eval, ATableForPeopleIsAligned) {
    const Answer answer = pullsheet({"eval", "FUNCTION.LIST"});
    EXPECT_EQ(answer.code, done);
    EXPECT_TRUE(answer.out.starts_with("function ")) << answer.out;
    EXPECT_GT(lines(answer.out), 5u);
}

struct DecimalComma : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
};

TEST(Eval, WritesADecimalPointInAnyLocale) {
    const std::locale before = std::locale::global(std::locale(std::locale(), new DecimalComma));
    const Answer answer = pullsheet({"eval", "UNIT.CONVERT", "7500.5", "PS", "W"});
    const Answer json = pullsheet({"eval", "UNIT.CONVERT", "7500.5", "PS", "W", "--json"});
    std::locale::global(before);
    EXPECT_EQ(answer.out, "5516608.374\n");
    EXPECT_TRUE(contains(json.out, "5516608.374")) << json.out;
}

TEST(Eval, JsonThatIsNoTableIsRefusedInASentence) {
    const Folder folder;
    const auto of = [&](const std::string& json) {
        return pullsheet({"eval", "PULL.MEAN", "@" + folder.file("a.json", json)});
    };
    for (const std::size_t depth : {17, 13000, 200000}) {
        std::string arrays(depth, '[');
        std::string objects;
        for (std::size_t i = 0; i < depth; ++i) objects += "{\"a\":";
        for (const std::string& text :
             {arrays + "1" + std::string(depth, ']'), objects + "1" + std::string(depth, '}'),
              "[{\"a\":" + arrays + "1" + std::string(depth, ']') + "}]"}) {
            const Answer answer = of(text);
            EXPECT_EQ(answer.code, file_not_readable);
            EXPECT_TRUE(contains(answer.error, "nested more than 16 deep")) << answer.error;
        }
    }
    EXPECT_TRUE(contains(of("{\"a\":1,\"a\":2}").error, "the key \"a\" occurs twice"));
    EXPECT_TRUE(contains(of("[{\"a\":1,\"a\":2}]").error, "the key \"a\" occurs twice"));
}

TEST(Eval, ReadsAnArrayAsAFormulaWritesIt) {
    const auto value = [](std::vector<std::string> words) {
        words.insert(words.begin(), "eval");
        const Answer answer = pullsheet(std::move(words));
        EXPECT_EQ(answer.code, done) << answer.error;
        return answer.out;
    };
    for (const char* shares : {"{0.05|0.8}", "{0.05;0.8}", "{0.05, 0.8}", "{0.05,0.8}", "{0,05|0,8}x"}) {
        std::string written = shares;
        if (written.ends_with('x')) {
            written.pop_back();
            EXPECT_EQ(pullsheet({"--language", "de", "eval", "FUEL.BLEND.ETHANOL", "{30|15}", written}).out,
                      "0.3\n");
            continue;
        }
        EXPECT_EQ(value({"FUEL.BLEND.ETHANOL", "{30|15}", written}), "0.3\n") << written;
    }
    EXPECT_EQ(value({"=FUEL.BLEND.ETHANOL({30|15}; {0.05|0.8})"}), "0.3\n");
    EXPECT_EQ(value({"=ENGINE.POWER(350;5500;\"PS\")"}), value({"ENGINE.POWER", "350", "5500", "\"PS\""}));
    EXPECT_EQ(value({"=ENGINE.POWER(350,5500,\"PS\")"}), "274.0800424\n");
    EXPECT_EQ(pullsheet({"--language", "de", "eval", "=AIR.DENSITY(22; 97,9; 0,55)"}).out,
              pullsheet({"eval", "=AIR.DENSITY(22; 97.9; 0.55)"}).out);
    EXPECT_EQ(pullsheet({"eval", "PULL.MEAN", "{1|x}"}).code, wrong_use);
    EXPECT_TRUE(
        contains(pullsheet({"eval", "PULL.MEAN", "{1|x}"}).error, "\"x\" in {1|x} is neither a number"));
    EXPECT_EQ(pullsheet({"eval", "=1+2"}).code, wrong_use);
    EXPECT_EQ(pullsheet({"eval", "=AIR.DENSITY(SUM(1;2);3)"}).code, wrong_use);
}

// Every worked example, typed as `show` prints it.
TEST(Eval, ReadsWhatShowPrints) {
    for (const std::string language : {"en", "de"})
        for (const auto& function : catalogue::functions()) {
            const bool asks_calc = std::any_of(function.parameters.begin(), function.parameters.end(),
                                               [](const auto& p) { return p.kind == catalogue::Kind::cell; });
            if (asks_calc) continue;
            const std::string name(function.name.view());
            const std::string shown = pullsheet({"--language", language, "show", name}).out;
            const auto begin = shown.find("\n  =" + name + "(");
            ASSERT_NE(begin, std::string::npos) << name;
            const std::string formula = shown.substr(begin + 3, shown.find('\n', begin + 1) - begin - 3);
            const Answer answer =
                pullsheet({"--language", language, "eval", "--json", "--digits", "17", formula});
            ASSERT_EQ(answer.code, done) << formula << "\n" << answer.error;
            const auto json = nlohmann::json::parse(answer.out);
            const auto& example = function.example;
            const auto& value =
                json.contains("rows") ? json["rows"][example.row][example.column] : json["value"];
            const auto* number = std::get_if<double>(&example.expected);
            const auto* text = std::get_if<std::string>(&example.expected);
            if (number) {
                EXPECT_NEAR(value.get<double>(), *number, example.tolerance * std::abs(*number) + 1e-300)
                    << formula;
            } else if (text && name != "FUNCTION.ERROR") {
                EXPECT_EQ(value.get<std::string>(), *text) << formula;
            }
        }
}

TEST(Eval, AnElementOfARangeIsNamedInWords) {
    const auto error = [](std::vector<std::string> words) { return pullsheet(std::move(words)).error; };
    EXPECT_TRUE(contains(error({"eval", "PULL.SMOOTH", "{1|2|x5|4}", "3"}), "is neither a number"));
    const Answer column = pullsheet({"eval", "FUEL.BLEND.ETHANOL", "{30|15}", "{0.05|80}"});
    EXPECT_TRUE(contains(column.error, ", row 2 is 80")) << column.error;
    const Answer row = pullsheet({"eval", "FUEL.BLEND.ETHANOL", "{30, 15}", "{0.05, 80}"});
    EXPECT_TRUE(contains(row.error, ", column 2 is 80")) << row.error;
    const Answer single = pullsheet({"eval", "FUEL.BLEND.ETHANOL", "30", "80"});
    EXPECT_FALSE(contains(single.error, "[")) << single.error;
    EXPECT_TRUE(
        contains(pullsheet({"--language", "de", "eval", "FUEL.BLEND.ETHANOL", "{30|15}", "{0,05|80}"}).error,
                 ", Zeile 2 ist 80"));
}

}  // namespace
}  // namespace pullsheet::harness::test
