// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/error.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::engine {

// Torque in N·m, power in W, speed in rad/s, flows in kg/s, displacement in m³.

namespace established {
inline constexpr Interval bmep{0.0, 60e5};  ///< Pa; from coasting to the highest boost in use
}  // namespace established

/// Power, W, of a torque at a speed (≥ 0): P = T·ω.
double power(double torque, double speed);

/// Torque, N·m, of a power at a speed (> 0).
double torque(double power, double speed);

/// Speed, rad/s, at which a torque (not zero) gives a power of the same sign.
double speed(double power, double torque);

/// Brake mean effective pressure, Pa: 2π·T·(strokes/2)/V. `strokes` is 2 or 4, otherwise
/// InvalidArgument("strokes", Reason::neither_two_nor_four). Heywood (1988), equation 2.19.
double bmep(double torque, double displacement, double strokes = 4.0);

/// Brake specific fuel consumption, kg/J: fuel flow (≥ 0) divided by power (> 0). Heywood (1988),
/// equation 2.22.
double bsfc(double fuel_flow, double power);

/// Brake efficiency, 0…1: power (≥ 0) divided by fuel flow (> 0) times lower heating value. Heywood (1988),
/// equation 2.23. A power above that of the fuel is refused.
double efficiency(double fuel_flow, double power, const fuel::Fuel& fuel);

}  // namespace pullsheet::engine
