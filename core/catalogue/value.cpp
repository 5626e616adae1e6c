// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/value.hpp"

#include <algorithm>

namespace pullsheet::catalogue {

Table::Table(std::initializer_list<std::initializer_list<Cell>> rows) : rows_(rows.size()) {
    for (const auto& row : rows) columns_ = std::max(columns_, row.size());
    cells_.resize(rows_ * columns_);
    std::size_t r = 0;
    for (const auto& row : rows) {
        std::copy(row.begin(), row.end(), cells_.begin() + static_cast<std::ptrdiff_t>(r * columns_));
        ++r;
    }
}

void Table::add_row(std::vector<Cell> row) {
    if (rows_ == 0) columns_ = std::max(columns_, row.size());
    row.resize(columns_);
    cells_.insert(cells_.end(), std::make_move_iterator(row.begin()), std::make_move_iterator(row.end()));
    ++rows_;
}

bool is_blank(const Cell& cell) {
    if (std::holds_alternative<std::monostate>(cell)) return true;
    const auto* text = std::get_if<std::string>(&cell);
    return text && text->find_first_not_of(" \t\r\n") == std::string::npos;
}

}  // namespace pullsheet::catalogue
