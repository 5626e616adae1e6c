// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet::cycle {

/// Friction mean pressure after Chen & Flynn, SAE 650733, 1965: A + B p_max + C S_p. The default coefficients
/// are those usually quoted from it; from memory.
struct ChenFlynn {
    double constant = 0.137e5;             ///< Pa
    double peak_pressure_share = 0.005;    ///< –
    double piston_speed_factor = 0.162e5;  ///< Pa·s/m

    /// Pa; peak_pressure in Pa, mean_piston_speed in m/s, both at least 0.
    double mean_pressure(double peak_pressure, double mean_piston_speed) const {
        return constant + peak_pressure_share * peak_pressure + piston_speed_factor * mean_piston_speed;
    }
};

}  // namespace pullsheet::cycle
