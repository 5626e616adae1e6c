// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <span>

namespace pullsheet::statistics {

/// A linear least-squares fit y = A·b.
struct LinearFit {
    Eigen::VectorXd coefficients;
    Eigen::VectorXd standard_errors;  ///< of the coefficients; NaN if there are as many rows as coefficients
    double residual_sum_of_squares;
    double regression_sum_of_squares;    ///< about the mean of y
    double residual_standard_deviation;  ///< NaN if there are as many rows as coefficients
    double determination;                ///< R², about the mean of y
    std::size_t degrees_of_freedom;
};

/// Fits y = `design`·b by Householder QR (Eigen). Throws InvalidArgument("values", Reason::lengths_differ),
/// NoData(Reason::too_few_points) for fewer rows than coefficients, or if the columns of the design are not
/// independent (details: independent columns, needed).
LinearFit linear_fit(const Eigen::MatrixXd& design, const Eigen::VectorXd& values);

/// Fits a polynomial of `order` to (x, y): coefficients from the constant up, powers of x as it is given.
LinearFit polynomial_fit(std::span<const double> x, std::span<const double> y, std::size_t order);

}  // namespace pullsheet::statistics
