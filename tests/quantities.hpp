// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>

#include "core/constants.hpp"

/// Units in which the tests write their values; core takes SI alone.
namespace pullsheet::tests {

inline constexpr double rpm = pi / 30.0;
inline constexpr double degree = pi / 180.0;
inline constexpr double kmh = 1.0 / 3.6;
inline constexpr double bar = 1e5;
inline constexpr double cc_per_minute = 1e-6 / 60.0;
inline constexpr double litre_per_hour = 1e-3 / 3600.0;

/// A temperature given in °C.
constexpr double celsius(double t) {
    return zero_celsius + t;
}

/// A value that is not there.
inline constexpr double none = std::numeric_limits<double>::quiet_NaN();

}  // namespace pullsheet::tests
