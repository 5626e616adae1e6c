// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/agreement.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

#include "core/error.hpp"

namespace pullsheet::statistics {

namespace {

struct WeightedMean {
    double mean;
    double uncertainty;
};

// The weighted mean of all values but `left_out` (none if it is the number of values).
WeightedMean weighted_mean(std::span<const double> values, std::span<const double> uncertainties,
                           std::size_t left_out) {
    // Weights relative to the smallest uncertainty, and values to the first, so that nothing over- or
    // underflows.
    const double smallest = *std::min_element(uncertainties.begin(), uncertainties.end());
    const double origin = values[0];
    double weights = 0.0;
    double sum = 0.0;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (i == left_out) continue;
        const double weight = std::pow(smallest / uncertainties[i], 2);
        weights += weight;
        sum += weight * (values[i] - origin);
    }
    return {origin + sum / weights, smallest / std::sqrt(weights)};
}

}  // namespace

Agreement agreement(std::span<const double> values, std::span<const double> standard_uncertainties,
                    double confidence) {
    const std::size_t n = values.size();
    if (standard_uncertainties.size() != n)
        throw InvalidArgument("standard_uncertainties", Reason::lengths_differ,
                              {{static_cast<double>(n), Quantity::count},
                               {static_cast<double>(standard_uncertainties.size()), Quantity::count}});
    if (n < 2)
        throw NoData(Reason::too_few_points,
                     {{static_cast<double>(n), Quantity::count}, {2.0, Quantity::count}});
    for (const double value : values) require("values", value, finite);
    for (const double u : standard_uncertainties) require("standard_uncertainties", u, positive);
    require("confidence", confidence, {0.0, 1.0, true, true});

    Agreement result{};
    const WeightedMean all = weighted_mean(values, standard_uncertainties, n);
    result.mean = all.mean;
    result.uncertainty = all.uncertainty;
    for (std::size_t i = 0; i < n; ++i)
        result.chi_squared += std::pow((values[i] - all.mean) / standard_uncertainties[i], 2);
    result.freedom = n - 1;
    const auto freedom = static_cast<double>(result.freedom);
    // A chi-squared too large for a number leaves no probability.
    result.p = std::isfinite(result.chi_squared)
                   ? ::boost::math::cdf(
                         ::boost::math::complement(::boost::math::chi_squared(freedom), result.chi_squared))
                   : 0.0;
    result.birge_ratio = std::sqrt(result.chi_squared / freedom);
    result.agrees = result.p >= 1.0 - confidence;

    const double limit =
        ::boost::math::quantile(::boost::math::complement(::boost::math::normal(), 0.5 * (1.0 - confidence)));
    for (std::size_t i = 0; i < n; ++i) {
        const WeightedMean others = weighted_mean(values, standard_uncertainties, i);
        const double deviation =
            (values[i] - others.mean) / std::hypot(standard_uncertainties[i], others.uncertainty);
        result.witnesses.push_back(
            {others.mean, others.uncertainty, deviation, std::abs(deviation) <= limit});
        if (std::abs(deviation) > std::abs(result.witnesses[result.farthest].deviation)) result.farthest = i;
    }
    return result;
}

}  // namespace pullsheet::statistics
