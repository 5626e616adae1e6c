// SPDX-License-Identifier: Apache-2.0
#include "core/injection/injector.hpp"

#include <cmath>

#include "core/injection/whole.hpp"

namespace pullsheet::injection {

namespace {

/// Mass flow of all injectors held open, kg/s.
double open_flow(double flow, double count, const fuel::Fuel& fuel) {
    return require("flow", flow, positive) * require_whole("count", count, possible::count) *
           fuel::density(fuel);
}

}  // namespace

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
                     std::optional<double> speed, double dead_time) {
    require("fuel_flow", fuel_flow, not_negative);
    const double duty = fuel_flow / open_flow(flow, count, fuel);
    require("dead_time", dead_time, possible::dead_time);
    if (!speed) {
        if (dead_time > 0.0) throw InvalidArgument("speed", Reason::speed_needed);
        return duty;
    }
    const double cycle = 4.0 * pi / require("speed", *speed, positive);
    return duty + dead_time / cycle;
}

std::vector<Warning> duty_warnings(double duty) {
    if (duty > possible::duty.high) return {{Reason::injector_always_open, {{duty, Quantity::share}}}};
    return {};
}

double injector_size(double fuel_flow, double count, double max_duty, const fuel::Fuel& fuel) {
    require("fuel_flow", fuel_flow, not_negative);
    require_whole("count", count, possible::count);
    require("max_duty", max_duty, possible::duty);
    return fuel_flow / (count * max_duty * fuel::density(fuel));
}

double injector_power(double flow, double count, double max_duty, const fuel::Fuel& fuel, double efficiency) {
    require("max_duty", max_duty, possible::duty);
    require("efficiency", efficiency, fuel::possible::efficiency);
    return open_flow(flow, count, fuel) * max_duty * fuel::heating_value(fuel) * efficiency;
}

double injection_window(double opening_angle, double closing_angle, double speed) {
    require("opening_angle", opening_angle, possible::injection_angle);
    require("closing_angle", closing_angle, {possible::injection_angle.low, opening_angle, false, true});
    return (opening_angle - closing_angle) / require("speed", speed, positive);
}

}  // namespace pullsheet::injection
