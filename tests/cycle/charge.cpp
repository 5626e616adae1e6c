// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/charge.hpp"

#include <gtest/gtest.h>

#include "core/fuel/charge_cooling.hpp"
#include "core/fuel/stoichiometry.hpp"

using namespace pullsheet;
using namespace pullsheet::cycle;

// Dry air by the GRI-Mech 3.0 polynomials, evaluated with an independent library for air with 0.20946 O2,
// 0.78084 N2, 0.00934 Ar and 0.0004 CO2; the air of ISO 2533 differs in the fifth digit.
TEST(GriMech30Independent, DryAir) {
    const struct {
        double temperature, heat_capacity, ratio;
    } rows[] = {{300, 1003.46886, 1.40065201}, {400, 1015.40518, 1.39408620},  {500, 1030.93659, 1.38585831},
                {700, 1073.07325, 1.36517374}, {1000, 1142.80968, 1.33541586}, {1500, 1210.18368, 1.31093616},
                {2000, 1250.92848, 1.29779250}};
    for (const auto& row : rows) {
        const double cp = air().heat_capacity(row.temperature);
        EXPECT_NEAR(cp, row.heat_capacity, 1e-4 * row.heat_capacity);
        EXPECT_NEAR(cp / (cp - air().gas_constant), row.ratio, 1e-4);
    }
    EXPECT_NEAR(air().gas_constant, dry_air_gas_constant, 1e-4 * dry_air_gas_constant);
}

TEST(ChargeIdentities, BurningGivesTheLowerHeatingValue) {
    for (const double ethanol : {0.0, 0.2, 0.85, 1.0}) {
        const fuel::Fuel fuel{ethanol};
        const Elements e = fuel_elements(fuel);
        const double products = e.carbon * molar_enthalpy(Species::co2, 298.15) +
                                0.5 * e.hydrogen * molar_enthalpy(Species::h2o, 298.15);
        const double liquid = fuel_vapour(fuel).enthalpy(298.15) - fuel::latent_heat(fuel);
        EXPECT_NEAR(liquid - products, fuel::heating_value(fuel), 1e-6 * fuel::heating_value(fuel));
    }
}

// A closed bomb, lean, from 298.15 K back to 298.15 K: what leaves is the heating value of the fuel in it.
TEST(ChargeIdentities, ClosedBomb) {
    const fuel::Fuel fuel{0.1};
    const double lambda = 1.2;
    const Charge charge = mix(fuel, lambda, 0.0);
    const Composition cold = BurnedGas(charge.elements).composition(700.0, 1e5);
    const double reactants = charge.unburned.enthalpy(298.15) - charge.fuel_share * fuel::latent_heat(fuel);
    EXPECT_NEAR((reactants - frozen(cold).enthalpy(298.15)) / charge.fuel_share, fuel::heating_value(fuel),
                1e-4 * fuel::heating_value(fuel));
}

TEST(ChargeIdentities, StoichiometricAirLeavesNoOxygen) {
    for (const double ethanol : {0.0, 0.5, 1.0}) {
        const Elements e = mix(fuel::Fuel{ethanol}, 1.0, 0.0).elements;
        EXPECT_NEAR(e.oxygen, 2.0 * e.carbon + 0.5 * e.hydrogen, 1e-12 * e.oxygen);
    }
}

TEST(ChargeIdentities, ResidualGasHasTheElementsOfTheMixture) {
    const Charge charge = mix(fuel::Fuel{0.2}, 0.85, 0.1);
    EXPECT_NEAR(charge.air_share + charge.fuel_share + charge.residual_share, 1.0, 1e-15);
    EXPECT_NEAR(charge.air_share / charge.fuel_share, 0.85 * fuel::stoich(fuel::Fuel{0.2}), 1e-12);
}

// The fuel room's charge cooling, which takes heat capacities as constant, for the same evaporation without
// residual gas and heat from outside.
TEST(ChargeIdentities, CoolingAgreesWithConstantHeatCapacities) {
    for (const double ethanol : {0.0, 0.2, 0.85}) {
        const fuel::Fuel fuel{ethanol};
        const Charge charge = mix(fuel, 0.85, 0.0);
        const double t = 313.15;
        const double cooled = mixing_temperature(charge, fuel::latent_heat(fuel), 1.0, t, 1000.0, 0.0);
        const double expected = fuel::charge_cooling(fuel, 0.85, 1.0, t);
        EXPECT_NEAR(t - cooled, expected, 0.06 * expected);
    }
}
