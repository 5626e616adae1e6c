// SPDX-License-Identifier: Apache-2.0
#include "core/boost/turbine.hpp"

#include <gtest/gtest.h>

#include "core/error.hpp"

namespace pullsheet::boost {
namespace {

// Shaft power balance (Heywood, Internal Combustion Engine Fundamentals, ch. 6), evaluated independently: 0.2
// kg/s of air against 1.07 times as much gas at 1123 K, 70 % with bearings.
TEST(Heywood1988, TurbineBalance) {
    const double power = compressor_power(0.2, 298.15, 2.2, 0.74);
    EXPECT_NEAR(power, 20461.8443, 5e-5);
    EXPECT_NEAR(turbine_pressure_ratio(power, 0.2 * 1.07, 1123.0, 0.70), 1.55361642, 5e-9);
}

TEST(TurbineIdentities, RatioIsTheInverseOfPower) {
    for (double ratio : {1.0, 1.2, 2.0, 5.0}) {
        const double power = turbine_power(0.3, 1200.0, ratio, 0.65);
        EXPECT_NEAR(turbine_pressure_ratio(power, 0.3, 1200.0, 0.65), ratio, 1e-12 * ratio);
    }
}

TEST(TurbineErrors, MorePowerThanTheGasCarries) {
    try {
        turbine_pressure_ratio(1e6, 0.1, 1100.0, 0.7);
        FAIL();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::turbine_power_out_of_reach);
        EXPECT_NEAR(error.details().at(1).value, 0.1 * 1150.0 * 1100.0 * 0.7, 1e-6);
    }
    EXPECT_THROW(turbine_pressure_ratio(-1.0, 0.1, 1100.0, 0.7), InvalidArgument);
    EXPECT_THROW(turbine_pressure_ratio(1e3, 0.0, 1100.0, 0.7), InvalidArgument);
    EXPECT_THROW(turbine_power(0.1, 1100.0, 0.5, 0.7), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::boost
