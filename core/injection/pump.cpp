// SPDX-License-Identifier: Apache-2.0
#include "core/injection/pump.hpp"

#include <math.h>  // Boost 1.74's pchip calls isnan without a namespace

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <cstddef>
#include <numeric>
#include <utility>
#include <vector>

#include "core/constants.hpp"

namespace pullsheet::injection {

namespace {

constexpr std::size_t fewest_points = 4;

Detail count_of(std::size_t n) {
    return {static_cast<double>(n), Quantity::count};
}

}  // namespace

double pump_demand(double fuel_flow, const fuel::Fuel& fuel, double margin) {
    require("margin", margin, possible::margin);
    return fuel::volume_flow(fuel_flow, fuel) * (1.0 + margin);
}

double pump_flow(std::span<const double> pressures, std::span<const double> flows, double fuel_pressure) {
    const std::size_t n = pressures.size();
    if (n != flows.size())
        throw InvalidArgument("pump_flows", Reason::lengths_differ, {count_of(n), count_of(flows.size())});
    if (n < fewest_points) throw NoData(Reason::too_few_points, {count_of(n), count_of(fewest_points)});
    for (std::size_t i = 0; i < n; ++i) {
        require("pump_pressures", pressures[i], not_negative);
        require("pump_flows", flows[i], not_negative);
    }
    require("pump_pressure", fuel_pressure, not_negative);

    std::vector<std::size_t> order(n);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(),
              [&](std::size_t i, std::size_t j) { return pressures[i] < pressures[j]; });
    std::vector<double> x(n);
    std::vector<double> y(n);
    for (std::size_t i = 0; i < n; ++i) {
        x[i] = pressures[order[i]];
        y[i] = flows[order[i]];
        if (i > 0 && x[i] == x[i - 1])
            throw InvalidArgument("pump_pressures", Reason::value_twice,
                                  {{x[i], Quantity::pressure_difference}});
    }
    if (fuel_pressure < x.front() || fuel_pressure > x.back())
        throw NoData(Reason::pump_curve_ends, {{fuel_pressure, Quantity::pressure_difference},
                                               {x.front(), Quantity::pressure_difference},
                                               {x.back(), Quantity::pressure_difference}});
    const boost::math::interpolators::pchip curve(std::move(x), std::move(y));
    return curve(fuel_pressure);
}

double pump_power(std::span<const double> pressures, std::span<const double> flows, double fuel_pressure,
                  const fuel::Fuel& fuel, double efficiency, double count) {
    require("efficiency", efficiency, fuel::possible::efficiency);
    require_whole("count", count, possible::pumps);
    return count * pump_flow(pressures, flows, fuel_pressure) * fuel::energy_density(fuel) * efficiency;
}

double plunger_flow(double diameter, double lift, double lobes, double speed, double filling,
                    double cam_ratio) {
    require("plunger_diameter", diameter, positive);
    require("lift", lift, positive);
    require_whole("lobes", lobes, possible::lobes);
    require("speed", speed, not_negative);
    require("filling", filling, possible::filling);
    require("cam_ratio", cam_ratio, possible::cam_ratio);
    const double stroke_volume = 0.25 * pi * diameter * diameter * lift;
    return stroke_volume * lobes * cam_ratio * speed / (2.0 * pi) * filling;
}

}  // namespace pullsheet::injection
