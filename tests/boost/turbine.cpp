// SPDX-License-Identifier: Apache-2.0
#include "core/boost/turbine.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/boost/exhaust_system.hpp"
#include "core/error.hpp"

namespace pullsheet::boost {
namespace {

constexpr double cm2 = 1e-4;
constexpr double kPa = 1e3;
constexpr double celsius(double t) {
    return t + 273.15;
}

// Shaft power balance (Heywood, Internal Combustion Engine Fundamentals, ch. 6), evaluated independently: 0.2
// kg/s of air against 1.07 times as much gas at 1123 K, 70 % with bearings.
TEST(Heywood1988Identities, TurbineBalance) {
    const double power = compressor_power(0.2, 298.15, 2.2, 0.74);
    EXPECT_NEAR(power, 20461.8443, 5e-5);
    EXPECT_NEAR(turbine_pressure_ratio(0.2 * 1.07, 1123.0, power, 0.70), 1.55361642, 5e-9);
}

// Critical ratio and greatest flow of a nozzle (Heywood, appendix C, equations C.8 and C.9). The textbooks of
// turbomachinery print ṁ·√(c_p·T)/(A·p) = 1.281 for air at Mach 1 (Dixon & Hall, ch. 1; from memory).
TEST(Heywood1988Identities, ChokedNozzle) {
    const Gas gas{1.34, 1150.0};
    EXPECT_NEAR(critical_pressure_ratio(gas), 1.85666057, 5e-9);
    EXPECT_NEAR(critical_pressure_ratio(compressed_air), 1.89292916, 5e-9);
    for (const double ratio : {1.9, 3.0, 10.0}) {
        EXPECT_NEAR(flow_function(ratio, gas), 0.674392631, 5e-10);
        EXPECT_NEAR(flow_function(ratio, compressed_air), 0.684731456, 5e-10);
    }
    const double printed = flow_function(2.0, compressed_air) * std::sqrt(1.4 / 0.4);
    EXPECT_NEAR(printed, 1.28101526, 5e-9);
    EXPECT_NEAR(printed, 1.281, 5e-4);
    EXPECT_EQ(flow_function(1.0, gas), 0.0);
}

// ψ is flat where it chokes: beyond the critical ratio nothing changes, just below hardly anything.
TEST(Heywood1988Identities, FlowFunctionHasItsMaximumAtTheCriticalRatio) {
    const double critical = critical_pressure_ratio(exhaust_gas);
    const double most = flow_function(critical, exhaust_gas);
    EXPECT_LT(flow_function(0.99 * critical, exhaust_gas), most);
    EXPECT_NEAR(flow_function(0.999 * critical, exhaust_gas), most, 1e-6);
    EXPECT_EQ(flow_function(1.5 * critical, exhaust_gas), most);
}

// Two equal nozzles in series and one nozzle, computed twice by independent programs.
TEST(TurbineIndependent, FlowPressureAndArea) {
    EXPECT_NEAR(turbine_flow(celsius(950), 236 * kPa, 105 * kPa, 12 * cm2), 0.3074155, 5e-8);
    EXPECT_NEAR(turbine_flow(celsius(950), 236 * kPa, 105 * kPa, 12 * cm2, 1), 0.319690864, 5e-10);
    EXPECT_NEAR(turbine_flow(celsius(850), 150 * kPa, 105 * kPa, 12 * cm2), 0.162540016, 5e-10);
    EXPECT_NEAR(turbine_flow(celsius(850), 150 * kPa, 105 * kPa, 12 * cm2, 1), 0.198984246, 5e-10);
    EXPECT_NEAR(turbine_inlet_pressure(0.318, celsius(950), 105 * kPa, 12 * cm2), 242737.391, 5e-4);
    EXPECT_NEAR(turbine_inlet_pressure(0.318, celsius(950), 105 * kPa, 12 * cm2, 0, 1), 234751.782, 5e-4);
    EXPECT_NEAR(turbine_area(0.160, celsius(900), 180 * kPa, 104 * kPa), 8.76704609 * cm2, 5e-9 * cm2);
    EXPECT_NEAR(turbine_area(0.160, celsius(900), 180 * kPa, 104 * kPa, 1), 7.73852442 * cm2, 5e-9 * cm2);
}

// Corrected to 15 °C and 101.325 kPa, and as kg/s·√K/kPa (SAE J1826 and makers' maps differ: the reference is
// stated).
TEST(TurbineIndependent, CorrectedAndReducedFlow) {
    const Reference reference{288.15, 101325.0};
    const double two = turbine_flow(celsius(950), 236 * kPa, 105 * kPa, 12 * cm2);
    const double one = turbine_flow(celsius(950), 236 * kPa, 105 * kPa, 12 * cm2, 1);
    EXPECT_NEAR(corrected_flow(two, celsius(950), 236 * kPa, reference), 0.271932377, 5e-10);
    EXPECT_NEAR(corrected_flow(one, celsius(950), 236 * kPa, reference), 0.282790869, 5e-10);
    const double to_reduced = std::sqrt(288.15) / 101.325;
    EXPECT_NEAR(corrected_flow(two, celsius(950), 236 * kPa, reference) * to_reduced, 0.0455568427, 5e-11);
    EXPECT_NEAR(corrected_flow(one, celsius(950), 236 * kPa, reference) * to_reduced, 0.0473759665, 5e-11);
}

TEST(TurbineIndependent, PowerSpeedAndEfficiency) {
    EXPECT_NEAR(turbine_power(0.318, celsius(950), 2.25, 0.68), 56566.2199, 5e-4);
    EXPECT_NEAR(turbine_pressure_ratio(0.318, celsius(950), 56566.2199, 0.68), 2.25, 1e-8);
    EXPECT_NEAR(blade_speed_ratio(0.070, 128000.0 * std::acos(-1.0) / 30.0, celsius(950), 2.25), 0.648606164,
                5e-10);
    EXPECT_NEAR(turbine_efficiency(0.55, 0.72, 0.68), 0.693685121, 5e-10);
}

Turbine turbine_of(double area, double efficiency, double nozzles = 2.0) {
    Turbine turbine{};
    turbine.effective_area = area;
    turbine.efficiency = efficiency;
    turbine.nozzles = nozzles;
    return turbine;
}

TEST(TurbineIndependent, Wastegate) {
    const GasStream stream{0.5, celsius(950)};
    const Expansion two = drive(turbine_of(12 * cm2, 0.68), stream, 135 * kPa, 95e3);
    EXPECT_NEAR(two.wastegate_share, 0.0711128874, 5e-11);
    EXPECT_NEAR(two.wastegate_area, 0.903902143 * cm2, 5e-10 * cm2);
    EXPECT_NEAR(two.inlet_pressure, 348465.61, 5e-2);
    EXPECT_NEAR(two.pressure_ratio(), 2.58122674, 5e-9);
    EXPECT_EQ(two.pulse_factor, 1.0);
    const Expansion one = drive(turbine_of(12 * cm2, 0.68, 1), stream, 135 * kPa, 95e3);
    EXPECT_NEAR(one.wastegate_share, 0.063793209, 5e-10);
    EXPECT_NEAR(one.wastegate_area, 0.817681003 * cm2, 5e-10 * cm2);
    EXPECT_NEAR(one.inlet_pressure, 345560.082, 5e-4);
    EXPECT_NEAR(one.pressure_ratio(), 2.55970431, 5e-9);
}

TEST(TurbineIndependent, Pulses) {
    const GasStream stream{0.150, celsius(900)};
    Turbine two = turbine_of(12 * cm2, 0.68);
    Turbine one = turbine_of(12 * cm2, 0.68, 1);
    two.pulse_amplitude = one.pulse_amplitude = 0.5;
    const Expansion a = expand(two, stream, 105 * kPa);
    EXPECT_NEAR(a.power, 12799.9, 1e-5 * 12799.9);
    EXPECT_NEAR(a.pulse_factor, 1.16406, 1e-5 * 1.16406);
    EXPECT_NEAR(a.inlet_pressure, 148044.3, 1e-5 * 148044.3);
    const Expansion b = expand(one, stream, 105 * kPa);
    EXPECT_NEAR(b.power, 9717.09, 1e-5 * 9717.09);
    EXPECT_NEAR(b.pulse_factor, 1.28464, 1e-5 * 1.28464);
    EXPECT_NEAR(b.inlet_pressure, 134958.2, 1e-5 * 134958.2);
    // Power goes with the third power of a small flow, so that the factor there is 1 + 1.5·a².
    const GasStream little{0.001, celsius(900)};
    EXPECT_NEAR(expand(two, little, 105 * kPa).pulse_factor, 1.37497, 1e-5);
    EXPECT_NEAR(expand(one, little, 105 * kPa).pulse_factor, 1.37499, 1e-5);
}

TEST(TurbineIdentities, RatioIsTheInverseOfPower) {
    for (double ratio : {1.0, 1.2, 2.0, 5.0}) {
        const double power = turbine_power(0.3, 1200.0, ratio, 0.65);
        EXPECT_NEAR(turbine_pressure_ratio(0.3, 1200.0, power, 0.65), ratio, 1e-12 * ratio);
    }
}

TEST(TurbineIdentities, PressureAndAreaAreInversesOfFlow) {
    for (const double nozzles : {1.0, 2.0})
        for (double ratio = 1.0 + 1e-9; ratio < 12.0; ratio = 1.0 + 1.7 * (ratio - 1.0)) {
            const double flow = turbine_flow(1200.0, ratio * 1e5, 1e5, 1e-3, nozzles);
            const double back = turbine_inlet_pressure(flow, 1200.0, 1e5, 1e-3, 0.0, nozzles);
            EXPECT_NEAR(back - 1e5, (ratio - 1.0) * 1e5, 1e-6 * (ratio - 1.0) * 1e5) << ratio;
            EXPECT_NEAR(turbine_area(flow, 1200.0, ratio * 1e5, 1e5, nozzles), 1e-3, 1e-12);
        }
    EXPECT_EQ(turbine_inlet_pressure(0.0, 1200.0, 1e5, 1e-3), 1e5);
}

// One nozzle beside another of the same kind passes its share of the area.
TEST(TurbineIdentities, WastegateBesideOneNozzle) {
    const double area = 9 * cm2;
    for (const double power : {10e3, 30e3, 50e3}) {
        const Expansion at = drive(turbine_of(area, 0.7, 1), {0.3, 1200.0}, 120e3, power);
        EXPECT_NEAR(at.wastegate_share, at.wastegate_area / (area + at.wastegate_area), 1e-12);
        EXPECT_NEAR(at.power, power, 1e-9 * power);
    }
}

TEST(TurbineIdentities, AnOpenWastegateGivesBackTheBalance) {
    for (const double amplitude : {0.0, 0.6})
        for (const double power : {8e3, 30e3, 48e3}) {
            Turbine turbine = turbine_of(9 * cm2, 0.7);
            turbine.pulse_amplitude = amplitude;
            const GasStream stream{0.3, 1200.0};
            const Expansion at = drive(turbine, stream, 120e3, power);
            const Expansion open = expand_open(turbine, stream, 120e3, at.wastegate_area);
            EXPECT_NEAR(open.power, power, 1e-9 * power);
            EXPECT_NEAR(open.wastegate_share, at.wastegate_share, 1e-9);
            EXPECT_NEAR(open.inlet_pressure, at.inlet_pressure, 1e-9 * at.inlet_pressure);
        }
}

TEST(TurbineIdentities, TwoOfHalfTheAreaAreOne) {
    Turbine one = turbine_of(12 * cm2, 0.7);
    one.wheel_diameter = 0.06;
    Turbine two = one;
    two.effective_area = 6 * cm2;
    two.count = 2;
    const GasStream stream{0.4, 1200.0};
    const Expansion a = drive(one, stream, 120e3, 40e3, 11000.0);
    const Expansion b = drive(two, stream, 120e3, 40e3, 11000.0);
    EXPECT_NEAR(a.inlet_pressure, b.inlet_pressure, 1e-9 * a.inlet_pressure);
    EXPECT_NEAR(a.wastegate_area, b.wastegate_area, 1e-9 * a.wastegate_area);
    EXPECT_NEAR(expand(one, stream, 120e3, 11000.0).power, expand(two, stream, 120e3, 11000.0).power, 1e-8);
}

TEST(TurbineIdentities, VariableGeometryOpensBeforeTheWastegate) {
    Turbine turbine = turbine_of(6 * cm2, 0.7);
    turbine.largest_area = 14 * cm2;
    const GasStream stream{0.3, 1200.0};
    const double most = expand(turbine, stream, 120e3).power;
    const Expansion half = drive(turbine, stream, 120e3, 0.5 * most);
    EXPECT_EQ(half.wastegate_share, 0.0);
    EXPECT_GT(half.area, 6 * cm2);
    EXPECT_LT(half.area, 14 * cm2);
    EXPECT_NEAR(half.power, 0.5 * most, 1e-9 * most);
    const Expansion little = drive(turbine, stream, 120e3, 0.05 * most);
    EXPECT_EQ(little.area, 14 * cm2);
    EXPECT_GT(little.wastegate_share, 0.0);
}

TEST(TurbineIdentities, TheAreaThatDrives) {
    Turbine turbine = turbine_of(6 * cm2, 0.7);
    turbine.pulse_amplitude = 0.4;
    const GasStream stream{0.3, 1200.0};
    const double power = expand(turbine, stream, 120e3).power;
    EXPECT_NEAR(area_that_drives(turbine, stream, 120e3, power), 6 * cm2, 1e-10 * cm2);
}

// With a wheel diameter the efficiency follows the blade speed ratio; far off it is held at the lowest.
TEST(TurbineIdentities, EfficiencyByBladeSpeed) {
    Turbine turbine = turbine_of(12 * cm2, 0.72);
    const GasStream stream{0.318, celsius(950)};
    const double constant = expand(turbine, stream, 105e3).power;
    turbine.wheel_diameter = 0.07;
    const double ratio = expand(turbine, stream, 105e3, 1.0).pressure_ratio();
    for (const double speed : {100.0, 4000.0, 13404.0, 40000.0}) {
        const double efficiency =
            turbine_efficiency(blade_speed_ratio(0.07, speed, celsius(950), ratio), 0.72, 0.68);
        EXPECT_NEAR(expand(turbine, stream, 105e3, speed).power, constant * efficiency / 0.72, 1e-8);
    }
    EXPECT_EQ(turbine_efficiency(0.0), 0.15);
    EXPECT_EQ(turbine_efficiency(0.68), 0.70);
    EXPECT_EQ(turbine_efficiency(0.0, 0.1), 0.1);
}

TEST(TurbineErrors, MorePowerThanTheGasCarries) {
    try {
        turbine_pressure_ratio(0.1, 1100.0, 1e6, 0.7);
        FAIL();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::turbine_power_out_of_reach);
        EXPECT_NEAR(error.details().at(1).value, 0.1 * 1150.0 * 1100.0 * 0.7, 1e-6);
    }
    EXPECT_THROW(turbine_pressure_ratio(0.1, 1100.0, -1.0, 0.7), InvalidArgument);
    EXPECT_THROW(turbine_pressure_ratio(0.0, 1100.0, 1e3, 0.7), InvalidArgument);
    EXPECT_THROW(turbine_power(0.1, 1100.0, 0.5, 0.7), InvalidArgument);
}

TEST(TurbineErrors, MorePowerThanWithTheWastegateShut) {
    const GasStream stream{0.3, 1200.0};
    const Turbine turbine = turbine_of(9 * cm2, 0.7);
    const double greatest = expand(turbine, stream, 120e3).power;
    EXPECT_NEAR(drive(turbine, stream, 120e3, greatest).wastegate_share, 0.0, 1e-12);
    try {
        drive(turbine, stream, 120e3, 1.01 * greatest);
        FAIL();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::turbine_power_out_of_reach);
        EXPECT_NEAR(error.details().at(1).value, greatest, 1e-9 * greatest);
    }
}

TEST(TurbineErrors, WhatCannotBe) {
    EXPECT_THROW(turbine_flow(1200.0, 0.9e5, 1e5, 1e-3), InvalidArgument);
    EXPECT_THROW(turbine_flow(1200.0, 2e5, 1e5, 0.0), InvalidArgument);
    EXPECT_THROW(turbine_flow(1200.0, 2e5, 1e5, 1e-3, 1.5), InvalidArgument);
    EXPECT_THROW(turbine_flow(1200.0, 2e5, 1e5, 1e-3, 3), InvalidArgument);
    EXPECT_THROW(turbine_area(0.2, 1200.0, 1e5, 1e5), InvalidArgument);
    EXPECT_THROW(turbine_inlet_pressure(0.2, 1200.0, 1e5, 1e-3, 1.1), InvalidArgument);
    EXPECT_THROW(turbine_inlet_pressure(std::nan(""), 1200.0, 1e5, 1e-3), InvalidArgument);
    EXPECT_THROW(blade_speed_ratio(0.07, 1e4, 1200.0, 1.0), InvalidArgument);
    EXPECT_THROW(turbine_efficiency(-0.1), InvalidArgument);
    Turbine turbine = turbine_of(9 * cm2, 0.7);
    turbine.largest_area = 8 * cm2;
    EXPECT_THROW(expand(turbine, {0.3, 1200.0}, 1e5), InvalidArgument);
    turbine = turbine_of(9 * cm2, 0.7);
    turbine.pulse_amplitude = -0.1;
    EXPECT_THROW(expand(turbine, {0.3, 1200.0}, 1e5), InvalidArgument);
}

TEST(TurbineErrors, AHighExpansionRatioIsSaid) {
    EXPECT_TRUE(expansion_warnings(4.0).empty());
    ASSERT_EQ(expansion_warnings(4.1).size(), 1U);
    EXPECT_EQ(expansion_warnings(4.1).front().reason, Reason::expansion_ratio_high);
}

ExhaustSystem measured_system() {
    ExhaustSystem system{};
    system.pressure_loss = 25e3;
    system.reference_flow = 0.3;
    return system;
}

TEST(ExhaustSystemIdentities, TheMeasuredPointItself) {
    EXPECT_NEAR(exhaust_loss(measured_system(), 0.3, 1073.15, 100e3), 25e3, 1e-9);
}

// The turbulent part goes with ṁ²/ρ, the laminar one with ṁ·μ/ρ, μ with T^0.7.
TEST(ExhaustSystemIdentities, HowItGrows) {
    ExhaustSystem system = measured_system();
    system.laminar_share = 0.0;
    EXPECT_NEAR(exhaust_loss(system, 0.15, 1073.15, 100e3), 25e3 / 4.0, 1e-9);
    EXPECT_NEAR(exhaust_loss(system, 0.3, 0.5 * 1073.15, 100e3), 25e3 / 2.0, 1e-9);
    EXPECT_NEAR(exhaust_loss(system, 0.3, 1073.15, 80e3), 25e3 / 0.8, 1e-9);
    system.laminar_share = 1.0;
    EXPECT_NEAR(exhaust_loss(system, 0.15, 1073.15, 100e3), 25e3 / 2.0, 1e-9);
    EXPECT_NEAR(exhaust_loss(system, 0.3, 2.0 * 1073.15, 100e3), 25e3 * std::pow(2.0, 1.7), 1e-9);
    EXPECT_EQ(exhaust_loss(system, 0.0, 1073.15, 100e3), 0.0);
}

TEST(ExhaustSystemErrors, WhatCannotBe) {
    ExhaustSystem system = measured_system();
    EXPECT_THROW(exhaust_loss(system, -0.1, 1000.0, 1e5), InvalidArgument);
    EXPECT_THROW(exhaust_loss(system, 0.1, 0.0, 1e5), InvalidArgument);
    EXPECT_THROW(exhaust_loss(system, 0.1, 1000.0, 0.0), InvalidArgument);
    system.laminar_share = 1.1;
    EXPECT_THROW(exhaust_loss(system, 0.1, 1000.0, 1e5), InvalidArgument);
    system = measured_system();
    system.reference_flow = 0.0;
    EXPECT_THROW(exhaust_loss(system, 0.1, 1000.0, 1e5), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::boost
