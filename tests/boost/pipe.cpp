// SPDX-License-Identifier: Apache-2.0
#include "core/boost/pipe.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace pullsheet::boost {
namespace {

// Colebrook (1939), J. Inst. Civ. Eng. 11:133: the equation solved to 40 digits with mpmath.
TEST(Colebrook1939Independent, ExactFrictionFactors) {
    EXPECT_NEAR(friction_factor(1e4, 0.0), 0.030882950353488, 5e-15);
    EXPECT_NEAR(friction_factor(1e4, 0.01), 0.043126584706812, 5e-15);
    EXPECT_NEAR(friction_factor(5e4, 0.001), 0.024020783975372, 5e-15);
    EXPECT_NEAR(friction_factor(1e6, 1e-5), 0.011869544827945, 5e-15);
    EXPECT_NEAR(friction_factor(1e7, 1e-4), 0.012166080958897, 5e-15);
    EXPECT_NEAR(friction_factor(4000.0, 0.05), 0.076986834889225, 5e-15);
}

// Python library "fluids" (C. Bell), documented example of Colebrook: Re 1e5, ε/D 1e-4.
TEST(FluidsLibraryIndependent, Colebrook) {
    EXPECT_NEAR(friction_factor(1e5, 1e-4), 0.018513866077471, 1.5e-15);
}

TEST(HagenPoiseuilleIdentities, Laminar) {
    EXPECT_DOUBLE_EQ(friction_factor(1600.0, 0.01), 0.04);
}

// Incompressible Darcy–Weisbach, evaluated independently for 0.15 kg/s at 1.6 kg/m³ in 60 mm, 1.5 m, 2.0e-5
// Pa·s, 0.05 mm: v, f and loss. Here the viscosity follows the temperature, so only the velocity can be met
// exactly.
TEST(DarcyWeisbachIdentities, Velocity) {
    const double temperature = 330.0;
    const double pressure = 1.6 * dry_air_gas_constant * temperature;
    EXPECT_NEAR(pipe_velocity(0.15, 0.06, temperature, pressure), 33.15728, 5e-6);
}

TEST(DarcyWeisbachIdentities, LossAtTheViscosityOfTheExample) {
    // Sutherland's viscosity is 2.0e-5 Pa·s near 333.6 K.
    const double low = 300.0, high = 360.0;
    double t = 0.5 * (low + high), a = low, b = high;
    for (int i = 0; i < 60; ++i) {
        const PipeFlow flow = pipe_flow(0.15, {0.06, 1.5, 0.0, 5e-5}, t, 1.6 * dry_air_gas_constant * t);
        (flow.reynolds > 159154.94 ? a : b) = t;
        t = 0.5 * (a + b);
    }
    const PipeFlow flow = pipe_flow(0.15, {0.06, 1.5, 0.0, 5e-5}, t, 1.6 * dry_air_gas_constant * t);
    EXPECT_NEAR(flow.friction_factor, 0.020700885, 5e-10);
    EXPECT_NEAR(flow.pressure_loss, 455.1732, 5e-5);
    EXPECT_TRUE(flow.warnings.empty());
}

// Speed of sound in air at 300 K with κ = 1.4, R = 287.05 J/(kg·K): 347.218951 m/s (ideal gas, evaluated
// independently).
TEST(IdealGasIdentities, SpeedOfSound) {
    const double t = 300.0, p = 1e5, d = 0.07, m = 0.2;
    EXPECT_NEAR(pipe_velocity(m, d, t, p, {287.05, 1.4}) / pipe_mach(m, d, t, p, {287.05, 1.4}), 347.218951,
                5e-7);
}

// NACA Report 1135 (1953), table I: static divided by total pressure and temperature and A/A* at Mach 0.3.
// The flow through 50 mm at the total state 100 kPa, 300 K is then p·A·M·√(κ/(R·T)) at the static state.
TEST(Naca1135Printed, MassFlowAtMach) {
    const double p = 0.9395 * 100e3, t = 0.9823 * 300.0;
    const double area = 0.25 * pi * 0.05 * 0.05;
    // Choked flow of 50 mm at this total state is 0.45815324 kg/s; A/A* = 2.0351 at Mach 0.3.
    const double flow = 0.45815324 / 2.0351;
    EXPECT_NEAR(pipe_mach(flow, 0.05, t, p, {287.05, 1.4}), 0.3, 0.3 * 2e-4);
    EXPECT_NEAR(0.25 * pi * std::pow(pipe_diameter(flow, 0.3, t, p, {287.05, 1.4}), 2), area, area * 2e-4);
}

TEST(PipeIdentities, DiameterIsTheInverseOfMach) {
    for (double mach : {0.05, 0.3, 0.9, 1.0}) {
        const double d = pipe_diameter(0.35, mach, 320.0, 250e3);
        EXPECT_NEAR(pipe_mach(0.35, d, 320.0, 250e3), mach, 1e-12) << mach;
    }
}

TEST(PipeIdentities, FrictionIsContinuousAcrossTheCriticalZone) {
    for (double roughness : {0.0, 0.001, 0.05}) {
        for (double at : {2300.0, 4000.0}) {
            const double below = friction_factor(at * (1.0 - 1e-12), roughness);
            EXPECT_NEAR(below, friction_factor(at * (1.0 + 1e-12), roughness), 1e-10);
        }
    }
}

TEST(PipeIdentities, ColebrookHoldsOverItsDomain) {
    for (double re = 4000.0; re < 2e9; re *= 1.7) {
        for (double roughness : {0.0, 1e-6, 1e-4, 1e-2, 0.05, 0.5}) {
            const double x = 1.0 / std::sqrt(friction_factor(re, roughness));
            EXPECT_NEAR(x, -2.0 * std::log10(roughness / 3.7 + 2.51 * x / re), 1e-12 * x)
                << re << ' ' << roughness;
        }
    }
}

TEST(PipeErrors, ChokedPipe) {
    try {
        pipe_velocity(2.0, 0.05, 300.0, 100e3);
        FAIL();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::pipe_choked);
        const double greatest = error.details().at(1).value;
        EXPECT_NEAR(pipe_mach(greatest * (1.0 - 1e-12), 0.05, 300.0, 100e3), 1.0, 1e-9);
    }
}

TEST(PipeErrors, LossBeyondThePressure) {
    try {
        pipe_flow(0.3, {0.05, 100.0, 50.0}, 300.0, 100e3);
        FAIL();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::pipe_loss_too_great);
    }
}

TEST(PipeErrors, Refusals) {
    const double nan = std::nan("");
    EXPECT_THROW(pipe_velocity(nan, 0.05, 300.0, 1e5), InvalidArgument);
    EXPECT_THROW(pipe_velocity(-0.1, 0.05, 300.0, 1e5), InvalidArgument);
    EXPECT_THROW(pipe_velocity(0.1, 0.0, 300.0, 1e5), InvalidArgument);
    EXPECT_THROW(pipe_mach(0.1, 0.05, nan, 1e5), InvalidArgument);
    EXPECT_THROW(pipe_diameter(0.0, 0.3, 300.0, 1e5), InvalidArgument);
    EXPECT_THROW(pipe_diameter(0.1, 1.2, 300.0, 1e5), InvalidArgument);
    EXPECT_THROW(pipe_flow(0.1, {0.05, -1.0}, 300.0, 1e5), InvalidArgument);
    EXPECT_THROW(friction_factor(0.0, 0.0), InvalidArgument);
}

TEST(PipeFlowIdentities, NothingFlows) {
    const PipeFlow flow = pipe_flow(0.0, {0.05, 1.0, 2.0}, 300.0, 1e5);
    EXPECT_EQ(flow.velocity, 0.0);
    EXPECT_EQ(flow.mach, 0.0);
    EXPECT_EQ(flow.reynolds, 0.0);
    EXPECT_EQ(flow.pressure_loss, 0.0);
    EXPECT_TRUE(flow.warnings.empty());
}

TEST(PipeWarnings, FastFlowAndLargeLoss) {
    const PipeFlow flow = pipe_flow(0.4, {0.05, 5.0, 2.0, 1e-5}, 300.0, 150e3);
    ASSERT_EQ(flow.warnings.size(), 2u);
    EXPECT_EQ(flow.warnings[0].reason, Reason::pipe_fast);
    EXPECT_EQ(flow.warnings[1].reason, Reason::pipe_loss_large);
}

}  // namespace
}  // namespace pullsheet::boost
