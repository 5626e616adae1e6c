// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/bounds.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {

/// A value that a kind of part takes, in the order in which the columns of a parts table give them.
struct PartValue {
    std::string_view name;
    Quantity quantity;
    std::string_view unit;
    Interval range;
    std::optional<double>
        default_value;  ///< none: the value may be left empty only where `required` is false
    bool required;
    Over over = Over::surroundings;   ///< of a pressure difference
    double test_density = 0.0;        ///< of an injector's flow, as in Wanted
    std::optional<Interval> usual{};  ///< outside: a warning

    /// The figure that it is, as for a parameter.
    PartValue of(const Figure& figure) && {
        range = intersection(range, in_unit(figure.possible, figure, quantity, unit));
        usual = in_unit(figure.usual, figure, quantity, unit);
        return std::move(*this);
    }
};

/// A kind of part and its values.
struct PartKind {
    std::string_view name;
    std::string_view meaning;
    std::vector<PartValue> values;
};

/// All kinds of parts a table may hold, in words for `pullsheet show`.
const std::vector<PartKind>& part_kinds();

/// The kinds with their values in order, one line per kind.
std::vector<std::string> part_kind_lines(Language language);

}  // namespace pullsheet::catalogue
