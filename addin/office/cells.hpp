// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/sheet/XSpreadsheet.hpp>
#include <com/sun/star/sheet/XSpreadsheetDocument.hpp>
#include <com/sun/star/table/CellRangeAddress.hpp>
#include <com/sun/star/table/XCellRange.hpp>
#include <compare>
#include <string>
#include <vector>

namespace pullsheet::office {

using Spreadsheet = com::sun::star::uno::Reference<com::sun::star::sheet::XSpreadsheetDocument>;
using Sheet = com::sun::star::uno::Reference<com::sun::star::sheet::XSpreadsheet>;
using Cells = com::sun::star::uno::Reference<com::sun::star::table::XCellRange>;

/// A cell of a document, counted from 0.
struct Address {
    sal_Int32 sheet = 0;
    sal_Int32 column = 0;
    sal_Int32 row = 0;
    auto operator<=>(const Address&) const = default;
};

/// A rectangle of cells on one sheet, both corners included.
struct Area {
    Address first;
    Address last;
    sal_Int32 rows() const { return last.row - first.row + 1; }
    sal_Int32 columns() const { return last.column - first.column + 1; }
    bool is_single() const { return rows() == 1 && columns() == 1; }
    auto operator<=>(const Area&) const = default;
};

Area area_of(const com::sun::star::table::CellRangeAddress& address);
Area area_of(const Cells& cells);

/// 0 → "A", 26 → "AA"
std::string column_letters(sal_Int32 column);
/// "B7"
std::string cell_name(sal_Int32 column, sal_Int32 row);
/// "Quote.B7"; a sheet's name that is no plain word is quoted.
std::string cell_name(const std::string& sheet_name, sal_Int32 column, sal_Int32 row);

com::sun::star::uno::Reference<com::sun::star::container::XIndexAccess> sheets_of(
    const Spreadsheet& document);
std::vector<std::string> sheet_names(const Spreadsheet& document);
Sheet sheet_at(const Spreadsheet& document, sal_Int32 index);
/// Throws NoSuchElementException if the document has none of that name.
Sheet sheet_named(const Spreadsheet& document, const std::string& name);
/// From the first to the last cell that holds anything; one cell of an empty sheet.
Cells used_cells(const Sheet& on);

}  // namespace pullsheet::office
