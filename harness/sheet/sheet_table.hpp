// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/table/XCell.hpp>
#include <string>
#include <vector>

#include "addin/office/cells.hpp"
#include "core/catalogue/value.hpp"
#include "harness/rows.hpp"

namespace pullsheet::harness {

/// A table of a document: as it is shown, and what is behind it.
struct SheetTable {
    std::string address;          ///< "Quote.A6:F18"
    std::vector<Record> shown;    ///< the texts of the cells
    std::vector<bool> is_number;  ///< of each column: numbers stand in it
    catalogue::Table values;      ///< dates as texts ("2026-05-01"); an error cell is a failure
};

/// The cells of a document, which stand at `address`.
SheetTable table_of(const office::Spreadsheet& document, std::string address, const office::Cells& cells);

/// What a cell shows.
std::string shown_text(const com::sun::star::uno::Reference<com::sun::star::table::XCell>& cell);

}  // namespace pullsheet::harness
