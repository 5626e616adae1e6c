// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/plan/stage_limit.hpp"

namespace pullsheet::plan {

/// What a prediction stands on: how far it lies from what was measured.
struct Basis {
    enum class Kind {
        guess,         ///< nothing was measured
        measured,      ///< a point that was measured: the speed within 1 %, the manifold pressure within 2 %
        between,       ///< among the points that were measured
        extrapolated,  ///< beyond them, in at least one of what follows
    };
    Kind kind = Kind::guess;
    bool in_speed = false;              ///< outside the measured speeds
    bool in_boost = false;              ///< boost above 1.25 times the highest measured
    bool in_fuel = false;               ///< a fuel on which nothing was measured
    bool in_compression_ratio = false;  ///< with which nothing was measured
    /// Relative standard uncertainty of the power that the distance adds: boost 2 %, speed 3 % for each
    /// 1000 rpm, compression ratio 3 % for each unit. Assumptions.
    double uncertainty = 0.0;
    /// K by which the gas is hotter than at the hottest measured point; 0 where nothing was measured.
    double hotter_gas = 0.0;
};

/// The basis of a limit on a fuel at a speed, rad/s; `base` is that of its stage.
Basis basis_of(const StageBase& base, const StageLimit& limit, const fuel::Fuel& fuel, double speed);

}  // namespace pullsheet::plan
