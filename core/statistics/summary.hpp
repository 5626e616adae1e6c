// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <span>

namespace pullsheet::statistics {

/// A sample in three numbers.
struct Summary {
    std::size_t count;
    double mean;
    double standard_deviation;  ///< of a single value, n − 1 in the denominator
};

/// Mean and standard deviation of `values`, any unit. Two passes with the correction of Chan, Golub & LeVeque
/// (Algorithms for computing the sample variance, Am. Stat. 37, 1983, eq. 1.7), so that a small scatter on a
/// large mean keeps its digits. Throws InvalidArgument(`parameter`) for a value that is not finite,
/// NoData(Reason::too_few_points) for less than two values.
Summary summarise(std::span<const double> values, const char* parameter = "values");

}  // namespace pullsheet::statistics
