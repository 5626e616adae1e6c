// SPDX-License-Identifier: Apache-2.0
#include "core/road/tyre.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "core/error.hpp"

namespace pullsheet::road {
namespace {

constexpr double inch = 0.0254;

// ETRTO Standards Manual, design overall diameters, mm (from memory): 195/65 R 15 635, 205/55 R 16 632,
// 225/45 R 17 634, 255/35 R 19 661, 245/40 R 18 653.
TEST(EtrtoManualPrintedFromMemory, OverallDiameters) {
    EXPECT_NEAR(tyre_diameter(0.195, 0.65, 15 * inch), 0.635, 0.0005);
    EXPECT_NEAR(tyre_diameter(0.205, 0.55, 16 * inch), 0.632, 0.0005);
    EXPECT_NEAR(tyre_diameter(0.225, 0.45, 17 * inch), 0.634, 0.0005);
    EXPECT_NEAR(tyre_diameter(0.255, 0.35, 19 * inch), 0.661, 0.0005);
    EXPECT_NEAR(tyre_diameter(0.245, 0.40, 18 * inch), 0.653, 0.0005);
}

// ETRTO: rolling circumference of a radial tyre 3.05 times its diameter (from memory). The radius under drive
// lies below that by no more than the slip of a tyre that pulls, about 1 %.
TEST(EtrtoManualPrintedFromMemory, RollingRadiusUnderDriveIsJustBelowTheFreeRollingOne) {
    const double free_rolling = 3.05 * tyre_diameter(0.255, 0.35, 19 * inch) / (2.0 * std::acos(-1.0));
    const double radius = rolling_radius(0.255, 0.35, 19 * inch);
    EXPECT_LT(radius, free_rolling);
    EXPECT_GT(radius, 0.99 * free_rolling);
    EXPECT_NEAR(radius, 0.3190, 0.00005);
}

TEST(TyreErrors, RefusesWhatIsNoTyre) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THROW(tyre_diameter(255, 0.35, 0.48), InvalidArgument);
    EXPECT_THROW(tyre_diameter(0.255, 35, 0.48), InvalidArgument);
    EXPECT_THROW(tyre_diameter(0.255, 0.35, 19), InvalidArgument);
    EXPECT_THROW(tyre_diameter(nan, 0.35, 0.48), InvalidArgument);
    EXPECT_THROW(rolling_radius(0.255, 0.35, 0.48, 1.1), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::road
