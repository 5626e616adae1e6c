// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "harness/output.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {

struct SheetRequest {
    std::string path;
    std::string range;             ///< the named range, database range or address to be printed
    std::string sheet;             ///< the sheet to be printed
    std::vector<std::string> set;  ///< "NAME=VALUE": input cells, before computing
    std::string pdf;               ///< files to be written; empty for none
    std::string csv;
    std::string save;
    bool customer_copy = false;   ///< the pages for the customer, beside the sheet
    bool despite_checks = false;  ///< PDF and customer copy are written also where the checks say no
    std::string extension;  ///< the unpacked extension; empty: beside the program, or installed in the office
    bool checks_wanted = false;      ///< a sheet without checks is an error
    int timeout = 300;               ///< s
    std::vector<std::string> words;  ///< the command line as it was given
};

/// What `pullsheet sheet` does.
using SheetCommand = std::function<int(const SheetRequest&, const Output&, const Streams&)>;

/// Starts the program pullsheet-sheet, which stands beside this one or in ../libexec/pullsheet and needs the
/// office. Throws FileNotReadable if one of the two is missing.
int start_sheet_program(const SheetRequest& request, const Output& output, const Streams& streams);

/// The folder of the installed office, the one that holds program/soffice.bin: $PULLSHEET_OFFICE, else where
/// soffice of the PATH stands, else the usual places. Empty if there is none.
std::string office_folder();

}  // namespace pullsheet::harness
