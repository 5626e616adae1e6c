// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/least_squares.hpp"

#include <cmath>
#include <limits>

#include "core/error.hpp"
#include "core/statistics/reflections.hpp"

namespace pullsheet::statistics {

namespace {

Detail count(Eigen::Index n) {
    return {static_cast<double>(n), Quantity::count};
}

}  // namespace

LinearFit linear_fit(const Eigen::MatrixXd& design, const Eigen::VectorXd& values) {
    const Eigen::Index rows = design.rows();
    const Eigen::Index columns = design.cols();
    if (rows != values.size())
        throw InvalidArgument("values", Reason::lengths_differ, {count(rows), count(values.size())});
    if (rows < columns || columns == 0) throw NoData(Reason::too_few_points, {count(rows), count(columns)});

    // Columns of unit length: powers of a large abscissa differ by many orders of magnitude.
    const Eigen::VectorXd scale = design.colwise().norm();
    if (!(scale.minCoeff() > 0.0)) throw NoData(Reason::too_few_points, {count(columns - 1), count(columns)});
    const PivotedQr qr(design * scale.cwiseInverse().asDiagonal());
    if (qr.rank() < columns) throw NoData(Reason::too_few_points, {count(qr.rank()), count(columns)});

    LinearFit fit;
    Eigen::VectorXd scaled = least_squares_solution(qr, values);
    // One step of refinement wins back digits lost in an ill-conditioned design.
    const Eigen::VectorXd rest = values - design * scaled.cwiseQuotient(scale);
    scaled += least_squares_solution(qr, rest);
    fit.coefficients = scaled.cwiseQuotient(scale);
    const Eigen::VectorXd residuals = values - design * fit.coefficients;
    fit.residual_sum_of_squares = residuals.squaredNorm();
    const double total = (values.array() - values.mean()).matrix().squaredNorm();
    fit.regression_sum_of_squares = total - fit.residual_sum_of_squares;
    fit.determination = total > 0.0 ? fit.regression_sum_of_squares / total : 1.0;
    fit.degrees_of_freedom = static_cast<std::size_t>(rows - columns);
    const double undetermined = std::numeric_limits<double>::quiet_NaN();
    const double variance =
        rows > columns ? fit.residual_sum_of_squares / static_cast<double>(rows - columns) : undetermined;
    fit.residual_standard_deviation = std::sqrt(variance);

    // (AᵀA)⁻¹ = (RᵀR)⁻¹ in the pivoted order: its diagonal is the sum of squares of the rows of R⁻¹.
    const auto upper = qr.matrixR().topLeftCorner(columns, columns);
    Eigen::VectorXd squares = Eigen::VectorXd::Zero(columns);
    for (Eigen::Index k = 0; k < columns; ++k) {
        const Eigen::VectorXd column =
            upper.triangularView<Eigen::Upper>().solve(Eigen::VectorXd::Unit(columns, k));
        squares += column.cwiseAbs2();
    }
    const Eigen::VectorXd pivoted = squares.cwiseSqrt() * std::sqrt(variance);
    fit.standard_errors = (qr.colsPermutation() * pivoted).cwiseQuotient(scale);
    return fit;
}

LinearFit polynomial_fit(std::span<const double> x, std::span<const double> y, std::size_t order) {
    Eigen::MatrixXd design(static_cast<Eigen::Index>(x.size()), static_cast<Eigen::Index>(order + 1));
    for (Eigen::Index i = 0; i < design.rows(); ++i) {
        double power = 1.0;
        for (Eigen::Index j = 0; j < design.cols(); ++j, power *= x[static_cast<std::size_t>(i)])
            design(i, j) = power;
    }
    return linear_fit(design,
                      Eigen::Map<const Eigen::VectorXd>(y.data(), static_cast<Eigen::Index>(y.size())));
}

}  // namespace pullsheet::statistics
