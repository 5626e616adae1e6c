// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/constants.hpp"
#include "core/error.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::engine {

// Air flow in kg/s of dry air, displacement in m³, speed in rad/s, manifold pressure in Pa absolute,
// temperature in K.

namespace possible {
inline constexpr Interval manifold_pressure{1e3, 1.5e6};                                    ///< Pa
inline constexpr Interval manifold_temperature{zero_celsius - 60.0, zero_celsius + 300.0};  ///< K
inline constexpr Interval volumetric_efficiency{0.0, 2.0, true, false};
}  // namespace possible
namespace established {
inline constexpr Interval manifold_pressure{15e3, 450e3};                                   ///< Pa
inline constexpr Interval manifold_temperature{zero_celsius - 30.0, zero_celsius + 120.0};  ///< K
inline constexpr Interval volumetric_efficiency{0.3, 1.3};  ///< referred to the state in the manifold
}  // namespace established

/// Air flow of a four-stroke engine, kg/s: ηv·V·p/(R·T)·n/2 with the gas constant of dry air; ηv is referred
/// to the density in the manifold, not to that of the surroundings. Heywood (1988), equation 2.27.
double air_flow(double displacement, double speed, double manifold_pressure, double manifold_temperature,
                double volumetric_efficiency);

/// Volumetric efficiency, referred to the density in the manifold, of a four-stroke engine that takes
/// `air_flow` (≥ 0).
double volumetric_efficiency(double air_flow, double displacement, double speed, double manifold_pressure,
                             double manifold_temperature);

/// Manifold pressure, Pa absolute, at which a four-stroke engine takes `air_flow` (≥ 0).
double manifold_pressure(double air_flow, double displacement, double speed, double manifold_temperature,
                         double volumetric_efficiency);

/// Air, kg/s, that a brake power (W, ≥ 0) takes at `lambda` (0.4…4): fuel flow times stoichiometric ratio
/// times lambda. `efficiency` = brake power / (fuel flow × lower heating value), 0…0.6 without 0; fuel in
/// excess of the air counts as fuel flow, so that the efficiency falls as lambda falls below one.
double air_for_power(double power, const fuel::Fuel& fuel, double lambda, double efficiency);

/// Brake power, W, that `air_flow` (≥ 0) carries; the inverse of air_for_power.
double power_from_air(double air_flow, const fuel::Fuel& fuel, double lambda, double efficiency);

}  // namespace pullsheet::engine
