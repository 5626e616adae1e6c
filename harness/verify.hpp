// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "harness/output.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

/// `pullsheet verify [NAME]`: every published check value (of one function or family) beside what is
/// computed, with the deviation and the source.
int verify(const std::string& name, const Output& output, const Streams& streams);

}  // namespace pullsheet::harness
