// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/least_squares.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <utility>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::statistics {
namespace {

// NIST Statistical Reference Datasets, linear regression, Norris (ozone monitors): y, x.
const std::vector<std::pair<double, double>> norris{
    {0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},    {228.1, 226.5},
    {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
    {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
    {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
    {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
    {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}};

TEST(NistStrd, LinearNorris) {
    std::vector<double> x, y;
    for (const auto& [response, predictor] : norris) {
        y.push_back(response);
        x.push_back(predictor);
    }
    const LinearFit fit = polynomial_fit(x, y, 1);
    EXPECT_NEAR(fit.coefficients(0), -0.262323073774029, 1e-12);
    EXPECT_NEAR(fit.coefficients(1), 1.00211681802045, 5e-15);
    EXPECT_NEAR(fit.standard_errors(0), 0.232818234301152, 1e-12);
    EXPECT_NEAR(fit.standard_errors(1), 0.429796848199937e-3, 1e-15);
    EXPECT_NEAR(fit.residual_standard_deviation, 0.884796396144373, 1e-12);
    EXPECT_NEAR(fit.determination, 0.999993745883712, 5e-15);
    EXPECT_NEAR(fit.regression_sum_of_squares, 4255954.13232369, 5e-8);
    EXPECT_NEAR(fit.residual_sum_of_squares, 26.6173985294224, 1e-10);
    const double f = fit.regression_sum_of_squares / std::pow(fit.residual_standard_deviation, 2);
    EXPECT_NEAR(f / 5436385.54079785, 1.0, 1e-11);
}

// Wampler1 and Wampler2 (1970): polynomials of order 5 through x = 0 … 20, higher difficulty; certified
// coefficients 1, 1 … and 1, 0.1, 0.01 … with no residual.
TEST(NistStrd, LinearWampler) {
    std::vector<double> x, y1, y2;
    for (int i = 0; i <= 20; ++i) {
        const double t = i;
        x.push_back(t);
        double one = 0.0, two = 0.0;
        for (int k = 5; k >= 0; --k) {
            one = one * t + 1.0;
            two = two * t + std::pow(10.0, -k);
        }
        y1.push_back(one);
        y2.push_back(two);
    }
    const LinearFit first = polynomial_fit(x, y1, 5);
    const LinearFit second = polynomial_fit(x, y2, 5);
    for (Eigen::Index k = 0; k <= 5; ++k) {
        EXPECT_NEAR(first.coefficients(k), 1.0, 1e-8);
        EXPECT_NEAR(second.coefficients(k) / std::pow(10.0, -static_cast<double>(k)), 1.0, 1e-10);
    }
}

// Steady flows about a heat exchanger with a bypass, balances as constraints: Narasimhan & Jordache, Data
// Reconciliation and Gross Error Detection (2000), table 1-1 (values from memory, recomputed). With the
// balances solved for the two branch flows it is a linear fit; the residual sum is the global test statistic.
TEST(NarasimhanJordache2000, HeatExchangerWithBypass) {
    Eigen::VectorXd measured(6);
    measured << 101.91, 64.45, 34.65, 64.20, 36.44, 98.88;
    Eigen::MatrixXd design(6, 2);
    design << 1, 1, 1, 0, 0, 1, 1, 0, 0, 1, 1, 1;
    const LinearFit even = linear_fit(design, measured);
    EXPECT_NEAR(even.coefficients(0), 64.50, 5e-3);
    EXPECT_NEAR(even.coefficients(1), 35.72, 5e-3);
    EXPECT_NEAR(even.residual_sum_of_squares, 6.4075, 1e-8);
    EXPECT_EQ(even.degrees_of_freedom, 4U);

    // Each flow known to 2 %: rows divided by their standard uncertainty.
    const Eigen::VectorXd weight = (0.02 * measured).cwiseInverse();
    const LinearFit weighted = linear_fit(weight.asDiagonal() * design, weight.cwiseProduct(measured));
    EXPECT_NEAR(weighted.coefficients(0), 64.464874, 5e-7);
    EXPECT_NEAR(weighted.coefficients(1), 35.542735, 5e-7);
    EXPECT_NEAR(weighted.residual_sum_of_squares, 4.41422685, 5e-9);
}

TEST(LeastSquaresErrors, SayWhy) {
    EXPECT_THROW(polynomial_fit(std::vector{1.0, 2.0}, std::vector{1.0}, 1), InvalidArgument);
    EXPECT_THROW(polynomial_fit(std::vector{1.0, 2.0}, std::vector{1.0, 2.0}, 2), NoData);
    EXPECT_THROW(polynomial_fit(std::vector{1.0, 1.0, 1.0}, std::vector{1.0, 2.0, 3.0}, 1), NoData);
}

}  // namespace
}  // namespace pullsheet::statistics
