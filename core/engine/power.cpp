// SPDX-License-Identifier: Apache-2.0
#include "core/engine/power.hpp"

#include "core/constants.hpp"

namespace pullsheet::engine {

double power(double torque, double speed) {
    return require("torque", torque, finite) * require("speed", speed, not_negative);
}

double torque(double power, double speed) {
    return require("power", power, finite) / require("speed", speed, positive);
}

double speed(double power, double torque) {
    require("power", power, finite);
    require("torque", torque, power < 0.0 ? Interval{finite.low, 0.0, true, true} : positive);
    return power / torque;
}

double bmep(double torque, double displacement, double strokes) {
    require("torque", torque, finite);
    require("displacement", displacement, positive);
    if (!(strokes == 2.0 || strokes == 4.0))
        throw InvalidArgument("strokes", Reason::neither_two_nor_four, {{strokes, Quantity::number}});
    return pi * strokes * torque / displacement;
}

double bsfc(double fuel_flow, double power) {
    return require("fuel_flow", fuel_flow, not_negative) / require("power", power, positive);
}

double efficiency(double fuel_flow, double power, const fuel::Fuel& fuel) {
    require("fuel_flow", fuel_flow, positive);
    const double of_fuel = fuel_flow * fuel::heating_value(fuel);
    return require("power", power, {0.0, of_fuel}) / of_fuel;
}

}  // namespace pullsheet::engine
