// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/repeatability.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "core/error.hpp"

namespace pullsheet::statistics {

double student_t(double confidence, double freedom) {
    require("confidence", confidence, {0.0, 1.0, true, true});
    const ::boost::math::students_t distribution(freedom);
    return ::boost::math::quantile(::boost::math::complement(distribution, 0.5 * (1.0 - confidence)));
}

Repeatability repeatability(std::span<const double> values, double confidence) {
    constexpr double iso_5725_factor = 2.8;
    const Summary sample = summarise(values);
    const auto n = static_cast<double>(sample.count);
    Repeatability result{};
    result.mean = sample.mean;
    result.standard_deviation = sample.standard_deviation;
    result.half_width = student_t(confidence, n - 1.0) * sample.standard_deviation / std::sqrt(n);
    if (sample.mean != 0.0) result.variation = sample.standard_deviation / std::abs(sample.mean);
    result.limit = iso_5725_factor * sample.standard_deviation;
    return result;
}

}  // namespace pullsheet::statistics
