// SPDX-License-Identifier: Apache-2.0
#include "core/engine/air_flow.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "core/constants.hpp"
#include "core/fuel/stoichiometry.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::engine {
namespace {

using tests::rpm;

constexpr double rounded_gas_constant = 287.05;  // of the check values; ours is 287.05287 (ISO 2533)

// Heywood (1988), equation 2.27, evaluated independently with R = 287.05 J/(kg·K).
TEST(Heywood1988Identities, SpeedDensity) {
    const double rounding = dry_air_gas_constant / rounded_gas_constant;
    EXPECT_NEAR(air_flow(1.984e-3, 6000 * rpm, 100e3, 298.15, 0.92) * 1e3 * rounding, 106.63681, 5e-6);
    EXPECT_NEAR(air_flow(1.984e-3, 5500 * rpm, 180e3, 318.15, 1.00) * 1e3 * rounding, 179.22812, 5e-6);
    EXPECT_NEAR(air_flow(1.984e-3, 5500 * rpm, 180e3, 318.15, 1.00) * rounding * 60 / 0.45359237, 23.707821,
                5e-7);
}

// A published worked example prints a volumetric efficiency of 0.898 for 0.0832286 kg/s into four cylinders
// of 110 × 130 mm at 2250/min, 1.013 bar and 288 K; the figure is wrong (it is kg/s over m³/s). The true one
// is 0.732922.
TEST(WorkedExamplePrinted, VolumetricEfficiency) {
    const double volume = 4 * pi / 4 * 0.110 * 0.110 * 0.130;
    const double rounding = 287.0 / dry_air_gas_constant;  // the example's gas constant
    EXPECT_NEAR(volumetric_efficiency(0.0832286, volume, 2250 * rpm, 101.3e3, 288.0) * rounding, 0.732922,
                1e-6);
}

TEST(AirFlowIdentities, Inverses) {
    const double flow = air_flow(2.5e-3, 650.0, 260e3, 320.0, 1.02);
    EXPECT_NEAR(volumetric_efficiency(flow, 2.5e-3, 650.0, 260e3, 320.0), 1.02, 1e-14);
    EXPECT_NEAR(manifold_pressure(flow, 2.5e-3, 650.0, 320.0, 1.02), 260e3, 1e-9);
    for (const double share : {0.0, 0.2, 0.85}) {
        const fuel::Fuel fuel{share, {}};
        const double air = air_for_power(450e3, fuel, 0.82, 0.31);
        EXPECT_NEAR(power_from_air(air, fuel, 0.82, 0.31), 450e3, 1e-8);
        EXPECT_NEAR(air / fuel::flow(450e3, fuel, 0.31), fuel::air_fuel_ratio(0.82, fuel), 1e-12);
    }
}

TEST(AirFlowErrors, NameTheArgument) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THROW(air_flow(2e-3, 600.0, 100.0, 300.0, 0.9), InvalidArgument);
    EXPECT_THROW(air_flow(2e-3, 600.0, 100e3, 30.0, 0.9), InvalidArgument);
    EXPECT_THROW(air_flow(2e-3, 600.0, 100e3, 300.0, 92.0), InvalidArgument);
    EXPECT_THROW(air_flow(2e-3, 0.0, 100e3, 300.0, 0.92), InvalidArgument);
    EXPECT_THROW(air_flow(nan, 600.0, 100e3, 300.0, 0.92), InvalidArgument);
    EXPECT_THROW(volumetric_efficiency(-0.1, 2e-3, 600.0, 100e3, 300.0), InvalidArgument);
    EXPECT_THROW(manifold_pressure(0.1, 2e-3, 600.0, 300.0, 0.0), InvalidArgument);
    EXPECT_THROW(air_for_power(100e3, {}, 14.7, 0.3), InvalidArgument);
    EXPECT_THROW(power_from_air(0.1, {}, 0.85, 30.0), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::engine
