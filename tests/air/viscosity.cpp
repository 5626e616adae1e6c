// SPDX-License-Identifier: Apache-2.0
#include "core/air/viscosity.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "core/constants.hpp"

namespace pullsheet::air {
namespace {

// Çengel, Heat and Mass Transfer, table A-15: air at 1 atm, an evaluation of its own. Within the 1.5 % that
// the header claims.
TEST(CengelTableA15PrintedFromMemory, Viscosity) {
    struct Row {
        double t, viscosity;
    };
    for (const Row& row : {Row{-50, 1.474e-5}, Row{-20, 1.630e-5}, Row{0, 1.729e-5}, Row{20, 1.825e-5},
                           Row{50, 1.963e-5}, Row{100, 2.181e-5}, Row{120, 2.264e-5}, Row{140, 2.345e-5}})
        EXPECT_NEAR(viscosity(zero_celsius + row.t), row.viscosity, 0.015 * row.viscosity) << row.t;
}

// Incropera et al., Fundamentals of Heat and Mass Transfer, table A.4: air at 1 atm; values from memory.
// Within the 1.5 % that the header claims.
TEST(IncroperaTableA4PrintedFromMemory, Viscosity) {
    struct Row {
        double temperature, viscosity;
    };
    for (const Row& row : {Row{200, 132.5e-7}, Row{250, 159.6e-7}, Row{300, 184.6e-7}, Row{350, 208.2e-7},
                           Row{400, 230.1e-7}, Row{500, 270.1e-7}, Row{600, 305.8e-7}})
        EXPECT_NEAR(viscosity(row.temperature), row.viscosity, 0.015 * row.viscosity) << row.temperature;
}

TEST(Viscosity, RefusesTheImpossible) {
    for (double bad : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(), 0.0,
                       -20.0, 99.0, 2501.0})
        EXPECT_THROW(viscosity(bad), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::air
