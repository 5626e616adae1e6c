// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>

#include "core/statistics/summary.hpp"

namespace pullsheet::statistics {

/// How well repeated measurements of one thing agree.
struct Repeatability {
    double mean;
    double standard_deviation;  ///< of a single value
    double half_width;          ///< the mean lies within ± this at the confidence asked for (Student's t)
    std::optional<double> variation;  ///< standard deviation / |mean|; none if the mean is zero
    double limit;                     ///< two single values differ by more than this once in twenty times
};

/// Repeatability of `values` (any unit, at least two). half-width = t · s/√n; limit = 2.8 s (ISO
/// 5725-6:1994, 4.1.4: 1.96 · √2, rounded as there). `confidence` between 0 and 1. Throws InvalidArgument,
/// NoData(too_few_points).
Repeatability repeatability(std::span<const double> values, double confidence = 0.95);

/// The quantile t of Student's distribution with `freedom` degrees of freedom that leaves (1 − confidence)/2
/// above.
double student_t(double confidence, double freedom);

}  // namespace pullsheet::statistics
