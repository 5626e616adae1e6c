// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <numbers>

namespace pullsheet {

inline constexpr double pi = std::numbers::pi;
/// Standard acceleration of free fall, m/s². CGPM 1901, exact.
inline constexpr double standard_gravity = 9.80665;
/// Molar gas constant, J/(mol·K). SI 2019, exact.
inline constexpr double molar_gas_constant = 8.31446261815324;
/// 0 °C, K. Exact.
inline constexpr double zero_celsius = 273.15;
/// Specific gas constant of dry air, J/(kg·K). ISO 2533:1975.
inline constexpr double dry_air_gas_constant = 287.05287;
/// Ratio of specific heats of air used where a constant is stated. ISO 2533:1975.
inline constexpr double air_heat_capacity_ratio = 1.4;

}  // namespace pullsheet
