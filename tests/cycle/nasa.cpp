// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/nasa.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <iterator>

using namespace pullsheet;
using namespace pullsheet::cycle;

namespace {

double heat_capacity(Species s, double t) {
    return polynomial(s).heat_capacity(t);
}

}  // namespace

// GRI-Mech 3.0 coefficients (Smith et al. 1999), evaluated with an independent library.
TEST(GriMech30Independent, HeatCapacities) {
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

// c_p/R, h/R in K and s°/R of every gas in both ranges, at 900 K and 2500 K, evaluated in Python from the
// coefficients as published: GRI-Mech 3.0 (Smith et al. 1999) and, for the two fuel vapours, NASA Glenn
// (McBride, Gordon & Reno 1993). Each of the seven coefficients of a range bears on one of the three.
TEST(GriMech30Independent, EveryGasInBothRanges) {
    struct Values {
        double heat_capacity, enthalpy, entropy;
    };
    const struct {
        Species species;
        Values at_900, at_2500;
    } rows[] = {
        {Species::co,
         {3.9216491409, -11080.652320, 27.7923547045},
         {4.4279224756, -4271.865753, 32.0967309286}},
        {Species::co2,
         {6.3712932310, -43956.739527, 31.7078631794},
         {7.3862536119, -32665.928520, 38.8327083334}},
        {Species::h2, {3.6046323737, 2126.064580, 19.6122276854}, {4.3119005360, 8477.539450, 23.6036192056}},
        {Species::h2o,
         {4.8092398745, -26446.145597, 27.4768223736},
         {6.5915884306, -17090.149456, 33.2932671852}},
        {Species::h,
         {2.5000000001, 27723.659900, 16.5593040555},
         {2.4999999987, 31723.659900, 19.1134321644}},
        {Species::oh,
         {3.6370092312, 6882.016208, 26.0410522007},
         {4.3391030475, 13334.072304, 30.0986022937}},
        {Species::n2, {3.8644792656, 2191.800946, 27.0214575683}, {4.4074664141, 8937.054780, 31.2820852197}},
        {Species::no,
         {4.0200098831, 13245.171964, 29.4642988176},
         {4.4837640414, 20158.942726, 33.8394019087}},
        {Species::o2, {4.1322563070, 2314.587624, 28.8580314748}, {4.6793885478, 9427.126322, 33.3543853952}},
        {Species::o,
         {2.5165176984, 31504.184823, 22.2001998503},
         {2.5081174635, 35517.104575, 24.7635782344}},
        {Species::ar, {2.5000000000, 1504.625000, 21.3719869083}, {2.5000000000, 5504.625000, 23.9261150271}},
        {Species::iso_octane,
         {51.7354698310, -3316.560604, 91.2803991425},
         {73.7209278859, 102095.466321, 156.6938284123}},
        {Species::ethanol,
         {16.2773585830, -20624.341489, 46.8818735814},
         {22.3566990945, 11741.111391, 67.0296433061}}};
    ASSERT_EQ(std::size(rows), species_count);
    for (const auto& row : rows) {
        const Polynomial& gas = polynomial(row.species);
        const auto expect = [&](double t, const Values& values) {
            EXPECT_NEAR(gas.heat_capacity(t), values.heat_capacity, 1e-9);
            EXPECT_NEAR(gas.enthalpy(t), values.enthalpy, 1e-5);
            EXPECT_NEAR(gas.entropy(t), values.entropy, 1e-9);
        };
        expect(900.0, row.at_900);
        expect(2500.0, row.at_2500);
    }
}

// Formation enthalpies at 298.15 K: CODATA Key Values for Thermodynamics (Cox, Wagman & Medvedev 1989), from
// memory; the polynomials are fits and agree to about 0.1 kJ/mol.
TEST(Codata1989PrintedFromMemory, FormationEnthalpies) {
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
TEST(NistWebBookPrintedFromMemory, FuelVapours) {
    EXPECT_NEAR(1e-3 * molar_enthalpy(Species::ethanol, 298.15), -234.0, 2.0);
    EXPECT_NEAR(1e-3 * molar_enthalpy(Species::iso_octane, 298.15), -224.0, 2.0);
    EXPECT_NEAR(molar_gas_constant * heat_capacity(Species::ethanol, 298.15), 65.2, 0.6);
    EXPECT_NEAR(molar_gas_constant * heat_capacity(Species::iso_octane, 298.15), 188.4, 2.0);
}

// Lower heating values from formation enthalpies. Methane: −74.87 kJ/mol (NIST) gives 802.3 kJ/mol. Liquid
// ethanol −277.7 and liquid iso-octane −259.3 kJ/mol (NIST, from memory) give 26.80 and 44.34 MJ/kg.
TEST(NistWebBookPrintedFromMemory, LowerHeatingValues) {
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
        EXPECT_NEAR(p.entropy(below), p.entropy(polynomial_break), 5e-3);
        EXPECT_NEAR(p.heat_capacity(below), p.heat_capacity(polynomial_break),
                    2e-3 * p.heat_capacity(polynomial_break));
    }
}
