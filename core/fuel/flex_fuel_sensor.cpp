// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/flex_fuel_sensor.hpp"

#include <algorithm>

namespace pullsheet::fuel {

double sensor_ethanol(double frequency) {
    require("frequency", frequency, possible::sensor_frequency);
    return std::clamp((frequency - 50.0) / 100.0, 0.0, 1.0);
}

}  // namespace pullsheet::fuel
