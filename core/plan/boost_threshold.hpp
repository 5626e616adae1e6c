// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/plan/load_line.hpp"

/// From which engine speed on a boost is there, and the area of a turbine with which it is.
namespace pullsheet::plan {

/// The threshold of a manifold pressure, Pa, of an engine with a turbine between two engine speeds, rad/s.
/// As Match::threshold_band, save that the surplus is taken to rise with engine speed where the search goes;
/// each uncertainty is solved again on the surplus over engine speed around the threshold. To 1e-6 of the
/// speed. Where it is not reached, the highest pressure is the greatest of six speeds.
ThresholdBand boost_threshold(const BoostedEngine& engine, double manifold_pressure, double lowest_speed,
                              double highest_speed, const MatchUncertainty& uncertainty = {});

/// The effective area of one turbine of `parts` with which a manifold pressure, Pa, is there at an engine
/// speed, rad/s, in place of the area that it has. Throws as Match::area_for does.
struct AreaAnswer {
    Match::AreaFor area;
    double bears;      ///< Pa, the highest manifold pressure that the engine bears there
    BoostedLoad load;  ///< at that pressure with the area with which it is reached, the wastegate shut
};
AreaAnswer area_for_boost(const StageBase& base, const Parts& parts, const OfferedFuel& fuel, double speed,
                          double manifold_pressure);

}  // namespace pullsheet::plan
