// SPDX-License-Identifier: Apache-2.0
// Files for `pullsheet batch`: whatever stands in them, the command ends with one of its exit codes, an error
// has a sentence, and every row of the file comes back.
#include <sstream>

#include "harness/batch.hpp"
#include "tests/fuzz/arguments.hpp"
#include "tests/fuzz/input.hpp"
#include "tests/fuzz/sound.hpp"
#include "tests/fuzz/target.hpp"

namespace pullsheet::fuzz {
namespace {

constexpr double longest_file = 5.0;

// A file must not make the command read another one: "@name" is a path, and what stands there is no part of
// the input.
std::string without_paths(std::string text) {
    for (char& c : text)
        if (c == '@') c = 'a';
    // The same in JSON.
    for (auto at = text.find("0040"); at != std::string::npos; at = text.find("0040", at)) text[at + 3] = '1';
    return text;
}

}  // namespace
}  // namespace pullsheet::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace pullsheet;
    using namespace pullsheet::fuzz;
    Input input(data, size);
    const auto options = input.byte();
    harness::BatchRequest request;
    request.name = function_of(input).name.view();
    request.path = "-";
    request.keep_others = (options & 1) != 0;
    // Left open in half of the cases: then the file says itself what it is.
    constexpr harness::RowFormat formats[] = {harness::RowFormat::csv, harness::RowFormat::tsv,
                                              harness::RowFormat::json, harness::RowFormat::json_lines};
    if ((options & 2) != 0) request.input.format = formats[(options >> 4) & 3];
    request.input.is_windows_1252 = (input.byte() & 1) != 0;
    if (const auto format = input.byte(); format % 5 != 0) request.format = formats[format % 5 - 1];
    request.quiet = true;
    if ((options & 4) != 0) request.unit = input.text(8);
    if ((options & 8) != 0) request.set.push_back(without_paths(input.text(24)));
    std::istringstream in(without_paths(input.rest()));
    std::ostringstream out;
    std::ostringstream error;
    const double before = seconds();
    try {
        const int code = harness::batch(request, {in, out, error});
        if (code != harness::done && code != harness::some_failed) broken("an exit code of its own");
        if (code == harness::some_failed && error.str().empty()) broken("rows fail and nothing is said");
    } catch (const harness::WrongUse& wrong) {
        if (std::string(wrong.what()).size() < 8) broken("wrong use without a sentence");
    } catch (const harness::FileNotReadable& unreadable) {
        if (std::string(unreadable.what()).size() < 8) broken("a file is not readable and nobody says why");
    } catch (const std::exception& other) {
        broken(std::string("an exception escapes: ") + other.what());
    }
    if (seconds() - before > longest_file)
        broken("a file took longer than " + std::to_string(longest_file) + " s");
    return 0;
}
