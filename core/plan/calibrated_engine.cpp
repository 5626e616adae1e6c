// SPDX-License-Identifier: Apache-2.0
#include "core/plan/calibrated_engine.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace pullsheet::plan {
namespace {

/// Relative standard uncertainty of power that the step to another fuel or stage adds: 1.5 octane numbers
/// and 1.5° of the latest burn, the latter and 2 % of efficiency. Assumptions, see TableUncertainty.
constexpr double other_fuel = 0.045;
constexpr double other_stage = 0.045;
/// Two points at speeds as near as this, relative, are at one speed.
constexpr double same_speed = 1e-6;

template <class Kind>
const Kind* part_of(const Parts& parts) {
    for (const Part& part : parts)
        if (const auto* found = std::get_if<Kind>(&part)) return found;
    return nullptr;
}

template <class Kind>
bool same(const Parts& a, const Parts& b) {
    const Kind *in_a = part_of<Kind>(a), *in_b = part_of<Kind>(b);
    return in_a && in_b ? *in_a == *in_b : in_a == in_b;
}

bool same_turbocharger(const Parts& a, const Parts& b) {
    return same<Compressor>(a, b) && same<boost::Turbine>(a, b) && same<boost::ExhaustSystem>(a, b);
}

/// The maps that count for a quantity, and how much.
struct Weighted {
    const FittedMap* map;
    double weight;
};

OverSpeed mean(const std::vector<Weighted>& maps, OverSpeed SpeedFit::*quantity, double if_empty) {
    OverSpeed all;
    for (const Weighted& w : maps)
        for (const double speed : (w.map->fit.*quantity).speeds) all.add(speed, 0.0);
    for (std::size_t i = 0; i < all.speeds.size(); ++i) {
        double sum = 0.0, weights = 0.0;
        for (const Weighted& w : maps) {
            sum += w.weight * (w.map->fit.*quantity).at(all.speeds[i], if_empty);
            weights += w.weight;
        }
        all.values[i] = sum / weights;
    }
    return all;
}

}  // namespace

double OverSpeed::at(double speed) const {
    const auto next = std::lower_bound(speeds.begin(), speeds.end(), speed);
    if (next == speeds.begin()) return values.front();
    if (next == speeds.end()) return values.back();
    const auto i = static_cast<std::size_t>(next - speeds.begin());
    return std::lerp(values[i - 1], values[i], (speed - speeds[i - 1]) / (speeds[i] - speeds[i - 1]));
}

void OverSpeed::add(double speed, double value) {
    counts.resize(speeds.size(), 1);
    const auto next = std::lower_bound(speeds.begin(), speeds.end(), speed * (1.0 - same_speed));
    const auto i = next - speeds.begin();
    const auto at = static_cast<std::size_t>(i);
    if (next != speeds.end() && *next <= speed * (1.0 + same_speed)) {
        values[at] += (value - values[at]) / ++counts[at];
        return;
    }
    speeds.insert(next, speed);
    values.insert(values.begin() + i, value);
    counts.insert(counts.begin() + i, 1);
}

cycle::Cylinder CalibratedEngine::cylinder_at(double speed) const {
    cycle::Cylinder at = cylinder;
    at.octane_offset += fit.octane_offset.at(speed, 0.0);
    at.efficiency_factor *= fit.efficiency_factor.at(speed, 1.0);
    at.burn_duration *= fit.burn_duration.at(speed, 1.0);
    if (!fit.volumetric_efficiency.empty())
        at.volumetric_efficiency =
            cylinder.volumetric_efficiency.at(speed) * fit.volumetric_efficiency.at(speed);
    return at;
}

CalibratedEngine for_cell(const CalibratedEngine& engine, const Parts& parts, const OfferedFuel& fuel) {
    CalibratedEngine cell = engine;
    if (engine.maps.empty()) return cell;
    for (const FittedMap& map : engine.maps)
        if (map.parts == parts && map.fuel.fuel == fuel.fuel) {
            cell.fit = map.fit;
            cell.power_uncertainty = map.power_uncertainty;
            cell.maps.clear();
            return cell;
        }
    std::vector<Weighted> all, knocking, of_fuel, cooled;
    for (const FittedMap& map : engine.maps) {
        const bool same_fuel = map.fuel.fuel == fuel.fuel;
        const double u = std::hypot(map.power_uncertainty, same_fuel ? 0.0 : other_fuel,
                                    map.parts == parts ? 0.0 : other_stage);
        const Weighted weighted{&map, 1.0 / (u * u)};
        all.push_back(weighted);
        if (map.knocks) knocking.push_back(weighted);
        if (same_fuel) of_fuel.push_back(weighted);
        if (same<ChargeCooler>(map.parts, parts)) cooled.push_back(weighted);
    }
    if (knocking.empty()) knocking = all;
    std::vector<Weighted> octane;
    std::ranges::copy_if(knocking, std::back_inserter(octane),
                         [&](const Weighted& w) { return w.map->fuel.fuel == fuel.fuel; });
    if (octane.empty()) octane = knocking;
    SpeedFit& fit = cell.fit;
    fit = {};
    fit.octane_offset = mean(octane, &SpeedFit::octane_offset, 0.0);
    fit.efficiency_factor = mean(all, &SpeedFit::efficiency_factor, 1.0);
    fit.burn_duration = mean(all, &SpeedFit::burn_duration, 1.0);
    fit.volumetric_efficiency = mean(all, &SpeedFit::volumetric_efficiency, 1.0);
    fit.latest_burn = mean(knocking, &SpeedFit::latest_burn, engine.latest_half_burned);
    fit.lambda = mean(of_fuel, &SpeedFit::lambda, fuel.lambda);
    fit.charge_rise_factor = mean(cooled, &SpeedFit::charge_rise_factor, 1.0);
    fit.charge_heating = mean(cooled, &SpeedFit::charge_heating, 0.0);
    double least = all.front().map->power_uncertainty;
    for (const Weighted& w : all) {
        least = std::min(least, w.map->power_uncertainty);
        if (w.map->fit.power_peak_speed && same_turbocharger(w.map->parts, parts))
            fit.power_peak_speed = std::max(fit.power_peak_speed.value_or(0.0), *w.map->fit.power_peak_speed);
    }
    cell.power_uncertainty = least;
    cell.maps.clear();
    return cell;
}

}  // namespace pullsheet::plan
