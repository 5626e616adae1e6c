// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::fuel {

/// Temperatures for which OIML R 22 was established, K (-20 … 40 °C).
inline constexpr Interval established_ethanol_temperature{zero_celsius - 20.0, zero_celsius + 40.0};

namespace oiml_r22 {

inline constexpr std::array<double, 12> A{998.20123,   -192.9769495, 389.1238958, -1668.103923,
                                          13522.15441, -88292.78388, 306287.4042, -613838.1234,
                                          747017.2998, -547846.1354, 223446.0334, -39032.85426};
inline constexpr std::array<double, 6> B{-0.20618513,   -5.2682542e-3, 3.6130013e-5,
                                         -3.8957702e-7, 7.169354e-9,   -9.9739231e-11};
inline constexpr std::array<double, 11> C1{0.1693443461530087, -10.46914743455169, 71.96353469546523,
                                           -704.7478054272792, 3924.090430035045,  -12101.64659068747,
                                           22486.46550400788,  -26055.62982188164, 18523.73922069467,
                                           -7420.201433430137, 1285.617841998974};
inline constexpr std::array<double, 10> C2{
    -0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029,  -50.29988758547014,
    109.635566657757,    -142.2753946421155, 108.043594285623,   -44.14153236817392, 7.442971530188783};
inline constexpr std::array<double, 9> C3{-6.802995733503803e-4, 1.876837790289664e-2, -0.2002561813734156,
                                          1.02299296671922,      -2.895696483903638,   4.810060584300675,
                                          -4.672147440794683,    2.458043105903461,    -0.5411227621436812};
inline constexpr std::array<double, 4> C4{4.075376675622027e-6, -8.76305857347111e-6, 6.515031360099368e-6,
                                          -1.51578483698721e-6};
inline constexpr std::array<double, 2> C5{-2.788074354782409e-8, 1.345612883493354e-8};

/// coefficients[0] + coefficients[1]·x + coefficients[2]·x² + …
template <std::size_t n>
constexpr double polynomial(const std::array<double, n>& coefficients, double x) {
    double sum = 0.0;
    for (std::size_t k = n; k-- > 0;) sum = sum * x + coefficients[k];
    return sum;
}

/// The density as a polynomial of (t − 20 °C) for one mass share p of ethanol.
constexpr std::array<double, 7> in_temperature(double p) {
    return {polynomial(A, p),
            B[0] + p * polynomial(C1, p),
            B[1] + p * polynomial(C2, p),
            B[2] + p * polynomial(C3, p),
            B[3] + p * polynomial(C4, p),
            B[4] + p * polynomial(C5, p),
            B[5]};
}

/// The derivative of a polynomial.
template <std::size_t n>
constexpr std::array<double, n - 1> derivative(const std::array<double, n>& coefficients) {
    std::array<double, n - 1> result{};
    for (std::size_t k = 1; k < n; ++k) result[k - 1] = static_cast<double>(k) * coefficients[k];
    return result;
}

inline constexpr std::array<double, 7> pure_ethanol = in_temperature(1.0);
inline constexpr std::array<double, 6> pure_ethanol_slope = derivative(pure_ethanol);
inline constexpr double reference_temperature = zero_celsius + 20.0;

}  // namespace oiml_r22

/// Density of pure ethanol, kg/m³; temperature in K. OIML R 22 (1975) at a mass share of one, −20 … 40 °C.
/// Outside that range, where the polynomial soon deviates, the volume is extrapolated linearly from the end
/// of the range.
constexpr double ethanol_density(double temperature) {
    const double t = temperature - oiml_r22::reference_temperature;
    constexpr double low = established_ethanol_temperature.low - oiml_r22::reference_temperature;
    constexpr double high = established_ethanol_temperature.high - oiml_r22::reference_temperature;
    const double inside = t < low ? low : t > high ? high : t;
    const double density = oiml_r22::polynomial(oiml_r22::pure_ethanol, inside);
    if (t == inside) return density;
    const double slope = oiml_r22::polynomial(oiml_r22::pure_ethanol_slope, inside);
    return density / (1.0 - slope / density * (t - inside));
}

}  // namespace pullsheet::fuel
