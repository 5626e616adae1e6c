// SPDX-License-Identifier: Apache-2.0
// Every function of the catalogue with hostile arguments: the answer is finite or a failure with a sentence,
// the same in both languages and when asked twice, and it comes within a bounded time.
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>

#include "core/catalogue/catalogue.hpp"
#include "tests/fuzz/arguments.hpp"
#include "tests/fuzz/sound.hpp"
#include "tests/fuzz/target.hpp"

namespace pullsheet::fuzz {
namespace {

using catalogue::Language;

/// One call may take this long, in seconds of the processor. Sanitizers and the fuzzer's counters take up to
/// 40 times as long as a release.
#ifdef PULLSHEET_FUZZ
constexpr double longest_call = 40.0;
#else
constexpr double longest_call = 1.0;
#endif

/// The longest call of each function (of one element, where a range is answered element by element). Written
/// when the process ends, if PULLSHEET_FUZZ_TIMES names a folder: the table `times`, and the inputs
/// themselves.
class LongestCalls {
  public:
    LongestCalls() {
        if (const char* folder = std::getenv("PULLSHEET_FUZZ_TIMES")) folder_ = folder;
    }
    ~LongestCalls() {
        if (folder_.empty()) return;
        std::filesystem::create_directories(folder_);
        std::ofstream table(folder_ / "times");
        for (const auto& [name, call] : calls_) {
            table << call.seconds << '\t' << name << '\t' << call.written << '\n';
            std::ofstream(folder_ / name, std::ios::binary) << call.input;
        }
    }
    void add(const BuiltCall& call, double seconds, std::string_view input) {
        if (folder_.empty()) return;
        auto& longest = calls_[std::string(call.function->name.view())];
        if (seconds <= longest.seconds) return;
        longest = {seconds, written(*call.function, call.arguments), std::string(input)};
    }

  private:
    struct Longest {
        double seconds = 0.0;
        std::string written;
        std::string input;
    };
    std::filesystem::path folder_;
    std::map<std::string, Longest> calls_;
};

/// Keeps the functions that take long from using up the time of all others: while PULLSHEET_FUZZ_SLOW_SHARE
/// is set, they get that share of it.
class TimeShare {
  public:
    TimeShare() {
        if (const char* share = std::getenv("PULLSHEET_FUZZ_SLOW_SHARE")) share_ = std::stod(share);
    }
    bool may_run(const catalogue::Function& function) {
        return !is_slow(function) || slow_ <= share_ * seconds();
    }
    void add(const catalogue::Function& function, double used) {
        Used& all = used_[&function];
        all.seconds += used;
        all.calls += 1.0;
        if (is_slow(function)) slow_ += used;
    }

  private:
    struct Used {
        double seconds = 0.0;
        double calls = 0.0;
    };
    bool is_slow(const catalogue::Function& function) {
        const Used& used = used_[&function];
        return used.seconds > 0.02 * used.calls;
    }
    double share_ = 1.0;
    double slow_ = 0.0;
    std::map<const catalogue::Function*, Used> used_;
};

void run(const BuiltCall& call, std::string_view input) {
    static LongestCalls longest;
    static TimeShare share;
    if (!share.may_run(*call.function)) return;
    const double before = seconds();
    const auto english = catalogue::evaluate(*call.function, call.arguments);
    const double used = seconds() - before;
    // Of a range that is answered element by element, what one element took.
    const auto* range = std::get_if<catalogue::Table>(&english.value);
    const bool is_repeated = range && call.function->result.kind != catalogue::ResultKind::table;
    longest.add(call, is_repeated ? used / static_cast<double>(range->rows() * range->columns()) : used,
                input);
    if (used > longest_call) broken("a call took " + std::to_string(used) + " s of the processor");
    expect_sound(*call.function, english);

    // The functions about functions answer with sentences.
    const bool texts = call.function->family() != "FUNCTION";
    const auto german = catalogue::evaluate(*call.function, call.arguments, Language::german);
    expect_sound(*call.function, german);
    expect_same(*call.function, english.value, german.value, texts, "English and German");
    if (english.warnings.size() != german.warnings.size())
        broken(std::string(call.function->name.view()) + " warns differently in English and German");

    expect_same(*call.function, english.value, catalogue::value_of(*call.function, call.arguments), true,
                "with and without warnings");
    // What is remembered cannot change an answer.
    if (call.function->remembered)
        expect_same(*call.function, english.value, catalogue::evaluate(*call.function, call.arguments).value,
                    true, "first and second");
    share.add(*call.function, seconds() - before);
}

}  // namespace
}  // namespace pullsheet::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace pullsheet::fuzz;
    static const bool show = std::getenv("PULLSHEET_FUZZ_SHOW") != nullptr;
    Input input(data, size);
    const BuiltCall call = build_call(input);
    if (show) std::fprintf(stderr, "%s\n", written(*call.function, call.arguments).c_str());
    try {
        run(call, {reinterpret_cast<const char*>(data), size});
    } catch (const std::exception& error) {
        broken(std::string(call.function->name.view()) + " throws: " + error.what());
    }
    return 0;
}
