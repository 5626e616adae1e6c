// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/local_polynomial.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "core/error.hpp"
#include "core/statistics/smoothing.hpp"
#include "tests/statistics/polynomial_fit.hpp"
#include "tests/statistics/pseudo_noise.hpp"

namespace pullsheet::statistics {
namespace {

// An uneven grid: spacing between a half and one and a half times the mean.
std::vector<double> uneven_grid(std::size_t n, double spacing, double from = 0.0) {
    std::vector<double> x;
    double at = from;
    for (std::size_t i = 0; i < n; ++i, at += spacing * (1.0 + 0.5 * std::sin(7.3 * static_cast<double>(i))))
        x.push_back(at);
    return x;
}

// On an even grid the local fit is the filter of Savitzky & Golay, whose tables are checked elsewhere.
TEST(SavitzkyGolay1964Identities, LocalPolynomialOnEvenGrid) {
    PseudoNoise noise(1);
    std::vector<double> x, y;
    for (int i = 0; i < 400; ++i) {
        x.push_back(1000.0 + 0.01 * i);
        y.push_back(50.0 + 20.0 * std::sin(0.02 * i) + noise());
    }
    for (const std::size_t order : {2U, 3U}) {
        const LocalFit fit = local_polynomial(x, y, x, 0.0701, order);  // 15 rows
        const Smoothed smoothed = smooth(y, 15.0, static_cast<double>(order));
        const std::vector<double> rows{-7, -6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7};
        for (std::size_t i = 7; i + 7 < x.size(); ++i) {
            EXPECT_NEAR(fit.value[i], smoothed.values[i], 1e-8);
            const std::vector<double> window(&y[i - 7], &y[i - 7] + 15);
            const Eigen::VectorXd exact = tests::polynomial_fit(rows, window, static_cast<int>(order));
            EXPECT_NEAR(fit.derivative[i], exact(1) / 0.01, 1e-6);
        }
    }
}

// Convolution integers of the first derivative: norm; from left to right. Each is what a value of one in its
// row contributes.
TEST(SavitzkyGolay1964Printed, DerivativeTables) {
    struct Table {
        std::size_t order;
        double norm;
        std::vector<double> integers;
    };
    for (const auto& [order, norm, integers] :
         {Table{2, 10, {-2, -1, 0, 1, 2}}, Table{2, 28, {-3, -2, -1, 0, 1, 2, 3}},
          Table{3, 12, {1, -8, 0, 8, -1}}}) {
        std::vector<double> x;
        for (std::size_t i = 0; i < integers.size(); ++i) x.push_back(static_cast<double>(i));
        const double middle = 0.5 * x.back();
        for (std::size_t i = 0; i < x.size(); ++i) {
            std::vector<double> impulse(x.size(), 0.0);
            impulse[i] = 1.0;
            const LocalFit fit = local_polynomial(x, impulse, std::vector{middle}, middle, order);
            EXPECT_NEAR(fit.derivative[0] * norm, integers[i], 1e-11) << order << " " << i;
        }
    }
}

// Against a QR fit of each window on an uneven grid, ends and a gap included.
TEST(LocalPolynomialIdentities, AgreesWithQr) {
    PseudoNoise noise(2);
    std::vector<double> x = uneven_grid(300, 0.02, 40.0);
    for (std::size_t i = 150; i < 300; ++i) x[i] += 3.0;  // the log paused
    std::vector<double> y;
    for (const double t : x) y.push_back(200.0 + 30.0 * std::sin(t) + noise());
    constexpr double half_width = 0.15;
    const LocalFit fit = local_polynomial(x, y, x, half_width, 2);
    for (std::size_t i = 0; i < x.size(); ++i) {
        std::vector<double> u, v;
        for (std::size_t k = 0; k < x.size(); ++k) {
            if (std::abs(x[k] - x[i]) > half_width) continue;
            u.push_back(x[k] - x[i]);
            v.push_back(y[k]);
        }
        ASSERT_GE(u.size(), 4U);
        const Eigen::VectorXd exact = tests::polynomial_fit(u, v, 2);
        EXPECT_NEAR(fit.value[i], exact(0), 1e-8);
        EXPECT_NEAR(fit.derivative[i], exact(1), 1e-6);
    }
}

TEST(LocalPolynomialIdentities, PolynomialsStayAndGapsAreBridged) {
    const std::vector<double> x{0.0, 0.1, 0.2, 0.3, 5.0, 5.1, 9.0, 9.05, 9.3, 20.0};
    std::vector<double> y;
    for (const double t : x) y.push_back(3.0 - 2.0 * t + 0.5 * t * t);
    const std::vector<double> at{0.0, 0.15, 2.5, 5.0, 7.0, 15.0, 20.0};
    const LocalFit fit = local_polynomial(x, y, at, 0.01, 2);
    for (std::size_t i = 0; i < at.size(); ++i) {
        EXPECT_NEAR(fit.value[i], 3.0 - 2.0 * at[i] + 0.5 * at[i] * at[i], 1e-8);
        EXPECT_NEAR(fit.derivative[i], -2.0 + at[i], 1e-7);
    }
}

TEST(LocalPolynomialIdentities, EveryOrderKeepsItsOwnPolynomials) {
    const std::vector<double> x{0.0, 0.1, 0.25, 0.3, 0.42, 0.5, 0.61, 0.7};
    for (const std::size_t order : {1u, 2u, 3u}) {
        const auto n = static_cast<double>(order);
        std::vector<double> y;
        for (const double t : x) y.push_back(1.5 + 4.0 * std::pow(t, n));
        const LocalFit fit = local_polynomial(x, y, x, 0.4, order);
        for (std::size_t i = 0; i < x.size(); ++i) {
            EXPECT_NEAR(fit.value[i], y[i], 1e-10) << order;
            EXPECT_NEAR(fit.derivative[i], 4.0 * n * std::pow(x[i], n - 1.0), 1e-8) << order;
        }
    }
}

// A window of a hundred thousand rows: the sums are updated with it instead of being computed afresh each
// time.
TEST(LocalPolynomialIdentities, PolynomialsStayInWideWindows) {
    std::vector<double> x, y;
    for (int i = 0; i < 200000; ++i) {
        x.push_back(1e-4 * i);
        y.push_back(3.0 - 2.0 * x.back() + 0.5 * x.back() * x.back());
    }
    const LocalFit fit = local_polynomial(x, y, x, 5.0, 2);
    for (std::size_t i = 0; i < x.size(); i += 977) {
        EXPECT_NEAR(fit.value[i], y[i], 1e-8);
        EXPECT_NEAR(fit.derivative[i], -2.0 + x[i], 1e-8);
    }
}

TEST(LocalPolynomialErrors, SayWhy) {
    const std::vector<double> x{0, 1, 2, 3, 4}, y{0, 1, 2, 3, 4};
    EXPECT_THROW(local_polynomial(x, y, x, 0.0), InvalidArgument);
    EXPECT_THROW(local_polynomial(x, y, x, 1.0, 4), InvalidArgument);
    EXPECT_THROW(local_polynomial(x, std::vector{1.0}, x, 1.0), InvalidArgument);
    EXPECT_THROW(local_polynomial(x, y, std::vector{4.5}, 1.0), InvalidArgument);
    EXPECT_THROW(local_polynomial(std::vector{0.0, 1.0}, std::vector{0.0, 1.0}, std::vector{0.5}, 1.0),
                 NoData);
}

TEST(Scatter, FindsTheNoiseOfALog) {
    PseudoNoise noise(3);
    std::vector<double> x = uneven_grid(5000, 0.01), y, coarse;
    for (const double t : x) {
        const double speed = 50.0 + 3.0 * t;
        y.push_back(speed + 0.2 * noise());
        coarse.push_back(std::round(speed));
    }
    EXPECT_NEAR(scatter(x, y).standard_deviation, 0.2, 0.012);  // of a median of 5000
    EXPECT_NEAR(scatter(x, y).spacing, 0.01, 1e-3);
    // A speed shown in whole units: rounding scatters by 1/√12, independent once in a third of a second.
    EXPECT_NEAR(scatter(x, coarse).standard_deviation, 1.0 / std::sqrt(12.0), 1e-12);
    EXPECT_NEAR(scatter(x, coarse).spacing, 1.0 / 3.0, 0.02);
    EXPECT_THROW(scatter(std::vector{0.0, 1.0}, std::vector{0.0, 1.0}), NoData);
    EXPECT_THROW(scatter(x, std::vector{0.0, 1.0}), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::statistics
