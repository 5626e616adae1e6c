// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <initializer_list>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace pullsheet::catalogue {

/// The kind of failure that a cell shows. Each host has one table that maps it (Calc: Err:502, Err:523,
/// #N/A).
enum class FailureKind { wrong_argument, no_solution, no_data };

/// A failed value with the sentence that gives the reason.
struct Failure {
    FailureKind kind = FailureKind::wrong_argument;
    std::string sentence;
};

/// One cell of a range or of a table: empty, a number, a text, or a failure.
using Cell = std::variant<std::monostate, double, std::string, Failure>;

/// A rectangular block of cells, row by row.
class Table {
  public:
    Table() = default;
    Table(std::size_t rows, std::size_t columns) : rows_(rows), columns_(columns), cells_(rows * columns) {}
    /// The cells row by row; missing cells at the end are empty.
    Table(std::size_t rows, std::size_t columns, std::vector<Cell> cells)
        : rows_(rows), columns_(columns), cells_(std::move(cells)) {
        cells_.resize(rows * columns);
    }
    /// Rows given one by one; shorter rows are filled with empty cells.
    Table(std::initializer_list<std::initializer_list<Cell>> rows);

    std::size_t rows() const { return rows_; }
    std::size_t columns() const { return columns_; }
    bool empty() const { return cells_.empty(); }
    Cell& at(std::size_t row, std::size_t column) { return cells_[row * columns_ + column]; }
    const Cell& at(std::size_t row, std::size_t column) const { return cells_[row * columns_ + column]; }
    /// Adds a row below; a longer row than the table is wide widens the table (only while it is empty).
    void add_row(std::vector<Cell> row);

  private:
    std::size_t rows_ = 0;
    std::size_t columns_ = 0;
    std::vector<Cell> cells_;
};

/// An argument or a result of a function. std::monostate is an omitted argument.
using Value = std::variant<std::monostate, double, std::string, Failure, Table>;

inline Value to_value(const Cell& cell) {
    return std::visit([](const auto& content) -> Value { return content; }, cell);
}

/// True if the cell holds nothing: empty, or a text of blanks (Calc hands an empty cell of a range over as
/// "").
bool is_blank(const Cell& cell);

}  // namespace pullsheet::catalogue
