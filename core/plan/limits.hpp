// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/plan/operating_point.hpp"

namespace pullsheet::plan {

/// Where the data of a part end below its limit: it carries this much, and beyond that it is not known.
struct DataEnd {
    double power;  ///< W at the crank; 0 where it is not known at any power
    /// Why: Reason::pump_curve_ends, map_ends_right, map_ends_above or map_ends_left with their details just
    /// beyond that power; map_missed where the power is 0.
    Warning why;
};

/// What one part carries.
struct PartLimit {
    /// W at the crank, at the speed asked, at which the part reaches its limit; none where it states no
    /// limit, carries more than 100 MW or its data end before; 0 where it carries nothing.
    std::optional<double> power;
    std::optional<DataEnd> data_end;  ///< a curve or a map that ends below the limit of the part
    /// The load at the wanted power; use above 1 where the part does not carry it.
    PartLoad load;
    /// Why there is no such load, where the chain breaks before the wanted power (a choked pipe, boost above
    /// the fuel rail) or the data of the part end before it (a pump beyond its curve); use is infinite then.
    std::optional<Warning> broken;

    /// W up to which the part is known to carry; none where nothing bounds it.
    std::optional<double> bound() const { return data_end ? data_end->power : power; }
};

/// What the parts of a build carry, and the limiting part.
struct Limits {
    std::vector<PartLimit> parts;  ///< in the order of the parts
    /// Index of the limiting part, or of the part whose data end first: `parts[weakest].data_end` tells.
    std::size_t weakest;
    double power;   ///< W, up to which all parts are known to carry
    double wanted;  ///< W, for which the loads are computed
};

/// The power that each part carries at `speed` (rad/s): the inverse of operating_point, at which the load of
/// the part equals its capacity (with a compressor map: the point lies on the edge of the map).
/// Each part is judged with all the others in place: a pipe with the density after this cooler, injectors
/// with this boost. Where that leads beyond the compressor map, the efficiency of the map's nearest point is
/// used, so that the other parts can be judged all the same.
///
/// The end of what was typed is no limit of a part. Beyond the last point of a pump's curve, and beyond the
/// right and the upper edge of a compressor map, the part is not known; its surge line and the limits stated
/// beside the map are its own.
///
/// `wanted` W > 0 is the power for which the loads are computed; left out, the smallest bound above 0, or 100
/// kW. The chain is solved some twenty times for each part, at most 700 times. Throws InvalidArgument as
/// operating_point does, NoData with Reason::no_limit where no part states a limit.
Limits limits(const Engine& engine, const Parts& parts, const fuel::Fuel& fuel, double speed,
              const Weather& weather = {}, std::optional<double> wanted = {});

}  // namespace pullsheet::plan
