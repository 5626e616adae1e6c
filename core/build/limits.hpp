// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/build/operating_point.hpp"

namespace pullsheet::build {

/// What one part carries.
struct PartLimit {
    /// W at the crank, at the speed asked; none where the part states no limit or carries more than 100 MW; 0
    /// where it carries nothing.
    std::optional<double> power;
    /// The load at the wanted power; use above 1 where the part does not carry it.
    PartLoad load;
    /// Why there is no such load, where the chain breaks before the wanted power (a choked pipe, boost above
    /// the fuel rail, a pump beyond its curve); use is infinite then.
    std::optional<Warning> broken;
};

/// What the parts of a build carry, and which of them gives out first.
struct Limits {
    std::vector<PartLimit> parts;  ///< in the order of the parts
    std::size_t weakest;           ///< index of the part that gives out first
    double power;                  ///< W, that it carries
    double wanted;                 ///< W, for which the loads are told
};

/// The power each part carries at `speed` (rad/s): the inverse of operating_point, since at that power the
/// load of the part is just its capacity (with a compressor map: the point lies on the edge of the map).
/// Every part is judged with all the others in place: a pipe with the density behind this cooler, injectors
/// with this boost. Where that leads beyond the compressor map, the efficiency of the map's nearest point is
/// used, so that the other parts can be judged all the same.
///
/// `wanted` W > 0 is the power for which the loads are told; left out, that of the weakest part.
/// The chain is solved some twenty times for each part, at most 700 times. Intake pipes share what is solved,
/// however many they are in a row; only one that eats most of the pressure needs looks of its own.
/// Throws InvalidArgument as operating_point does, NoData with Reason::no_limit where no part states a limit.
Limits limits(const Engine& engine, const Parts& parts, const fuel::Fuel& fuel, double speed,
              const Weather& weather = {}, std::optional<double> wanted = {});

}  // namespace pullsheet::build
