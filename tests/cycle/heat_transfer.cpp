// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/heat_transfer.hpp"

#include <gtest/gtest.h>

using namespace pullsheet::cycle;

// Heywood (1988), eqs. 12.18–12.20 (Woschni 1967), evaluated by hand with p in kPa.
TEST(Woschni1967Identities, Coefficient) {
    EXPECT_NEAR(woschni::coefficient(0.086, 4000e3, 1800.0, 30.0), 998.3045, 5e-5);
    EXPECT_NEAR(woschni::coefficient(0.086, 1000e3, 600.0, 2.28 * 15.0), 669.1995, 5e-5);
}

TEST(Woschni1967Identities, GasVelocity) {
    EXPECT_NEAR(woschni::gas_velocity(15.0, 5e-4, 350.0, 100e3, 5.5e-4, 2500e3), 59.97273, 5e-6);
    EXPECT_NEAR(woschni::gas_velocity(15.0, 5e-4, 350.0, 100e3, 5.5e-4, 0.0), 34.2, 1e-12);
}
