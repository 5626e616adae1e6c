// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "harness/streams.hpp"

namespace pullsheet::harness {

/// `pullsheet list [FAMILY]`: one line a function, of all families if `family` is empty.
int list(const std::string& family, const Streams& streams);

}  // namespace pullsheet::harness
