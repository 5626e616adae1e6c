// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "harness/output.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

/// `pullsheet list [FAMILY]`: one line a function, of all families if `family` is empty. As JSON a line
/// is all that `pullsheet show` says.
int list(const std::string& family, const Output& output, const Streams& streams);

}  // namespace pullsheet::harness
