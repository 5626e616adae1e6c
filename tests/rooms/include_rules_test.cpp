// SPDX-License-Identifier: Apache-2.0
// Which room may know which: read from the include lines of the sources themselves.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "tests/pattern.hpp"

namespace {

namespace fs = std::filesystem;

const fs::path root = PULLSHEET_SOURCE_DIR;

const std::set<std::string> basic = {"statistics", "air", "fuel"};
const std::set<std::string> middle = {"engine", "injection", "boost", "cycle", "dyno", "road"};

struct Include {
    std::string file;    ///< relative to the root
    std::string target;  ///< as written
    bool is_ours;        ///< written in quotation marks
};

std::vector<Include> includes_in(const fs::path& text_file) {
    static const pullsheet::tests::Pattern line_pattern(
        R"re(^[ \t]*#[ \t]*include[ \t]*(["<])([^">]+)[">])re");
    std::vector<Include> result;
    std::ifstream in(text_file);
    for (std::string line; std::getline(in, line);) {
        if (const auto match = line_pattern.find(line); !match.empty())
            result.push_back({fs::relative(text_file, root).generic_string(), match[2], match[1] == "\""});
    }
    return result;
}

bool is_source(const fs::path& path) {
    return path.extension() == ".cpp" || path.extension() == ".hpp";
}

std::vector<Include> includes_below(const std::string& folder) {
    std::vector<Include> result;
    if (!fs::exists(root / folder)) return result;
    for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
        if (!entry.is_regular_file() || !is_source(entry.path())) continue;
        const auto more = includes_in(entry.path());
        result.insert(result.end(), more.begin(), more.end());
    }
    return result;
}

// "core/air/moist_air.hpp" → "air"; "core/error.hpp", which all may use, → "".
std::string room_of(const std::string& target) {
    if (!target.starts_with("core/")) return {};
    const auto slash = target.find('/', 5);
    return slash == std::string::npos ? std::string() : target.substr(5, slash - 5);
}

std::vector<std::string> rooms() {
    std::vector<std::string> result;
    for (const auto& entry : fs::directory_iterator(root / "core"))
        if (entry.is_directory()) result.push_back(entry.path().filename().string());
    std::sort(result.begin(), result.end());
    return result;
}

bool may_include(const std::string& room, const std::string& other) {
    if (other.empty() || other == room) return true;
    if (room == "catalogue") return true;
    if (other == "catalogue") return false;
    if (basic.contains(room)) return basic.contains(other);
    if (middle.contains(room)) return basic.contains(other) || middle.contains(other);
    return room == "plan";
}

TEST(Rooms, AreTheOnesOfTheDesign) {
    std::set<std::string> known = {"plan", "catalogue"};
    known.insert(basic.begin(), basic.end());
    known.insert(middle.begin(), middle.end());
    ASSERT_FALSE(rooms().empty());
    for (const auto& room : rooms())
        EXPECT_TRUE(known.contains(room)) << "core/" << room << " is no room of the design";
}

TEST(Rooms, IncludeOnlyWhatStandsToTheirLeft) {
    std::size_t seen = 0;
    for (const auto& room : rooms())
        for (const Include& include : includes_below("core/" + room)) {
            ++seen;
            EXPECT_TRUE(may_include(room, room_of(include.target)))
                << include.file << " includes " << include.target;
        }
    EXPECT_GT(seen, 20u);
}

TEST(Rooms, TheRuleItselfRefuses) {
    EXPECT_FALSE(may_include("air", "engine"));
    EXPECT_FALSE(may_include("engine", "catalogue"));
    EXPECT_FALSE(may_include("road", "plan"));
    EXPECT_TRUE(may_include("plan", "road"));
    EXPECT_TRUE(may_include("engine", "fuel"));
}

// Two rooms of the middle that include each other would be one room.
TEST(Rooms, OfTheMiddleDoNotIncludeEachOtherInACircle) {
    std::map<std::string, std::set<std::string>> knows;
    for (const auto& room : rooms())
        for (const Include& include : includes_below("core/" + room))
            if (const auto other = room_of(include.target); !other.empty() && other != room)
                knows[room].insert(other);
    std::set<std::string> settled;
    for (bool moved = true; moved;) {
        moved = false;
        for (const auto& room : rooms())
            if (!settled.contains(room) &&
                std::includes(settled.begin(), settled.end(), knows[room].begin(), knows[room].end()))
                moved = settled.insert(room).second;
    }
    for (const auto& room : rooms())
        EXPECT_TRUE(settled.contains(room)) << "core/" << room << " stands in a circle";
}

TEST(Rooms, WriteTheirIncludesFromTheRoot) {
    for (const char* folder : {"core", "harness", "addin", "tests"})
        for (const Include& include : includes_below(folder)) {
            if (!include.is_ours) continue;
            EXPECT_EQ(include.target.find(".."), std::string::npos)
                << include.file << " includes " << include.target;
            if (std::string(folder) == "core") {
                EXPECT_TRUE(include.target.starts_with("core/"))
                    << include.file << " includes " << include.target;
                EXPECT_TRUE(fs::exists(root / include.target))
                    << include.file << " includes " << include.target;
            }
        }
}

// The maths knows no spreadsheet, no command line and no text.
TEST(Rooms, KeepTextAndFilesOutOfTheMaths) {
    const std::set<std::string> refused = {"iostream", "fstream", "sstream", "cstdio", "filesystem",
                                           "chrono",   "random",  "regex",   "ctime"};
    for (const auto& room : rooms()) {
        if (room == "catalogue") continue;
        for (const Include& include : includes_below("core/" + room)) {
            EXPECT_FALSE(refused.contains(include.target)) << include.file << " includes " << include.target;
            EXPECT_FALSE(include.target.starts_with("fmt/"))
                << include.file << " includes " << include.target;
            EXPECT_FALSE(include.target.starts_with("nlohmann/"))
                << include.file << " includes " << include.target;
            EXPECT_FALSE(include.target.starts_with("com/sun/star"))
                << include.file << " includes " << include.target;
        }
    }
}

TEST(Rooms, TheHostsKnowTheCatalogueOnly) {
    for (const char* folder : {"addin", "harness"})
        for (const Include& include : includes_below(folder)) {
            const auto room = room_of(include.target);
            EXPECT_TRUE(room.empty() || room == "catalogue")
                << include.file << " includes " << include.target;
        }
}

// What knows the office and is needed by both stands in addin/office, which knows neither.
TEST(Rooms, TheHostsMeetInOneRoomOfTheOffice) {
    std::size_t seen = 0;
    for (const Include& include : includes_below("harness")) {
        const bool is_of_addin = include.target.starts_with("addin/");
        seen += is_of_addin ? 1 : 0;
        EXPECT_TRUE(!is_of_addin || (include.target.starts_with("addin/office/") &&
                                     include.file.starts_with("harness/sheet/")))
            << include.file << " includes " << include.target;
    }
    EXPECT_GT(seen, 0u);
    for (const Include& include : includes_below("addin")) {
        EXPECT_FALSE(include.target.starts_with("harness/"))
            << include.file << " includes " << include.target;
        const bool is_shared = include.file.starts_with("addin/office/") && include.is_ours;
        EXPECT_TRUE(!is_shared || include.target.starts_with("addin/office/"))
            << include.file << " includes " << include.target;
    }
}

TEST(Sources, SayTheirLicenceInTheFirstLine) {
    for (const char* folder : {"core", "harness", "addin", "tests"}) {
        if (!fs::exists(root / folder)) continue;
        for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
            if (!entry.is_regular_file() || !is_source(entry.path())) continue;
            std::ifstream in(entry.path());
            std::string line;
            std::getline(in, line);
            EXPECT_EQ(line, "// SPDX-License-Identifier: Apache-2.0") << entry.path();
        }
    }
}

// A suite that is named for a source says what kind of evidence it holds: DEVELOPERS.md, Adding a function.
TEST(Sources, SuitesOfASourceSayTheirKindOfEvidence) {
    static const pullsheet::tests::Pattern suite_pattern(R"re(^TEST\((\w+),)re");
    static const pullsheet::tests::Pattern year_pattern(R"re([0-9]{4})re");
    std::map<std::string, int> tests;
    for (const auto& entry : fs::recursive_directory_iterator(root / "tests")) {
        if (!entry.is_regular_file() || !is_source(entry.path())) continue;
        std::ifstream in(entry.path());
        for (std::string line; std::getline(in, line);) {
            const auto match = suite_pattern.find(line);
            if (match.empty()) continue;
            const std::string suite = match[1];
            std::string kind;
            for (const char* ending : {"PrintedFromMemory", "Printed", "Independent", "Identities"})
                if (kind.empty() && suite.ends_with(ending)) kind = ending;
            if (kind.empty())
                EXPECT_TRUE(year_pattern.find(suite).empty()) << entry.path() << ": " << suite;
            else
                ++tests[kind];
        }
    }
    for (const char* kind : {"Printed", "PrintedFromMemory", "Independent", "Identities"}) {
        std::cout << kind << ": " << tests[kind] << " tests\n";
        EXPECT_GT(tests[kind], 10) << kind;
    }
}

}  // namespace
