// SPDX-License-Identifier: Apache-2.0
#include "core/injection/injector.hpp"

#include <cmath>

#include "core/checks.hpp"

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
    static constexpr Checks checks({{"fuel_flow", not_negative},
                                    {"injector_flow", positive},
                                    {"count", possible::count},
                                    {"dead_time", possible::dead_time},
                                    {"speed", positive}});
    checks(fuel_flow, flow, count, dead_time, speed.value_or(1.0));
    require_whole("count", count);
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
    static constexpr Checks checks(
        {{"fuel_flow", not_negative}, {"count", possible::count}, {"largest_duty", possible::duty}});
    checks(fuel_flow, count, max_duty);
    require_whole("count", count);
    return fuel_flow / (count * max_duty * fuel::density(fuel));
}

double injector_power(double flow, double count, double max_duty, const fuel::Fuel& fuel, double efficiency) {
    static constexpr Checks checks({{"largest_duty", possible::duty},
                                    {"efficiency", fuel::possible::efficiency},
                                    {"injector_flow", positive},
                                    {"count", possible::count}});
    checks(max_duty, efficiency, flow, count);
    require_whole("count", count);
    return flow * count * fuel::density(fuel) * max_duty * fuel::heating_value(fuel) * efficiency;
}

double injection_window(double opening_angle, double closing_angle, double speed) {
    require("opening_angle", opening_angle, possible::injection_angle);
    require("closing_angle", closing_angle, {possible::injection_angle.low, opening_angle, false, true});
    return (opening_angle - closing_angle) / require("speed", speed, positive);
}

}  // namespace pullsheet::injection
