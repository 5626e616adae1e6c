// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <pugixml.hpp>
#include <string>
#include <vector>

#include "addin/customer_copy/styles.hpp"
#include "addin/office/cells.hpp"

namespace pullsheet::addin::customer_copy {

/// Cells from the first to the last, on one sheet; counted from 0.
struct Block {
    std::string sheet;
    int first_column = 0, first_row = 0, last_column = 0, last_row = 0;
    bool has(int column, int row) const {
        return column >= first_column && column <= last_column && row >= first_row && row <= last_row;
    }
};

/// The blocks of an address as files write them: "'Page 1'.A1:'Page 1'.F62 Quote.B2".
std::vector<Block> blocks_of(const std::string& addresses);
/// "'Page 1'.$B$2:.$B$9"
std::string address_of(const Block& block);
using office::cell_name;

/// The columns, rows and cells of a sheet, as the file has them.
class Grid {
  public:
    struct Columns {
        int first = 0, last = 0;
        std::string style, cell_style;
        bool hidden = false, title = false;
    };
    struct Rows {
        int first = 0, last = 0;
        std::string style, cell_style;
        bool hidden = false, title = false;
        pugi::xml_node element;
    };
    /// A run of cells in a row that are the same.
    struct Cells {
        int first = 0, last = 0;
        pugi::xml_node element;
        bool covered = false;  ///< by a merged cell
    };

    Grid(pugi::xml_node table, const Styles& styles);

    const std::vector<Columns>& columns() const { return columns_; }
    const std::vector<Rows>& rows() const { return rows_; }
    std::vector<Cells> cells(const Rows& rows) const;
    /// The cell's element; null where the file has none.
    pugi::xml_node cell(int column, int row) const;
    const Rows* row(int row) const;
    bool column_hidden(int column) const;
    bool row_hidden(int row) const;
    std::string cell_style(pugi::xml_node cell, const Rows& row, int column) const;

    /// The distance of a column's or row's beginning from that of the sheet, in mm; what is hidden has no
    /// extent.
    double x(int column) const;
    double y(int row) const;

  private:
    void read_columns(pugi::xml_node parent, bool title);
    void read_rows(pugi::xml_node parent, bool title);

    const Styles& styles_;
    std::vector<Columns> columns_;
    std::vector<Rows> rows_;
};

}  // namespace pullsheet::addin::customer_copy
