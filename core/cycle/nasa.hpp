// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cmath>
#include <cstddef>

#include "core/constants.hpp"

namespace pullsheet::cycle {

/// The gases the cycle is made of: what burned gas consists of, and the two vapours that stand for fuel.
enum class Species { co, co2, h2, h2o, h, oh, n2, no, o2, o, ar, iso_octane, ethanol };

inline constexpr std::size_t species_count = 13;
/// The first eleven species are those of burned gas.
inline constexpr std::size_t burned_species_count = 11;

/// Standard pressure of the polynomials' entropies, Pa. One atmosphere, exact.
inline constexpr double standard_pressure = 101325.0;
/// Temperature, K, at which one set of coefficients gives way to the other.
inline constexpr double polynomial_break = 1000.0;

/// One range of a NASA polynomial, a1 … a7: c_p/R = a1 + a2 T + a3 T² + a4 T³ + a5 T⁴,
/// h/(RT) = a1 + a2 T/2 + a3 T²/3 + a4 T³/4 + a5 T⁴/5 + a6/T, s°/R = a1 ln T + a2 T + a3 T²/2 + a4 T³/3 + a5
/// T⁴/4 + a7. Source: Gordon & McBride, NASA SP-273, 1971.
using Coefficients = std::array<double, 7>;

/// The two ranges of a gas: below and above polynomial_break. Also used for mixtures, where the coefficients
/// are multiplied by the specific gas constants and shares, so that they give J/(kg·K) and so on.
struct Polynomial {
    Coefficients low;
    Coefficients high;

    const Coefficients& at(double temperature) const { return temperature < polynomial_break ? low : high; }

    /// c_p divided by the unit of the coefficients (R, or 1 for mixtures).
    double heat_capacity(double temperature) const {
        const Coefficients& a = at(temperature);
        const double t = temperature;
        return a[0] + t * (a[1] + t * (a[2] + t * (a[3] + t * a[4])));
    }
    /// h, the same unit times kelvin, formation enthalpy included.
    double enthalpy(double temperature) const {
        const Coefficients& a = at(temperature);
        const double t = temperature;
        return t * (a[0] + t * (a[1] / 2 + t * (a[2] / 3 + t * (a[3] / 4 + t * a[4] / 5)))) + a[5];
    }
    /// s° at standard_pressure, the same unit as the heat capacity. Mixing entropy is not included.
    double entropy(double temperature) const {
        const Coefficients& a = at(temperature);
        const double t = temperature;
        return a[0] * std::log(t) + t * (a[1] + t * (a[2] / 2 + t * (a[3] / 3 + t * a[4] / 4))) + a[6];
    }

    /// Adds `weight` times another polynomial.
    void add(const Polynomial& other, double weight) {
        for (std::size_t i = 0; i < low.size(); ++i) {
            low[i] += weight * other.low[i];
            high[i] += weight * other.high[i];
        }
    }
};

/// The polynomial of a species. Burned gas and air: GRI-Mech 3.0 thermodynamic data (Smith et al. 1999), 200
/// or 300 … 3500 K. Iso-octane and ethanol vapour: NASA Glenn data (McBride, Gordon & Reno, NASA TM-4513,
/// 1993, and its successors), 200 … 6000 K. All as distributed with Cantera (gri30.yaml, nasa_gas.yaml).
const Polynomial& polynomial(Species species);

/// Molar enthalpy including that of formation (zero for the elements at 298.15 K), J/mol; temperature in K.
inline double molar_enthalpy(Species species, double temperature) {
    return molar_gas_constant * polynomial(species).enthalpy(temperature);
}
}  // namespace pullsheet::cycle
