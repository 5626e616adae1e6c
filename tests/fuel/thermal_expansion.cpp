// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/thermal_expansion.hpp"

#include <gtest/gtest.h>

#include "core/constants.hpp"

namespace pullsheet::fuel {
namespace {

// API MPMS chapter 11.1 (1980) / ASTM D1250 table 54B, formula evaluated independently without the table's
// rounding.
TEST(ApiMpms111Table54BIdentities, VolumeCorrection) {
    struct Row {
        double density, expansion, at_minus_10, at_0, at_30, at_45;
    };
    for (const Row& row : {Row{720, 0.001277698, 1.0316157, 1.0190508, 0.9807288, 0.9612638},
                           Row{745, 0.001213150, 1.0300351, 1.0180941, 0.9817072, 0.9632386},
                           Row{765, 0.001165543, 1.0288682, 1.0173881, 0.9824285, 0.9646939},
                           Row{775, 0.001099433, 1.0272460, 1.0164071, 0.9834298, 0.9667133},
                           Row{790, 0.000952639, 1.0236372, 1.0142265, 0.9856510, 0.9711906},
                           Row{840, 0.000843789, 1.0209553, 1.0126075, 0.9872964, 0.9745043}}) {
        EXPECT_NEAR(thermal_expansion(row.density), row.expansion, 5.1e-10);
        EXPECT_NEAR(volume_correction(row.density, zero_celsius - 10), row.at_minus_10, 5.1e-8);
        EXPECT_NEAR(volume_correction(row.density, zero_celsius), row.at_0, 5.1e-8);
        EXPECT_NEAR(volume_correction(row.density, zero_celsius + 30), row.at_30, 5.1e-8);
        EXPECT_NEAR(volume_correction(row.density, zero_celsius + 45), row.at_45, 5.1e-8);
    }
    EXPECT_NEAR(745.0 * volume_correction(745.0, zero_celsius + 45), 717.6127, 5e-5);
    // The zones do not meet: either side of 770.5 and 787.5.
    EXPECT_NEAR(thermal_expansion(770.4999999), 1.153028e-3, 1e-9);
    EXPECT_NEAR(thermal_expansion(770.5), 1.151711e-3, 1e-9);
    EXPECT_NEAR(thermal_expansion(787.4999999), 9.58889e-4, 1e-9);
    EXPECT_NEAR(thermal_expansion(787.5), 9.58697e-4, 1e-9);
    EXPECT_THROW(thermal_expansion(0.0), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::fuel
