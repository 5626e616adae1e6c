// SPDX-License-Identifier: Apache-2.0
#include "core/boost/turbine_map.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/boost/turbine.hpp"
#include "core/error.hpp"
#include "core/solve.hpp"

namespace pullsheet::boost {

namespace {

constexpr Interval mapped_ratios{1.0, 20.0, true, false};
constexpr Interval mapped_efficiencies{0.0, 1.0, true, false};

}  // namespace

TurbineMap::TurbineMap(const std::vector<TurbineMapPoint>& points, Reference reference)
    : reference_(reference) {
    require("reference_temperature", reference.temperature, positive);
    require("reference_pressure", reference.pressure, positive);
    std::map<double, std::vector<TurbineMapPoint>> lines;
    for (const TurbineMapPoint& point : points) {
        require("pressure_ratio", point.pressure_ratio, mapped_ratios);
        require("corrected_flow", point.corrected_flow, positive);
        if (point.efficiency) require("turbine_efficiency", *point.efficiency, mapped_efficiencies);
        if (point.shaft_speed) require("shaft_speed", *point.shaft_speed, positive);
        lines[point.shaft_speed.value_or(0.0)].push_back(point);
    }
    if (points.empty())
        throw NoData(Reason::too_few_points, {{0.0, Quantity::count}, {2.0, Quantity::count}});
    const auto all_or_none = [&](const char* column, auto member) {
        const auto given =
            std::ranges::count_if(points, [&](const auto& p) { return (p.*member).has_value(); });
        if (given != 0 && given != std::ssize(points))
            throw InvalidArgument(column, Reason::lengths_differ,
                                  {{static_cast<double>(given), Quantity::count},
                                   {static_cast<double>(points.size()), Quantity::count}});
    };
    all_or_none("turbine_efficiency", &TurbineMapPoint::efficiency);
    all_or_none("shaft_speed", &TurbineMapPoint::shaft_speed);
    has_efficiency_ = points.front().efficiency.has_value();
    for (auto& [speed, line] : lines) {
        if (line.size() < 2)
            throw NoData(Reason::map_line_too_short, {{speed, Quantity::angular_speed},
                                                      {static_cast<double>(line.size()), Quantity::count},
                                                      {2.0, Quantity::count}});
        std::ranges::sort(line, {}, &TurbineMapPoint::pressure_ratio);
        std::vector<double> ratios, flows, efficiencies;
        for (const TurbineMapPoint& point : line) {
            if (!ratios.empty() && point.pressure_ratio == ratios.back())
                throw InvalidArgument(
                    "turbine_map", Reason::map_point_twice,
                    {{speed, Quantity::angular_speed}, {point.corrected_flow, Quantity::mass_flow}});
            // Where it chokes the points are equal but for their last digit.
            if (!flows.empty() && point.corrected_flow < flows.back() * (1.0 - 1e-6))
                throw InvalidArgument("corrected_flow", Reason::not_increasing,
                                      {{static_cast<double>(flows.size() + 1), Quantity::count}});
            ratios.push_back(point.pressure_ratio);
            flows.push_back(point.corrected_flow);
            if (has_efficiency_) efficiencies.push_back(*point.efficiency);
        }
        highest_ratio_ = std::fmax(highest_ratio_, ratios.back());
        std::optional<statistics::MonotoneCurve> efficiency;
        if (has_efficiency_) efficiency.emplace(ratios, std::move(efficiencies));
        lines_.push_back({speed, {std::move(ratios), std::move(flows)}, std::move(efficiency)});
    }
}

TurbineMap::Reading TurbineMap::on(const Line& line, double pressure_ratio) const {
    const double first = line.flow.first();
    const double last = line.flow.last();
    const double within = std::clamp(pressure_ratio, first, last);
    Reading reading{line.flow.at(within), {}, within != pressure_ratio};
    if (pressure_ratio < first)
        reading.corrected_flow *= flow_function(std::sqrt(pressure_ratio), exhaust_gas) /
                                  flow_function(std::sqrt(first), exhaust_gas);
    if (line.efficiency) reading.efficiency = line.efficiency->at(within);
    return reading;
}

TurbineMap::Reading TurbineMap::at(double pressure_ratio, std::optional<double> corrected_speed) const {
    if (lines_.size() == 1) return on(lines_.front(), pressure_ratio);
    Reading sum{0.0, {}, false};
    if (has_efficiency_) sum.efficiency = 0.0;
    const auto add = [&](const Line& line, double weight) {
        if (!(weight > 0.0)) return;
        const Reading reading = on(line, pressure_ratio);
        sum.corrected_flow += weight * reading.corrected_flow;
        if (has_efficiency_) *sum.efficiency += weight * *reading.efficiency;
        sum.extrapolated = sum.extrapolated || reading.extrapolated;
    };
    if (!corrected_speed) {
        for (const Line& line : lines_) add(line, 1.0 / static_cast<double>(lines_.size()));
        return sum;
    }
    const double speed = std::clamp(*corrected_speed, lines_.front().speed, lines_.back().speed);
    std::size_t upper = 1;
    while (upper + 1 < lines_.size() && lines_[upper].speed < speed) ++upper;
    const double share = (speed - lines_[upper - 1].speed) / (lines_[upper].speed - lines_[upper - 1].speed);
    add(lines_[upper - 1], 1.0 - share);
    add(lines_[upper], share);
    return sum;
}

double TurbineMap::corrected_speed(double shaft_speed, double gas_temperature) const {
    return shaft_speed * std::sqrt(reference_.temperature / gas_temperature);
}

double TurbineMap::pressure_ratio(double flow, double gas_temperature, double outlet_pressure,
                                  std::optional<double> shaft_speed) const {
    require("gas_temperature", gas_temperature, positive);
    require("outlet_pressure", outlet_pressure, positive);
    if (!(flow > 0.0)) return 1.0;
    std::optional<double> speed;
    if (shaft_speed) speed = corrected_speed(*shaft_speed, gas_temperature);
    // The corrected flow times the ratio, which rises from 0 at a ratio of 1.
    const double wanted =
        flow * std::sqrt(gas_temperature / reference_.temperature) * reference_.pressure / outlet_pressure;
    const double last = at(highest_ratio_, speed).corrected_flow;
    if (wanted >= highest_ratio_ * last) return wanted / last;
    return root_between([&](double ratio) { return ratio * at(ratio, speed).corrected_flow - wanted; }, 1.0,
                        highest_ratio_, Reason::not_finite);
}

}  // namespace pullsheet::boost
