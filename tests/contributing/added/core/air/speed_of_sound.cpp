// SPDX-License-Identifier: Apache-2.0
#include "core/air/speed_of_sound.hpp"

#include <cmath>

#include "core/constants.hpp"

namespace pullsheet::air {

double speed_of_sound(double temperature) {
    require("temperature", temperature, possible::sound_temperature);
    return std::sqrt(air_heat_capacity_ratio * dry_air_gas_constant * temperature);
}

}  // namespace pullsheet::air
