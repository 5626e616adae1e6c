// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "harness/output.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

struct BatchRequest {
    std::string name;
    std::string path;              ///< of the rows; "-" is standard input
    std::vector<std::string> set;  ///< "NAME=VALUE": the same in every row
    std::string unit;              ///< of the result; empty for the default
    bool keep_others = false;      ///< copy columns that are no parameters instead of refusing them
    bool is_tsv = false;           ///< whatever the name of the file says
};

/// `pullsheet batch NAME FILE`: one call a row. The columns of the file are kept; the result (or the columns
/// of a table result, its rows below each other), `error` and `warning` are added. Holds one row at a time.
int batch(const BatchRequest& request, const Output& output, const Streams& streams);

}  // namespace pullsheet::harness
