// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/flex_fuel_sensor.hpp"

#include <gtest/gtest.h>

namespace pullsheet::fuel {
namespace {

// Common practice of the trade: 50 Hz at 0 % and 150 Hz at 100 % ethanol.
TEST(CommonPractice, FlexFuelSensor) {
    EXPECT_EQ(sensor_ethanol(50.0), 0.0);
    EXPECT_EQ(sensor_ethanol(150.0), 1.0);
    EXPECT_DOUBLE_EQ(sensor_ethanol(135.0), 0.85);
}

TEST(FlexFuelSensorErrors, FaultSignals) {
    EXPECT_EQ(sensor_ethanol(49.2), 0.0);
    EXPECT_EQ(sensor_ethanol(151.0), 1.0);
    EXPECT_THROW(sensor_ethanol(0.0), InvalidArgument);
    EXPECT_THROW(sensor_ethanol(180.0), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::fuel
