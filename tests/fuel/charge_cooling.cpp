// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/charge_cooling.hpp"

#include <gtest/gtest.h>

#include "core/fuel/stoichiometry.hpp"

namespace pullsheet::fuel {
namespace {

// Perry's Chemical Engineers' Handbook, table "Thermodynamic properties of ethanol", saturation at 295 and
// 310 K: liquid 11.630 and 13.445 kJ/mol, vapour 54.234 and 55.307 kJ/mol.
TEST(PerryEthanolPrintedFromMemory, LatentHeatAndItsFall) {
    const double at_295 = (54.234 - 11.630) * 1e3 / ethanol::molar_mass;
    const double at_310 = (55.307 - 13.445) * 1e3 / ethanol::molar_mass;
    const double fall = heat_capacity::liquid_ethanol - heat_capacity::ethanol_vapour;
    EXPECT_NEAR(ethanol::latent_heat + fall * (298.15 - 295.0), at_295, 0.005 * at_295);
    EXPECT_NEAR(fall, (at_295 - at_310) / 15.0, 0.1 * fall);
}

// DOE Alternative Fuels Data Center, fuel property comparison: heat of vaporisation of a stoichiometric
// mixture, 44 Btu for each lb air with ethanol, about 10 with gasoline. The same for the numerator of the
// balance at 25 °C.
TEST(DoeFuelPropertiesPrinted, HeatOfVaporisationForEachPoundOfAir) {
    const auto heat = [](const Fuel& fuel) { return latent_heat(fuel) / stoich(fuel) / 2326.0; };
    EXPECT_NEAR(heat({1.0, {}}), 44.0, 0.5);
    EXPECT_NEAR(heat({0.0, {}}), 10.0, 0.5);
}

TEST(ChargeCoolingIdentities, EnthalpyBeforeAndAfterIsTheSame) {
    for (const double share : {0.0, 0.3, 0.85, 1.0})
        for (const double evaporated : {0.0, 0.4, 1.0})
            for (const double celsius : {0.0, 25.0, 60.0}) {
                const Fuel fuel{share, {}};
                const double t = zero_celsius + celsius;
                const double after = t - charge_cooling(fuel, 0.85, evaporated, t);
                const double w = ethanol_mass(fuel);
                const double liquid =
                    w * heat_capacity::liquid_ethanol + (1 - w) * heat_capacity::liquid_gasoline;
                const double vapour =
                    w * heat_capacity::ethanol_vapour + (1 - w) * heat_capacity::gasoline_vapour;
                const double f = 1.0 / (0.85 * stoich(fuel));
                // Enthalpies for each kg air, liquid fuel at 25 °C is zero.
                const double zero = zero_celsius + 25.0;
                const double h_before = heat_capacity::air * t + f * liquid * (t - zero);
                const double h_after = heat_capacity::air * after +
                                       f * ((1 - evaporated) * liquid * (after - zero) +
                                            evaporated * (latent_heat(fuel) + vapour * (after - zero)));
                EXPECT_NEAR(h_after / h_before, 1.0, 1e-12);
            }
    EXPECT_EQ(charge_cooling({0.85, {}}, 0.85, 0.0, 313.15), 0.0);
    EXPECT_GT(charge_cooling({0.85, {}}, 0.85, 1.0, 313.15), 3.0 * charge_cooling({}, 0.85, 1.0, 313.15));
}

TEST(ChargeCoolingErrors, OutOfRange) {
    EXPECT_THROW(charge_cooling({}, 14.7, 1.0, 313.15), InvalidArgument);
    EXPECT_THROW(charge_cooling({}, 0.85, 1.1, 313.15), InvalidArgument);
    EXPECT_THROW(charge_cooling({}, 0.85, 1.0, 40.0), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::fuel
