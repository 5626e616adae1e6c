// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "harness/input.hpp"
#include "harness/output.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

struct EvalRequest {
    std::string name;
    std::vector<std::string> arguments;  ///< in the cell's order; "-" leaves one out
    std::string unit;                    ///< of the result; empty for the default
    InputFormat input;                   ///< of the files; what is not given is found from them
};

/// `pullsheet eval NAME ARG…`: the value or table of one call; warnings and the reason of a failure on
/// standard error.
int eval(const EvalRequest& request, const Output& output, const Streams& streams);

}  // namespace pullsheet::harness
