// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <cmath>
#include <vector>

#include "core/error.hpp"
#include "core/statistics/agreement.hpp"
#include "core/statistics/local_polynomial.hpp"

namespace pullsheet::statistics {
namespace {

// Independent values: the answer is that of the simple function.
TEST(AgreementIdentities, DiagonalCovarianceIsIndependence) {
    const std::vector<double> values{221.0, 214.0, 209.0}, u{5.0, 3.5, 6.0};
    Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(3, 3);
    for (int i = 0; i < 3; ++i)
        covariance(i, i) = u[static_cast<std::size_t>(i)] * u[static_cast<std::size_t>(i)];
    const Agreement a = agreement(values, u), b = agreement(values, covariance);
    EXPECT_NEAR(a.mean, b.mean, 1e-10);
    EXPECT_NEAR(a.uncertainty, b.uncertainty, 1e-12);
    EXPECT_NEAR(a.chi_squared, b.chi_squared, 1e-12);
    EXPECT_NEAR(a.p, b.p, 1e-12);
    EXPECT_EQ(a.farthest, b.farthest);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(a.comparisons[i].others, b.comparisons[i].others, 1e-10);
        EXPECT_NEAR(a.comparisons[i].deviation, b.comparisons[i].deviation, 1e-12);
    }
}

// Two values of equal variance s² and correlation r: mean of both, variance s² (1 + r)/2, chi-squared (x1 -
// x2)²/(2 s² (1 - r)) (generalised least squares, worked by hand).
TEST(AgreementIdentities, TwoCorrelatedValues) {
    const std::vector<double> values{10.0, 12.0};
    Eigen::MatrixXd covariance(2, 2);
    covariance << 4.0, 3.0, 3.0, 4.0;
    const Agreement a = agreement(values, covariance);
    EXPECT_NEAR(a.mean, 11.0, 1e-12);
    EXPECT_NEAR(a.uncertainty, std::sqrt(3.5), 1e-12);
    EXPECT_NEAR(a.chi_squared, 2.0, 1e-12);
    EXPECT_NEAR(a.comparisons[1].deviation, std::sqrt(2.0), 1e-12);
    covariance << 4.0, 4.0, 4.0, 4.0;
    EXPECT_THROW(agreement(values, covariance), NoData);
    EXPECT_THROW(agreement(values, Eigen::MatrixXd::Identity(3, 3)), InvalidArgument);
    EXPECT_THROW(agreement(std::vector{10.0}, Eigen::MatrixXd::Identity(1, 1)), NoData);
}

// The standard deviations of a local fit against a plain inversion of the normal matrix of its rows.
TEST(LocalPolynomialIdentities, StandardDeviationsOfTheFit) {
    std::vector<double> x, y;
    for (int i = 0; i < 60; ++i) {
        x.push_back(0.1 * i + 0.02 * std::sin(i));
        y.push_back(std::sin(x.back()));
    }
    const LocalFit fit = local_polynomial(x, y, x, 0.55);
    for (const std::size_t place : {0u, 1u, 20u, 33u, 59u}) {
        Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
        for (const double at : x) {
            if (std::abs(at - x[place]) > 0.55) continue;
            const double d = at - x[place];
            const Eigen::Vector3d row(1.0, d, d * d);
            normal += row * row.transpose();
        }
        const Eigen::Matrix3d inverse = normal.inverse();
        EXPECT_NEAR(fit.value_factor[place] / std::sqrt(inverse(0, 0)), 1.0, 1e-8);
        EXPECT_NEAR(fit.derivative_factor[place] / std::sqrt(inverse(1, 1)), 1.0, 1e-8);
    }
}

}  // namespace
}  // namespace pullsheet::statistics
