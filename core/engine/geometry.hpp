// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/error.hpp"

namespace pullsheet::engine {

// Lengths in m, volumes in m³, speed of the crankshaft in rad/s.

namespace possible {
inline constexpr Interval cylinders{1.0, 48.0};  ///< whole numbers
}
namespace established {
inline constexpr Interval bore{0.03, 0.20};               ///< m, engines of road vehicles
inline constexpr Interval stroke{0.03, 0.20};             ///< m, engines of road vehicles
inline constexpr Interval deck_clearance{-0.002, 0.010};  ///< m, below zero: the piston stands proud
inline constexpr Interval gasket_thickness{0.0, 0.004};   ///< m
}  // namespace established

/// Displacement, m³, of all cylinders (a whole number, 1…48): π/4·bore²·stroke·cylinders.
double displacement(double bore, double stroke, double cylinders);

/// Compression ratio (V + Vc)/Vc. The clearance volume Vc is the sum of the chamber in the head (≥ 0), the
/// gasket as a disc of `gasket_bore` and compressed `gasket_thickness` (≥ 0), the disc of `deck_clearance`
/// between piston edge at top dead centre and deck (below zero if the piston stands proud), and
/// `piston_volume`: dish above, dome below zero. Throws InvalidArgument("piston_volume",
/// Reason::no_clearance_volume, volume) if nothing is left.
double compression_ratio(double bore, double stroke, double chamber_volume, double gasket_bore,
                         double gasket_thickness, double deck_clearance, double piston_volume = 0.0);

/// Mean piston speed, m/s: 2·stroke·n; speed ≥ 0. Heywood (1988), equation 2.9.
double mean_piston_speed(double stroke, double speed);

/// Greatest acceleration of the piston, m/s², at top dead centre: r·ω²·(1 + r/rod) with r half the stroke.
/// `rod` centre to centre, more than half the stroke. Heywood (1988), section 2.2.
double top_piston_acceleration(double stroke, double rod, double speed);

}  // namespace pullsheet::engine
