// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/friction.hpp"

#include <gtest/gtest.h>

using namespace pullsheet::cycle;

// fmep [bar] = 0.137 + 0.005 p_max [bar] + 0.162 S_p [m/s], from memory.
TEST(ChenFlynn1965PrintedFromMemory, MeanPressure) {
    EXPECT_NEAR(ChenFlynn{}.mean_pressure(80e5, 15.0), 2.967e5, 1e-6);
}
