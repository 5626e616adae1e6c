// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <span>
#include <vector>

namespace pullsheet::statistics {

/// One value compared with the consensus of the others.
struct Comparison {
    double others;              ///< weighted mean of all other values
    double others_uncertainty;  ///< its standard uncertainty
    double deviation;           ///< (value − others) / √(u² + u_others²)
    bool agrees;                ///< |deviation| within the two-sided normal quantile of the confidence
};

/// Several values of one quantity put together.
struct Agreement {
    double mean;          ///< weighted with 1/u²
    double uncertainty;   ///< standard uncertainty of the mean, (Σ1/u²)^−½
    double chi_squared;   ///< Σ((value − mean)/u)²
    std::size_t freedom;  ///< number of values − 1
    double p;             ///< probability of a chi-squared at least as large if all uncertainties are right
    double birge_ratio;   ///< √(chi_squared / freedom): how much too small the uncertainties look
    bool agrees;          ///< p at least 1 − confidence
    std::vector<Comparison> comparisons;
    std::size_t farthest;  ///< index of the value with the greatest |deviation|: where to look first
};

/// Do `values` (same unit, at least two, independent of each other) with their `standard_uncertainties` (> 0)
/// agree? Weighted mean, chi-squared test and ratio after Birge (The calculation of errors by the method of
/// least squares, Phys. Rev. 40, 1932); each value is compared with the consensus of the others, to which it
/// does not contribute. With a confidence of 95 % one good value in twenty stands out by chance, and one very
/// bad value shifts the consensus of the others so that good ones may stand out too: `farthest` is the one to
/// leave out first. With two values both deviate equally, and the wrong one cannot be identified. Throws
/// InvalidArgument("values", "standard_uncertainties" or "confidence"), NoData(too_few_points).
Agreement agreement(std::span<const double> values, std::span<const double> standard_uncertainties,
                    double confidence = 0.95);

/// The same for correlated values: `covariance` (symmetric, positive definite) in place
/// of the uncertainties, generalised weights (Aitken 1935; JCGM 102:2011), so that two values that rest on
/// one doubtful figure count for little more than one. With a diagonal covariance the answer is that of
/// independent values. Throws NoData(errors_not_independent) if the covariance is not positive definite: some
/// values share all of their errors.
Agreement agreement(std::span<const double> values, const Eigen::MatrixXd& covariance,
                    double confidence = 0.95);

}  // namespace pullsheet::statistics
