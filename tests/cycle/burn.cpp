// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/burn.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/constants.hpp"

using namespace pullsheet;
using namespace pullsheet::cycle;

// Heywood (1988), eq. 9.28 with a = 5, m = 2, evaluated with an independent library.
TEST(Heywood1988Identities, WiebeShares) {
    const Wiebe burn{0.0, 1.0};
    EXPECT_NEAR(burn.share(0.1), 0.004987521, 5e-10);
    EXPECT_NEAR(burn.share(0.25), 0.075151187, 5e-10);
    EXPECT_NEAR(burn.share(0.5), 0.464738571, 5e-10);
    EXPECT_NEAR(burn.share(0.75), 0.878686236, 5e-10);
    EXPECT_NEAR(burn.share(0.9), 0.973878590, 5e-10);
    EXPECT_NEAR(burn.share(1.0), 0.993262053, 5e-10);
    EXPECT_NEAR(burn.angle(0.1), 0.27620781, 5e-9);
    EXPECT_NEAR(burn.angle(0.5), 0.51754941, 5e-9);
    EXPECT_NEAR(burn.angle(0.9), 0.77223336, 5e-9);
}

TEST(Heywood1988Identities, WiebeHalfBurnedAngle) {
    EXPECT_NEAR((Wiebe{-18.0, 60.0}.angle(0.5)), 13.052965, 5e-7);
    EXPECT_NEAR((Wiebe{-20.465218, 55.0}.angle(0.5)), 8.0, 5e-7);
}

TEST(BurnIdentities, AngleTurnsShareRound) {
    for (const double kernel : {0.0, 1e-3, 0.05}) {
        const Wiebe burn{-0.3, 0.9, kernel};
        for (const double x : {0.06, 0.1, 0.5, 0.9, 0.999}) EXPECT_NEAR(burn.share(burn.angle(x)), x, 1e-12);
        EXPECT_EQ(burn.share(-0.3000001), 0.0);
        EXPECT_EQ(burn.share(-0.3), kernel);
    }
    EXPECT_EQ((Wiebe{0.0, 0.0}.share(0.0)), 1.0);
    EXPECT_EQ((Wiebe{0.0, 0.0}.share(-1e-9)), 0.0);
}

// Heywood (1988), table 9.3 and section 9.3.4 (Rhodes & Keck 1985), from memory: the flame is fastest at an
// equivalence ratio of 1.21 with 30.5 cm/s; a share of 0.2 of residual gas takes away 0.6 of the speed.
TEST(RhodesKeck1985PrintedFromMemory, FlameSpeed) {
    EXPECT_NEAR(laminar_flame_speed(1.0 / 1.21), 0.305, 1e-12);
    EXPECT_NEAR(laminar_flame_speed(1.0), 0.305 - 0.549 * 0.21 * 0.21, 1e-12);
    EXPECT_NEAR(residual_factor(0.0), 1.0, 1e-12);
    EXPECT_NEAR(residual_factor(0.2), 1.0 - 2.06 * std::pow(0.2, 0.77), 1e-12);
    EXPECT_NEAR(residual_factor(0.2), 0.4, 0.01);
}

// Hires, Tabaczynski & Novak (1978), from memory: the burn takes more crank angle with speed (cube root),
// with a leaner mixture and with residual gas.
TEST(Hires1978PrintedFromMemory, DurationTrends) {
    const BurnReference reference{300.0, 0.85, 0.05};
    EXPECT_NEAR(burn_duration_ratio(reference, reference), 1.0, 1e-15);
    EXPECT_NEAR(burn_duration_ratio({2400.0, 0.85, 0.05}, reference), 2.0, 1e-12);
    EXPECT_GT(burn_duration_ratio({300.0, 1.1, 0.05}, reference), 1.05);
    EXPECT_GT(burn_duration_ratio({300.0, 0.85, 0.15}, reference), 1.05);
    EXPECT_LT(burn_duration_ratio({300.0, 0.85, 0.02}, reference), 1.0);
}
