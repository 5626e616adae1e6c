// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "core/constants.hpp"
#include "core/error.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::injection {

// Flows of an injector held open in m³/s, fuel flow of the engine in kg/s, pressures in Pa as the difference
// across the injector (fuel rail less manifold), speed of the crankshaft in rad/s.

/// Density of n-heptane, the test fluid of SAE J1832, kg/m³ (Çengel & Boles, table A-27).
inline constexpr double test_fluid_density = 684.0;
/// The duty up to which injectors are commonly planned (common practice).
inline constexpr double usual_highest_duty = 0.85;

namespace possible {
inline constexpr Interval fuel_pressure{0.0, 100e6, true, false};  ///< Pa
inline constexpr Interval fluid_density{500.0, 1200.0};            ///< kg/m³
inline constexpr Interval count{1.0, 96.0};                        ///< injectors, whole numbers
inline constexpr Interval duty{0.0, 1.0, true, false};
inline constexpr Interval dead_time{0.0, 0.010};  ///< s
/// Crank angles of direct injection before top dead centre, rad: intake stroke … expansion stroke.
inline constexpr Interval injection_angle{-pi, 2.0 * pi};
}  // namespace possible
namespace established {
inline constexpr Interval fuel_pressure{1e5, 50e6};  ///< Pa; turbulent flow through the orifice
inline constexpr Interval duty{0.0, usual_highest_duty};
inline constexpr Interval dead_time{0.0, 0.003};  ///< s
}  // namespace established

/// Flow at another pressure difference and fluid: Q₂ = Q₁·√(Δp₂/Δp₁)·√(ρ₁/ρ₂), Bernoulli's orifice with the
/// same discharge coefficient. Volume flow; the mass flow grows with √(Δp·ρ).
double injector_flow(double rated_flow, double rated_pressure, double fuel_pressure, double rated_density,
                     double density);
/// The same with the fluid of the rating.
double injector_flow(double rated_flow, double rated_pressure, double fuel_pressure);

/// Share of the time for which each of `count` injectors must be open: fuel flow divided by count × flow ×
/// density at 15 °C, plus the dead time over the duration of a cycle (two turns; sequential port injection
/// with one opening a cycle). Without a speed the dead time must be zero (Reason::speed_needed). A duty above
/// one is returned as it is: see duty_warnings.
double injector_duty(double fuel_flow, double count, double flow, const fuel::Fuel& fuel,
                     const std::optional<double>& speed = std::nullopt, double dead_time = 0.0);

/// What should be known beside a duty: above one it cannot be held (Reason::injector_always_open).
std::vector<Warning> duty_warnings(double duty);

/// Flow that each injector needs so that `count` of them carry a fuel flow (≥ 0) at `max_duty` (0…1).
double injector_size(double fuel_flow, double count, double max_duty, const fuel::Fuel& fuel);

/// Brake power, W, that `count` injectors carry at `max_duty`; efficiency = brake power / (fuel flow ×
/// heating value).
double injector_power(double flow, double count, double max_duty, const fuel::Fuel& fuel, double efficiency);

/// Time, s, between two crank angles (rad before top dead centre, negative after it) at a speed (> 0): what
/// direct injection has. Opening −π…2π, closing below opening.
double injection_window(double opening_angle, double closing_angle, double speed);

}  // namespace pullsheet::injection
