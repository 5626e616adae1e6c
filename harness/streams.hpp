// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <istream>
#include <ostream>
#include <stdexcept>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::harness {

/// Where a command reads and writes: data goes to `out`, everything else to `error`. Sentences, help and the
/// headings for people are in `language`; values are the same in every language.
struct Streams {
    std::istream& in;
    std::ostream& out;
    std::ostream& error;
    bool is_command = false;  ///< these are the streams of the process, not of a test
    bool out_is_terminal = false;
    bool error_is_terminal = false;
    catalogue::Language language = catalogue::Language::english;
};

/// What the command tells the shell.
enum ExitCode {
    done = 0,
    some_failed = 1,        ///< some row or check failed, or there is no solution
    wrong_use = 2,          ///< wrong use or wrong argument
    file_not_readable = 3,  ///< a file cannot be read, or the output cannot be written
    interrupted_by = 128,   ///< plus the number of the signal, as shells do
};

/// The command was used wrongly; the sentence says how.
struct WrongUse : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// A file cannot be read; the sentence says why.
struct FileNotReadable : std::runtime_error {
    using std::runtime_error::runtime_error;
};

}  // namespace pullsheet::harness
