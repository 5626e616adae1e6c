// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "core/error.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::injection {

// Volume flows in m³/s, pressures in Pa as the difference the pump raises, fuel flow in kg/s.

namespace possible {
inline constexpr Interval margin{0.0, 5.0};
inline constexpr Interval pumps{1.0, 10.0};  ///< whole numbers
inline constexpr Interval lobes{1.0, 12.0};  ///< whole numbers
inline constexpr Interval filling{0.0, 1.0, true, false};
inline constexpr Interval cam_ratio{0.0, 4.0, true, false};
}  // namespace possible
namespace established {
inline constexpr Interval margin{0.0, 1.0};
inline constexpr Interval filling{0.5, 1.0};
}  // namespace established

/// Flow that a pump must deliver, m³/s at 15 °C, for a fuel flow (≥ 0) with a margin above it (0.1 for ten
/// per cent).
double pump_demand(double fuel_flow, const fuel::Fuel& fuel, double margin);

/// Flow of one pump, m³/s, at `fuel_pressure` from its curve: monotone cubic interpolation (Fritsch &
/// Butland; Boost.Math pchip) of at least four points in any order, pressures (≥ 0) all different, flows ≥ 0.
/// Outside the curve NoData(Reason::pump_curve_ends, wanted, lowest, highest pressure).
double pump_flow(std::span<const double> pressures, std::span<const double> flows, double fuel_pressure);

/// Brake power, W, that `count` equal pumps side by side carry at `fuel_pressure`, the pressure at the pump:
/// that across the injectors plus boost plus losses of lines and filter. Density of the fuel at 15 °C;
/// efficiency = brake power / (fuel flow × lower heating value).
double pump_power(std::span<const double> pressures, std::span<const double> flows, double fuel_pressure,
                  const fuel::Fuel& fuel, double efficiency, double count = 1.0);

/// Flow of a cam-driven plunger pump, m³/s: π/4·diameter²·lift × lobes × turns of the cam × filling. Diameter
/// and lift in m, speed of the crankshaft in rad/s (≥ 0), cam_ratio = turns of the cam for each turn of the
/// crankshaft (0.5 on a camshaft). Textbook kinematics of a piston pump.
double plunger_flow(double diameter, double lift, double lobes, double speed, double filling,
                    double cam_ratio);

}  // namespace pullsheet::injection
