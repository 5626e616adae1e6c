// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/grid.hpp"

#include <algorithm>
#include <string_view>

namespace pullsheet::addin::customer_copy {
namespace {

// Columns and rows that are absent from the file have the office's default sizes (1280 and 256 twentieths of
// a point), in mm.
constexpr double usual_width = 1280.0 / 20.0 * 25.4 / 72.0;
constexpr double usual_height = 256.0 / 20.0 * 25.4 / 72.0;

// The parts of a list that are separated by a sign outside quotes.
std::vector<std::string> split(const std::string& text, char sign) {
    std::vector<std::string> parts(1);
    bool quoted = false;
    for (const char c : text) {
        if (c == '\'') quoted = !quoted;
        if (c == sign && !quoted)
            parts.emplace_back();
        else
            parts.back() += c;
    }
    std::erase(parts, "");
    return parts;
}

// "'Page 1'.$B$7" → sheet, column, row
bool read_corner(const std::string& text, std::string& sheet, int& column, int& row) {
    const auto point = text.rfind('.');
    if (point == std::string::npos) return false;
    std::string name = text.substr(0, point);
    if (!name.empty() && name.front() == '$') name.erase(0, 1);
    if (name.size() >= 2 && name.front() == '\'') {
        name = name.substr(1, name.size() - 2);
        for (auto at = name.find("''"); at != std::string::npos; at = name.find("''", at + 1))
            name.erase(at, 1);
    }
    if (!name.empty()) sheet = name;
    int letters = 0, digits = 0;
    for (const char c : text.substr(point + 1)) {
        if (c >= 'A' && c <= 'Z')
            letters = letters * 26 + (c - 'A' + 1);
        else if (c >= '0' && c <= '9')
            digits = digits * 10 + (c - '0');
        else if (c != '$')
            return false;
    }
    column = letters - 1;
    row = digits - 1;
    return true;
}

int count_of(pugi::xml_node element, const char* attribute) {
    return std::max(1, element.attribute(attribute).as_int(1));
}

bool is_hidden(pugi::xml_node element) {
    const std::string_view visibility = element.attribute("table:visibility").value();
    return visibility == "collapse" || visibility == "filter";
}

double extent(const Styles& styles, const char* family, const char* properties, const char* attribute,
              const std::string& style) {
    return millimetres(styles.look(family, style).property(properties, attribute));
}

}  // namespace

std::vector<Block> blocks_of(const std::string& addresses) {
    std::vector<Block> blocks;
    for (const std::string& part : split(addresses, ' ')) {
        const auto corners = split(part, ':');
        Block block;
        if (corners.empty() ||
            !read_corner(corners.front(), block.sheet, block.first_column, block.first_row))
            continue;
        std::string ignored;
        block.last_column = block.first_column;
        block.last_row = block.first_row;
        if (corners.size() > 1) read_corner(corners.back(), ignored, block.last_column, block.last_row);
        // A whole column or row names no row or column.
        if (block.first_row < 0) block.first_row = 0;
        if (block.first_column < 0) block.first_column = 0;
        if (block.last_row < 0) block.last_row = 1048575;
        if (block.last_column < 0) block.last_column = 16383;
        blocks.push_back(block);
    }
    return blocks;
}

std::string address_of(const Block& block) {
    const std::string first = cell_name(block.sheet, block.first_column, block.first_row);
    return first + ":" + cell_name(block.sheet, block.last_column, block.last_row);
}

Grid::Grid(pugi::xml_node table, const Styles& styles) : styles_(styles) {
    read_columns(table, false);
    read_rows(table, false);
}

void Grid::read_columns(pugi::xml_node parent, bool title) {
    for (pugi::xml_node child : parent.children()) {
        const std::string_view name = child.name();
        if (name == "table:table-column-group" || name == "table:table-columns")
            read_columns(child, title);
        else if (name == "table:table-header-columns")
            read_columns(child, true);
        else if (name == "table:table-column") {
            const int first = columns_.empty() ? 0 : columns_.back().last + 1;
            columns_.push_back({first, first + count_of(child, "table:number-columns-repeated") - 1,
                                child.attribute("table:style-name").value(),
                                child.attribute("table:default-cell-style-name").value(), is_hidden(child),
                                title});
        }
    }
}

void Grid::read_rows(pugi::xml_node parent, bool title) {
    for (pugi::xml_node child : parent.children()) {
        const std::string_view name = child.name();
        if (name == "table:table-row-group" || name == "table:table-rows")
            read_rows(child, title);
        else if (name == "table:table-header-rows")
            read_rows(child, true);
        else if (name == "table:table-row") {
            const int first = rows_.empty() ? 0 : rows_.back().last + 1;
            rows_.push_back({first, first + count_of(child, "table:number-rows-repeated") - 1,
                             child.attribute("table:style-name").value(),
                             child.attribute("table:default-cell-style-name").value(), is_hidden(child),
                             title, child});
        }
    }
}

std::vector<Grid::Cells> Grid::cells(const Rows& rows) const {
    std::vector<Cells> found;
    int next = 0;
    for (pugi::xml_node child : rows.element.children()) {
        const std::string_view name = child.name();
        const bool covered = name == "table:covered-table-cell";
        if (!covered && name != "table:table-cell") continue;
        const int count = count_of(child, "table:number-columns-repeated");
        found.push_back({next, next + count - 1, child, covered});
        next += count;
    }
    return found;
}

const Grid::Rows* Grid::row(int row) const {
    const auto found =
        std::partition_point(rows_.begin(), rows_.end(), [&](const Rows& rows) { return rows.last < row; });
    return found == rows_.end() ? nullptr : &*found;
}

pugi::xml_node Grid::cell(int column, int row) const {
    const Rows* rows = this->row(row);
    if (!rows) return {};
    for (const Cells& run : cells(*rows))
        if (column >= run.first && column <= run.last) return run.element;
    return {};
}

bool Grid::column_hidden(int column) const {
    for (const Columns& run : columns_)
        if (column <= run.last) return run.hidden;
    return false;
}

bool Grid::row_hidden(int row) const {
    const Rows* rows = this->row(row);
    return rows && rows->hidden;
}

std::string Grid::cell_style(pugi::xml_node cell, const Rows& row, int column) const {
    if (const char* own = cell.attribute("table:style-name").value(); *own) return own;
    if (!row.cell_style.empty()) return row.cell_style;
    for (const Columns& run : columns_)
        if (column <= run.last) return run.cell_style;
    return {};
}

double Grid::x(int column) const {
    double sum = 0.0;
    const int known = columns_.empty() ? 0 : columns_.back().last + 1;
    if (column > known) sum += (column - known) * usual_width;
    for (const Columns& run : columns_) {
        if (run.first >= column) break;
        if (!run.hidden)
            sum += (std::min(run.last + 1, column) - run.first) * extent(styles_, "table-column",
                                                                         "style:table-column-properties",
                                                                         "style:column-width", run.style);
    }
    return sum;
}

double Grid::y(int row) const {
    double sum = 0.0;
    const int known = rows_.empty() ? 0 : rows_.back().last + 1;
    if (row > known) sum += (row - known) * usual_height;
    for (const Rows& run : rows_) {
        if (run.first >= row) break;
        if (!run.hidden)
            sum += (std::min(run.last + 1, row) - run.first) *
                   extent(styles_, "table-row", "style:table-row-properties", "style:row-height", run.style);
    }
    return sum;
}

}  // namespace pullsheet::addin::customer_copy
