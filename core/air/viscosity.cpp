// SPDX-License-Identifier: Apache-2.0
#include "core/air/viscosity.hpp"

#include <cmath>

namespace pullsheet::air {

double viscosity(double temperature) {
    require("temperature", temperature, possible::viscosity_temperature);
    return 1.458e-6 * temperature * std::sqrt(temperature) / (temperature + 110.4);
}

}  // namespace pullsheet::air
