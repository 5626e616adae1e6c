// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/blend.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <vector>

namespace pullsheet::fuel {
namespace {

template <class F>
std::vector<double> reach(F f) {
    try {
        f();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::blend_out_of_reach);
        return {error.details()[0].value, error.details()[1].value};
    }
    return {};
}

TEST(BlendIdentities, MixAddFill) {
    const std::vector<double> volumes{0.020, 0.030};
    const std::vector<double> shares{0.10, 0.85};
    EXPECT_NEAR(blend_ethanol(volumes, shares), (0.002 + 0.0255) / 0.050, 1e-15);

    // 20 L of E10; E85 is added up to E50: 20 · (0.5 − 0.1)/(0.85 − 0.5) L.
    const double added = blend_add(0.020, 0.10, 0.85, 0.50);
    EXPECT_NEAR(added, 0.020 * 0.4 / 0.35, 1e-15);
    EXPECT_NEAR(blend_ethanol(std::vector{0.020, added}, shares), 0.5, 1e-15);
    EXPECT_EQ(blend_add(0.020, 0.10, 0.85, 0.10), 0.0);
    EXPECT_NEAR(blend_add(0.020, 0.85, 0.05, 0.45), 0.020, 1e-15);  // thinning works too

    for (const double target : {0.2, 0.35, 0.5, 0.6}) {
        const Filling filling = blend_fill(0.060, 0.015, 0.25, 0.10, 0.85, target);
        EXPECT_GE(filling.a, 0.0);
        EXPECT_GE(filling.b, 0.0);
        EXPECT_NEAR(0.015 + filling.a + filling.b, 0.060, 1e-15);
        const std::vector<double> all{0.015, filling.a, filling.b};
        EXPECT_NEAR(blend_ethanol(all, std::vector{0.25, 0.10, 0.85}), target, 1e-14);
    }
    // An empty tank at the share of one source, a full tank at its own, two equal sources.
    EXPECT_NEAR(blend_fill(0.060, 0.0, 0.0, 0.10, 0.85, 0.85).b, 0.060, 1e-15);
    EXPECT_NEAR(blend_fill(0.060, 0.0, 0.0, 0.85, 0.10, 0.85).a, 0.060, 1e-15);
    EXPECT_EQ(blend_fill(0.060, 0.060, 0.3, 0.10, 0.85, 0.3).b, 0.0);
    EXPECT_NEAR(blend_fill(0.060, 0.010, 0.85, 0.85, 0.85, 0.85).a, 0.050, 1e-15);
}

TEST(BlendErrors, SayWhatIsWithinReach) {
    const auto reached = reach([] { blend_fill(0.060, 0.030, 0.10, 0.10, 0.85, 0.60); });
    ASSERT_EQ(reached.size(), 2U);
    EXPECT_NEAR(reached[0], 0.10, 1e-15);
    EXPECT_NEAR(reached[1], 0.475, 1e-15);
    EXPECT_EQ(reach([] { blend_add(0.020, 0.10, 0.85, 0.85); }), (std::vector<double>{0.10, 0.85}));
    EXPECT_EQ(reach([] { blend_add(0.020, 0.10, 0.85, 0.05); }), (std::vector<double>{0.10, 0.85}));
    EXPECT_EQ(reach([] { blend_add(0.020, 0.10, 0.10, 0.50); }), (std::vector<double>{0.10, 0.10}));
    EXPECT_FALSE(reach([] { blend_fill(0.060, 0.060, 0.3, 0.10, 0.85, 0.4); }).empty());

    EXPECT_THROW(blend_fill(0.060, 0.061, 0.3, 0.10, 0.85, 0.4), InvalidArgument);
    EXPECT_THROW(blend_fill(0.060, 0.010, 0.3, 10.0, 0.85, 0.4), InvalidArgument);
    EXPECT_THROW(blend_add(0.0, 0.10, 0.85, 0.5), InvalidArgument);
    EXPECT_THROW(blend_ethanol(std::vector{0.0, 0.0}, std::vector{0.1, 0.2}), InvalidArgument);
    EXPECT_THROW(blend_ethanol(std::vector{1.0}, std::vector{0.1, 0.2}), InvalidArgument);
    EXPECT_THROW(blend_ethanol({}, {}), InvalidArgument);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THROW(blend_ethanol(std::vector{nan}, std::vector{0.1}), InvalidArgument);
    EXPECT_THROW(blend_add(nan, 0.10, 0.85, 0.5), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::fuel
