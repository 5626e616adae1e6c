// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "harness/output.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

/// `pullsheet verify [NAME]`: every value that a function (or one function or family) is held against,
/// in the column of its kind, beside what is computed, with the deviation and the source; then how many there
/// are of each kind. Fails if one does not agree, or if there are fewer than this version has to show.
int verify(const std::string& name, const Output& output, const Streams& streams);

}  // namespace pullsheet::harness
