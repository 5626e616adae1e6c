// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/nasa.hpp"

#include <gtest/gtest.h>

using namespace pullsheet;
using namespace pullsheet::cycle;

namespace {

double heat_capacity(Species s, double t) {
    return molar_heat_capacity(s, t) / molar_gas_constant;
}

}  // namespace

// GRI-Mech 3.0 coefficients (Smith et al. 1999), evaluated with an independent library.
TEST(GriMech30, HeatCapacities) {
    const struct {
        Species species;
        double at_300, at_500, at_1000, at_1500, at_2000;
    } rows[] = {{Species::n2, 3.4969767, 3.5643777, 3.9403578, 4.1861204, 4.3283990},
                {Species::o2, 3.5345725, 3.7384859, 4.1954575, 4.3989939, 4.5458622},
                {Species::co2, 4.4762661, 5.3665988, 6.5332983, 7.0234709, 7.2595315},
                {Species::h2o, 4.0407243, 4.2352763, 4.9666161, 5.6878414, 6.2243242}};
    for (const auto& row : rows) {
        EXPECT_NEAR(heat_capacity(row.species, 300.0), row.at_300, 5e-8);
        EXPECT_NEAR(heat_capacity(row.species, 500.0), row.at_500, 5e-8);
        EXPECT_NEAR(heat_capacity(row.species, 1000.0), row.at_1000, 5e-8);
        EXPECT_NEAR(heat_capacity(row.species, 1500.0), row.at_1500, 5e-8);
        EXPECT_NEAR(heat_capacity(row.species, 2000.0), row.at_2000, 5e-8);
    }
}

// Formation enthalpies at 298.15 K: CODATA Key Values for Thermodynamics (Cox, Wagman & Medvedev 1989), from
// memory; the polynomials are fits and agree to about 0.1 kJ/mol.
TEST(Codata1989, FormationEnthalpies) {
    const auto kilojoule = [](Species s) { return 1e-3 * molar_enthalpy(s, 298.15); };
    EXPECT_NEAR(kilojoule(Species::n2), 0.0, 0.01);
    EXPECT_NEAR(kilojoule(Species::o2), 0.0, 0.01);
    EXPECT_NEAR(kilojoule(Species::h2), 0.0, 0.01);
    EXPECT_NEAR(kilojoule(Species::h2o), -241.83, 0.1);
    EXPECT_NEAR(kilojoule(Species::co2), -393.51, 0.1);
    EXPECT_NEAR(kilojoule(Species::co), -110.53, 0.1);
    EXPECT_NEAR(kilojoule(Species::h), 218.0, 0.1);
    EXPECT_NEAR(kilojoule(Species::o), 249.2, 0.1);
    EXPECT_NEAR(kilojoule(Species::oh), 39.3, 0.5);
    EXPECT_NEAR(kilojoule(Species::no), 90.3, 1.1);
}

// NIST Chemistry WebBook, gas phase, from memory: ethanol −234 kJ/mol (±2), iso-octane −224 kJ/mol (±2).
TEST(NistWebBook, FuelVapours) {
    EXPECT_NEAR(1e-3 * molar_enthalpy(Species::ethanol, 298.15), -234.0, 2.0);
    EXPECT_NEAR(1e-3 * molar_enthalpy(Species::iso_octane, 298.15), -224.0, 2.0);
    EXPECT_NEAR(molar_heat_capacity(Species::ethanol, 298.15), 65.2, 0.6);
    EXPECT_NEAR(molar_heat_capacity(Species::iso_octane, 298.15), 188.4, 2.0);
}

// Lower heating values from formation enthalpies. Methane: −74.87 kJ/mol (NIST) gives 802.3 kJ/mol. Liquid
// ethanol −277.7 and liquid iso-octane −259.3 kJ/mol (NIST, from memory) give 26.80 and 44.34 MJ/kg.
TEST(NistWebBook, LowerHeatingValues) {
    const double co2 = molar_enthalpy(Species::co2, 298.15);
    const double h2o = molar_enthalpy(Species::h2o, 298.15);
    EXPECT_NEAR(-74.87 - 1e-3 * (co2 + 2.0 * h2o), 802.3, 0.05);
    EXPECT_NEAR((-277.7 - 1e-3 * (2.0 * co2 + 3.0 * h2o)) / 46.069, 26.80, 0.005);
    EXPECT_NEAR((-259.3 - 1e-3 * (8.0 * co2 + 9.0 * h2o)) / 114.232, 44.34, 0.005);
}

TEST(NasaIdentities, EnthalpyAndEntropyBelongToHeatCapacity) {
    for (int i = 0; i < static_cast<int>(species_count); ++i) {
        const Polynomial& p = polynomial(static_cast<Species>(i));
        for (const double t : {320.0, 600.0, 950.0, 1100.0, 1800.0, 2900.0}) {
            const double h = 1e-3 * t;
            const double slope = (p.enthalpy(t + h) - p.enthalpy(t - h)) / (2.0 * h);
            EXPECT_NEAR(slope, p.heat_capacity(t), 1e-6 * p.heat_capacity(t));
            EXPECT_NEAR((p.entropy(t + h) - p.entropy(t - h)) / (2.0 * h), p.heat_capacity(t) / t,
                        1e-5 * p.heat_capacity(t) / t);
        }
        // The two ranges meet at 1000 K.
        const double below = std::nextafter(polynomial_break, 0.0);
        EXPECT_NEAR(p.enthalpy(below), p.enthalpy(polynomial_break), 5.0);
        EXPECT_NEAR(p.heat_capacity(below), p.heat_capacity(polynomial_break),
                    2e-3 * p.heat_capacity(polynomial_break));
    }
}
