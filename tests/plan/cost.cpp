// SPDX-License-Identifier: Apache-2.0
#include "core/plan/cost.hpp"

#include <gtest/gtest.h>

namespace pullsheet::plan {
namespace {

TEST(CostIdentities, PriceForEachWattGained) {
    EXPECT_EQ(price_per_gain(3000.0, 300e3, 250e3), 0.06);
    EXPECT_EQ(price_per_gain(0.0, 300e3, 250e3), 0.0);
    EXPECT_FALSE(price_per_gain(3000.0, 250e3, 250e3).has_value());
    EXPECT_FALSE(price_per_gain(3000.0, 249e3, 250e3).has_value());
}

}  // namespace
}  // namespace pullsheet::plan
