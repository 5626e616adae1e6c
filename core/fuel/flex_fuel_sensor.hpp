// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/error.hpp"

namespace pullsheet::fuel {

namespace possible {
/// Frequencies of a sensor in order, Hz: a little beyond 50 and 150 for its tolerance. Higher ones report a
/// fault or contaminated fuel.
inline constexpr Interval sensor_frequency{45.0, 155.0};
}  // namespace possible
namespace established {
inline constexpr Interval sensor_frequency{50.0, 150.0};
}

/// Ethanol share by volume, 0…1, from the frequency in Hz of a flex-fuel sensor: 50 Hz for gasoline, 150 Hz
/// for ethanol, linear between (common practice of the trade). From 45 to 50 Hz it is 0, from 150 to 155 Hz
/// it is 1.
double sensor_ethanol(double frequency);

}  // namespace pullsheet::fuel
