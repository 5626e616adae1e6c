// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/monotone_curve.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::statistics {
namespace {

using Points = std::vector<std::pair<double, double>>;

// Data of Fritsch & Carlson (SIAM J. Numer. Anal. 17, 1980, table "RPN 14", from memory) with the slopes of
// Fritsch & Butland 1984; values computed with an independent library to 12 digits after the point.
TEST(FritschCarlson1980Independent, Rpn14) {
    const MonotoneCurve curve(
        {7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20},
        {0, 2.76429e-5, 4.37498e-2, .169183, .469428, .943740, .998636, .999919, .999994});
    const Points expected{{8.0, 0.000000276743}, {8.5, 0.116632576939}, {9.0, 0.337534326846},
                          {9.5, 0.685217945111}, {11, 0.986043362535},  {18, 0.999982683848}};
    for (const auto& [x, y] : expected) EXPECT_NEAR(curve.at(x), y, 5.1e-13) << x;
    double last = -1.0;
    for (int i = 0; i <= 1201; ++i) {
        const double y = curve.at(std::min(7.99 + 0.01 * i, 20.0));
        EXPECT_GE(y, last);
        EXPECT_LE(y, 1.0);
        last = y;
    }
}

// Data of Akima (J. ACM 17, 1970, from memory); values computed with an independent library to 10 digits.
TEST(Akima1970Independent, ShapePreserving) {
    const std::vector<double> x{0, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15};
    const std::vector<double> y{10, 10, 10, 10, 10, 10, 10.5, 15, 50, 60, 85};
    const MonotoneCurve shape(x, y);
    for (const auto& [at, value] : Points{{8.5, 10.1544811321}, {10, 11.7695501325}, {13, 55.1363636364}})
        EXPECT_NEAR(shape.at(at), value, 5.1e-11) << at;
}

TEST(MonotoneCurveIdentities, PointsLinesIntegrals) {
    const std::vector<double> x{1000, 1500, 1700, 2600, 4000, 4100, 6000};
    const std::vector<double> y{120, 250, 251, 300, 290, 310, 180};
    const MonotoneCurve curve(x, y);
    for (std::size_t i = 0; i < x.size(); ++i) EXPECT_NEAR(curve.at(x[i]), y[i], 1e-12);
    // The integral against a fine midpoint sum, over whole and partial intervals.
    for (const auto& [from, to] : Points{{1000, 6000}, {1234, 5678}, {1800, 1900}, {2600, 4100}}) {
        double sum = 0.0;
        constexpr int steps = 200000;
        for (int i = 0; i < steps; ++i) sum += curve.at(from + (to - from) * (i + 0.5) / steps);
        EXPECT_NEAR(curve.integral(from, to), sum / steps * (to - from), 1e-9 * 300.0 * 5000.0);
    }
    EXPECT_EQ(curve.integral(2000, 2000), 0.0);
    // Slope against a difference.
    for (const double at : {1100.0, 1600.0, 3000.0, 5000.0})
        EXPECT_NEAR(curve.slope(at), (curve.at(at + 1e-3) - curve.at(at - 1e-3)) / 2e-3, 1e-6);
    // Two and three points.
    const MonotoneCurve line({1, 3}, {10, 30});
    EXPECT_NEAR(line.at(2.5), 25.0, 1e-13);
    EXPECT_NEAR(line.integral(1, 3), 40.0, 1e-13);
    const MonotoneCurve three({0, 1, 2}, {0, 1, 0});
    EXPECT_NEAR(three.at(1.0), 1.0, 1e-14);
    for (double at = 0.0; at <= 2.0; at += 0.01) EXPECT_LE(three.at(at), 1.0 + 1e-14);
    // A curve read once without being stored is the same curve.
    const std::array<double, 4> few_x{0.0, 1.0, 2.5, 3.0}, few_y{1.0, 3.0, 3.5, 5.0};
    const MonotoneCurve few({few_x.begin(), few_x.end()}, {few_y.begin(), few_y.end()});
    for (double at = 0.0; at <= 3.0; at += 0.125)
        EXPECT_EQ(monotone_value(few_x, few_y, at), few.at(at)) << at;
    EXPECT_NEAR(MonotoneCurve({0, 1, 3}, {1, 3, 7}).at(2.2), 5.4, 1e-13);  // a straight line stays straight
}

TEST(MonotoneCurveErrors, NoExtrapolationNoDisorder) {
    const MonotoneCurve curve({1, 2, 3, 4}, {1, 2, 3, 4});
    for (const double at : {0.999, 4.001, std::numeric_limits<double>::quiet_NaN()}) {
        try {
            curve.at(at);
            ADD_FAILURE();
        } catch (const InvalidArgument& error) {
            EXPECT_STREQ(error.parameter(), "speed");
            EXPECT_EQ(error.allowed().low, 1.0);
            EXPECT_EQ(error.allowed().high, 4.0);
        }
    }
    EXPECT_THROW(curve.integral(0.5, 2), InvalidArgument);
    EXPECT_THROW(curve.integral(3, 2), InvalidArgument);
    EXPECT_THROW(MonotoneCurve({1, 1, 2, 3}, {1, 2, 3, 4}), InvalidArgument);
    EXPECT_THROW(MonotoneCurve({1, 2, 3}, {1, 2}), InvalidArgument);
    EXPECT_THROW(MonotoneCurve({1, 2, 3}, {1, std::nan(""), 3}), InvalidArgument);
    EXPECT_THROW(MonotoneCurve({1}, {1}), NoData);
}

// Where the secants differ in sign, the slope at an end is at most three times the nearest secant: Fritsch &
// Butland (1984), as PCHIM of SLATEC.
TEST(FritschButland1984Identities, SlopeAtAnEndIsLimited) {
    const MonotoneCurve curve({0.0, 1.0, 1.1, 2.1}, {0.0, 2.0, 0.0, 0.0});
    EXPECT_NEAR(curve.slope(0.0), 6.0, 1e-9);
}

TEST(MonotoneCurveIdentities, ScaledAndTried) {
    const MonotoneCurve curve({1, 2, 4, 5}, {10, 14, 15, 11});
    for (double x = 1.0; x <= 5.0; x += 0.25) {
        EXPECT_NEAR(curve.scaled(1.3).at(x), 1.3 * curve.at(x), 1e-13);
        EXPECT_EQ(curve.trial(x), curve.at(x));
    }
    // Beyond an end a solver gets the linear extrapolation from that end.
    EXPECT_NEAR(curve.trial(0.5), 10 - 0.5 * curve.slope(1.0), 1e-13);
    EXPECT_NEAR(curve.trial(5.5), 11 + 0.5 * curve.slope(5.0), 1e-13);
    EXPECT_NEAR(curve.scaled(2).trial(5.5), 2 * curve.trial(5.5), 1e-12);
}

}  // namespace
}  // namespace pullsheet::statistics
