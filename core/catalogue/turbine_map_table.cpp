// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/turbine_map_table.hpp"

#include <algorithm>
#include <array>
#include <optional>

#include "core/catalogue/block.hpp"
#include "core/catalogue/bounds.hpp"

namespace pullsheet::catalogue {
namespace {

struct TurbineMapColumn {
    std::string_view name;
    Quantity quantity;
    std::string_view unit;
    Interval range;
    const Figure* figure;
};

constexpr std::array<TurbineMapColumn, 4> turbine_map_columns{
    {{marked("shaft speed"), Quantity::angular_speed, "rpm", {0.0, 1e6, true, false}, &figures::shaft_speed},
     {marked("pressure ratio"), Quantity::ratio, "", {1.0, 20.0, true, false}, &figures::expansion_ratio},
     {marked("corrected flow"),
      Quantity::mass_flow,
      "g/s",
      {0.0, 1e4, true, false},
      &figures::corrected_flow},
     {marked("efficiency"), Quantity::share, "", {0.0, 1.0, true, false}, &figures::turbine_efficiency}}};

/// The position and unit of each column.
struct TurbineMapLayout {
    std::array<std::optional<std::size_t>, 4> column{};
    std::array<const Unit*, 4> unit{};
    std::size_t first_row = 0;
};

TurbineMapLayout layout_of(const Table& table, std::string_view parameter, Language language) {
    const auto refused = [&] {
        return Refused{
            FailureKind::wrong_argument,
            say(language,
                "{parameter} needs the columns pressure ratio and corrected flow, and may have shaft "
                "speed and efficiency",
                {{"parameter", std::string(parameter)}})};
    };
    TurbineMapLayout layout;
    for (std::size_t c = 0; c < turbine_map_columns.size(); ++c)
        layout.unit[c] =
            turbine_map_columns[c].unit.empty() ? nullptr : find_unit(turbine_map_columns[c].unit);
    NumberText parsed;
    const auto* corner = table.rows() > 0 ? std::get_if<std::string>(&table.at(0, 0)) : nullptr;
    if (!corner || is_blank(*corner) || split_number(*corner, parsed)) {
        const std::size_t columns = table.columns();
        if (columns < 2 || columns > 4) throw refused();
        const std::size_t before = columns == 4 ? 0 : 1;  // the columns that are left out on the left
        for (std::size_t c = 0; c < columns; ++c) layout.column[c + before] = c;
        return layout;
    }
    layout.first_row = 1;
    for (std::size_t c = 0; c < table.columns(); ++c) {
        const std::string heading = cell_text(table.at(0, c));
        if (is_blank(heading)) continue;
        const auto open = heading.find('[');
        const auto close = heading.find(']');
        const std::string name = normal_label(heading.substr(0, open));
        const auto known = std::ranges::find_if(turbine_map_columns, [&](const TurbineMapColumn& column) {
            return normal_label(column.name) == name;
        });
        if (known == turbine_map_columns.end()) throw refused();
        const auto i = static_cast<std::size_t>(known - turbine_map_columns.begin());
        if (layout.column[i]) throw refused();
        layout.column[i] = c;
        if (open != std::string::npos && close != std::string::npos && close > open)
            layout.unit[i] = read_result_unit(Cell(heading.substr(open + 1, close - open - 1)),
                                              turbine_map_columns[i].quantity, language);
    }
    if (!layout.column[1] || !layout.column[2]) throw refused();
    return layout;
}

}  // namespace

boost::TurbineMap read_turbine_map(const Table& table, std::string_view parameter, Language language,
                                   Warnings& warnings) {
    const TurbineMapLayout layout = layout_of(table, parameter, language);
    std::vector<boost::TurbineMapPoint> points;
    for (std::size_t r = layout.first_row; r < table.rows(); ++r) {
        bool blank = true;
        for (const auto& column : layout.column) blank = blank && (!column || is_blank(table.at(r, *column)));
        if (blank) continue;
        std::array<std::optional<double>, 4> values{};
        for (std::size_t i = 0; i < turbine_map_columns.size(); ++i) {
            if (!layout.column[i]) continue;
            const TurbineMapColumn& column = turbine_map_columns[i];
            std::string shown(parameter);
            shown.append(", ")
                .append(translated(language, "row"))
                .append(" ")
                .append(std::to_string(r + 1))
                .append(", ")
                .append(translated(language, column.name));
            // A heading may name another unit; the limits are converted to it.
            const std::string_view symbol = layout.unit[i] ? layout.unit[i]->symbol : std::string_view{};
            Figure as_written = *column.figure;
            as_written.unit = column.unit;
            as_written.possible = column.range;
            const Interval range = in_unit(as_written.possible, as_written, column.quantity, symbol);
            const Interval usual = in_unit(column.figure->usual, *column.figure, column.quantity, symbol);
            Wanted wanted{shown, column.quantity, layout.unit[i], range};
            wanted.usual = &usual;
            values[i] = read_number(table.at(r, *layout.column[i]), wanted, language, warnings);
        }
        points.push_back({*values[1], *values[2], values[3], values[0]});
    }
    return boost::TurbineMap(points);
}

}  // namespace pullsheet::catalogue
