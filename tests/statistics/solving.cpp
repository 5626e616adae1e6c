// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/solving.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace pullsheet::statistics {
namespace {

// Wallis's equation x³ − 2x − 5 = 0, the classical test of root finders (Wallis 1685); root OEIS A007493.
TEST(Wallis1685Printed, Cubic) {
    const Solution solution = solve([](double x) { return x * x * x - 2.0 * x; }, 5.0, 0.0, 10.0);
    EXPECT_NEAR(solution.argument, 2.0945514815423265, 1e-13);
    EXPECT_TRUE(solution.warnings.empty());
}

// The fixed point of the cosine (Dottie number, OEIS A003957).
TEST(SolvingReference, FixedPointOfCosine) {
    const Solution solution = solve([](double x) { return std::cos(x) - x; }, 0.0, 0.0, 1.0);
    EXPECT_NEAR(solution.argument, 0.7390851332151607, 1e-14);
}

TEST(Solving, SeveralSolutionsAreSaid) {
    // A torque curve meets a level twice.
    const auto curve = [](double x) { return 400.0 - std::pow((x - 4000.0) / 100.0, 2); };
    const Solution two = solve(curve, 300.0, 1000.0, 7000.0);
    EXPECT_NEAR(two.argument, 3000.0, 1e-8);
    ASSERT_EQ(two.warnings.size(), 1U);
    EXPECT_EQ(two.warnings[0].reason, Reason::several_solutions);
    EXPECT_EQ(two.warnings[0].details[0].value, 2.0);
    EXPECT_NEAR(two.warnings[0].details[1].value, 5000.0, 1e-8);
    // Both within one step of the search.
    const auto narrow = [](double x) { return std::pow(x - 0.512, 2); };
    const Solution close = solve(narrow, 1e-6, 0.0, 1.0);
    EXPECT_NEAR(close.argument, 0.511, 1e-9);
    ASSERT_EQ(close.warnings.size(), 1U);
    EXPECT_NEAR(close.warnings[0].details[1].value, 0.513, 1e-9);
    // Three of a sine.
    const Solution three = solve([](double x) { return std::sin(x); }, 0.5, 0.0, 5.0 * std::numbers::pi);
    EXPECT_NEAR(three.argument, std::numbers::pi / 6.0, 1e-12);
    EXPECT_EQ(three.warnings.at(0).details[0].value, 6.0);
}

TEST(Solving, TouchedTargetAndEnds) {
    // The very top of a curve, off the steps of the search.
    const auto curve = [](double x) { return 400.0 - std::pow((x - 3977.0) / 100.0, 2); };
    EXPECT_NEAR(solve(curve, 400.0, 1000.0, 7000.0).argument, 3977.0, 1e-3);
    EXPECT_EQ(solve([](double x) { return x; }, 1.0, 1.0, 2.0).argument, 1.0);
    EXPECT_EQ(solve([](double x) { return x; }, 2.0, 1.0, 2.0).argument, 2.0);
}

TEST(Solving, UndefinedPartsAndJumps) {
    // Defined on part of the interval only.
    const auto root = [](double x) { return x < 3.0 ? std::nan("") : std::sqrt(x - 3.0); };
    EXPECT_NEAR(solve(root, 1.0, 0.0, 10.0).argument, 4.0, 1e-12);
    // A pole changes sign without a solution; 1/(x − 1) = 0 has none.
    EXPECT_THROW(solve([](double x) { return 1.0 / (x - 1.03); }, 0.0, 0.0, 2.0), NoSolution);
    EXPECT_THROW(solve([](double x) { return x < 0.77 ? -1.0 : 1.0; }, 0.0, 0.0, 2.0), NoSolution);
    // … but a solution beside the pole is found.
    EXPECT_NEAR(solve([](double x) { return 1.0 / (x - 1.03); }, 2.0, 0.0, 2.0).argument, 1.53, 1e-12);
}

TEST(SolvingErrors, SayWhatIsReached) {
    try {
        solve([](double x) { return x * x; }, -1.0, -2.0, 3.0);
        ADD_FAILURE();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::target_not_reached);
        EXPECT_NEAR(error.details()[0].value, 0.0, 1e-12);
        EXPECT_EQ(error.details()[1].value, 9.0);
    }
    EXPECT_THROW(solve([](double) { return std::nan(""); }, 0.0, 0.0, 1.0), NoSolution);
    EXPECT_THROW(solve([](double x) { return x; }, 0.0, 1.0, 0.0), InvalidArgument);
    EXPECT_THROW(solve([](double x) { return x; }, 0.0, 1.0, 1.0), InvalidArgument);
    EXPECT_THROW(solve([](double x) { return x; }, std::nan(""), 0.0, 1.0), InvalidArgument);
}

// A fill of the tank, a map, a measured curve: the function has a value only in a part of what is searched.
TEST(Solving, ASolutionBetweenTheLastStepAndTheEndOfTheFunction) {
    const auto curve = [](double x) { return x > 6800.0 ? std::nan("") : 500.0 - x / 20.0; };
    EXPECT_NEAR(solve(curve, 161.0, 3000.0, 11000.0).argument, 6780.0, 1e-7);
    // The end itself is the solution.
    EXPECT_NEAR(solve(curve, 160.0, 3000.0, 11000.0).argument, 6800.0, 1e-7);
    const auto root = [](double x) { return std::sqrt(x - 0.3); };
    EXPECT_NEAR(solve(root, 0.01, 0.0, 1.0).argument, 0.3001, 1e-9);
    EXPECT_THROW(solve(curve, 159.9, 3000.0, 11000.0), NoSolution);
}

}  // namespace
}  // namespace pullsheet::statistics
