// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "core/error.hpp"

namespace pullsheet::fuel {

// Mixing fuels of different ethanol share. Volumes in m³ at one temperature add (no excess volume), ethanol
// shares are by volume, 0…1. Pump fuel called E85 holds 51 … 83 % by ASTM D5798: use the measured share.

/// Ethanol share of all the volumes together. One share for each volume; volumes ≥ 0, not all zero.
double blend_ethanol(std::span<const double> volumes, std::span<const double> ethanol_shares);

/// Volume of fuel with the share `added_ethanol` to add to a tank holding `tank_volume` (> 0) of
/// `tank_ethanol`, so that the tank holds `target`. Throws NoSolution(Reason::blend_out_of_reach, tank share,
/// added share) if the target does not lie from the tank's share up to but not including the added one.
double blend_add(double tank_volume, double tank_ethanol, double added_ethanol, double target);

/// Volumes of the two sources, m³.
struct Filling {
    double a;
    double b;
};

/// Volumes of a source with the share `ethanol_a` and of one with `ethanol_b` that fill a tank of
/// `tank_capacity` (> 0), holding `tank_volume` (0 … capacity) of `tank_ethanol`, to the brim at `target`. If
/// both sources have the same share, all is taken from a. Throws NoSolution(Reason::blend_out_of_reach,
/// lowest share, highest share) that can be reached.
Filling blend_fill(double tank_capacity, double tank_volume, double tank_ethanol, double ethanol_a,
                   double ethanol_b, double target);

}  // namespace pullsheet::fuel
