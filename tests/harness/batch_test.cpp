// SPDX-License-Identifier: Apache-2.0
#include "harness/batch.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <utility>

#include "tests/harness/run.hpp"

namespace pullsheet::harness::test {
namespace {

TEST(Batch, KeepsTheColumnsAndAddsTheResult) {
    const Answer answer =
        pullsheet({"batch", "UNIT.CONVERT", "-"}, "value,from,to\n750,PS,kW\n1.4,bar,psi\n");
    EXPECT_EQ(answer.code, done) << answer.error;
    EXPECT_EQ(answer.out,
              "value,from,to,UNIT.CONVERT,error,warning\n"
              "750,PS,kW,551.6240625,,\n"
              "1.4,bar,psi,20.30528328,,\n");
    EXPECT_EQ(answer.error, "");
}

TEST(Batch, ColumnsAreNamedAsTheParametersInAnyOrderAndWriting) {
    const Answer answer = pullsheet({"batch", "unit.convert", "-"}, " TO , Value,FROM\nkW,750,PS\n");
    EXPECT_EQ(answer.out, "TO,Value,FROM,UNIT.CONVERT,error,warning\nkW,750,PS,551.6240625,,\n");
}

TEST(Batch, ABadRowGetsItsSentenceAndTheRestGoesOn) {
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-"},
                                    "value,from,to\n1,PS,bar\nx,PS,kW\n,PS,kW\n1,PS,W\n1,PS\n1,PS,W,9\n");
    EXPECT_EQ(answer.code, some_failed);
    EXPECT_EQ(lines(answer.out), 7u);
    EXPECT_TRUE(
        contains(answer.out,
                 "1,PS,bar,,\"UNIT.CONVERT: PS is a unit of power, bar one of pressure; they cannot be "
                 "converted\",\n"))
        << answer.out;
    EXPECT_TRUE(contains(answer.out, "which is not a number")) << answer.out;
    EXPECT_TRUE(contains(answer.out, "value is missing")) << answer.out;
    EXPECT_TRUE(contains(answer.out, "1,PS,W,735.49875,,\n")) << answer.out;
    EXPECT_TRUE(contains(answer.out, "to is missing")) << answer.out;
    EXPECT_TRUE(contains(answer.out, "the row has 4 fields, the first row 3; too many are: 9")) << answer.out;
    EXPECT_TRUE(contains(answer.error, "5 of 6 rows failed")) << answer.error;
}

TEST(Batch, AnUnknownColumnIsRefusedWithTheNearest) {
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-"}, "valeu,from,to\n1,PS,kW\n");
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_EQ(answer.out, "");
    EXPECT_TRUE(contains(answer.error, "\"valeu\" is not a parameter; did you mean \"value\"?"))
        << answer.error;
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-"}, "value,from,to,value\n1,PS,kW,2\n").code, wrong_use);
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-"}, "").code, wrong_use);
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVRT", "-"}, "value\n").code, wrong_use);
}

TEST(Batch, AMissingColumnIsSaidOnce) {
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-"}, "value,to\n1,kW\n");
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_EQ(answer.out, "");
    EXPECT_TRUE(contains(answer.error, "there is no column \"from\"")) << answer.error;
}

TEST(Batch, OtherColumnsAreCopiedOnRequest) {
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-", "--keep-others"},
                                    "car,value,from,to\n\"one, two\",1,PS,W\n");
    EXPECT_EQ(answer.code, done) << answer.error;
    EXPECT_EQ(answer.out, "car,value,from,to,UNIT.CONVERT,error,warning\n\"one, two\",1,PS,W,735.49875,,\n");
}

TEST(Batch, TheSameParameterForEveryRow) {
    const Answer answer =
        pullsheet({"batch", "UNIT.CONVERT", "-", "--set", "from=PS", "--set", "TO=kW"}, "value\n750\n");
    EXPECT_EQ(answer.out, "value,UNIT.CONVERT,error,warning\n750,551.6240625,,\n");
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-", "--set", "form=PS"}, "value\n750\n").code, wrong_use);
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-", "--set", "value=1"}, "value\n750\n").code, wrong_use);
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-", "--set", "value"}, "value\n750\n").code, wrong_use);
}

TEST(Batch, UnitsInTheTitlesAndOfTheResult) {
    const Answer answer = pullsheet({"batch", "ENGINE.POWER", "-", "--unit", "hp"},
                                    "torque [lb-ft],speed\n250,6000\n339 N·m,6000\n");
    EXPECT_EQ(answer.code, done) << answer.out;
    EXPECT_TRUE(answer.out.starts_with(
        "torque [lb-ft],speed,ENGINE.POWER [hp],error,warning\n250,6000,285.5993321,,\n"))
        << answer.out;
    EXPECT_EQ(pullsheet({"batch", "ENGINE.POWER", "-"}, "torque [stones],speed\n250,6000\n").code, wrong_use);
    EXPECT_TRUE(contains(pullsheet({"batch", "ENGINE.POWER", "-"}, "torque [bar],speed\n250,6000\n").out,
                         "unit of pressure"));
    const Answer each =
        pullsheet({"batch", "ENGINE.POWER", "-"}, "torque,speed,unit\n350,5500,PS\n350,5500,\n");
    EXPECT_EQ(
        each.out,
        "torque,speed,unit,ENGINE.POWER,error,warning\n350,5500,PS,274.0800424,,\n350,5500,,201.5855286,,\n");
}

TEST(Batch, TabsAndSemicolons) {
    const Folder folder;
    const std::string tsv = folder.file("a.tsv", "value\tfrom\tto\n750\tPS\tkW\n");
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", tsv}).out,
              "value\tfrom\tto\tUNIT.CONVERT\terror\twarning\n750\tPS\tkW\t551.6240625\t\t\n");
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-", "--tsv"}, "value\tfrom\tto\n750\tPS\tkW\n").out,
              "value\tfrom\tto\tUNIT.CONVERT\terror\twarning\n750\tPS\tkW\t551.6240625\t\t\n");
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-"}, "value;from;to\n750,0;PS;kW\n").out,
              "value;from;to;UNIT.CONVERT;error;warning\n750,0;PS;kW;551.6240625;;\n");
    // An empty field between two tabs is a field.
    EXPECT_TRUE(
        contains(pullsheet({"batch", "UNIT.CONVERT", "-", "--tsv"}, "value\tfrom\tto\n\tPS\tkW\n").out,
                 "\tPS\tkW\t\tUNIT.CONVERT: value is missing"));
}

TEST(Batch, ALineNamesTheSeparator) {
    const std::string answer = "value;from;to;UNIT.CONVERT;error;warning\n1,5;PS;W;1103.248125;;\n";
    for (const char* end : {"\n", "\r\n"})
        for (const char* mark : {"", "\xEF\xBB\xBF"})
            EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-"},
                                std::string(mark) + "sep=;" + end + "value;from;to" + end + "1,5;PS;W" + end)
                          .out,
                      answer);
    // Lines are counted with it.
    EXPECT_TRUE(contains(pullsheet({"batch", "UNIT.CONVERT", "-"}, "sep=|\nvalue|from|to\nx|PS|W\n").error,
                         "line 3"));
    const Folder folder;
    const Answer block = pullsheet(
        {"eval", "PULL.MEAN", "@" + folder.file("a.csv", "sep=;\n1000;1\n2000;3\n"), "1500", "100"});
    EXPECT_FALSE(contains(block.error, "sep=")) << block.error;
}

TEST(Batch, JsonIsOneObjectALine) {
    const Answer answer =
        pullsheet({"batch", "UNIT.CONVERT", "-", "--json"}, "value,from,to\n750,PS,kW\n1,PS,bar\n");
    EXPECT_EQ(answer.code, some_failed);
    ASSERT_EQ(lines(answer.out), 2u);
    const auto first = nlohmann::json::parse(answer.out.substr(0, answer.out.find('\n')));
    EXPECT_EQ(first["UNIT.CONVERT"], 551.6240625);
    EXPECT_EQ(first["value"], 750);
    EXPECT_EQ(first["error"], "");
    const auto second = nlohmann::json::parse(answer.out.substr(answer.out.find('\n') + 1));
    EXPECT_TRUE(second["UNIT.CONVERT"].is_null());
    EXPECT_TRUE(contains(second["error"], "cannot be converted"));
}

TEST(Batch, QuotedFieldsComeBackAsTheyWere) {
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-", "--keep-others"},
                                    "note,value,from,to\n\"a \"\"quoted\"\"\nnote\",1,PS,W\n");
    EXPECT_TRUE(contains(answer.out, "\"a \"\"quoted\"\"\nnote\",1,PS,W,735.49875,,\n")) << answer.out;
}

TEST(Batch, AFileThatCannotBeRead) {
    const Folder folder;
    const Answer none = pullsheet({"batch", "UNIT.CONVERT", folder.path("none.csv")});
    EXPECT_EQ(none.code, file_not_readable);
    EXPECT_TRUE(contains(none.error, "none.csv cannot be read")) << none.error;
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", folder.path("")}).code, file_not_readable);
    // The good rows are answered before the broken one is reported.
    const Answer broken = pullsheet({"batch", "UNIT.CONVERT", "-"}, "value,from,to\n1,PS,W\n2,P\"S,W\n");
    EXPECT_EQ(broken.code, file_not_readable);
    EXPECT_TRUE(contains(broken.out, "1,PS,W,735.49875,,\n")) << broken.out;
    EXPECT_TRUE(contains(broken.error, "line 3")) << broken.error;
}

TEST(Batch, AFuelBlockInAField) {
    const Folder folder;
    const std::string block = folder.file("e85.csv", "ethanol share,85,%\n");
    const Answer answer = pullsheet({"batch", "FUEL.STOICH", "-"}, "fuel\n0.85\n@" + block + "\n@none.csv\n");
    EXPECT_EQ(answer.code, some_failed);
    EXPECT_EQ(lines(answer.out), 4u);
    EXPECT_TRUE(contains(answer.out, "none.csv cannot be read")) << answer.out;
}

TEST(Batch, ARowThatFailsIsSaidWithFileLineAndColumn) {
    const Folder folder;
    const std::string csv = folder.file("a.csv", "value,from,to\n1,PS,W\n\n\"1\n\",PS,W\nx,PS,W\n1,PS,\n");
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", csv});
    EXPECT_EQ(answer.code, some_failed);
    EXPECT_TRUE(contains(answer.error, csv + ", line 6, column 1 (value): UNIT.CONVERT: value is \"x\""))
        << answer.error;
    EXPECT_TRUE(contains(answer.error, csv + ", line 7, column 3 (to): UNIT.CONVERT: ")) << answer.error;
    const Answer json = pullsheet({"batch", "UNIT.CONVERT", "-", "--input-format", "json"},
                                  R"([{"value":1,"from":"PS","to":"W"},{"value":"x","from":"PS","to":"W"}])");
    EXPECT_TRUE(contains(json.error, "standard input, object 2, key \"value\": UNIT.CONVERT: value is \"x\""))
        << json.error;
    // Many are not listed; all of them stand in the column.
    std::string many = "value,from,to\n";
    for (int i = 0; i < 100; ++i) many += "x,PS,W\n";
    const Answer hundred = pullsheet({"batch", "UNIT.CONVERT", "-"}, many);
    EXPECT_EQ(lines(hundred.error), 12u) << hundred.error;
    EXPECT_TRUE(contains(hundred.error, "100 of 100 rows failed")) << hundred.error;
}

TEST(Batch, AColumnThatIsThereTwiceIsRefused) {
    const Answer answer =
        pullsheet({"batch", "UNIT.CONVERT", "-", "--keep-others"}, "value,note,from,to,note\n");
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_EQ(answer.error, "standard input, column 5: \"note\" is already the title of column 2\n");
    // Titles that mean the same parameter.
    EXPECT_TRUE(
        contains(pullsheet({"batch", "UNIT.CONVERT", "-"}, "value,from,to,Value\n").error, "given twice"));
    EXPECT_TRUE(contains(pullsheet({"batch", "UNIT.CONVERT", "-"}, "valeu,from,to\n").error,
                         "standard input, column 1: "));
}

TEST(Batch, TheOutputOfABatchCanBeTheInputOfAnother) {
    const std::string first = pullsheet({"batch", "UNIT.CONVERT", "-"}, "value,from,to\n1,PS,W\n").out;
    const Answer second = pullsheet({"batch", "UNIT.CONVERT", "-", "--keep-others"}, first);
    EXPECT_EQ(second.out,
              "value,from,to,UNIT.CONVERT,error,warning,UNIT.CONVERT (2),error (2),warning (2)\n"
              "1,PS,W,735.49875,,,735.49875,,\n");
}

TEST(Batch, FormatsInAndOut) {
    const Folder folder;
    const std::string csv = "value,from,to\n1,PS,W\n,PS,W\n";
    const std::string tsv = "value\tfrom\tto\n1\tPS\tW\n\tPS\tW\n";
    const std::string array = R"([{"value":1,"from":"PS","to":"W"}, {"to":"W","from":"PS"}])";
    const std::string lines_of =
        "{\"value\":1,\"from\":\"PS\",\"to\":\"W\"}\n\n{\"value\":null,\"from\":\"PS\",\"to\":\"W\"}\n";
    const std::vector<std::string> files = {folder.file("a.csv", csv), folder.file("a.tsv", tsv),
                                            folder.file("a.json", array), folder.file("a.ndjson", lines_of)};
    for (const char* format : {"csv", "tsv", "json", "jsonl"}) {
        const std::string wanted = pullsheet({"batch", "UNIT.CONVERT", files[0], "--format", format}).out;
        EXPECT_TRUE(contains(wanted, "735.49875")) << format;
        for (const std::string& file : files) {
            const Answer answer = pullsheet({"batch", "UNIT.CONVERT", file, "--format", format});
            EXPECT_EQ(answer.out, wanted) << file;
            EXPECT_EQ(answer.code, some_failed);
        }
        // The name of the output says the format.
        const std::string output = folder.path(std::string("out.") + format);
        const Answer written = pullsheet({"batch", "UNIT.CONVERT", files[0], "--output", output});
        EXPECT_EQ(written.out, "");
        std::stringstream text;
        text << std::ifstream(output).rdbuf();
        EXPECT_EQ(text.str(), wanted);
    }
    // Else the output is as the input; standard input is recognised by its beginning.
    const auto json = nlohmann::json::parse(pullsheet({"batch", "UNIT.CONVERT", "-"}, array).out);
    ASSERT_EQ(json.size(), 2u);
    EXPECT_EQ(json[0]["UNIT.CONVERT"], 735.49875);
    EXPECT_TRUE(json[1]["UNIT.CONVERT"].is_null());
    EXPECT_TRUE(contains(json[1]["error"], "value is missing"));
    EXPECT_EQ(lines(pullsheet({"batch", "UNIT.CONVERT", "-"}, lines_of).out), 2u);
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-", "--format", "xml"}, csv).code, wrong_use);
}

TEST(Batch, NothingOfAFieldIsLostInJson) {
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-", "--keep-others", "--json"},
                                    "plate,stamp,half,gap,value,from,to\n007,1790000000.12345,.5,,1,PS,W\n");
    EXPECT_TRUE(
        answer.out.starts_with(R"({"plate":"007","stamp":1790000000.12345,"half":0.5,"gap":null,"value":1,)"))
        << answer.out;
}

TEST(Batch, AnArrayInJsonIsARange) {
    const Answer answer = pullsheet({"batch", "ENGINE.POWER", "-"}, R"([{"torque":[100,200],"speed":5000}])");
    const auto json = nlohmann::json::parse(answer.out);
    ASSERT_EQ(json.size(), 2u) << answer.out << answer.error;
    EXPECT_EQ(json[1]["ENGINE.POWER [kW]"], 104.7197551);
    // The array is not written again: with every row, it would be as often as it is long.
    EXPECT_TRUE(json[1]["torque"].is_null());
    EXPECT_EQ(json[1]["speed"], 5000);
}

TEST(Batch, EveryElementOfARowIsAnswered) {
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-", "--format", "csv"},
                                    R"([{"value":[[1,2],[3,4]],"from":"PS","to":"W"}])");
    EXPECT_EQ(
        answer.out,
        "value,from,to,UNIT.CONVERT,error,warning\n,PS,W,735.49875,,\n,PS,W,1470.9975,,\n,PS,W,2206.49625,,\n"
        ",PS,W,2941.995,,\n")
        << answer.error;
}

std::string nested(std::size_t depth, const std::string& open, const std::string& close) {
    std::string text;
    for (std::size_t i = 0; i < depth; ++i) text += open;
    text += "1";
    for (std::size_t i = 0; i < depth; ++i) text += close;
    return text;
}

TEST(Batch, WhatIsNestedTooDeepFailsAlone) {
    const std::string good = R"({"value":1,"from":"PS","to":"W"})";
    for (const std::size_t depth : {17, 13000, 200000})
        for (const auto& [open, close] : {std::pair("[", "]"), std::pair("{\"a\":", "}")}) {
            const std::string bad = "{\"value\":" + nested(depth, open, close) + R"(,"from":"PS","to":"W"})";
            for (const bool is_array : {true, false}) {
                const std::string text = is_array ? "[" + good + "," + bad + "," + good + "]"
                                                  : bad + "\n" + good + "\n" + good + "\n";
                const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-", "--format", "csv"}, text);
                EXPECT_EQ(answer.code, some_failed);
                EXPECT_EQ(lines(answer.out), 4u) << answer.out;
                EXPECT_TRUE(contains(answer.out, ",PS,W,,UNIT.CONVERT: it is nested more than 16 deep,\n"))
                    << answer.out;
                EXPECT_TRUE(contains(answer.error, "1 of 3 rows failed")) << answer.error;
            }
        }
    // An object in an array is neither a column nor a table, whatever stands before or behind it.
    for (const char* value : {R"([{"x":1}])", R"([{"x":1},2])", R"([1,{"x":1}])", R"([[1],{"x":1}])",
                              R"([{"x":[1]},[1]])", R"([[{"x":1}],[1]])"}) {
        const std::string bad = std::string(R"({"value":)") + value + R"(,"from":"PS","to":"W"})";
        for (const char* between : {",", "\n"}) {
            const bool is_array = *between == ',';
            const Answer answer = pullsheet(
                {"batch", "UNIT.CONVERT", "-", "--format", "csv"},
                (is_array ? "[" : "") + good + between + bad + between + good + (is_array ? "]" : "\n"));
            EXPECT_EQ(answer.code, some_failed) << value;
            EXPECT_EQ(lines(answer.out), 4u) << answer.out;
            EXPECT_TRUE(contains(answer.error, "1 of 3 rows failed")) << answer.error;
        }
    }
    // A table is two deep.
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-"}, R"([{"value":[[1],[2]],"from":"PS","to":"W"}])").code,
              done);
}

TEST(Batch, ARowThatHoldsTooMuchFailsAlone) {
    const std::string good = R"({"value":1,"from":"PS","to":"W"})";
    std::string many = R"({"value":[1)";
    for (int i = 0; i < 1100000; ++i) many += ",1";
    many += R"(],"from":"PS","to":"W"})";
    // Few cells, but a table of a hundred thousand rows and columns.
    std::string ragged = R"({"value":[)";
    for (int i = 0; i < 100000; ++i) ragged += "[1],";
    ragged += "[1";
    for (int i = 0; i < 100000; ++i) ragged += ",1";
    ragged += R"(]],"from":"PS","to":"W"})";
    for (const std::string& bad : {many, ragged})
        for (const char* between : {",", "\n"}) {
            const bool is_array = *between == ',';
            const Answer answer = pullsheet(
                {"batch", "UNIT.CONVERT", "-", "--format", "csv"},
                (is_array ? "[" : "") + good + between + bad + between + good + (is_array ? "]" : "\n"));
            EXPECT_EQ(answer.code, some_failed);
            EXPECT_EQ(lines(answer.out), 4u);
            EXPECT_TRUE(contains(answer.error, "more than 1048576 values") ||
                        contains(answer.error, "a table of 100001 × 100001 cells"))
                << answer.error;
        }
    // A text that is not closed does not take all memory, and the rows before it stay.
    const Answer open = pullsheet({"batch", "UNIT.CONVERT", "-", "--format", "csv", "--input-format", "json"},
                                  "[" + good + ",{\"value\":\"" + std::string(std::size_t{20} << 20, 'x'));
    EXPECT_EQ(open.code, file_not_readable);
    EXPECT_TRUE(contains(open.error, "longer than 16 MiB")) << open.error;
    EXPECT_EQ(lines(open.out), 2u);
}

TEST(Batch, FailuresOfOneRowAreSaidInALine) {
    std::string row = R"([{"value":["x")";
    for (int i = 0; i < 500; ++i) row += R"(,"x")";
    const Answer answer =
        pullsheet({"batch", "UNIT.CONVERT", "-", "--format", "csv"}, row + R"(],"from":"PS","to":"W"}])");
    EXPECT_EQ(lines(answer.out), 502u);
    EXPECT_LT(answer.error.size(), 1000u) << answer.error;
    EXPECT_TRUE(contains(answer.error, "501 results of this row failed")) << answer.error;
}

TEST(Batch, BrokenJson) {
    const auto of = [](const std::string& text, const char* format = "json") {
        return pullsheet({"batch", "UNIT.CONVERT", "-", "--input-format", format}, text);
    };
    const std::string good = R"({"value":1,"from":"PS","to":"W"})";
    // Cut off: the good rows are answered, and the output is JSON still.
    const Answer cut = of("[" + good + ",\n{\"value\":2,\"fr");
    EXPECT_EQ(cut.code, file_not_readable);
    EXPECT_EQ(nlohmann::json::parse(cut.out).size(), 1u);
    EXPECT_TRUE(contains(cut.error, "line 2, column 15")) << cut.error;
    EXPECT_TRUE(contains(cut.error, "cut off")) << cut.error;
    EXPECT_EQ(of("[" + good).code, file_not_readable);
    // A broken line of JSON Lines fails alone.
    const Answer line = of(good + "\n{\"value\":\n" + good + "\n", "jsonl");
    EXPECT_EQ(line.code, some_failed);
    EXPECT_EQ(lines(line.out), 3u);
    EXPECT_TRUE(contains(line.error, "line 2: UNIT.CONVERT: this line is not JSON, column ")) << line.error;
    EXPECT_TRUE(
        contains(of(good + "\n{\"value\":1,\"from\":\"PS\",\"to\":\"W\",\"to\":\"kW\"}", "jsonl").error,
                 "the key \"to\" occurs twice"));
    EXPECT_TRUE(contains(of("[" + good + ",{\"valeu\":1}]").error, "\"valeu\" is not in the first object"));
    EXPECT_TRUE(contains(of("[" + good + ",7]").error, "not an object"));
    EXPECT_TRUE(contains(of("[" + good + ",[7]]").error, "not an object"));
    EXPECT_TRUE(contains(of("[" + good + ",{\"value\":{\"x\":1}}]").error, "is an object"));
    EXPECT_TRUE(contains(of("[{\"value\":1,\"value\":2}]").error, "occurs twice"));
    EXPECT_EQ(of("").code, wrong_use);
    EXPECT_EQ(of("[]").code, wrong_use);
    EXPECT_EQ(of("[{}]").code, file_not_readable);
    EXPECT_EQ(of("7").code, file_not_readable);
    EXPECT_EQ(of("[" + good + "] x").code, file_not_readable);
}

TEST(Batch, ALineOfJsonWithANumberTooLargeIsOneFailedRow) {
    const std::string good = "{\"value\":1,\"from\":\"PS\",\"to\":\"W\"}\n";
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-"},
                                    good + "{\"value\":1e999,\"from\":\"PS\",\"to\":\"W\"}\n" + good);
    EXPECT_EQ(answer.code, some_failed);
    EXPECT_EQ(lines(answer.out), 3u) << answer.out;
    EXPECT_TRUE(contains(answer.error, "line 2: UNIT.CONVERT: this line cannot be read: ")) << answer.error;
}

TEST(Batch, Encodings) {
    const std::string latin = "value;from;to;note\r\n1,5;PS;W;h\xE4lt\r\n2;PS;W;gut\r\n";
    const Answer refused = pullsheet({"batch", "UNIT.CONVERT", "-", "--keep-others"}, latin);
    EXPECT_EQ(refused.code, some_failed);
    EXPECT_TRUE(contains(refused.error, "line 2: UNIT.CONVERT: column 4 (note): these bytes are not UTF-8"))
        << refused.error;
    EXPECT_TRUE(contains(refused.out, "2;PS;W;gut;1470.9975;;\n")) << refused.out;
    for (const char* encoding : {"latin-1", "windows-1252"}) {
        const Answer read =
            pullsheet({"batch", "UNIT.CONVERT", "-", "--keep-others", "--encoding", encoding}, latin);
        EXPECT_EQ(read.code, done) << read.error;
        EXPECT_TRUE(contains(read.out, "1,5;PS;W;hält;1103.248125;;\n")) << read.out;
    }
    // The sign of degrees in a title.
    const std::string title =
        "temperature [\xB0"
        "F],pressure,humidity\n68,101.325,0\n";
    const Answer no = pullsheet({"batch", "AIR.DENSITY", "-"}, title);
    EXPECT_EQ(no.code, file_not_readable);
    EXPECT_TRUE(contains(no.error, "line 1, column 1: these bytes are not UTF-8")) << no.error;
    EXPECT_EQ(pullsheet({"batch", "AIR.DENSITY", "-", "--encoding", "windows-1252"}, title).code, done);
    EXPECT_TRUE(contains(pullsheet({"batch", "UNIT.CONVERT", "-"}, std::string("\xFF\xFEv\0a\0", 6)).error,
                         "UTF-16"));
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-"}, "\xEF\xBB\xBFvalue,from,to\r\n1,PS,W\r\n").out,
              "value,from,to,UNIT.CONVERT,error,warning\n1,PS,W,735.49875,,\n");
}

TEST(Batch, AQuotationMarkThatIsNeverClosedDoesNotTakeAllMemory) {
    std::string text = "value,from,to\n1,PS,W\n2,\"PS,W\n";
    text.append(std::size_t{20} << 20, 'x');
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-"}, text);
    EXPECT_EQ(answer.code, file_not_readable);
    EXPECT_TRUE(contains(answer.error, "line 3, column 2: the row that begins here is longer than 16 MiB"))
        << answer.error;
    EXPECT_TRUE(contains(answer.out, "1,PS,W,735.49875,,\n"));
}

TEST(Batch, TheInputIsNeverWritten) {
    const Folder folder;
    const std::string csv = folder.file("a.csv", "value,from,to\n1,PS,W\n");
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", csv, "--output", csv});
    EXPECT_EQ(answer.code, wrong_use);
    EXPECT_EQ(lines(pullsheet({"batch", "UNIT.CONVERT", csv}).out), 2u);
    // A wrong use leaves a file that is there as it is.
    const std::string old = folder.file("old.csv", "kept\n");
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-", "--output", old}, "valeu\n").code, wrong_use);
    std::stringstream text;
    text << std::ifstream(old).rdbuf();
    EXPECT_EQ(text.str(), "kept\n");
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", csv, "--output", folder.path("none/x.csv")}).code,
              file_not_readable);
}

std::string content(const std::string& path) {
    std::stringstream text;
    text << std::ifstream(path).rdbuf();
    return text.str();
}

std::size_t files_beside(const std::string& path) {
    const auto folder = std::filesystem::path(path).parent_path();
    return static_cast<std::size_t>(
        std::distance(std::filesystem::directory_iterator(folder), std::filesystem::directory_iterator()));
}

TEST(Batch, NoFileThatIsReadIsWritten) {
    const Folder folder;
    const std::string block = folder.file("blk.csv", "ethanol share,0.1\n");
    const std::string input = "fuel,air_fuel_ratio\n0,14\n@" + block + ",14\n";
    // In --set, and in a row that comes late.
    const Answer set = pullsheet({"batch", "FUEL.LAMBDA", "-", "--set", "fuel=@" + block, "--output", block},
                                 "air_fuel_ratio\n14\n");
    EXPECT_EQ(set.code, wrong_use) << set.error;
    EXPECT_TRUE(contains(set.error, "blk.csv is the input and the output, too")) << set.error;
    const Answer row = pullsheet({"batch", "FUEL.LAMBDA", "-", "--output", block}, input);
    EXPECT_EQ(row.code, wrong_use) << row.error;
    EXPECT_EQ(content(block), "ethanol share,0.1\n");
    // By another name.
    std::filesystem::create_symlink(block, folder.path("link.csv"));
    for (const char* more : {"--quiet", "--append"})
        EXPECT_EQ(
            pullsheet({"batch", "FUEL.LAMBDA", "-", "--output", folder.path("link.csv"), more}, input).code,
            wrong_use);
    EXPECT_EQ(content(block), "ethanol share,0.1\n");
    EXPECT_EQ(files_beside(block), 2u);
    EXPECT_EQ(pullsheet({"batch", "FUEL.LAMBDA", "-", "--output", folder.path("new.csv")}, input).code, done);
}

TEST(Batch, TheOutputTakesItsNameWhenItIsWhole) {
    const Folder folder;
    const std::string out = folder.file("out.csv", "kept\n");
    std::filesystem::permissions(out, std::filesystem::perms(0640));
    std::filesystem::create_symlink("out.csv", folder.path("link.csv"));
    const std::string rows = "value,from,to\n1,PS,W\n";
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-", "--output", folder.path("link.csv")}, rows).code,
              done);
    EXPECT_EQ(content(out), "value,from,to,UNIT.CONVERT,error,warning\n1,PS,W,735.49875,,\n");
    EXPECT_TRUE(std::filesystem::is_symlink(folder.path("link.csv")));
    EXPECT_EQ(std::filesystem::status(out).permissions(), std::filesystem::perms(0640));
    EXPECT_EQ(files_beside(out), 2u);
}

TEST(Batch, RowsAreAddedOnRequest) {
    const Folder folder;
    const std::string out = folder.path("out.csv");
    const auto add = [&](const std::string& rows, const std::string& to) {
        return pullsheet({"batch", "UNIT.CONVERT", "-", "--output", to, "--append"},
                         "value,from,to\n" + rows);
    };
    const std::string titles = "value,from,to,UNIT.CONVERT,error,warning\n";
    EXPECT_EQ(add("1,PS,W\n", out).code, done);
    EXPECT_EQ(add("2,PS,W\n", out).code, done);
    EXPECT_EQ(content(out), titles + "1,PS,W,735.49875,,\n2,PS,W,1470.9975,,\n");
    // A row that was cut off does not swallow the next.
    std::ofstream(out, std::ios::app) << "3,PS";
    EXPECT_EQ(add("4,PS,W\n", out).code, done);
    EXPECT_TRUE(content(out).ends_with("\n3,PS\n4,PS,W,2941.995,,\n")) << content(out);
    const std::string other = folder.file("other.csv", "a,b\n1,2\n");
    const Answer refused = add("1,PS,W\n", other);
    EXPECT_EQ(refused.code, wrong_use);
    EXPECT_TRUE(contains(refused.error, "begins with other columns")) << refused.error;
    EXPECT_EQ(content(other), "a,b\n1,2\n");
    EXPECT_EQ(add("1,PS,W\n", folder.path("out.json")).code, wrong_use);
    EXPECT_EQ(add("1,PS,W\n", folder.path("out.jsonl")).code, done);
    EXPECT_EQ(add("1,PS,W\n", folder.path("out.jsonl")).code, done);
    EXPECT_EQ(lines(content(folder.path("out.jsonl"))), 2u);
    EXPECT_EQ(pullsheet({"batch", "UNIT.CONVERT", "-", "--append"}, "value,from,to\n1,PS,W\n").code,
              wrong_use);
}

TEST(Batch, ManyRowsStream) {
    std::string input = "value,from,to\n";
    constexpr int count = 50000;
    for (int i = 0; i < count; ++i) input += std::to_string(i) + ",PS,W\n";
    const Answer answer = pullsheet({"batch", "UNIT.CONVERT", "-"}, input);
    EXPECT_EQ(answer.code, done);
    EXPECT_EQ(lines(answer.out), static_cast<std::size_t>(count) + 1);
    EXPECT_TRUE(contains(answer.out, "\n10000,PS,W,7354987.5,,\n"));
    EXPECT_TRUE(answer.out.ends_with("\n49999,PS,W,36774202,,\n"))
        << answer.out.substr(answer.out.size() - 60);
}

}  // namespace
}  // namespace pullsheet::harness::test
