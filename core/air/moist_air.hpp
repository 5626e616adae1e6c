// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::air {

/// Specific gas constant of water vapour, J/(kg·K): molar gas constant / 18.01528 g/mol.
inline constexpr double vapour_gas_constant = molar_gas_constant / 0.01801528;

/// What the state of air around or inside an intake can physically be.
namespace possible {
inline constexpr Interval temperature{zero_celsius - 100.0, zero_celsius + 300.0};  ///< K
inline constexpr Interval pressure{1e3, 2e6};                                       ///< Pa, absolute
inline constexpr Interval humidity = unit_share;                                    ///< relative, 0…1
}  // namespace possible

/// Where the formulas were established.
namespace established {
/// Temperatures, K, at which the saturation formula stays within 0.01 % of the reference equation of IAPWS
/// (Wagner & Pruss 1993): 0 … 50 °C. It is off by 0.04 % at 100 °C and gives supercooled water below 0 °C.
inline constexpr Interval vapour_temperature{zero_celsius, zero_celsius + 50.0};
/// Temperatures, K, for which CIPM-2007 is recommended: 15 … 27 °C. Picard et al. 2008.
inline constexpr Interval density_temperature{zero_celsius + 15.0, zero_celsius + 27.0};
/// Pressures, Pa, for which CIPM-2007 is recommended: 600 … 1100 hPa. Picard et al. 2008.
inline constexpr Interval density_pressure{60e3, 110e3};
}  // namespace established

/// Saturation pressure of water vapour over liquid water, Pa; temperature in K, possible −100 … 300 °C,
/// established 0 … 50 °C. Picard et al. (2008), Metrologia 45, 149 (CIPM-2007), equation A1.1.
double saturation_pressure(double temperature);

/// Partial pressure of water vapour in air, Pa: relative humidity times saturation pressure; temperature in
/// K, humidity 0…1. The enhancement factor of moist air (1.004 near 1 bar) is left out, as in the standards
/// for engine power and as weather stations do. Possible and established as for saturation_pressure.
double vapour_pressure(double temperature, double humidity);

/// Relative humidity, 0…1: ratio of the saturation pressures at the dew point and at the temperature, both in
/// K. Refuses a dew point above the temperature. Possible and established as for saturation_pressure.
double humidity(double temperature, double dew_point);

/// What remains of the pressure without the water vapour, Pa; temperature in K, pressure in Pa, humidity 0…1.
/// Refuses vapour whose pressure reaches the whole pressure.
double dry_pressure(double temperature, double pressure, double humidity);

/// Mass of water vapour for each mass of dry air: ideal mixture, 0.621945 e / (p − e) (ASHRAE Handbook,
/// Fundamentals 2017, chapter 1, equation 20); arguments and errors as for dry_pressure.
double humidity_ratio(double temperature, double pressure, double humidity);

/// Specific gas constant of moist air as an ideal mixture, J/(kg·K): 287.05287 (ISO 2533) if dry, rising with
/// humidity; arguments and errors as for dry_pressure.
double gas_constant(double temperature, double pressure, double humidity);

/// Density of moist air, kg/m³; temperature in K, pressure in Pa, humidity 0…1, 0.0004 of the dry air carbon
/// dioxide. CIPM-2007: Picard et al. (2008), Metrologia 45, 149, equation 1 with appendix A1; 22 parts in a
/// million by its authors in the established range 15 … 27 °C, 600 … 1100 hPa. Possible −100 … 300 °C,
/// 0.01 … 20 bar. Refuses vapour whose pressure reaches the whole pressure.
double density(double temperature, double pressure, double humidity = 0.0);

}  // namespace pullsheet::air
