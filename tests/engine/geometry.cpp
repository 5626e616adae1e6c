// SPDX-License-Identifier: Apache-2.0
#include "core/engine/geometry.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "core/constants.hpp"
#include "core/engine/slider_crank.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::engine {
namespace {

using tests::rpm;

// Textbook geometry, evaluated independently.
TEST(EngineGeometryIdentities, CompressionRatioOfAStack) {
    EXPECT_NEAR(displacement(0.086, 0.086, 1) * 1e6, 499.557214, 5e-7);
    EXPECT_NEAR(compression_ratio(0.086, 0.086, 44.0e-6, 0.0875, 0.001, 0.00025, 3.2e-6), 10.13845248, 5e-9);
    // A dome raises, a dish lowers it.
    EXPECT_GT(compression_ratio(0.086, 0.086, 44.0e-6, 0.0875, 0.001, 0.00025, -3.2e-6), 10.2);
    EXPECT_EQ(compression_ratio(0.086, 0.086, 44.0e-6, 0.0875, 0.001, 0.00025),
              compression_ratio(0.086, 0.086, 44.0e-6, 0.0875, 0.001, 0.00025, 0.0));
}

// 350 cubic inches are 5735.472 cm³ (exact inch): eight cylinders of 4 in bore and 3.48 in stroke come close.
TEST(EngineGeometryIdentities, Displacement) {
    const double inch = 0.0254;
    EXPECT_NEAR(displacement(4.0 * inch, 3.48 * inch, 8) / (inch * inch * inch), 16.0 * pi / 4 * 3.48 * 8,
                1e-10);
    EXPECT_NEAR(displacement(4.0 * inch, 3.48 * inch, 8) * 1e6, 5735.472, 0.001 * 5735.472);
}

// Heywood (1988), equation 2.9, evaluated independently.
TEST(Heywood1988Identities, MeanPistonSpeed) {
    EXPECT_NEAR(mean_piston_speed(0.086, 7000 * rpm), 20.066667, 5e-7);
    EXPECT_NEAR(mean_piston_speed(0.0928, 6500 * rpm), 20.106667, 5e-7);
}

// Heywood (1988), section 2.2, evaluated independently: stroke 86 mm, rod 143.5 mm, 6000/min.
TEST(Heywood1988Identities, PistonAccelerationAtTopDeadCentre) {
    EXPECT_NEAR(top_piston_acceleration(0.086, 0.1435, 6000 * rpm), 22062.521, 5e-4);
    const SliderCrank crank{0.086, 0.086, 0.1435, 10.5};
    EXPECT_NEAR(top_piston_acceleration(0.086, 0.1435, 700.0), piston_acceleration(crank, 0.0, 700.0), 1e-9);
}

TEST(EngineGeometryErrors, NameTheArgument) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THROW(displacement(0.0, 0.086, 4), InvalidArgument);
    EXPECT_THROW(displacement(0.086, nan, 4), InvalidArgument);
    EXPECT_THROW(displacement(0.086, 0.086, 0), InvalidArgument);
    EXPECT_THROW(top_piston_acceleration(0.086, 0.043, 600.0), InvalidArgument);
    EXPECT_THROW(mean_piston_speed(0.086, -1.0), InvalidArgument);
    try {
        displacement(0.086, 0.086, 4.5);
        FAIL();
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "cylinders");
        EXPECT_EQ(error.reason(), Reason::not_whole);
    }
    try {
        compression_ratio(0.086, 0.086, 10e-6, 0.0875, 0.001, 0.0, -30e-6);
        FAIL();
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "piston_volume");
        EXPECT_EQ(error.reason(), Reason::no_clearance_volume);
    }
}

}  // namespace
}  // namespace pullsheet::engine
