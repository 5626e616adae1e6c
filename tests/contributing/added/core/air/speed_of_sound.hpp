// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/error.hpp"

namespace pullsheet::air {

namespace possible {
inline constexpr Interval sound_temperature{100.0, 2500.0};  ///< K
}  // namespace possible

namespace established {
/// Temperatures, K, at which the ratio of specific heats stays within 0.5 % of 1.4.
inline constexpr Interval sound_temperature{200.0, 350.0};
}  // namespace established

/// Speed of sound in dry air, m/s; temperature in K, possible 100 … 2500, established 200 … 350 K. Ideal gas
/// with the constants of ISO 2533:1975.
double speed_of_sound(double temperature);

}  // namespace pullsheet::air
