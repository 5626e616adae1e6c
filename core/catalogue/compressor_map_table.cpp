// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/compressor_map_table.hpp"

#include <array>

#include "core/catalogue/bounds.hpp"

namespace pullsheet::catalogue {
namespace {

struct MapColumn {
    std::string_view name;
    Quantity quantity;
    const char* unit;
    Interval range;
    const Figure* figure;
};

constexpr std::array<MapColumn, 4> map_columns{
    {{marked("shaft speed"), Quantity::angular_speed, "rpm", {0.0, 1e6, true, false}, &figures::shaft_speed},
     {marked("corrected flow"),
      Quantity::mass_flow,
      "g/s",
      {0.0, 1e4, true, false},
      &figures::corrected_flow},
     {marked("pressure ratio"), Quantity::ratio, "", {1.0, 20.0, false, false}, &figures::pressure_ratio},
     {marked("efficiency"), Quantity::share, "", {0.0, 1.0, true, false}, &figures::compressor_efficiency}}};

bool is_heading(const Cell& cell) {
    const auto* text = std::get_if<std::string>(&cell);
    NumberText parsed;
    return text && !is_blank(cell) && !split_number(*text, parsed);
}

}  // namespace

boost::CompressorMap read_compressor_map(const Table& table, std::string_view parameter,
                                         boost::Reference reference, Language language, Warnings& warnings) {
    if (table.columns() != map_columns.size())
        throw Refused{FailureKind::wrong_argument, say(language, Phrase::map_columns,
                                                       {{"parameter", std::string(parameter)},
                                                        {"columns", std::to_string(table.columns())}})};
    std::array<const Unit*, 4> units{};
    for (std::size_t c = 0; c < map_columns.size(); ++c) units[c] = find_unit(map_columns[c].unit);
    std::size_t first = 0;
    if (table.rows() > 0 && is_heading(table.at(0, 0))) {
        first = 1;
        for (std::size_t c = 0; c < map_columns.size(); ++c) {
            const auto* heading = std::get_if<std::string>(&table.at(0, c));
            if (!heading) continue;
            const auto open = heading->find('[');
            const auto close = heading->find(']');
            if (open == std::string::npos || close == std::string::npos || close < open) continue;
            units[c] = read_result_unit(Cell(heading->substr(open + 1, close - open - 1)),
                                        map_columns[c].quantity, language);
        }
    }
    const std::string_view row_word = translated(language, "row");
    std::array<std::string_view, 4> names;
    for (std::size_t c = 0; c < map_columns.size(); ++c) names[c] = translated(language, map_columns[c].name);
    std::vector<boost::MapPoint> points;
    for (std::size_t r = first; r < table.rows(); ++r) {
        bool blank = true;
        for (std::size_t c = 0; c < map_columns.size(); ++c) blank = blank && is_blank(table.at(r, c));
        if (blank) continue;
        std::array<double, 4> values{};
        for (std::size_t c = 0; c < map_columns.size(); ++c) {
            std::string shown(parameter);
            shown.append(", ")
                .append(row_word)
                .append(" ")
                .append(std::to_string(r + 1))
                .append(", ")
                .append(names[c]);
            // A heading may name another unit; the limits are converted to it.
            const MapColumn& column = map_columns[c];
            const std::string_view symbol = units[c] ? units[c]->symbol : std::string_view{};
            Figure as_written = *column.figure;
            as_written.possible = column.range;
            const Interval range = in_unit(as_written.possible, as_written, column.quantity, symbol);
            const Interval usual = in_unit(column.figure->usual, *column.figure, column.quantity, symbol);
            Wanted wanted{shown, column.quantity, units[c], range};
            wanted.usual = &usual;
            values[c] = read_number(table.at(r, c), wanted, language, warnings);
        }
        points.push_back({values[0], values[1], values[2], values[3]});
    }
    return boost::CompressorMap(points, reference);
}

}  // namespace pullsheet::catalogue
