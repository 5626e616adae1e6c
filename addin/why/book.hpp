// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/sheet/XSpreadsheet.hpp>
#include <com/sun/star/table/CellRangeAddress.hpp>
#include <com/sun/star/table/XCell.hpp>
#include <com/sun/star/table/XCellRange.hpp>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "addin/why/formula.hpp"
#include "core/catalogue/value.hpp"

namespace pullsheet::addin {

/// Read-only access to a document.
class Book {
  public:
    explicit Book(Spreadsheet document);

    const Spreadsheet& document() const { return document_; }
    sal_Int32 sheet_count() const;
    com::sun::star::uno::Reference<com::sun::star::sheet::XSpreadsheet> sheet(sal_Int32 index) const;
    com::sun::star::uno::Reference<com::sun::star::table::XCell> cell(const Address& address) const;
    com::sun::star::uno::Reference<com::sun::star::table::XCellRange> range(const Area& area) const;
    bool has(const Area& area) const;

    /// "Sheet1.B3"
    std::string name_of(const Address& address) const;

    /// Calc's code of the error that the cell shows; 0 if it shows none.
    int error(const Address& address) const;
    /// What the cell holds; nothing if it is empty, a failure without a sentence if it shows an error.
    catalogue::Cell content(const Address& address) const;
    /// The cells of an area, as Calc hands a range to a function.
    catalogue::Table contents(const Area& area) const;
    /// The first cell of the area that shows an error.
    std::optional<Address> first_error(const Area& area) const;
    /// The cells of an area whose formulas call functions of the catalogue.
    struct Calls {
        std::vector<Address> cells;  ///< at most as many as were asked for
        std::size_t count = 0;       ///< how many there are
    };
    Calls calls_of_the_catalogue(const Area& area, std::size_t most) const;

    /// The range of the array formula in this cell; nothing if the cell has none.
    std::optional<Area> array_around(const Address& address) const;
    /// The formula in the cell; of an array formula, that of its first cell.
    Node formula(const Address& address) const;
    /// A formula written as text, read as if it stood in the cell.
    Node formula(const std::string& text, const Address& address) const;

  private:
    const OpCodes& codes() const;

    Spreadsheet document_;
    // Cache: many cells refer to the same long column. The document does not change during the evaluation.
    mutable std::map<Area, std::optional<Address>> first_errors_;
    mutable std::pair<Area, std::optional<catalogue::Table>> last_contents_;
};

using office::area_of;

}  // namespace pullsheet::addin
