// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "harness/output.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

/// `pullsheet show NAME`: all that the catalogue says about a function, for people or as JSON.
int show(const std::string& name, const Output& output, const Streams& streams);

}  // namespace pullsheet::harness
