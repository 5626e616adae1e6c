// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "harness/input.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

struct BatchRequest {
    std::string name;
    std::string path;                 ///< of the rows; "-" is standard input
    std::vector<std::string> set;     ///< "NAME=VALUE": the same in every row
    std::string unit;                 ///< of the result; empty for the default
    bool keep_others = false;         ///< copy columns that are no parameters instead of refusing them
    InputFormat input;                ///< what is not given is found from the file
    std::optional<RowFormat> format;  ///< of the output; that of the input if left open
    std::string output;               ///< the file to be written; empty for standard output
    bool append = false;              ///< add the rows to that file instead of replacing it
    bool quiet = false;               ///< no progress on a terminal
    int digits = 10;
};

/// `pullsheet batch NAME FILE`: one call a row. The columns of the file are kept; the result (or the columns
/// of a table result, its rows below each other), `error` and `warning` are added; an array of JSON is
/// answered with a row an element and is not written again. Holds one row at a time, and writes whole rows
/// only, also when it is interrupted; the output takes its name when it is whole. No file that the call reads
/// is written. The first failed rows are said on standard error with file, row and column.
int batch(const BatchRequest& request, const Streams& streams);

}  // namespace pullsheet::harness
