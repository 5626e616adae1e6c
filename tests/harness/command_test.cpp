// SPDX-License-Identifier: Apache-2.0
// The built command, run as a shell runs it.
#include <fcntl.h>
#include <gtest/gtest.h>
#include <pty.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <system_error>

#include "tests/harness/run.hpp"
#include "tests/watched.hpp"

namespace pullsheet::harness::test {
namespace {

/// A word that a shell takes as it is.
std::string quoted(const std::string& word) {
    std::string text = "'";
    for (const char letter : word) text += letter == '\'' ? std::string("'\\''") : std::string(1, letter);
    return text + "'";
}

/// The exit status of a script of bash. The command is "$PULLSHEET" there, and the folder "$FOLDER".
int script(const std::string& text, const Folder& folder) {
    const std::string names =
        "PULLSHEET=" + quoted(PULLSHEET_COMMAND) + " FOLDER=" + quoted(folder.path("")) + " ";
    return std::system((names + "bash -c " + quoted(text)).c_str());
}

/// Runs the command with `words` as a shell would read them, between `before` and `after`.
Answer command(const std::string& words, const std::string& before = {}, const std::string& after = {}) {
    const Folder folder;
    const std::string out = folder.path("out");
    const std::string error = folder.path("error");
    // Whatever the language of the machine; `before` may say another.
    const std::string line = "unset LC_ALL LC_MESSAGES LANG; " + before + " " + quoted(PULLSHEET_COMMAND) +
                             " " + words + " >" + quoted(out) + " 2>" + quoted(error) + after;
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

TEST(Command, SpeaksTheLanguageOfTheEnvironment) {
    const auto list = [](const std::string& environment) { return command("list UNIT", environment).out; };
    const std::string german = "in einer anderen Einheit";
    EXPECT_FALSE(contains(list(""), german));
    EXPECT_TRUE(contains(list("LANG=de_DE.UTF-8"), german));
    EXPECT_TRUE(contains(list("LANG=en_GB.UTF-8 LC_MESSAGES=de_AT.UTF-8"), german));
    EXPECT_FALSE(contains(list("LC_ALL=C.UTF-8 LANG=de_DE.UTF-8"), german));
    EXPECT_TRUE(contains(list("LC_ALL= LANG=de_DE.UTF-8"), german));
    EXPECT_FALSE(contains(command("--language en list UNIT", "LANG=de_DE.UTF-8").out, german));
}

TEST(Command, ListsAndShows) {
    EXPECT_GT(lines(command("list").out), 5u);
    EXPECT_TRUE(contains(command("show UNIT.CONVERT").out, "NIST Special Publication 811"));
}

TEST(Command, AFullDiskIsReported) {
    const Answer answer = command("verify --csv", {}, " >/dev/full");
    EXPECT_EQ(answer.code, 3);
    EXPECT_TRUE(contains(answer.error, "cannot be written")) << answer.error;
    const Answer rows =
        command("batch UNIT.CONVERT -", "printf 'value,from,to\\n750,PS,kW\\n' |", " >/dev/full");
    EXPECT_EQ(rows.code, 3);
    EXPECT_TRUE(contains(rows.error, "cannot be written: No space left on device")) << rows.error;
    const Answer named =
        command("batch UNIT.CONVERT - --output /dev/full", "printf 'value,from,to\\n750,PS,kW\\n' |");
    EXPECT_EQ(named.code, 3);
    EXPECT_TRUE(contains(named.error, "/dev/full cannot be written")) << named.error;
}

/// Rows of torque and speed, a few megabytes of them.
std::string many_rows(std::size_t count) {
    std::string text = "torque,speed\n";
    for (std::size_t i = 0; i < count; ++i)
        text += std::to_string(100 + i % 700) + ".25," + std::to_string(1000 + i % 7000) + "\n";
    return text;
}

// A file many times larger than the memory allowed.
TEST(Command, AFileLargerThanMemoryStreams) {
    if (tests::is_watched) GTEST_SKIP() << "a build that is watched takes more memory than is allowed here";
    constexpr std::size_t count = 2500000;
    const Folder folder;
    const std::string csv = folder.file("a.csv", many_rows(count));
    ASSERT_GT(std::filesystem::file_size(csv), 20000u * 1024u);
    const std::string limit = "ulimit -v 20000; ";
    const std::string check = " | tail -n 1 >\"$FOLDER/last\"";
    // The file, then standard input as JSON Lines and as one array.
    const auto last = [&] {
        std::stringstream text;
        text << std::ifstream(folder.path("last")).rdbuf();
        return text.str();
    };
    const auto shell = [&](const std::string& words) {
        return script("set -o pipefail; " + limit + words + check, folder);
    };
    ASSERT_EQ(shell("\"$PULLSHEET\" batch ENGINE.POWER \"$FOLDER/a.csv\""), 0);
    EXPECT_EQ(last(), "399.25,1999,83.5769151,,\n");
    ASSERT_EQ(shell("head -n 300001 \"$FOLDER/a.csv\" | \"$PULLSHEET\" batch ENGINE.POWER - --format json | "
                    "\"$PULLSHEET\" batch ENGINE.POWER - --keep-others --format csv"),
              0);
    EXPECT_TRUE(last().starts_with("499.25,6999,")) << last();
}

/// Skipped where the machine gives a program no terminal (a container without /dev/pts).
class CommandOnTerminal : public testing::Test {
    void SetUp() override {
        int terminal = -1;
        int other = -1;
        if (openpty(&terminal, &other, nullptr, nullptr, nullptr) != 0)
            GTEST_SKIP() << "this machine has no terminal for a program (/dev/ptmx, /dev/pts): "
                         << std::strerror(errno);
        close(terminal);
        close(other);
    }
};

/// What the command writes to standard error when that is a terminal.
std::string on_terminal(std::vector<std::string> words, const std::string& out, int signal, int& code) {
    int terminal = -1;
    const pid_t child = forkpty(&terminal, nullptr, nullptr, nullptr);
    if (child < 0) throw std::system_error(errno, std::generic_category(), "no terminal");
    if (child == 0) {
        const int file = open(out.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
        dup2(file, STDOUT_FILENO);
        words.insert(words.begin(), PULLSHEET_COMMAND);
        std::vector<char*> arguments;
        for (std::string& word : words) arguments.push_back(word.data());
        arguments.push_back(nullptr);
        execv(arguments[0], arguments.data());
        _exit(127);
    }
    std::string text;
    char buffer[4096];
    bool sent = false;
    for (ssize_t size; (size = read(terminal, buffer, sizeof buffer)) > 0;) {
        text.append(buffer, static_cast<std::size_t>(size));
        // Ctrl-C as soon as rows are under way.
        if (signal != 0 && !sent) sent = kill(child, signal) == 0;
    }
    int status = 0;
    waitpid(child, &status, 0);
    close(terminal);
    code = WIFEXITED(status) ? WEXITSTATUS(status) : -1;
    return text;
}

TEST_F(CommandOnTerminal, ProgressIsShownOnATerminalOnly) {
    const Folder folder;
    const std::string csv = folder.file("a.csv", many_rows(500000));
    int code = -1;
    const std::string shown = on_terminal({"batch", "ENGINE.POWER", csv}, folder.path("out"), 0, code);
    EXPECT_EQ(code, 0);
    EXPECT_TRUE(contains(shown, "rows/s")) << shown;
    EXPECT_TRUE(contains(shown, " % ")) << shown;
    EXPECT_TRUE(contains(shown, " left")) << shown;
    EXPECT_TRUE(shown.ends_with("\r\x1b[K")) << "the line is gone at the end";
    EXPECT_EQ(on_terminal({"batch", "ENGINE.POWER", csv, "--quiet"}, folder.path("out"), 0, code), "");
    EXPECT_EQ(command("batch ENGINE.POWER " + quoted(csv)).error, "");
}

TEST_F(CommandOnTerminal, CtrlCLeavesWholeRows) {
    const Folder folder;
    const std::string csv = folder.file("a.csv", many_rows(3000000));
    for (const char* format : {"csv", "json"}) {
        int code = -1;
        const std::string shown =
            on_terminal({"batch", "ENGINE.POWER", csv, "--format", format}, folder.path("out"), SIGINT, code);
        EXPECT_EQ(code, 128 + SIGINT);
        EXPECT_TRUE(contains(shown, "interrupted after ")) << shown;
        std::stringstream text;
        text << std::ifstream(folder.path("out")).rdbuf();
        const std::string written = text.str();
        ASSERT_FALSE(written.empty());
        EXPECT_LT(lines(written), 3000000u);
        EXPECT_TRUE(written.ends_with(format == std::string("csv") ? ",,\n" : "\"warning\":\"\"}\n]\n"))
            << written.substr(written.size() - 80);
    }
}

TEST_F(CommandOnTerminal, CtrlCLeavesTheOldOutput) {
    const Folder folder;
    const std::string csv = folder.file("a.csv", many_rows(3000000));
    const std::string out = folder.file("out.csv", "old\n");
    int code = -1;
    const std::string shown =
        on_terminal({"batch", "ENGINE.POWER", csv, "--output", out}, folder.path("log"), SIGINT, code);
    EXPECT_EQ(code, 128 + SIGINT);
    EXPECT_TRUE(contains(shown, "out.csv is as it was")) << shown;
    std::stringstream text;
    text << std::ifstream(out).rdbuf();
    EXPECT_EQ(text.str(), "old\n");
    // What was computed stands beside it, in whole rows.
    std::size_t kept = 0;
    for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(out).parent_path())) {
        if (entry.path().extension() != ".partial") continue;
        ++kept;
        std::stringstream rows;
        rows << std::ifstream(entry.path()).rdbuf();
        EXPECT_TRUE(rows.str().starts_with("torque,speed,")) << rows.str().substr(0, 80);
        EXPECT_TRUE(rows.str().ends_with(",,\n"));
        EXPECT_TRUE(contains(shown, entry.path().filename().string())) << shown;
    }
    EXPECT_EQ(kept, 1u);
}

// A row of many samples: neither the memory nor the output grows with their square.
TEST(Command, ALongArrayIsNotWrittenInEveryRow) {
    if (tests::is_watched) GTEST_SKIP() << "a build that is watched takes more memory than is allowed here";
    const Folder folder;
    std::string text = "[{\"values\":[0";
    for (int i = 1; i < 10000; ++i) text += "," + std::to_string(i) + ".25";
    folder.file("a.json", text + "],\"window\":5}]");
    ASSERT_EQ(script("ulimit -v 60000; \"$PULLSHEET\" batch PULL.SMOOTH \"$FOLDER/a.json\" >\"$FOLDER/out\"",
                     folder),
              0);
    EXPECT_LT(std::filesystem::file_size(folder.path("out")), 10000u * 100u);
}

// A row that does not fit into the memory has its sentence; the rows before and after it are computed.
TEST(Command, ARowThatNeedsMoreMemoryThanThereIsDoesNotEndTheRun) {
    if (tests::is_watched) GTEST_SKIP() << "a build that is watched takes more memory than is allowed here";
    const Folder folder;
    std::string large = "{\"values\":[0";
    for (int i = 1; i < 1000000; ++i) large += "," + std::to_string(i % 7);
    large += "],\"window\":5}";
    const std::string small = "{\"values\":[1,2,4,8,16],\"window\":3}";
    folder.file("a.jsonl", small + "\n" + large + "\n" + small + "\n");
    folder.file("a.json", "[" + small + ",\n" + large + ",\n" + small + "]");
    for (const std::string file : {"a.jsonl", "a.json"})
        for (const int kilobytes : {30000, 40000, 50000, 60000, 70000, 80000, 90000, 100000}) {
            const int status = script("ulimit -v " + std::to_string(kilobytes) +
                                          "; \"$PULLSHEET\" batch PULL.SMOOTH \"$FOLDER/" + file +
                                          "\" >\"$FOLDER/out\" 2>\"$FOLDER/error\"",
                                      folder);
            std::stringstream out, error;
            out << std::ifstream(folder.path("out")).rdbuf();
            error << std::ifstream(folder.path("error")).rdbuf();
            EXPECT_EQ(WIFEXITED(status) ? WEXITSTATUS(status) : -1, 1) << file << ' ' << kilobytes;
            // The five lines of the result, before and after the row that failed.
            const auto failed = out.str().find(
                "{\"values\":null,\"window\":5,\"value\":null,\"error\":\"PULL.SMOOTH: the row needs");
            ASSERT_NE(failed, std::string::npos) << file << ' ' << kilobytes << ' ' << out.str();
            EXPECT_EQ(lines(out.str().substr(0, failed)), file == "a.json" ? 6u : 5u) << out.str();
            EXPECT_EQ(lines(out.str().substr(failed)), file == "a.json" ? 7u : 6u) << out.str();
            EXPECT_TRUE(contains(error.str(), "the row needs more memory than there is")) << error.str();
        }
    // A table for one call.
    folder.file("t.json", large.substr(10, large.size() - 10 - 12));
    for (const int kilobytes : {30000, 50000, 70000, 90000}) {
        const int status = script("ulimit -v " + std::to_string(kilobytes) +
                                      "; \"$PULLSHEET\" eval PULL.SMOOTH \"@$FOLDER/t.json\" 5 >/dev/null "
                                      "2>\"$FOLDER/error\"",
                                  folder);
        std::stringstream error;
        error << std::ifstream(folder.path("error")).rdbuf();
        EXPECT_EQ(WIFEXITED(status) ? WEXITSTATUS(status) : -1, 3) << kilobytes;
        EXPECT_EQ(error.str(), "this needs more memory than there is\n");
    }
}

TEST(Command, RowsComeOutAsTheyComeIn) {
    const Folder folder;
    // The second row is sent only when the answer to the first is there.
    ASSERT_EQ(script("(echo value,from,to; echo 1,PS,W; for i in $(seq 100); do "
                     "grep -q 735.49875 \"$FOLDER/out\" && echo 2,PS,W && break; sleep 0.1; done) | "
                     "\"$PULLSHEET\" batch UNIT.CONVERT - >\"$FOLDER/out\"",
                     folder),
              0);
    std::stringstream text;
    text << std::ifstream(folder.path("out")).rdbuf();
    EXPECT_TRUE(contains(text.str(), "2,PS,W,1470.9975,,\n")) << text.str();
}

TEST(Command, WithoutTheOfficeASheetIsRefusedInASentence) {
    const Answer answer = command("sheet none.ods", "PULLSHEET_OFFICE=/does/not/exist");
    EXPECT_EQ(answer.code, 3);
    EXPECT_EQ(lines(answer.error), 1u) << answer.error;
    EXPECT_EQ(command("sheet").code, 2);
    EXPECT_EQ(command("sheet a.ods --sheet A --range B").code, 2);
}

}  // namespace
}  // namespace pullsheet::harness::test
