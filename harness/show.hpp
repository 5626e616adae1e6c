// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "harness/streams.hpp"

namespace pullsheet::harness {

/// `pullsheet show NAME`: all that the catalogue says about a function.
int show(const std::string& name, const Streams& streams);

}  // namespace pullsheet::harness
