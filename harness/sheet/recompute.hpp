// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "harness/sheet.hpp"

namespace pullsheet::harness {

/// Opens the sheet in an office of its own, sets inputs, computes every cell, prints the table and writes the
/// files asked for. Cells that show an error, and checks that do not agree, are said on standard error.
int recompute(const SheetRequest& request, const Output& output, const Streams& streams);

}  // namespace pullsheet::harness
