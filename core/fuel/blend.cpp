// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/blend.hpp"

#include <algorithm>

#include "core/series.hpp"

namespace pullsheet::fuel {

namespace {

/// Shares closer than this are the same: shares of a full tank are no better known, and rounding stays below
/// it.
constexpr double same_share = 1e-12;

NoSolution out_of_reach(double low, double high) {
    return NoSolution(Reason::blend_out_of_reach, {{low, Quantity::share}, {high, Quantity::share}});
}

}  // namespace

double blend_ethanol(std::span<const double> volumes, std::span<const double> ethanol_shares) {
    require_length("ethanol_shares", volumes.size(), ethanol_shares);
    double volume = 0.0;
    double of_ethanol = 0.0;
    for (std::size_t i = 0; i < volumes.size(); ++i) {
        volume += require("volumes", volumes[i], not_negative);
        of_ethanol += volumes[i] * require("ethanol_shares", ethanol_shares[i], unit_share);
    }
    if (!(volume > 0.0)) throw InvalidArgument("volumes", Reason::nothing_to_mix);
    return of_ethanol / volume;
}

double blend_add(double tank_volume, double tank_ethanol, double added_ethanol, double target) {
    require("tank_volume", tank_volume, positive);
    require("tank_ethanol", tank_ethanol, unit_share);
    require("added_ethanol", added_ethanol, unit_share);
    require("target_ethanol", target, unit_share);
    if (target == tank_ethanol) return 0.0;
    const double share = (target - tank_ethanol) / (added_ethanol - tank_ethanol);
    if (!(share > 0.0 && share < 1.0)) throw out_of_reach(tank_ethanol, added_ethanol);
    return tank_volume * (target - tank_ethanol) / (added_ethanol - target);
}

Filling blend_fill(double tank_capacity, double tank_volume, double tank_ethanol, double ethanol_a,
                   double ethanol_b, double target) {
    require("tank_capacity", tank_capacity, positive);
    require("tank_volume", tank_volume, {0.0, tank_capacity});
    require("tank_ethanol", tank_ethanol, unit_share);
    require("ethanol_a", ethanol_a, unit_share);
    require("ethanol_b", ethanol_b, unit_share);
    require("target_ethanol", target, unit_share);
    const double room = tank_capacity - tank_volume;
    const double held = tank_volume * tank_ethanol;
    const double with_a = (held + room * ethanol_a) / tank_capacity;
    const double with_b = (held + room * ethanol_b) / tank_capacity;
    const auto [low, high] = std::minmax(with_a, with_b);
    if (target < low - same_share || target > high + same_share) throw out_of_reach(low, high);
    if (high - low <= same_share) return {room, 0.0};
    const double a = std::clamp((target - with_b) / (with_a - with_b), 0.0, 1.0) * room;
    return {a, room - a};
}

}  // namespace pullsheet::fuel
