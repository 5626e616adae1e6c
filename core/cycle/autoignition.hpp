// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "core/error.hpp"

namespace pullsheet::cycle {

/// Autoignition of the unburned gas: delay τ = 17.68 ms (ON/100)^3.402 p^−1.7 exp(3800 K/T), p in standard
/// atmospheres. Douaud & Eyzat, SAE 780080, 1978; Heywood (1988), eq. 9.50. Knock begins when ∫ dt/τ = 1
/// (Livengood & Wu, 1955).
namespace douaud_eyzat {

/// Octane numbers of the primary reference fuels the delay was measured with; from memory.
inline constexpr Interval established_octane{80.0, 100.0};
inline constexpr double octane_exponent = 3.402;
inline constexpr double pressure_exponent = 1.7;
inline constexpr double activation_temperature = 3800.0;  ///< K
inline constexpr double atmosphere = 101325.0;            ///< Pa, exact

/// Factor of the delay that belongs to the fuel, s: 0.01768 (ON/100)^3.402; octane above 0.
inline double fuel_factor(double octane, double exponent = octane_exponent) {
    return 0.01768 * std::pow(octane / 100.0, exponent);
}

/// Autoignition delay, s; octane number, pressure in Pa, temperature in K, all above 0.
inline double delay(double octane, double pressure, double temperature) {
    return fuel_factor(octane) * std::exp(activation_temperature / temperature -
                                          pressure_exponent * std::log(pressure / atmosphere));
}

}  // namespace douaud_eyzat

/// The exponents of the delay, so that a prediction can ask what it would be with others.
struct KnockDelay {
    double octane_exponent = douaud_eyzat::octane_exponent;                ///< 1 … 10
    double pressure_exponent = douaud_eyzat::pressure_exponent;            ///< 0.5 … 4
    double activation_temperature = douaud_eyzat::activation_temperature;  ///< K, 0 … 20000
};

}  // namespace pullsheet::cycle
