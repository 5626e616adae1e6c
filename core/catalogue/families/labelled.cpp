// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/labelled.hpp"

#include <cmath>

#include "core/catalogue/units.hpp"

namespace pullsheet::catalogue::families {

std::vector<Cell> labelled(std::string label, double si, Quantity quantity, std::string_view symbol) {
    if (!std::isfinite(si)) return row(std::move(label), std::string("not known"), std::string());
    const Unit* unit = symbol.empty() ? nullptr : find_unit(symbol);
    return row(std::move(label), unit ? unit->from_si(si, quantity) : si, std::string(symbol));
}

}  // namespace pullsheet::catalogue::families
