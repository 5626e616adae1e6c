// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/catalogue/part_kinds.hpp"
#include "core/catalogue/reader.hpp"
#include "core/plan/parts.hpp"

namespace pullsheet::catalogue {

/// The parts of a table: their names, kinds and what they are.
struct NamedParts {
    std::vector<std::string> names;
    std::vector<std::string_view> kinds;
    plan::Parts parts;
};

/// One row of a parts table with the values read, SI; std::nullopt where a value was left empty.
struct PartRow {
    std::string name;
    const PartKind* kind;
    std::vector<std::optional<double>> values;
    std::string place;  ///< of a pipe
};

/// Where the values of the parts stand in a table: in the order of their kind (value, unit, value 2, unit …),
/// or in columns named for them ("rated flow [cc/min]").
struct PartColumns {
    static constexpr std::size_t nowhere = static_cast<std::size_t>(-1);
    struct Place {
        std::size_t value;
        std::size_t unit;   ///< a column of units beside it, or nowhere
        Cell heading_unit;  ///< of the numbers without one of their own
    };
    std::map<std::string, std::size_t> own;  ///< the columns that every row has: part, kind …
    std::vector<std::size_t> in_order;       ///< values and their units in turn
    std::map<std::string, Place> named;      ///< by the normal label of the value
    std::vector<std::size_t> without_heading;

    /// A table that begins at once with its first part.
    static PartColumns without_headings(const Table& table);
    /// Where value `i` of a kind stands.
    Place place_of(std::size_t i, const PartValue& value) const;
};

/// Reads the header row of a table whose other columns are `own`. A column that is not known or stands twice
/// is refused with the nearest known name. Throws Refused.
PartColumns read_part_columns(const Table& table, const std::vector<std::string_view>& own,
                              std::string_view parameter, Language language);

/// Reads one row. Throws Refused, also where a value stands in a column that the kind of the part does not
/// take.
PartRow read_part_row(const Table& table, std::size_t row, const PartColumns& columns,
                      std::string_view parameter, Language language, Warnings& warnings);

/// Builds the parts of rows; several rows of one pump are the points of its curve. A compressor takes `map`
/// if given.
NamedParts assemble_parts(const std::vector<PartRow>& rows, const boost::CompressorMap* map,
                          std::string_view parameter, Language language);

/// Reads a parts table: a header row, then part, kind and the values, in order or in named columns.
NamedParts read_parts(const Table& table, const boost::CompressorMap* map, std::string_view parameter,
                      Language language, Warnings& warnings);

}  // namespace pullsheet::catalogue
