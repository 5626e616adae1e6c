// SPDX-License-Identifier: Apache-2.0
#include "core/injection/pump.hpp"

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <utility>

#include "core/constants.hpp"
#include "core/series.hpp"

namespace pullsheet::injection {

double pump_demand(double fuel_flow, const fuel::Fuel& fuel, double margin) {
    require("margin", margin, possible::margin);
    return fuel::volume_flow(fuel_flow, fuel) * (1.0 + margin);
}

PumpCurve::PumpCurve(std::span<const double> pressures, std::span<const double> flows) {
    const std::size_t n = pressures.size();
    require_length("pump_flows", n, flows);
    require_points(n, 1);
    require_all("pump_pressures", pressures, not_negative);
    require_all("pump_flows", flows, not_negative);
    std::vector<std::size_t> order(n);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(),
              [&](std::size_t i, std::size_t j) { return pressures[i] < pressures[j]; });
    std::vector<double> sorted_flows;
    for (const std::size_t i : order) {
        if (!pressures_.empty() && pressures[i] == pressures_.back())
            throw InvalidArgument("pump_pressures", Reason::value_twice,
                                  {{pressures[i], Quantity::pressure_difference}});
        pressures_.push_back(pressures[i]);
        sorted_flows.push_back(flows[i]);
    }
    first_flow_ = sorted_flows.front();
    if (n > 1) between_.emplace(pressures_, std::move(sorted_flows), "pump_pressures", "pump_flows");
}

bool PumpCurve::knows(double pressure) const noexcept {
    constexpr double rounding = 1e-9;
    return pressure <= highest_pressure() * (1.0 + rounding);
}

double PumpCurve::flow(double pressure) const {
    require("pump_pressure", pressure, not_negative);
    if (!knows(pressure))
        throw NoData(Reason::pump_curve_ends, {{pressure, Quantity::pressure_difference},
                                               {highest_pressure(), Quantity::pressure_difference}});
    if (!between_ || pressure <= lowest_pressure()) return first_flow_;
    return between_->trial(std::min(pressure, highest_pressure()));
}

double pump_power(const PumpCurve& pump, double fuel_pressure, const fuel::Fuel& fuel, double efficiency,
                  double count) {
    require("efficiency", efficiency, fuel::possible::efficiency);
    require_whole("count", count, possible::pumps);
    return count * pump.flow(fuel_pressure) * fuel::energy_density(fuel) * efficiency;
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
