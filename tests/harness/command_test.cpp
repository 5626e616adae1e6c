// SPDX-License-Identifier: Apache-2.0
// The built command, run as a shell runs it.
#include <gtest/gtest.h>
#include <sys/wait.h>

#include <chrono>
#include <cstdlib>

#include "tests/harness/run.hpp"

namespace pullsheet::harness::test {
namespace {

/// Runs the command with `words` as a shell would read them, between `before` and `after`.
Answer command(const std::string& words, const std::string& before = {}, const std::string& after = {}) {
    const Folder folder;
    const std::string out = folder.path("out");
    const std::string error = folder.path("error");
    const std::string line =
        before + " '" PULLSHEET_COMMAND "' " + words + " >'" + out + "' 2>'" + error + "'" + after;
    const int status = std::system(line.c_str());
    const auto content = [](const std::string& path) {
        std::stringstream text;
        text << std::ifstream(path).rdbuf();
        return text.str();
    };
    return {WIFEXITED(status) ? WEXITSTATUS(status) : -1, content(out), content(error)};
}

TEST(Command, ExitCodes) {
    EXPECT_EQ(command("eval UNIT.CONVERT 750 PS kW").code, 0);
    EXPECT_EQ(command("eval ENGINE.POWER @- 5000", "printf '100\\nx\\n' |").code, 1);
    EXPECT_EQ(command("eval UNIT.CONVERT 750 PS bar").code, 2);
    EXPECT_EQ(command("").code, 2);
    EXPECT_EQ(command("nonsense").code, 2);
    EXPECT_EQ(command("eval").code, 2);
    EXPECT_EQ(command("list NOTHING").code, 2);
    EXPECT_EQ(command("batch UNIT.CONVERT /does/not/exist.csv").code, 3);
    EXPECT_EQ(command("--help").code, 0);
    EXPECT_EQ(command("--version").code, 0);
    EXPECT_EQ(command("verify").code, 0);
}

TEST(Command, DataAndTheRestAreKeptApart) {
    const Answer good = command("eval UNIT.CONVERT -- -40 °F °C");
    EXPECT_EQ(good.out, "-40\n");
    EXPECT_EQ(good.error, "");
    const Answer bad = command("eval UNIT.CONVERT 1 PS bar");
    EXPECT_EQ(bad.out, "");
    EXPECT_EQ(lines(bad.error), 1u);
    EXPECT_EQ(lines(command("nonsense").out), 0u);
}

TEST(Command, ReadsStandardInput) {
    const Answer answer = command("batch UNIT.CONVERT -", "printf 'value,from,to\\n750,PS,kW\\n' |");
    EXPECT_EQ(answer.code, 0);
    EXPECT_EQ(answer.out, "value,from,to,UNIT.CONVERT,error,warning\n750,PS,kW,551.6240625,,\n");
}

TEST(Command, IsIndependentOfTheLocale) {
    EXPECT_EQ(command("eval UNIT.CONVERT 750 PS kW", "LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8").out,
              "551.6240625\n");
}

TEST(Command, ListsAndShows) {
    EXPECT_GT(lines(command("list").out), 5u);
    EXPECT_TRUE(contains(command("show UNIT.CONVERT").out, "NIST Special Publication 811"));
}

TEST(Command, AFullDiskIsReported) {
    const Answer answer = command("verify --csv", {}, " >/dev/full");
    EXPECT_EQ(answer.code, 3);
    EXPECT_TRUE(contains(answer.error, "cannot be written")) << answer.error;
}

}  // namespace
}  // namespace pullsheet::harness::test
