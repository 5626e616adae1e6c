// SPDX-License-Identifier: Apache-2.0
#include "addin/rectangles.hpp"

#include <algorithm>

namespace pullsheet::addin {

Area common(const Area& a, const Area& b) {
    return {{a.first.sheet, std::max(a.first.column, b.first.column), std::max(a.first.row, b.first.row)},
            {a.first.sheet, std::min(a.last.column, b.last.column), std::min(a.last.row, b.last.row)}};
}

std::vector<Area> without(std::vector<Area> areas, const std::vector<Area>& others) {
    for (const Area& other : others) {
        std::vector<Area> left;
        for (const Area& area : areas) {
            const Area shared = common(area, other);
            if (shared.rows() <= 0 || shared.columns() <= 0) {
                left.push_back(area);
                continue;
            }
            const auto piece = [&](sal_Int32 first_column, sal_Int32 first_row, sal_Int32 last_column,
                                   sal_Int32 last_row) {
                if (first_column <= last_column && first_row <= last_row)
                    left.push_back({{area.first.sheet, first_column, first_row},
                                    {area.first.sheet, last_column, last_row}});
            };
            piece(area.first.column, area.first.row, area.last.column, shared.first.row - 1);
            piece(area.first.column, shared.last.row + 1, area.last.column, area.last.row);
            piece(area.first.column, shared.first.row, shared.first.column - 1, shared.last.row);
            piece(shared.last.column + 1, shared.first.row, area.last.column, shared.last.row);
        }
        areas = std::move(left);
    }
    return areas;
}

}  // namespace pullsheet::addin
