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

}  // namespace pullsheet::harness
