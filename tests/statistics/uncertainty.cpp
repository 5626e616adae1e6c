// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/uncertainty.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

namespace pullsheet::statistics {
namespace {

// JCGM 100:2008 (GUM) eq. 10 on P = 2π·n·T: 400 N·m ± 1.2, 5500 1/min ± 3; relative result computed
// independently.
TEST(GumIdentities, PowerFromTorqueAndSpeed) {
    const Uncertain power =
        propagate([](std::span<const double> x) { return 2.0 * std::numbers::pi * x[1] / 60.0 * x[0]; },
                  std::vector{400.0, 5500.0}, std::vector{1.2, 3.0});
    EXPECT_NEAR(power.uncertainty / power.value, 0.003049184, 5.1e-10);
    const double torque_share = std::pow(1.2 / 400.0, 2);
    const double speed_share = std::pow(3.0 / 5500.0, 2);
    EXPECT_NEAR(power.contributions[0].share, torque_share / (torque_share + speed_share), 1e-9);
    EXPECT_NEAR(power.contributions[0].share + power.contributions[1].share, 1.0, 1e-14);
    EXPECT_TRUE(power.warnings.empty());
}

// GUM H.2: resistance, reactance and impedance from voltage, current and phase. Printed: Z = 254.260 Ω. The
// three inputs there are correlated; without the correlation u(Z) follows from the printed u(V) = 0.0032 V,
// u(I) = 0.0095 mA: Z·√((u(V)/V)² + (u(I)/I)²).
TEST(GumPrinted, H2ImpedanceUncorrelated) {
    const Uncertain z = propagate([](std::span<const double> x) { return x[0] / x[1]; },
                                  std::vector{4.9990, 19.6610e-3}, std::vector{0.0032, 0.0095e-3});
    EXPECT_NEAR(z.value, 254.260, 5e-4);
    EXPECT_NEAR(z.uncertainty, 254.260 * std::hypot(0.0032 / 4.9990, 0.0095 / 19.6610), 1e-6);
}

TEST(UncertaintyIdentities, NoUncertaintyAndSigns) {
    const auto model = [](std::span<const double> x) { return 3.0 * x[0] - 2.0 * x[1] + 7.0; };
    const Uncertain exact = propagate(model, std::vector{1.0, 2.0}, std::vector{0.0, 0.0});
    EXPECT_EQ(exact.value, 6.0);
    EXPECT_EQ(exact.uncertainty, 0.0);
    EXPECT_EQ(exact.contributions[0].share, 0.0);
    const Uncertain both = propagate(model, std::vector{1.0, 2.0}, std::vector{0.1, 0.2});
    EXPECT_NEAR(both.contributions[0].effect, 0.3, 1e-14);
    EXPECT_NEAR(both.contributions[1].effect, -0.4, 1e-14);
    EXPECT_NEAR(both.uncertainty, 0.5, 1e-14);
    EXPECT_NEAR(both.contributions[1].share, 0.64, 1e-13);
}

TEST(Uncertainty, EdgeOfWhatIsDefined) {
    const auto root = [](std::span<const double> x) { return std::sqrt(x[0]); };
    // 1 ± 2: below zero the root has no value; a hundredth of the uncertainty stays inside.
    const Uncertain inside = propagate(root, std::vector{1.0}, std::vector{2.0});
    EXPECT_NEAR(inside.uncertainty, 1.0, 1e-4);
    // At the edge itself only one side is left, and that is said.
    const auto from_one = [](std::span<const double> x) { return x[0] < 1.0 ? std::nan("") : 2.0 * x[0]; };
    const Uncertain edge = propagate(from_one, std::vector{1.0}, std::vector{0.5});
    EXPECT_NEAR(edge.uncertainty, 1.0, 1e-10);
    ASSERT_EQ(edge.warnings.size(), 1U);
    EXPECT_EQ(edge.warnings[0].reason, Reason::one_sided_difference);
    EXPECT_EQ(edge.warnings[0].details[0].value, 1.0);
}

TEST(Uncertainty, SaysWhereFirstOrderFallsShort) {
    // At the top of a parabola the first order says zero; GUM 5.1.2 note: higher orders must be added then.
    const auto parabola = [](std::span<const double> x) { return 5.0 - x[0] * x[0] + x[1]; };
    const Uncertain top = propagate(parabola, std::vector{0.0, 0.0}, std::vector{0.5, 0.1});
    ASSERT_EQ(top.warnings.size(), 1U);
    EXPECT_EQ(top.warnings[0].reason, Reason::strongly_curved);
    EXPECT_EQ(top.warnings[0].details[0].value, 1.0);
    EXPECT_TRUE(propagate(parabola, std::vector{10.0, 0.0}, std::vector{0.5, 0.1}).warnings.empty());
    EXPECT_EQ(propagate(parabola, std::vector{0.0, 0.0}, std::vector{0.5, 0.0}).warnings.size(), 1U);
}

TEST(UncertaintyErrors, SayWhy) {
    const auto model = [](std::span<const double> x) { return x[0]; };
    EXPECT_THROW(propagate(model, std::vector{1.0}, std::vector{1.0, 2.0}), InvalidArgument);
    EXPECT_THROW(propagate(model, std::vector{1.0}, std::vector{-1.0}), InvalidArgument);
    EXPECT_THROW(propagate(model, std::vector{std::nan("")}, std::vector{1.0}), NoSolution);
    const auto only_there = [](std::span<const double> x) { return x[0] == 1.0 ? 1.0 : std::nan(""); };
    EXPECT_THROW(propagate(only_there, std::vector{1.0}, std::vector{1.0}), NoSolution);
    const auto throws = [](std::span<const double>) -> double { throw std::runtime_error("passed through"); };
    EXPECT_THROW(propagate(throws, std::vector{1.0}, std::vector{1.0}), std::runtime_error);
}

// However small the effects are, they are reported.
TEST(PropagationIdentities, SmallEffects) {
    for (const double scale : {1e-12, 1e-6, 1e-3, 1.0}) {
        const std::vector<double> arguments{2.0 * scale}, uncertainties{0.1 * scale};
        const auto result =
            propagate([](std::span<const double> x) { return 3.0 * x[0]; }, arguments, uncertainties);
        EXPECT_NEAR(result.uncertainty, 0.3 * scale, 1e-9 * scale);
    }
}

}  // namespace
}  // namespace pullsheet::statistics
