// SPDX-License-Identifier: Apache-2.0
#include "core/air/moist_air.hpp"

#include <cmath>

namespace pullsheet::air {

double saturation_pressure(double temperature) {
    const double T = require("temperature", temperature, possible::temperature);
    return std::exp((1.2378847e-5 * T - 1.9121316e-2) * T + 33.93711047 - 6.3431645e3 / T);
}

double vapour_pressure(double temperature, double humidity) {
    return require("humidity", humidity, possible::humidity) * saturation_pressure(temperature);
}

double humidity(double temperature, double dew_point) {
    require("temperature", temperature, possible::temperature);
    require("dew_point", dew_point, possible::temperature);
    if (!(dew_point <= temperature))
        throw InvalidArgument("dew_point", Reason::dew_point_above_temperature,
                              {{dew_point, Quantity::temperature}, {temperature, Quantity::temperature}});
    return saturation_pressure(dew_point) / saturation_pressure(temperature);
}

double dry_pressure(double temperature, double pressure, double humidity) {
    require("pressure", pressure, possible::pressure);
    const double vapour = vapour_pressure(temperature, humidity);
    if (!(vapour < pressure))
        throw InvalidArgument("humidity", Reason::vapour_reaches_pressure,
                              {{vapour, Quantity::pressure}, {pressure, Quantity::pressure}});
    return pressure - vapour;
}

double humidity_ratio(double temperature, double pressure, double humidity) {
    const double dry = dry_pressure(temperature, pressure, humidity);
    return 0.621945 * (pressure - dry) / dry;
}

double gas_constant(double temperature, double pressure, double humidity) {
    const double dry = dry_pressure(temperature, pressure, humidity);
    const double vapour = pressure - dry;
    return pressure / (dry / dry_air_gas_constant + vapour / vapour_gas_constant);
}

double density(double temperature, double pressure, double humidity) {
    constexpr double R = 8.314472;  // J/(mol·K), CODATA 2006, the one the formula was fitted with
    constexpr double M_a = 28.96546e-3, M_v = 18.01528e-3;  // kg/mol, dry air with 0.0004 CO2 and water
    constexpr double a_0 = 1.58123e-6, a_1 = -2.9331e-8, a_2 = 1.1043e-10;
    constexpr double b_0 = 5.707e-6, b_1 = -2.051e-8;
    constexpr double c_0 = 1.9898e-4, c_1 = -2.376e-6;
    constexpr double d = 1.83e-11, e = -0.765e-8;

    const double T = require("temperature", temperature, possible::temperature);
    const double p = require("pressure", pressure, possible::pressure);
    const double t = T - zero_celsius;
    const double enhancement = 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;  // t in °C
    const double vapour = enhancement * vapour_pressure(T, humidity);
    if (!(vapour < p))
        throw InvalidArgument("humidity", Reason::vapour_reaches_pressure,
                              {{vapour, Quantity::pressure}, {p, Quantity::pressure}});
    const double x_v = vapour / p;
    const double compressibility =
        1.0 - p / T * (a_0 + (a_1 + a_2 * t) * t + (b_0 + b_1 * t) * x_v + (c_0 + c_1 * t) * x_v * x_v) +
        (p / T) * (p / T) * (d + e * x_v * x_v);
    return p * M_a / (compressibility * R * T) * (1.0 - x_v * (1.0 - M_v / M_a));
}

}  // namespace pullsheet::air
