// SPDX-License-Identifier: Apache-2.0
// The solvers: each finds its solution from wherever it starts, within its bounds.
#include "core/solve.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <limits>

namespace {

using namespace pullsheet;

constexpr Reason reason = Reason::no_boost_limit;

TEST(RisingRoot, FindsTheCrossingFromAnyStartAndWithAnySlopeExpected) {
    const std::function<double(double, double)> functions[] = {
        [](double x, double a) { return x - a; },
        [](double x, double a) { return std::atan(1e4 * (x - a)); },
        [](double x, double a) { return std::expm1(20.0 * (x - a)); },
        [](double x, double a) { return (x - a) * (1.0 + 30.0 * (x - a) * (x - a)); },
        [](double x, double a) { return x < a ? -1.0 : 1.0; },
        [](double x, double a) { return x < a ? -std::numeric_limits<double>::infinity() : x - a; },
        [](double x, double a) { return std::log((x + 1.0) / (a + 1.0)); },
    };
    for (const auto& function : functions)
        for (const double crossing : {-0.999, -0.3, 0.0, 0.4, 0.999})
            for (const double start : {-1.0, -0.5, 0.39, 1.0})
                for (const double slope : {0.01, 1.0, 100.0}) {
                    int count = 0;
                    const auto counted = [&](double x) {
                        EXPECT_GE(x, -1.0);
                        EXPECT_LE(x, 1.0);
                        ++count;
                        return function(x, crossing);
                    };
                    const double found =
                        rising_root(counted, {start, slope, -1.0, 1.0, 0.5, 1e-7 / slope}, reason, {}, 80);
                    EXPECT_NEAR(found, crossing, std::max(1e-7 / slope, 1e-7) * 1.01)
                        << crossing << " " << start << " " << slope;
                    EXPECT_LE(count, 80);
                }
}

TEST(RisingRoot, AGoodStartSavesEvaluations) {
    const auto count = [](double start) {
        int evaluations = 0;
        rising_root(
            [&](double x) {
                ++evaluations;
                return std::sinh(x - 0.3);
            },
            {start, 1.0, -10.0, 10.0, 2.0, 1e-6}, reason);
        return evaluations;
    };
    EXPECT_LE(count(0.301), 4);
    EXPECT_GT(count(-9.0), count(0.301));
}

TEST(RisingRoot, TheEndsWhereNothingCrosses) {
    const RootSearch search{0.2, 1.0, -1.0, 2.0, 0.5, 1e-6};
    EXPECT_EQ(rising_root([](double x) { return x - 5.0; }, search, reason), 2.0);
    EXPECT_EQ(rising_root([](double x) { return x + 5.0; }, search, reason), -1.0);
    constexpr double endless = std::numeric_limits<double>::infinity();
    EXPECT_EQ(rising_root([](double) { return -endless; }, search, reason), 2.0);
    EXPECT_EQ(rising_root([](double) { return endless; }, search, reason), -1.0);
}

TEST(RisingRoot, SaysWhyNot) {
    const RootSearch search{0.2, 1.0, -1.0, 2.0, 0.5, 1e-12};
    EXPECT_THROW(rising_root([](double) { return std::nan(""); }, search, reason), NoSolution);
    EXPECT_THROW(rising_root([](double x) { return x < 0.21 ? x - 1.0 : std::nan(""); }, search, reason),
                 NoSolution);
    EXPECT_THROW(rising_root([](double x) { return x < 1.0 ? -1.0 : 1.0; }, search, reason, {}, 10),
                 NoSolution);
}

// cos x = x at 0.739085133215160641655312: the constant of Dottie (Kaplan, Mathematics Magazine 80, 2007).
TEST(FixedPoint, OfTheCosine) {
    EXPECT_NEAR(fixed_point([](double x) { return std::cos(x); }, 0.0, 1.0, reason), 0.7390851332151607,
                1e-11);
}

TEST(FixedPoint, IsFoundInTheIntervalAlsoWhereTheIterationDiverges) {
    for (const double at : {0.1, 0.37, 0.9})
        for (const double slope : {-30.0, -2.0, -0.5, 0.0, 0.5, 0.99}) {
            const auto straight = [&](double x) { return at + slope * (x - at); };
            EXPECT_NEAR(fixed_point(straight, 0.0, 1.0, reason), at, 1e-9) << at << ' ' << slope;
            const auto stepped = [&](double x) { return x < at ? 1.0 : straight(x) - 1e-9; };
            EXPECT_NEAR(fixed_point(stepped, 0.0, 1.0, reason), at, 1e-7) << at << ' ' << slope;
        }
}

TEST(FixedPoint, EndsAtTheLowerEndOrSaysThatThereIsNone) {
    EXPECT_EQ(fixed_point([](double) { return -1.0; }, 0.0, 1.0, reason), 0.0);
    EXPECT_THROW(fixed_point([](double x) { return x + 0.1; }, 0.0, 1.0, reason), NoSolution);
    EXPECT_THROW(fixed_point([](double) { return std::nan(""); }, 0.0, 1.0, reason), NoSolution);
}

}  // namespace
