// SPDX-License-Identifier: Apache-2.0
#include "core/air/standard_atmosphere.hpp"

#include <cmath>

namespace pullsheet::air {
namespace {

using standard::lapse_rate;
using standard::sea_level_temperature;

/// g / (R L): the power of the temperature ratio that gives the pressure ratio.
constexpr double pressure_exponent = standard_gravity / (dry_air_gas_constant * lapse_rate);
constexpr double density_exponent = pressure_exponent - 1.0;
constexpr double sea_level_density =
    standard::sea_level_pressure / (dry_air_gas_constant * sea_level_temperature);

double altitude_at(double temperature_ratio) {
    return sea_level_temperature / lapse_rate * (1.0 - temperature_ratio);
}

}  // namespace

double standard_temperature(double altitude) {
    return sea_level_temperature - lapse_rate * require("altitude", altitude, possible::altitude);
}

double standard_pressure(double altitude) {
    return standard::sea_level_pressure *
           std::pow(standard_temperature(altitude) / sea_level_temperature, pressure_exponent);
}

double pressure_altitude(double pressure) {
    require("pressure", pressure, possible::altitude_pressure);
    return altitude_at(std::pow(pressure / standard::sea_level_pressure, 1.0 / pressure_exponent));
}

double density_altitude(double temperature, double pressure, double humidity) {
    const double density = pressure / (gas_constant(temperature, pressure, humidity) * temperature);
    const double altitude = altitude_at(std::pow(density / sea_level_density, 1.0 / density_exponent));
    if (!possible::altitude.contains(altitude))
        throw NoSolution(Reason::density_without_altitude, {{density, Quantity::density},
                                                            {possible::altitude.low, Quantity::length},
                                                            {possible::altitude.high, Quantity::length}});
    return altitude;
}

double station_pressure(double sea_level_pressure, double elevation) {
    require("sea_level_pressure", sea_level_pressure, possible::sea_level_pressure);
    require("elevation", elevation, possible::elevation);
    return standard_pressure(pressure_altitude(sea_level_pressure) + elevation);
}

}  // namespace pullsheet::air
