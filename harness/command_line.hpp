// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "harness/sheet.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

/// Runs `pullsheet` with `arguments` (without the name of the program). Returns an ExitCode. `sheet` is what
/// the command of that name does.
int run(std::vector<std::string> arguments, const Streams& streams,
        const SheetCommand& sheet = start_sheet_program);

/// The language in which the user's other programs speak: what POSIX says of messages (LC_ALL, LC_MESSAGES,
/// LANG).
catalogue::Language language_of_environment();

}  // namespace pullsheet::harness
