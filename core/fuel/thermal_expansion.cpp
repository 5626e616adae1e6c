// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/thermal_expansion.hpp"

#include <cmath>

#include "core/error.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::fuel {

double thermal_expansion(double density) {
    require("density", density, positive);
    const double inverse = 1.0 / density;
    if (density < 770.5) return (346.4228 * inverse + 0.4388) * inverse;
    if (density < 787.5) return 2680.3206 * inverse * inverse - 0.00336312;
    if (density < 839.0) return 594.5418 * inverse * inverse;
    return (186.9696 * inverse + 0.4862) * inverse;
}

double volume_correction(double density, double temperature) {
    const double expansion = thermal_expansion(density) * (temperature - reference_temperature);
    return std::exp(-expansion * (1.0 + 0.8 * expansion));
}

}  // namespace pullsheet::fuel
