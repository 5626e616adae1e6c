// SPDX-License-Identifier: Apache-2.0
#include "harness/batch.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

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
    EXPECT_TRUE(contains(answer.error, "\"valeu\" is no parameter; did you mean \"value\"?")) << answer.error;
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
