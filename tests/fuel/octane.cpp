// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/octane.hpp"

#include <gtest/gtest.h>

namespace pullsheet::fuel {
namespace {

// Linear on the molar share after Anderson et al. (2010), computed independently: base RON 91, ethanol 108.5.
TEST(Anderson2010Identities, MolarOctane) {
    EXPECT_NEAR(octane(91.0, 0.10, 108.5), 94.71756, 5e-6);
    EXPECT_NEAR(octane(91.0, 0.30, 108.5), 99.92322, 5e-6);
    EXPECT_NEAR(octane(91.0, 0.85, 108.5), 107.31407, 5.1e-6);
    EXPECT_GT(octane(91.0, 0.10, 108.5), 92.75 + 1.0);  // linear by volume would give 92.75
}

// Common practice of the trade: AKI 93 of a North American pump is about 98 RON (sensitivity about 10).
TEST(CommonPractice, AntiKnockIndex) {
    EXPECT_DOUBLE_EQ(aki(98.0, 88.0), 93.0);
    EXPECT_DOUBLE_EQ(aki(95.0, 85.0), 90.0);
}

TEST(OctaneIdentities, EndsAreTheComponents) {
    EXPECT_DOUBLE_EQ(ron({0.0, {}}), 95.0);
    EXPECT_DOUBLE_EQ(mon({0.0, {}}), 85.0);
    EXPECT_DOUBLE_EQ(ron({1.0, {}}), 108.0);
    EXPECT_DOUBLE_EQ(mon({1.0, {}}), 90.0);
    EXPECT_DOUBLE_EQ(ron({0.4, {}}), octane(95.0, 0.4, 108.0));
    Gasoline heavy;
    heavy.molar_mass = 0.115;
    EXPECT_GT(octane(95.0, 0.4, 108.0, heavy), octane(95.0, 0.4, 108.0));
}

TEST(OctaneErrors, OutOfRange) {
    EXPECT_THROW(octane(-1.0, 0.1, 108.0), InvalidArgument);
    EXPECT_THROW(octane(95.0, 10.0, 108.0), InvalidArgument);
    EXPECT_THROW(octane(95.0, 0.1, 1080.0), InvalidArgument);
    EXPECT_THROW(aki(98.0, -1.0), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::fuel
