// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/agreement.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <numeric>

#include "core/error.hpp"
#include "core/series.hpp"

namespace pullsheet::statistics {

namespace {

struct WeightedMean {
    double mean;
    double uncertainty;
};

// WeightedSums of weights, and of weighted values. Weights are relative to the smallest uncertainty and
// values to the first one, so that nothing over- or underflows.
struct WeightedSums {
    double weights = 0.0;
    double values = 0.0;
    WeightedSums operator+(const WeightedSums& other) const {
        return {weights + other.weights, values + other.values};
    }
};

class Weighted {
  public:
    Weighted(std::span<const double> values, std::span<const double> uncertainties)
        : smallest_(*std::min_element(uncertainties.begin(), uncertainties.end())), origin_(values[0]) {
        one_.reserve(values.size());
        for (std::size_t i = 0; i < values.size(); ++i) {
            const double weight = std::pow(smallest_ / uncertainties[i], 2);
            one_.push_back({weight, weight * (values[i] - origin_)});
        }
    }
    WeightedMean mean(const WeightedSums& sums) const {
        return {origin_ + sums.values / sums.weights, smallest_ / std::sqrt(sums.weights)};
    }
    WeightedMean of_all() const { return mean(std::accumulate(one_.begin(), one_.end(), WeightedSums{})); }
    // The mean of all but each: what stands before it plus what stands behind it. Nothing is taken away
    // again, which would cost digits where one value outweighs all others.
    std::vector<WeightedMean> of_others() const {
        std::vector<WeightedSums> behind(one_.size());
        for (std::size_t i = one_.size() - 1; i-- > 0;) behind[i] = behind[i + 1] + one_[i + 1];
        std::vector<WeightedMean> means;
        means.reserve(one_.size());
        WeightedSums before;
        for (std::size_t i = 0; i < one_.size(); ++i) {
            means.push_back(mean(before + behind[i]));
            before = before + one_[i];
        }
        return means;
    }

  private:
    double smallest_;
    double origin_;
    std::vector<WeightedSums> one_;
};

// What chi-squared says, once it is in `result`.
void conclude(Agreement& result, std::size_t freedom, double confidence) {
    result.freedom = freedom;
    const auto degrees = static_cast<double>(freedom);
    // A chi-squared too large for a number leaves no probability.
    result.p = std::isfinite(result.chi_squared)
                   ? ::boost::math::cdf(
                         ::boost::math::complement(::boost::math::chi_squared(degrees), result.chi_squared))
                   : 0.0;
    result.birge_ratio = std::sqrt(result.chi_squared / degrees);
    result.agrees = result.p >= 1.0 - confidence;
}

// The normal deviation within which a share `confidence` of good values lies.
double quantile_of(double confidence) {
    return ::boost::math::quantile(
        ::boost::math::complement(::boost::math::normal(), 0.5 * (1.0 - confidence)));
}

}  // namespace

Agreement agreement(std::span<const double> values, std::span<const double> standard_uncertainties,
                    double confidence) {
    const std::size_t n = values.size();
    require_length("standard_uncertainties", n, standard_uncertainties);
    require_points(n, 2);
    require_all("values", values, finite);
    require_all("standard_uncertainties", standard_uncertainties, positive);
    require("confidence", confidence, {0.0, 1.0, true, true});

    Agreement result{};
    const Weighted weighted(values, standard_uncertainties);
    const WeightedMean all = weighted.of_all();
    result.mean = all.mean;
    result.uncertainty = all.uncertainty;
    for (std::size_t i = 0; i < n; ++i)
        result.chi_squared += std::pow((values[i] - all.mean) / standard_uncertainties[i], 2);
    conclude(result, n - 1, confidence);

    const double limit = quantile_of(confidence);
    const std::vector<WeightedMean> means = weighted.of_others();
    for (std::size_t i = 0; i < n; ++i) {
        const WeightedMean& others = means[i];
        const double deviation =
            (values[i] - others.mean) / std::hypot(standard_uncertainties[i], others.uncertainty);
        result.comparisons.push_back(
            {others.mean, others.uncertainty, deviation, std::abs(deviation) <= limit});
        if (std::abs(deviation) > std::abs(result.comparisons[result.farthest].deviation))
            result.farthest = i;
    }
    return result;
}

Agreement agreement(std::span<const double> values, const Eigen::MatrixXd& covariance, double confidence) {
    const auto n = static_cast<Eigen::Index>(values.size());
    if (covariance.rows() != n || covariance.cols() != n)
        throw InvalidArgument("standard_uncertainties", Reason::lengths_differ,
                              {counted(values.size()), counted(static_cast<std::size_t>(covariance.rows()))});
    require_points(values.size(), 2);
    require_all("values", values, finite);
    require("confidence", confidence, {0.0, 1.0, true, true});
    const Eigen::VectorXd x = Eigen::Map<const Eigen::VectorXd>(values.data(), n);
    for (Eigen::Index i = 0; i < n; ++i) require("standard_uncertainties", covariance(i, i), positive);
    // In units of each value's own uncertainty, so that the test of independence does not depend on the unit.
    const Eigen::VectorXd u = covariance.diagonal().cwiseSqrt();
    const Eigen::MatrixXd correlation =
        u.cwiseInverse().asDiagonal() * covariance * u.cwiseInverse().asDiagonal();

    struct Consensus {
        double mean, variance;
        Eigen::VectorXd weights;  // of the values, their sum 1
    };
    // The generalised mean of the values listed.
    const auto consensus = [&](const std::vector<Eigen::Index>& listed) -> Consensus {
        const auto m = static_cast<Eigen::Index>(listed.size());
        Eigen::MatrixXd part(m, m);
        Eigen::VectorXd one(m), y(m);
        for (Eigen::Index i = 0; i < m; ++i) {
            const auto from = listed[static_cast<std::size_t>(i)];
            one(i) = 1.0 / u(from);
            y(i) = x(from) / u(from);
            for (Eigen::Index j = 0; j < m; ++j)
                part(i, j) = correlation(from, listed[static_cast<std::size_t>(j)]);
        }
        const Eigen::LDLT<Eigen::MatrixXd> factor(part);
        if (factor.info() != Eigen::Success || !(factor.vectorD().minCoeff() > 1e-14))
            throw NoData(Reason::errors_not_independent);
        const Eigen::VectorXd solved = factor.solve(one);
        const double weight = one.dot(solved);
        return {solved.dot(y) / weight, 1.0 / weight, solved.cwiseProduct(one) / weight};
    };

    std::vector<Eigen::Index> all(values.size());
    for (Eigen::Index i = 0; i < n; ++i) all[static_cast<std::size_t>(i)] = i;
    const Consensus whole = consensus(all);
    const Eigen::VectorXd rest = (x.array() - whole.mean).matrix().cwiseQuotient(u);
    Agreement result{};
    result.mean = whole.mean;
    result.uncertainty = std::sqrt(whole.variance);
    result.chi_squared = rest.dot(Eigen::LDLT<Eigen::MatrixXd>(correlation).solve(rest));
    conclude(result, values.size() - 1, confidence);

    const double limit = quantile_of(confidence);
    for (Eigen::Index i = 0; i < n; ++i) {
        std::vector<Eigen::Index> others = all;
        others.erase(others.begin() + i);
        const Consensus them = consensus(others);
        double shared = 0.0;
        for (std::size_t j = 0; j < others.size(); ++j)
            shared += them.weights(static_cast<Eigen::Index>(j)) * covariance(i, others[j]);
        const double deviation =
            (x(i) - them.mean) / std::sqrt(covariance(i, i) + them.variance - 2.0 * shared);
        result.comparisons.push_back(
            {them.mean, std::sqrt(them.variance), deviation, std::abs(deviation) <= limit});
        if (std::abs(deviation) > std::abs(result.comparisons[result.farthest].deviation))
            result.farthest = static_cast<std::size_t>(i);
    }
    return result;
}

}  // namespace pullsheet::statistics
