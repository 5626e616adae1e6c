// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

namespace pullsheet::cycle {

/// Burned share over crank angle after Wiebe: x = 1 − exp(−a ((φ − φ_start)/duration)^(m+1)), a = 5, m = 2.
/// Wiebe (1970); Heywood (1988), eq. 9.28. The burn runs on beyond `duration`, where x = 1 − e⁻⁵ = 0.9933.
/// A first small share burns at once (`kernel`): the burned zone needs a mass to have a temperature.
struct Wiebe {
    double start;         ///< rad after top dead centre
    double duration;      ///< rad; zero burns everything at `start`
    double kernel = 0.0;  ///< share burned at `start`, 0…1

    static constexpr double a = 5.0;
    static constexpr double m = 2.0;

    /// Burned share, 0…1, at `angle`, rad after top dead centre.
    double share(double angle) const {
        if (!(angle >= start)) return 0.0;
        if (!(duration > 0.0)) return 1.0;
        const double x = (angle - start) / duration;
        return kernel - (1.0 - kernel) * std::expm1(-a * x * x * x);
    }

    /// The angle, rad after top dead centre, at which `share`, 0…1 without 1, is burned.
    double angle(double share) const {
        const double rest = (1.0 - share) / (1.0 - kernel);
        return rest >= 1.0 ? start : start + duration * std::cbrt(-std::log(rest) / a);
    }
};

/// Laminar flame speed of gasoline at 298 K and one atmosphere, m/s, at excess air `lambda` (0.6 … 1.5).
/// S = 0.305 − 0.549 (φ − 1.21)², φ = 1/λ. Rhodes & Keck (SAE 850047, 1985); Heywood (1988), table 9.3; from
/// memory.
inline double laminar_flame_speed(double lambda) {
    const double richness = 1.0 / lambda - 1.21;
    return 0.305 - 0.549 * richness * richness;
}

/// What residual gas leaves of the flame speed: 1 − 2.06 x^0.77, x by volume (0 … 0.35). Rhodes & Keck (SAE
/// 850047, 1985); Heywood (1988), eq. 9.36; from memory.
inline double residual_factor(double residual_share) {
    return 1.0 - 2.06 * std::pow(residual_share, 0.77);
}

/// The conditions to which a burn duration belongs.
struct BurnReference {
    double angular_speed;   ///< rad/s
    double lambda;          ///< excess air
    double residual_share;  ///< 0…1
};

/// Burn duration divided by the reference duration, both in crank angle: (N/N_r)^(1/3) (S_r/S)^(2/3), S the
/// laminar flame speed with residual gas. The exponents are those of Hires, Tabaczynski & Novak (SAE 780232,
/// 1978), in which the crank angle of the burn goes with the cube root of piston speed and S^(−2/3); from
/// memory. Effects of pressure and temperature on S are left out.
inline double burn_duration_ratio(const BurnReference& now, const BurnReference& reference) {
    const double speed = laminar_flame_speed(now.lambda) * residual_factor(now.residual_share);
    const double reference_speed =
        laminar_flame_speed(reference.lambda) * residual_factor(reference.residual_share);
    return std::cbrt(now.angular_speed / reference.angular_speed) *
           std::pow(reference_speed / speed, 2.0 / 3.0);
}

}  // namespace pullsheet::cycle
