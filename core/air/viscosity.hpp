// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/error.hpp"

namespace pullsheet::air {

namespace possible {
inline constexpr Interval viscosity_temperature{100.0, 2500.0};  ///< K
}  // namespace possible

namespace established {
/// Temperatures, K, at which Sutherland's formula was seen within 1.5 % of a handbook table.
inline constexpr Interval viscosity_temperature{200.0, 600.0};
}  // namespace established

/// Dynamic viscosity of air, Pa·s; temperature in K, possible 100 … 2500, established 200 … 600 K.
/// Sutherland's formula with the constants of ISO 2533:1975. Pressure up to some bar and humidity are without
/// influence.
double viscosity(double temperature);

}  // namespace pullsheet::air
