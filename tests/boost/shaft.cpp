// SPDX-License-Identifier: Apache-2.0
#include "core/boost/shaft.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/boost/turbine.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::boost {
namespace {

using tests::rpm;
constexpr double inertia = 1.2e-4;

ShaftDrive to_speed(std::function<double(double, double)> surplus, double from, double to,
                    double longest = 60.0) {
    return {std::move(surplus), [to](double, double speed) { return speed - to; }, inertia, from, longest};
}

// Computed twice by independent programs. With nothing but a surplus of power the time is the gain of kinetic
// energy over it.
TEST(ShaftIndependent, ConstantSurplus) {
    const auto moments = spin(to_speed([](double, double) { return 9e3; }, 40e3 * rpm, 120e3 * rpm));
    EXPECT_NEAR(moments.back().time, 0.935784714, 1e-5 * 0.935784714);
    EXPECT_NEAR(moments.back().speed, 120e3 * rpm, 1e-8 * 120e3 * rpm);
}

TEST(ShaftIndependent, TowardsItsBalanceAndCoasting) {
    const double balance = 125e3 * rpm;
    const auto taken = [&](double speed) { return 20e3 * std::pow(speed / balance, 3); };
    const auto up =
        spin(to_speed([&](double, double speed) { return 20e3 - taken(speed); }, 40e3 * rpm, 120e3 * rpm));
    EXPECT_NEAR(up.back().time, 0.927297552, 1e-5 * 0.927297552);
    const ShaftDrive coasting{[&](double, double speed) { return -taken(speed); },
                              [](double time, double) { return time - 0.2; }, inertia, up.back().speed, 60.0};
    const auto down = spin(coasting);
    EXPECT_NEAR(down.back().time, 0.2, 1e-9);
    EXPECT_NEAR(down.back().speed / rpm, 101116.051, 1e-5 * 101116.051);
}

// The balance of a turbocharger in closed form, with 13/12 as much gas as air and an expansion ratio of 2.
TEST(ShaftIndependent, BalanceOfTurbineAndCompressor) {
    const double power = turbine_power(13.0 / 12.0, 1173.15, 2.0, 0.68);
    EXPECT_NEAR(compressor_power(1.0, 298.15, 3.04401006, 0.70), power, 1e-7 * power);
}

TEST(ShaftIndependent, Similarity) {
    EXPECT_NEAR(pressure_ratio_by_similarity(2.0, 0.6), 1.30423715, 5e-9);
}

// The speed at which a wheel of 74 mm gives 1.2 at 25 °C, computed apart.
TEST(ShaftIndependent, WheelWithoutAMap) {
    EXPECT_NEAR(wheel_speed(0.074, 1.2, 298.15) / rpm, 45087.4617, 5e-4);
    EXPECT_NEAR(wheel_pressure_ratio(0.074, 45087.4617 * rpm, 298.15), 1.2, 1e-9);
}

TEST(ShaftIdentities, AWheelFollowsSimilarity) {
    for (const double ratio : {1.0, 1.4, 2.5, 4.0})
        for (const double factor : {0.0, 0.3, 1.0, 1.2}) {
            const double speed = wheel_speed(0.06, ratio, 300.0);
            EXPECT_NEAR(wheel_pressure_ratio(0.06, factor * speed, 300.0),
                        pressure_ratio_by_similarity(ratio, factor), 1e-12 * ratio);
        }
}

// ∫(P_t − P_c)·dt is the gain of ½·J·ω².
TEST(ShaftIdentities, WorkIsGainOfEnergy) {
    const auto surplus = [](double time, double speed) {
        return 6e3 + 2e3 * std::sin(3.0 * time) - 3e-9 * std::pow(speed, 3);
    };
    const auto moments = spin({surplus, [](double time, double) { return time - 0.5; }, inertia, 5e3, 60.0});
    // The work by Simpson's rule along a fine course of its own.
    double work = 0.0;
    const auto speed_at = [&](double until) {
        return until <= 0.0
                   ? 5e3
                   : spin({surplus, [&](double time, double) { return time - until; }, inertia, 5e3, 60.0})
                         .back()
                         .speed;
    };
    constexpr int parts = 200;
    for (int i = 0; i <= parts; ++i) {
        const double time = 0.5 * i / parts;
        const double weight = i == 0 || i == parts ? 1.0 : i % 2 ? 4.0 : 2.0;
        work += weight * surplus(time, speed_at(time)) * 0.5 / parts / 3.0;
    }
    const double gain = 0.5 * inertia * (std::pow(moments.back().speed, 2) - 25e6);
    EXPECT_NEAR(work, gain, 1e-9 * gain);
}

TEST(ShaftIdentities, TimeGoesWithTheInertia) {
    ShaftDrive drive =
        to_speed([](double, double speed) { return 12e3 - 1e-8 * std::pow(speed, 3); }, 4e3, 9e3);
    const double time = spin(drive).back().time;
    drive.inertia *= 0.5;
    EXPECT_NEAR(spin(drive).back().time, 0.5 * time, 1e-8 * time);
}

TEST(ShaftSolver, WhatIsNotReachedRunsToTheEnd) {
    const auto moments = spin(
        to_speed([](double, double speed) { return 8e3 - 8.0e-9 * std::pow(speed, 3); }, 4e3, 12e3, 20.0));
    EXPECT_EQ(moments.back().time, 20.0);
    EXPECT_NEAR(moments.back().speed, 1e4, 1.0);
    // A shaft without drive comes to rest and stays there.
    const auto still =
        spin(to_speed([](double, double speed) { return speed > 0.0 ? -5e3 : 0.0; }, 4e3, 5e3, 3.0));
    EXPECT_EQ(still.back().time, 3.0);
    EXPECT_LT(still.back().speed, 40.0);
}

TEST(ShaftSolver, WhatIsThereAtOnceTakesNoTime) {
    const auto moments = spin(to_speed([](double, double) { return 1e3; }, 4e3, 3e3));
    ASSERT_EQ(moments.size(), 1U);
    EXPECT_EQ(moments.back().time, 0.0);
}

TEST(ShaftErrors, ImpossibleNumbers) {
    EXPECT_THROW(wheel_speed(0.0, 2.0, 300.0), InvalidArgument);
    EXPECT_THROW(wheel_speed(0.07, 0.9, 300.0), InvalidArgument);
    EXPECT_THROW(wheel_pressure_ratio(0.07, -1.0, 300.0), InvalidArgument);
    EXPECT_THROW(wheel_pressure_ratio(0.07, 1.0, 300.0, 0.0), InvalidArgument);
    EXPECT_THROW(pressure_ratio_by_similarity(2.0, -0.1), InvalidArgument);
    EXPECT_THROW(
        spin({[](double, double) { return 1.0; }, [](double, double) { return -1.0; }, 0.0, 1.0, 1.0}),
        InvalidArgument);
    // A surplus that is no number.
    EXPECT_THROW(spin(to_speed([](double, double) { return std::nan(""); }, 4e3, 5e3)), NoSolution);
}

}  // namespace
}  // namespace pullsheet::boost
