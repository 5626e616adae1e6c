// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/labelled.hpp"

#include <cmath>

#include "core/catalogue/units.hpp"

namespace pullsheet::catalogue::families {

std::vector<Cell> labelled(Call& call, std::string label, double si, Quantity quantity,
                           std::string_view symbol, const Figure& figure) {
    if (!std::isfinite(si)) return row(std::move(label), std::string("not known"), std::string());
    const Unit* unit = symbol.empty() ? nullptr : find_unit(symbol);
    Cell held = call.held(label, si, figure);
    if (auto* number = std::get_if<double>(&held); number && unit) *number = unit->from_si(si, quantity);
    return row(std::move(label), std::move(held), std::string(symbol));
}

}  // namespace pullsheet::catalogue::families
