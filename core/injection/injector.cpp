// SPDX-License-Identifier: Apache-2.0
#include "core/injection/injector.hpp"

#include <cmath>

#include "core/error.hpp"

namespace pullsheet::injection {

double injector_flow(double rated_flow, double rated_pressure, double fuel_pressure, double rated_density,
                     double density) {
    require("rated_density", rated_density, possible::fluid_density);
    require("density", density, possible::fluid_density);
    return injector_flow(rated_flow, rated_pressure, fuel_pressure) * std::sqrt(rated_density / density);
}

double injector_flow(double rated_flow, double rated_pressure, double fuel_pressure) {
    require("rated_flow", rated_flow, positive);
    require("rated_pressure", rated_pressure, possible::fuel_pressure);
    require("fuel_pressure", fuel_pressure, possible::fuel_pressure);
    return rated_flow * std::sqrt(fuel_pressure / rated_pressure);
}

double injector_duty(double fuel_flow, double count, double flow, const fuel::Fuel& fuel,
                     const std::optional<double>& speed, double dead_time) {
    require("fuel_flow", fuel_flow, not_negative);
    require("injector_flow", flow, positive);
    require_whole("count", count, possible::count);
    require("dead_time", dead_time, possible::dead_time);
    require("speed", speed.value_or(1.0), positive);
    if (!speed && dead_time > 0.0) throw InvalidArgument("speed", Reason::speed_needed);
    constexpr double cycles_per_radian = 1.0 / (4.0 * pi);
    return fuel_flow / (flow * count * fuel::density(fuel)) +
           dead_time * speed.value_or(0.0) * cycles_per_radian;
}

std::vector<Warning> duty_warnings(double duty) {
    if (duty > possible::duty.high) return {{Reason::injector_always_open, {{duty, Quantity::share}}}};
    return {};
}

double injector_size(double fuel_flow, double count, double max_duty, const fuel::Fuel& fuel) {
    require("fuel_flow", fuel_flow, not_negative);
    require_whole("count", count, possible::count);
    require("largest_duty", max_duty, possible::duty);
    return fuel_flow / (count * max_duty * fuel::density(fuel));
}

double injector_power(double flow, double count, double max_duty, const fuel::Fuel& fuel, double efficiency) {
    require("largest_duty", max_duty, possible::duty);
    require("efficiency", efficiency, fuel::possible::efficiency);
    require("injector_flow", flow, positive);
    require_whole("count", count, possible::count);
    return flow * count * fuel::density(fuel) * max_duty * fuel::heating_value(fuel) * efficiency;
}

double injection_window(double opening_angle, double closing_angle, double speed) {
    require("opening_angle", opening_angle, possible::injection_angle);
    require("closing_angle", closing_angle, {possible::injection_angle.low, opening_angle, false, true});
    return (opening_angle - closing_angle) / require("speed", speed, positive);
}

}  // namespace pullsheet::injection
