// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/air/moist_air.hpp"
#include "core/error.hpp"

namespace pullsheet::air {

/// The standard atmosphere at sea level and up to the tropopause. ISO 2533:1975.
namespace standard {
inline constexpr double sea_level_pressure = 101325.0;   ///< Pa
inline constexpr double sea_level_temperature = 288.15;  ///< K
inline constexpr double lapse_rate = 0.0065;             ///< K for each geopotential metre
}  // namespace standard

namespace possible {
/// Geopotential altitudes, m, over which the lapse rate is taken to hold.
inline constexpr Interval altitude{-5000.0, 11000.0};
/// Pressures, Pa, of the standard atmosphere at those altitudes (rounded outwards).
inline constexpr Interval altitude_pressure{22632.0, 177700.0};
/// Elevations, m, of places on land.
inline constexpr Interval elevation{-500.0, 9000.0};
/// Pressures reduced to sea level, Pa; the weather records are 870 and 1085 hPa.
inline constexpr Interval sea_level_pressure{85e3, 110e3};
}  // namespace possible

namespace established {
/// Geopotential altitudes, m, of the lowest layer as tabulated. ISO 2533:1975.
inline constexpr Interval altitude{-2000.0, 11000.0};
/// Pressures, Pa, of the standard atmosphere at those altitudes (rounded outwards).
inline constexpr Interval altitude_pressure{22632.0, 127780.0};
/// Pressures reduced to sea level, Pa, of all but the rarest weather; common practice, no source.
inline constexpr Interval sea_level_pressure{94e3, 106e3};
}  // namespace established

/// Temperature of the standard atmosphere, K; geopotential altitude in m, possible −5000 … 11 000,
/// established −2000 … 11 000. ISO 2533:1975.
double standard_temperature(double altitude);

/// Pressure of the standard atmosphere, Pa; altitude as for standard_temperature. ISO 2533:1975. Geometric
/// altitude is greater than geopotential by 0.6 m at 2000 m, which is 6 Pa.
double standard_pressure(double altitude);

/// Geopotential altitude, m, at which the standard atmosphere has the pressure, in Pa, possible 22 632 …
/// 177 700, established 22 632 … 127 780. ISO 2533:1975.
double pressure_altitude(double pressure);

/// Geopotential altitude, m, at which the standard atmosphere has the density of the air; temperature in K,
/// pressure in Pa, humidity 0…1. Both densities are those of ideal gases (ISO 2533 defines its own so), so
/// that standard air stands at its own altitude exactly; with CIPM-2007 for the air, the answer is up to
/// about 5 m lower. Established as for standard_temperature and saturation_pressure. Throws NoSolution if no
/// altitude of −5000 … 11 000 m has that density.
double density_altitude(double temperature, double pressure, double humidity = 0.0);

/// Pressure at the place, Pa, of an altimeter setting (the pressure reduced to sea level in the standard
/// atmosphere) in Pa, possible 850 … 1100 hPa, established 940 … 1060 hPa, and the elevation of the place in
/// m, possible −500 … 9000. The pressure on a weather map is reduced
/// with the day's temperature instead: at 500 m it differs by about 2 hPa for each 10 K that the day is off
/// the standard temperature. ICAO Doc 7488 (1993), with ISO 2533:1975.
double station_pressure(double sea_level_pressure, double elevation);

}  // namespace pullsheet::air
