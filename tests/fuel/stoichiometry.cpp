// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/stoichiometry.hpp"

#include <gtest/gtest.h>

#include "core/fuel/atoms.hpp"

namespace pullsheet::fuel {
namespace {

// Dry air of 20.946 % O2, 78.084 % N2, 0.934 % Ar and 0.040 % CO2, brought to a sum of one.
constexpr DryAir four_components{
    0.20946 / 1.00004,
    (0.20946 * 31.998 + 0.78084 * 28.014 + 0.00934 * 39.948 + 0.0004 * 44.009) / 1.00004 * 1e-3};
// Heywood (1988), section 3.2: 3.773 molecules of other gases for each of oxygen, 28.962 g/mol (from memory).
constexpr DryAir heywood{1.0 / 4.773, 28.962e-3};
// The classroom's 3.76 molecules of nitrogen for each of oxygen, molar mass of 21 % oxygen and 79 % nitrogen.
constexpr DryAir classroom{1.0 / 4.76, 0.21 * 31.998e-3 + 0.79 * 28.014e-3};

struct FuelRow {
    const char* name;
    Formula formula;
    double four_components, heywood, classroom;
};
constexpr FuelRow fuel_rows[] = {
    {"n-heptane", {7, 16}, 15.181433, 15.174810, 15.075291},
    {"iso-octane", {8, 18}, 15.133233, 15.126631, 15.027427},
    {"toluene", {7, 8}, 13.508249, 13.502357, 13.413805},
    {"ethanol", {2, 6, 1}, 9.005793, 9.001864, 8.942828},
    {"methanol", {1, 4, 1}, 6.474126, 6.471301, 6.428861},
    {"gasoline", {1, 1.87}, 14.604915, 14.598544, 14.502803},
    {"gasoline", {1, 1.85}, 14.576301, 14.569942, 14.474389},
    {"gasoline", {1, 1.80}, 14.504400, 14.498073, 14.402991},
    {"E5 of UN R83", {1, 1.89, 0.016}, 14.291063, 14.284828, 14.191145},
    {"E10 of UN R83", {1, 1.93, 0.033}, 13.997250, 13.991144, 13.899387},
    {"E85 of UN R83", {1, 2.74, 0.385}, 9.860569, 9.856268, 9.791628},
    {"MTBE", {5, 12, 1}, 11.766530, 11.761398, 11.684264},
    {"ETBE", {6, 14, 1}, 12.181446, 12.176132, 12.096278},
    {"methane", {1, 4}, 17.240660, 17.233139, 17.120120},
    {"propane", {3, 8}, 15.680880, 15.674040, 15.571246},
    {"hydrogen", {0, 2}, 34.299592, 34.284629, 34.059783},
};

// Element balance in three models of air, computed independently.
TEST(ElementBalanceIndependent, ThreeModelsOfAir) {
    for (const FuelRow& row : fuel_rows) {
        EXPECT_NEAR(stoich_formula(row.formula, four_components), row.four_components, 5.1e-7) << row.name;
        EXPECT_NEAR(stoich_formula(row.formula, heywood), row.heywood, 5.1e-7) << row.name;
        EXPECT_NEAR(stoich_formula(row.formula, classroom), row.classroom, 5.1e-7) << row.name;
    }
}

// Heywood (1988), equation 3.6: 34.56 (4 + y) / (12.011 + 1.008 y) for CHy, from memory.
TEST(Heywood1988Identities, Equation36) {
    for (const double y : {0.0, 1.0, 1.87, 2.25, 4.0})
        EXPECT_NEAR(stoich_formula({1, y}, heywood), 34.56 * (4 + y) / (12.011 + 1.008 * y), 2e-4 * 17) << y;
}

// Heywood (1988), table D.4, from memory: 15.13, 15.17, 13.50, 9.00, 6.47. The air is Heywood's.
TEST(Heywood1988Identities, TableD4) {
    EXPECT_NEAR(stoich_formula({8, 18}, heywood), 15.13, 0.005);
    EXPECT_NEAR(stoich_formula({7, 16}, heywood), 15.17, 0.0051);
    EXPECT_NEAR(stoich_formula({7, 8}, heywood), 13.50, 0.005);
    EXPECT_NEAR(stoich_formula({2, 6, 1}, heywood), 9.00, 0.005);
    EXPECT_NEAR(stoich_formula({1, 4, 1}, heywood), 6.47, 0.005);
}

// Blends with gasoline CH1.87 of 745 kg/m³ in air of four components, computed independently.
TEST(EthanolBlendsIdentities, StoichiometricAirFuelRatio) {
    constexpr double rows[][2] = {{0.00, 14.604915}, {0.05, 14.307699}, {0.10, 14.012406}, {0.20, 13.427512},
                                  {0.30, 12.850090}, {0.50, 11.717090}, {0.70, 10.612311}, {0.83, 9.908843},
                                  {0.85, 9.801618},  {1.00, 9.005793}};
    for (const auto& row : rows)
        EXPECT_NEAR(stoich(Fuel{row[0], {}}, four_components), row[1], 5.1e-7) << row[0];
    // What ASTM D5798 allows to be sold as ethanol flex fuel: 51 … 83 %.
    EXPECT_NEAR(stoich(Fuel{0.51, {}}, four_components), 11.661189, 5.1e-7);
    EXPECT_NEAR(stoich(Fuel{0.83, {}}, four_components), 9.908843, 5.1e-7);
}

// ISO 2533 air differs from the air of four components by 0.02 %.
TEST(Iso2533Identities, CompositionOfDryAir) {
    EXPECT_NEAR(stoich(Fuel{0.0, {}}), (1 + 1.87 / 4) / 0.209476 * 28.96442 / (12.011 + 1.87 * 1.008), 1e-12);
    EXPECT_NEAR(stoich(Fuel{0.0, {}}) / 14.604915, 1.0, 2.5e-4);
    EXPECT_NEAR(stoich(Fuel{1.0, {}}) / 9.005793, 1.0, 2.5e-4);
    // Gas constant of ISO 2533 from its molar mass and its universal constant 8314.32 J/(kmol·K).
    EXPECT_NEAR(8.31432 / DryAir{}.molar_mass, dry_air_gas_constant, 5e-6);
}

// Common practice of the trade: gauges show 14.7 for gasoline and about 9.8 for E85 at lambda 1.
TEST(CommonPractice, AirFuelGauges) {
    EXPECT_NEAR(air_fuel_ratio(1.0, Fuel{0.0, {}}), 14.7, 0.15);
    EXPECT_NEAR(air_fuel_ratio(1.0, Fuel{0.85, {}}), 9.8, 0.05);
}

TEST(StoichiometryIdentities, BlendsAverageByMass) {
    for (const double share : {0.1, 0.5, 0.85}) {
        const double mass = ethanol_mass(Fuel{share, {}});
        EXPECT_NEAR(stoich(Fuel{share, {}}),
                    mass * stoich(Fuel{1.0, {}}) + (1 - mass) * stoich(Fuel{0.0, {}}), 1e-12);
        const Formula f = formula(Fuel{share, {}});
        const double weight = atoms::carbon + f.hydrogen * atoms::hydrogen + f.oxygen * atoms::oxygen;
        EXPECT_NEAR(f.oxygen * atoms::oxygen / weight, oxygen(Fuel{share, {}}), 1e-14);
    }
    EXPECT_DOUBLE_EQ(formula(Fuel{0.0, {}}).hydrogen, 1.87);
    EXPECT_DOUBLE_EQ(formula(Fuel{1.0, {}}).hydrogen, 3.0);
    EXPECT_DOUBLE_EQ(formula(Fuel{1.0, {}}).oxygen, 0.5);
    EXPECT_NEAR(lambda(air_fuel_ratio(0.85, Fuel{0.85, {}}), Fuel{0.85, {}}), 0.85, 1e-15);
}

TEST(StoichiometryErrors, NameTheArgument) {
    try {
        stoich_formula({1, 0, 2});
        FAIL() << "carbon dioxide does not burn";
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "oxygen");
        EXPECT_EQ(error.reason(), Reason::nothing_to_burn);
    }
    EXPECT_THROW(stoich_formula({0, 0, 0}), InvalidArgument);
    EXPECT_THROW(stoich_formula({-1, 4, 0}), InvalidArgument);
    EXPECT_THROW(lambda(0.0, Fuel{0.0, {}}), InvalidArgument);
    EXPECT_THROW(air_fuel_ratio(-1.0, Fuel{0.0, {}}), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::fuel
