// SPDX-License-Identifier: Apache-2.0
#include "core/air/speed_of_sound.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace pullsheet::air {
namespace {

// ISO 2533:1975, standard atmosphere: speed of sound at mean sea level and at 11 000 m.
TEST(Iso2533PrintedFromMemory, SpeedOfSound) {
    EXPECT_NEAR(speed_of_sound(288.15), 340.294, 0.0005);
    EXPECT_NEAR(speed_of_sound(216.65), 295.069, 0.0005);
}

TEST(SpeedOfSound, RefusesTheImpossible) {
    for (double bad : {std::numeric_limits<double>::quiet_NaN(), 0.0, -20.0, 2501.0})
        EXPECT_THROW(speed_of_sound(bad), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::air
