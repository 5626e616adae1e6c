// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <initializer_list>
#include <optional>
#include <span>
#include <vector>

#include "core/error.hpp"
#include "core/fuel/fuel.hpp"
#include "core/statistics/monotone_curve.hpp"

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

/// Flow of one pump over the pressure that it raises, by the points of its data sheet: one point or more.
///
/// Between points statistics::MonotoneCurve. Below the first point the flow of the first is taken: a pump
/// delivers no less against less pressure. Beyond the last point the flow is not known.
class PumpCurve {
  public:
    /// `pressures` (≥ 0, all different) in any order, `flows` ≥ 0 at these. Throws
    /// InvalidArgument("pump_pressures", Reason::value_twice: the pressure), ("pump_flows",
    /// Reason::lengths_differ), NoData(Reason::too_few_points) without any point.
    PumpCurve(std::span<const double> pressures, std::span<const double> flows);
    PumpCurve(std::initializer_list<double> pressures, std::initializer_list<double> flows)
        : PumpCurve(std::span(pressures.begin(), pressures.size()), std::span(flows.begin(), flows.size())) {}

    /// m³/s at `pressure`, ≥ 0. Throws NoData(Reason::pump_curve_ends: pressure, last of the curve).
    double flow(double pressure) const;
    /// Whether the flow is known at this pressure.
    bool knows(double pressure) const noexcept;
    double lowest_pressure() const noexcept { return pressures_.front(); }
    double highest_pressure() const noexcept { return pressures_.back(); }

    bool operator==(const PumpCurve&) const = default;

  private:
    std::vector<double> pressures_;  // ascending
    double first_flow_ = 0.0;
    std::optional<statistics::MonotoneCurve> between_;  // with two points or more
};

/// Brake power, W, that `count` equal pumps side by side carry at `fuel_pressure`, the pressure at the pump:
/// that across the injectors plus boost plus losses of lines and filter. Density of the fuel at 15 °C;
/// efficiency = brake power / (fuel flow × lower heating value).
double pump_power(const PumpCurve& pump, double fuel_pressure, const fuel::Fuel& fuel, double efficiency,
                  double count = 1.0);

/// Flow of a cam-driven plunger pump, m³/s: π/4·diameter²·lift × lobes × turns of the cam × filling. Diameter
/// and lift in m, speed of the crankshaft in rad/s (≥ 0), cam_ratio = turns of the cam for each turn of the
/// crankshaft (0.5 on a camshaft). Textbook kinematics of a piston pump.
double plunger_flow(double diameter, double lift, double lobes, double speed, double filling,
                    double cam_ratio);

}  // namespace pullsheet::injection
