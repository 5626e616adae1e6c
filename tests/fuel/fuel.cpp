// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/fuel.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <string>

#include "tests/quantities.hpp"

namespace pullsheet::fuel {
namespace {

using tests::celsius;

// OIML R 22 (1975), general formula, evaluated independently.
TEST(OimlR22Identities, PureEthanol) {
    EXPECT_NEAR(ethanol_density(celsius(-20)), 823.1202, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(-10)), 814.6571, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(0)), 806.2151, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(10)), 797.7554, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(15)), 793.5057, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(20)), 789.2391, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(25)), 784.9541, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(30)), 780.6478, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(40)), 771.9323, 5e-5);
    EXPECT_NEAR(ethanol_density(celsius(20)), 789.24, 5e-3);  // table value of OIML R 22, from memory
    EXPECT_NEAR(ethanol::density, 793.5057, 5e-5);            // the constant used for blends
}

// The coefficients, at other shares of ethanol than the fuel's.
TEST(OimlR22Identities, EthanolAndWater) {
    const auto density = [](double ethanol_mass, double temperature) {
        return oiml_r22::polynomial(oiml_r22::in_temperature(ethanol_mass),
                                    temperature - oiml_r22::reference_temperature);
    };
    EXPECT_NEAR(density(0.0, celsius(20)), 998.20123, 5e-6);
    EXPECT_NEAR(density(0.5, celsius(20)), 913.77060, 5e-6);
    EXPECT_NEAR(density(0.95, celsius(15)), 808.45456, 5e-6);
    EXPECT_NEAR(density(0.3, celsius(0)), 965.23921, 5e-6);
}

TEST(EthanolDensityIdentities, GoesOnSmoothlyBeyondTheEstablishedRange) {
    for (const double t : {-20.0, 40.0}) {
        const double step = 1e-3;
        const double before = ethanol_density(celsius(t)) - ethanol_density(celsius(t - step));
        const double after = ethanol_density(celsius(t + step)) - ethanol_density(celsius(t));
        EXPECT_NEAR(before / after, 1.0, 1e-4);
    }
    double last = ethanol_density(possible::temperature.low);
    for (double t = possible::temperature.low + 1.0; t <= possible::temperature.high; t += 1.0) {
        EXPECT_LT(ethanol_density(t), last);
        last = ethanol_density(t);
    }
    // Saturated liquid at 78 °C, about 737 kg/m³, from memory.
    EXPECT_NEAR(ethanol_density(celsius(78)), 737.0, 0.005 * 737.0);
}

// Blends by mass, volume and amount of substance at 15 °C, ideal mixing, computed independently with gasoline
// of 745 kg/m³, 44.0 MJ/kg, 105 g/mol and ethanol of 26.9 MJ/kg (Heywood 1988, table D.4, from memory).
struct BlendRow {
    double share, mass, molar, density, oxygen_percent, heating_value, energy_density;
};
constexpr BlendRow blend_rows[] = {
    {0.00, 0.000000, 0.000000, 745.0000, 0.0000, 44.00000, 32.78000},
    {0.05, 0.053083, 0.113292, 747.4253, 1.8435, 43.09229, 32.20827},
    {0.10, 0.105822, 0.212432, 749.8506, 3.6750, 42.19045, 31.63653},
    {0.20, 0.210283, 0.377682, 754.7011, 7.3028, 40.40415, 30.49306},
    {0.30, 0.313411, 0.509898, 759.5517, 10.8842, 38.64068, 29.34959},
    {0.50, 0.515764, 0.708249, 769.2529, 17.9116, 35.18044, 27.06265},
    {0.70, 0.713077, 0.849948, 778.9540, 24.7640, 31.80639, 24.77571},
    {0.83, 0.838716, 0.922193, 785.2598, 29.1272, 29.65796, 23.28920},
    {0.85, 0.857866, 0.932232, 786.2299, 29.7923, 29.33049, 23.06051},
    {1.00, 1.000000, 1.000000, 793.5057, 34.7283, 26.90000, 21.34530},
};

TEST(EthanolBlendsIdentities, MassMolarDensityOxygenHeatingValue) {
    for (const BlendRow& row : blend_rows) {
        Fuel fuel = Fuel{row.share, {}};
        fuel.gasoline.heating_value = 44.0e6;
        EXPECT_NEAR(ethanol_mass(fuel), row.mass, 5e-7);
        EXPECT_NEAR(ethanol_molar(fuel), row.molar, 5e-7);
        EXPECT_NEAR(density(fuel), row.density, 5e-5);
        EXPECT_NEAR(100.0 * oxygen(fuel), row.oxygen_percent, 5e-5);
        // Our ethanol has 26.8 MJ/kg: the difference enters by mass.
        const double heating = heating_value(fuel) + ethanol_mass(fuel) * (26.9e6 - ethanol::heating_value);
        EXPECT_NEAR(heating * 1e-6, row.heating_value, 5e-6);
        EXPECT_NEAR(heating * density(fuel) * 1e-9, row.energy_density, 5e-6);
    }
}

// DOE Alternative Fuels Data Center, fuel properties: lower heating values of 76,330 and 116,090 Btu/gal,
// 18,676 Btu/lb of gasoline. Another gasoline than ours: the ratio of the volumes agrees to 0.1 %.
TEST(DoeFuelPropertiesPrinted, HeatingValues) {
    EXPECT_NEAR(energy_density(Fuel{1.0, {}}) / energy_density(Fuel{0.0, {}}), 76330.0 / 116090.0,
                1e-3 * 0.6575);
    EXPECT_NEAR(heating_value(Fuel{0.0, {}}), 18676.0 * 2326.0, 0.05e6);
}

// Çengel & Boles, Thermodynamics, table A-27: ethanol 26,810 and 919 kJ/kg, gasoline 350 kJ/kg.
TEST(CengelBolesTableA27Printed, HeatingValueAndLatentHeat) {
    EXPECT_NEAR(heating_value(Fuel{1.0, {}}), 26.81e6, 0.05e6);
    EXPECT_DOUBLE_EQ(latent_heat(Fuel{1.0, {}}), 919e3);
    EXPECT_DOUBLE_EQ(latent_heat(Fuel{0.0, {}}), 350e3);
}

// EN 228: E10 has at most 10 % ethanol by volume and 3.7 % oxygen by mass; E5 2.7 %.
TEST(En228Printed, OxygenLimits) {
    EXPECT_NEAR(100.0 * oxygen(Fuel{0.10, {}}), 3.7, 0.05);
    EXPECT_LT(100.0 * oxygen(Fuel{0.05, {}}), 2.7);
}

TEST(FuelIdentities, DensityIsThatOfTheComponents) {
    for (const double t : {-20.0, 0.0, 15.0, 30.0, 40.0})
        EXPECT_NEAR(density(Fuel{1.0, {}}, celsius(t)), ethanol_density(celsius(t)), 1e-9);
    EXPECT_NEAR(density(Fuel{0.0, {}}, celsius(45)), 717.6127, 5e-5);
    const double at_15 = density(Fuel{0.5, {}});
    EXPECT_NEAR(density(Fuel{0.5, {}}, reference_temperature + 1e-9), at_15, 1e-6);
}

TEST(FuelIdentities, CarbonShareAndHydrogenPerCarbon) {
    EXPECT_NEAR(hydrogen_per_carbon(0.8643519), 1.87, 1e-6);  // carbon of CH1.87
    EXPECT_NEAR(hydrogen_per_carbon(12.011 / (12.011 + 1.87 * 1.008)), 1.87, 1e-12);
    EXPECT_TRUE(possible::hydrogen_per_carbon.contains(hydrogen_per_carbon(possible::carbon_share.low)));
    EXPECT_TRUE(possible::hydrogen_per_carbon.contains(hydrogen_per_carbon(possible::carbon_share.high)));
}

TEST(FuelIdentities, FlowCarriesThePower) {
    const Fuel e85 = Fuel{0.85, {}};
    EXPECT_NEAR(flow(300e3, e85, 0.3) * heating_value(e85) * 0.3, 300e3, 1e-6);
    EXPECT_DOUBLE_EQ(flow(0.0, e85, 0.3), 0.0);
    EXPECT_NEAR(volume_flow(0.02, e85, celsius(30)) * density(e85, celsius(30)), 0.02, 1e-15);
}

TEST(FuelErrors, NameTheField) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto field = [](const Fuel& fuel) -> std::string {
        try {
            ethanol_mass(fuel);
        } catch (const InvalidArgument& error) {
            return error.parameter();
        }
        return "";
    };
    EXPECT_EQ(field({85.0, {}}), "ethanol_share");
    EXPECT_EQ(field({nan, {}}), "ethanol_share");
    Fuel fuel;
    fuel.gasoline.density = 0.745;
    EXPECT_EQ(field(fuel), "density");
    fuel = {};
    fuel.gasoline.ron = nan;
    EXPECT_EQ(field(fuel), "RON");
    fuel = {};
    EXPECT_EQ(field(fuel), "");
    EXPECT_THROW(density(fuel, 15.0), InvalidArgument);
    EXPECT_THROW(density(fuel, nan), InvalidArgument);
    EXPECT_THROW(flow(-1.0, fuel, 0.3), InvalidArgument);
    EXPECT_THROW(flow(1.0, fuel, 0.0), InvalidArgument);
    EXPECT_THROW(volume_flow(nan, fuel), InvalidArgument);
    EXPECT_THROW(hydrogen_per_carbon(86.4), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::fuel
