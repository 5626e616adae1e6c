// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "harness/rows.hpp"

namespace pullsheet::harness {

/// The rows of an array of objects (or of objects that follow each other), as they are read. Faults are said
/// in `language`, here and below.
void read_json_rows(std::istream& in, const std::string& name, catalogue::Language language, RowSink& sink);

/// The rows of a file with an object on each line.
void read_json_lines(std::istream& in, const std::string& name, catalogue::Language language, RowSink& sink);

/// The block or range in a JSON file.
catalogue::Table read_json_table(std::istream& in, const std::string& name, bool is_lines,
                                 catalogue::Language language);

}  // namespace pullsheet::harness
