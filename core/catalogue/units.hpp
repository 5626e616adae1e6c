// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/quantity.hpp"

namespace pullsheet::catalogue {

/// The reference that a unit states itself: vacuum, ambient pressure, or a second point (bara, barg, bard).
enum class PressureKind { unsaid, absolute, gauge, difference };

/// The reference of a pressure difference.
enum class Over { surroundings, manifold, point };

/// A unit of the trade. Its SI value is (value + offset) * factor.
struct Unit {
    std::string_view symbol;  ///< as it is printed
    Quantity
        quantity;  ///< temperature includes temperature differences, pressure includes pressure differences
    double factor;
    double offset = 0.0;
    PressureKind pressure_kind = PressureKind::unsaid;

    double to_si(double value, Quantity as) const {
        return as == Quantity::temperature_change ? value * factor : (value + offset) * factor;
    }
    double from_si(double si, Quantity as) const {
        return as == Quantity::temperature_change ? si / factor : si / factor - offset;
    }
};

/// The quantity under which the units of `quantity` stand in the table (a temperature change is measured in
/// units of temperature, a pressure difference in units of pressure).
Quantity unit_quantity(Quantity quantity);

/// The unit written as `text` (any usual spelling, upper or lower case), or nullptr.
const Unit* find_unit(std::string_view text);

/// The symbols of all units of `quantity`, in the order of the table.
std::vector<std::string_view> unit_symbols(Quantity quantity);

/// The name of the quantity in plain words ("mass flow").
std::string_view quantity_name(Quantity quantity);

}  // namespace pullsheet::catalogue
