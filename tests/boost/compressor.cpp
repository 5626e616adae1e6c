// SPDX-License-Identifier: Apache-2.0
#include "core/boost/compressor.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::boost {
namespace {

// Python library "fluids" (C. Bell), documented example of isentropic_T_rise_compression: 286.8 K from 54050
// Pa to 432400 Pa, κ = 1.4, loss-free and at 78 %.
TEST(FluidsLibraryIndependent, IsentropicTemperatureRise) {
    EXPECT_NEAR(compressor_temperature(286.8, 432400.0 / 54050.0, 1.0), 519.5230938, 5e-8);
    EXPECT_NEAR(compressor_temperature(286.8, 432400.0 / 54050.0, 0.78), 585.1629408, 5e-8);
}

// Dixon & Hall, Fluid Mechanics and Thermodynamics of Turbomachinery, ch. 1: relations evaluated
// independently to nine digits (c_p = 1005 J/(kg·K)).
TEST(DixonHall2014Identities, TemperatureAndPower) {
    struct Row {
        double t1, ratio, efficiency, kappa, t2, power;
    };
    for (const Row& row : {Row{293.15, 2.0, 0.75, 1.4, 378.755137, 17206.633},
                           Row{298.15, 2.5, 0.70, 1.4, 425.614757, 25620.416},
                           Row{308.15, 1.6, 0.78, 1.395, 364.385534, 11303.342},
                           Row{288.15, 3.0, 1.00, 1.4, 394.401885, 21356.629}}) {
        const Gas gas{row.kappa, 1005.0};
        EXPECT_NEAR(compressor_temperature(row.t1, row.ratio, row.efficiency, gas), row.t2, 5e-7);
        EXPECT_NEAR(compressor_power(0.20, row.t1, row.ratio, row.efficiency, gas), row.power, 5e-4);
    }
}

// The definition, evaluated independently: 80 kPa boost over 100 kPa, 3 kPa lost before and 8 kPa after it.
TEST(DixonHall2014Identities, PressureRatioIsAbsoluteAndBetweenTheFlanges) {
    EXPECT_NEAR(pressure_ratio(80e3, 100e3, 3e3, 8e3), 1.93814433, 5e-9);
    EXPECT_DOUBLE_EQ(pressure_ratio(100e3, 100e3), 2.0);
}

// Similarity of turbomachines, Dixon & Hall ch. 2, in three reference states in use: 25 °C and 100 kPa; ISO
// 2533; 85 °F and 28.4 inHg (the 28.4 is inches of mercury, not a temperature).
TEST(DixonHall2014Identities, CorrectedFlowNamesItsReference) {
    EXPECT_NEAR(corrected_flow(0.25, 305.0, 96e3, {298.15, 100e3}), 0.26339122, 5e-9);
    EXPECT_NEAR(corrected_flow(0.25, 305.0, 96e3, {288.15, 101325.0}), 0.27147260, 5e-9);
    EXPECT_NEAR(corrected_flow(0.25, 305.0, 96e3, {302.5944, 96173.44}), 0.25144521, 1e-7);
    EXPECT_NEAR(corrected_speed(160000.0, 305.0, {298.15, 100e3}), 158193.0756, 5e-5);
}

TEST(CompressorIdentities, EfficiencyIsTheInverseOfTemperature) {
    for (double ratio : {1.01, 1.5, 2.2, 4.0}) {
        for (double efficiency : {0.3, 0.65, 0.9, 1.0}) {
            const double outlet = compressor_temperature(305.0, ratio, efficiency);
            EXPECT_NEAR(compressor_efficiency(305.0, outlet, ratio), efficiency, 1e-12);
        }
    }
}

TEST(CompressorIdentities, CorrectionsTurnRound) {
    const Reference reference{288.15, 101325.0};
    EXPECT_NEAR(speed_from_corrected(corrected_speed(9e3, 310.0, reference), 310.0, reference), 9e3, 1e-9);
}

TEST(CompressorErrors, ColderThanLossFree) {
    try {
        compressor_efficiency(293.15, 350.0, 2.0);
        FAIL();
    } catch (const InvalidArgument& error) {
        EXPECT_EQ(error.reason(), Reason::colder_than_isentropic);
        EXPECT_NEAR(error.details().at(1).value, 293.15 * std::pow(2.0, 0.4 / 1.4), 1e-9);
    }
}

TEST(CompressorErrors, ImpossibleArguments) {
    const double nan = std::nan("");
    EXPECT_THROW(compressor_temperature(293.15, 0.9, 0.7), InvalidArgument);
    EXPECT_THROW(compressor_temperature(293.15, nan, 0.7), InvalidArgument);
    EXPECT_THROW(compressor_temperature(0.0, 2.0, 0.7), InvalidArgument);
    EXPECT_THROW(compressor_temperature(293.15, 2.0, 0.0), InvalidArgument);
    EXPECT_THROW(compressor_temperature(293.15, 2.0, 1.1), InvalidArgument);
    EXPECT_THROW(pressure_ratio(-100e3, 100e3), InvalidArgument);
    EXPECT_THROW(pressure_ratio(100e3, 100e3, 100e3), InvalidArgument);
    EXPECT_THROW(corrected_flow(-0.1, 300.0, 1e5), InvalidArgument);
    EXPECT_THROW(corrected_flow(0.1, 300.0, 1e5, {0.0, 1e5}), InvalidArgument);
    EXPECT_THROW(compressor_power(nan, 300.0, 2.0, 0.7), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::boost
