// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/burned_gas.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/error.hpp"
#include "core/solve.hpp"

using namespace pullsheet;
using namespace pullsheet::cycle;

namespace {

constexpr double carbon_mass = 0.012011, hydrogen_mass = 0.001008, oxygen_mass = 0.015999,
                 nitrogen_mass = 0.014007;

double at(const Composition& amounts, Species s) {
    return amounts[static_cast<std::size_t>(s)];
}

/// A molecule of fuel with air of 1 O2 : 3.76 N2 at `lambda`, in a kilogram.
struct Mixture {
    Elements elements;
    double enthalpy;  // J/kg, fuel with the formation enthalpy given, all at 298.15 K
};

Mixture mixture(double carbon, double hydrogen, double oxygen, double lambda, double formation_enthalpy,
                double nitrogen_per_oxygen = 3.76) {
    const double o2 = lambda * (carbon + hydrogen / 4 - oxygen / 2);
    const double n2 = nitrogen_per_oxygen * o2;
    const double mass = carbon * carbon_mass + hydrogen * hydrogen_mass + oxygen * oxygen_mass +
                        2 * o2 * oxygen_mass + 2 * n2 * nitrogen_mass;
    const double enthalpy = formation_enthalpy + o2 * molar_enthalpy(Species::o2, 298.15) +
                            n2 * molar_enthalpy(Species::n2, 298.15);
    return {{carbon / mass, hydrogen / mass, (oxygen + 2 * o2) / mass, 2 * n2 / mass, 0.0}, enthalpy / mass};
}

double flame_temperature(const Mixture& m, double pressure) {
    const BurnedGas gas(m.elements);
    return root_between(
        [&](double t) {
            EquilibriumGuess guess;
            const BurnedProperties p = gas.properties(t, pressure, guess);
            return p.internal_energy + p.gas_constant * t - m.enthalpy;
        },
        1200.0, 3300.0, Reason::no_equilibrium);
}

}  // namespace

// Adiabatic flame temperatures at constant pressure, stoichiometric, 298 K, one atmosphere: Turns, An
// Introduction to Combustion, table B.1; from memory. Fuels' formation enthalpies from the same appendix. The
// book's air has 3.76 nitrogen to one oxygen.
TEST(TurnsPrintedFromMemory, AdiabaticFlameTemperatures) {
    EXPECT_NEAR(flame_temperature(mixture(1, 4, 0, 1.0, -74831.0), 101325.0), 2226.0, 3.0);
    EXPECT_NEAR(flame_temperature(mixture(3, 8, 0, 1.0, -103847.0), 101325.0), 2267.0, 3.0);
    EXPECT_NEAR(flame_temperature(mixture(8, 18, 0, 1.0, -208447.0), 101325.0), 2275.0, 3.0);
}

// Logarithms of equilibrium constants at 2000 K, JANAF Thermochemical Tables (formation of each from the
// elements); from memory.
TEST(JanafPrintedFromMemory, EquilibriumConstants) {
    const double t = 2000.0;
    const double pressure = standard_pressure;
    const Composition a = BurnedGas(mixture(8, 18, 0, 1.0, 0.0).elements).composition(t, pressure);
    double total = 0.0;
    for (const double x : a) total += x;
    const auto partial = [&](Species s) { return at(a, s) / total; };  // in atmospheres
    EXPECT_NEAR(std::log10(partial(Species::h2o) / partial(Species::h2) / std::sqrt(partial(Species::o2))),
                3.540, 0.01);
    EXPECT_NEAR(std::log10(partial(Species::co2) / partial(Species::co) / std::sqrt(partial(Species::o2))),
                2.884, 0.01);
    EXPECT_NEAR(std::log10(partial(Species::h) / std::sqrt(partial(Species::h2))), -2.790, 0.01);
    EXPECT_NEAR(std::log10(partial(Species::o) / std::sqrt(partial(Species::o2))), -3.178, 0.01);
    // GRI-Mech's formation enthalpy of NO is 1 kJ/mol higher than JANAF's, which makes 0.026.
    EXPECT_NEAR(std::log10(partial(Species::no) / std::sqrt(partial(Species::n2) * partial(Species::o2))),
                -1.699, 0.03);
}

// Water-gas constant of rich exhaust gas, about 3.5 at 1740 K: Heywood (1988), section 4.9, from memory.
TEST(Heywood1988Identities, WaterGasConstant) {
    const Composition a = BurnedGas(mixture(8, 15, 0, 0.85, 0.0).elements).composition(1740.0, 101325.0);
    const double k = at(a, Species::co) * at(a, Species::h2o) / (at(a, Species::co2) * at(a, Species::h2));
    EXPECT_NEAR(k, 3.5, 0.1);
}

// Complete combustion well below dissociation: CO2 and H2O and the oxygen left, by element balance alone.
TEST(BurnedGasIdentities, LeanAndColdIsComplete) {
    const Mixture m = mixture(8, 18, 0, 1.3, 0.0);
    const Composition a = BurnedGas(m.elements).composition(900.0, 1e5);
    EXPECT_NEAR(at(a, Species::co2), m.elements.carbon, 1e-9 * m.elements.carbon);
    EXPECT_NEAR(at(a, Species::h2o), 0.5 * m.elements.hydrogen, 1e-6 * m.elements.hydrogen);
    EXPECT_NEAR(at(a, Species::o2), 0.3 * 12.5 / 8.0 * m.elements.carbon, 1e-4);
}

TEST(BurnedGasIdentities, ElementsStayAndGibbsEnergyIsLeast) {
    for (const double lambda : {0.6, 0.75, 0.85, 0.95, 0.999999, 1.0, 1.000001, 1.1, 1.5})
        for (const double t : {700.0, 999.0, 1001.0, 1400.0, 2000.0, 2600.0, 3100.0, 3500.0})
            for (const double p : {0.3e5, 1e5, 20e5, 100e5, 300e5})
                for (const double ethanol : {0.0, 1.0}) {
                    const Mixture m =
                        ethanol > 0.0 ? mixture(2, 6, 1, lambda, 0.0) : mixture(8, 15, 0, lambda, 0.0);
                    const Elements& e = m.elements;
                    const Composition a = BurnedGas(e).composition(t, p);
                    const auto x = [&](Species s) { return at(a, s); };
                    EXPECT_NEAR(x(Species::co) + x(Species::co2), e.carbon, 1e-9 * e.carbon);
                    EXPECT_NEAR(2 * x(Species::h2) + 2 * x(Species::h2o) + x(Species::h) + x(Species::oh),
                                e.hydrogen, 1e-9 * e.hydrogen);
                    EXPECT_NEAR(2 * x(Species::n2) + x(Species::no), e.nitrogen, 1e-9 * e.nitrogen);
                    EXPECT_NEAR(x(Species::co) + 2 * x(Species::co2) + x(Species::h2o) + x(Species::oh) +
                                    x(Species::no) + 2 * x(Species::o2) + x(Species::o),
                                e.oxygen, 1e-8 * e.oxygen);
                    if (t < 1500.0 && std::abs(lambda - 1.0) < 1e-3)
                        continue;  // less O2 and CO than rounding shows
                    // Chemical potentials over R T balance in each reaction.
                    double total = 0.0;
                    for (const double y : a) total += y;
                    const auto potential = [&](Species s) {
                        return polynomial(s).enthalpy(t) / t - polynomial(s).entropy(t) +
                               std::log(x(s) / total * p / standard_pressure);
                    };
                    const double o2 = potential(Species::o2);
                    const double h2 = potential(Species::h2);
                    EXPECT_NEAR(potential(Species::co) + 0.5 * o2, potential(Species::co2), 1e-7);
                    EXPECT_NEAR(h2 + 0.5 * o2, potential(Species::h2o), 1e-7);
                    EXPECT_NEAR(0.5 * h2, potential(Species::h), 1e-7);
                    EXPECT_NEAR(0.5 * o2, potential(Species::o), 1e-7);
                    EXPECT_NEAR(0.5 * (h2 + o2), potential(Species::oh), 1e-7);
                    EXPECT_NEAR(0.5 * (potential(Species::n2) + o2), potential(Species::no), 1e-7);
                }
}

TEST(BurnedGasIdentities, DerivativesAreThoseOfTheProperties) {
    for (const double lambda : {0.7, 0.85, 1.0, 1.3}) {
        const BurnedGas gas(mixture(8, 15, 0, lambda, 0.0).elements);
        for (const double t : {1500.0, 2200.0, 2800.0})
            for (const double p : {2e5, 80e5}) {
                const auto properties = [&](double temperature, double pressure) {
                    EquilibriumGuess guess;
                    return gas.properties(temperature, pressure, guess);
                };
                const BurnedProperties here = properties(t, p);
                const double d = 1e-4;
                const BurnedProperties hot = properties(t * (1 + d), p), cold = properties(t * (1 - d), p);
                const BurnedProperties high = properties(t, p * std::exp(d)),
                                       low = properties(t, p * std::exp(-d));
                EXPECT_NEAR(here.internal_energy_by_temperature,
                            (hot.internal_energy - cold.internal_energy) / (2 * d * t),
                            1e-5 * here.internal_energy_by_temperature);
                EXPECT_NEAR(here.internal_energy_by_log_pressure,
                            (high.internal_energy - low.internal_energy) / (2 * d),
                            1e-5 * std::abs(here.internal_energy_by_log_pressure) + 1.0);
                EXPECT_NEAR(here.gas_constant_by_temperature,
                            (hot.gas_constant - cold.gas_constant) / (2 * d * t), 1e-6);
                EXPECT_NEAR(here.gas_constant_by_log_pressure,
                            (high.gas_constant - low.gas_constant) / (2 * d), 1e-4);
                // Maxwell's relation for an equilibrium gas: (∂u/∂ln p)_T = −T² (∂R/∂T)_p − T (∂R/∂ln p)_T.
                EXPECT_NEAR(here.internal_energy_by_log_pressure,
                            -t * t * here.gas_constant_by_temperature - t * here.gas_constant_by_log_pressure,
                            2e-3 * std::abs(here.internal_energy_by_log_pressure) + 2.0);
            }
    }
}

TEST(BurnedGasIdentities, TheGuessDoesNotChangeTheAnswer) {
    const BurnedGas gas(mixture(8, 15, 0, 0.9, 0.0).elements);
    EquilibriumGuess guess;
    for (int i = 0; i < 200; ++i) {
        const double t = 1900.0 + 900.0 * std::sin(0.7 * i);
        const double p = 60e5 + 55e5 * std::cos(1.3 * i);
        EquilibriumGuess fresh;
        const BurnedProperties a = gas.properties(t, p, guess);
        const BurnedProperties b = gas.properties(t, p, fresh);
        EXPECT_NEAR(a.internal_energy, b.internal_energy, 1e-2);
        EXPECT_NEAR(a.gas_constant, b.gas_constant, 1e-7);
    }
}

TEST(BurnedGasErrors, SootingMixtureIsRefused) {
    EXPECT_THROW(BurnedGas(Elements{10.0, 20.0, 9.0, 40.0, 0.0}), InvalidArgument);
    EXPECT_THROW(BurnedGas(Elements{10.0, 20.0, std::nan(""), 40.0, 0.0}), InvalidArgument);
}
