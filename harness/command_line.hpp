// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "harness/streams.hpp"

namespace pullsheet::harness {

/// Runs `pullsheet` with `arguments` (without the name of the program). Returns an ExitCode.
int run(std::vector<std::string> arguments, const Streams& streams);

}  // namespace pullsheet::harness
