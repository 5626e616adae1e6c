// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet::cycle {

/// What is left of the filling where exhaust pressure differs from manifold pressure: 1 − (y − 1)/(κ (r −
/// 1)), κ = 1.4. `pressure_ratio` y: exhaust over manifold pressure, above 0; `compression_ratio` r above 1.
/// The rest of burned gas in the clearance is compressed or expands to manifold pressure and takes room of
/// the fresh charge. Not above 0 where no fresh charge gets in. Heywood (1988), eq. 6.2.
inline double filling_factor(double pressure_ratio, double compression_ratio) {
    constexpr double kappa = 1.4;
    return 1.0 - (pressure_ratio - 1.0) / (kappa * (compression_ratio - 1.0));
}

}  // namespace pullsheet::cycle
