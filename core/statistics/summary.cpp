// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/summary.hpp"

#include <cmath>

#include "core/error.hpp"
#include "core/series.hpp"

namespace pullsheet::statistics {

Summary summarise(std::span<const double> values, const char* parameter) {
    require_points(values.size(), 2);
    const auto n = static_cast<double>(values.size());
    double sum = 0.0;
    // Differences from the first value, so that a large common part does not cost digits.
    const double origin = require(parameter, values[0], finite);
    for (const double value : values) sum += require(parameter, value, finite) - origin;
    const double mean = origin + sum / n;
    double squares = 0.0;
    double rest = 0.0;
    for (const double value : values) {
        const double deviation = value - mean;
        squares += deviation * deviation;
        rest += deviation;
    }
    return {values.size(), mean, std::sqrt((squares - rest * rest / n) / (n - 1.0))};
}

}  // namespace pullsheet::statistics
