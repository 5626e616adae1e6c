// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "core/cycle/nasa.hpp"

namespace pullsheet::cycle {

/// Atoms in a kilogram of gas, mol/kg.
struct Elements {
    double carbon = 0.0;
    double hydrogen = 0.0;
    double oxygen = 0.0;
    double nitrogen = 0.0;
    double argon = 0.0;
};

/// Amounts of the burned species, mol in a kilogram of gas, in the order of Species.
using Composition = std::array<double, burned_species_count>;

/// The last equilibrium and its derivatives: the initial guess for the next one nearby. Start with an empty
/// one.
struct EquilibriumGuess {
    bool known = false;
    double temperature = 0.0;
    double log_pressure = 0.0;
    double log_oxygen = 0.0;  ///< ½ ln of the amount of O2
    double log_amount = 0.0;  ///< ln of the total amount
    double log_oxygen_by_temperature = 0.0;
    double log_oxygen_by_log_pressure = 0.0;
    double log_amount_by_temperature = 0.0;
    double log_amount_by_log_pressure = 0.0;
};

/// Properties of burned gas in chemical equilibrium, and how they change.
struct BurnedProperties {
    double gas_constant;                     ///< p v/T, J/(kg·K)
    double gas_constant_by_temperature;      ///< at constant pressure, J/(kg·K²)
    double gas_constant_by_log_pressure;     ///< at constant temperature, J/(kg·K)
    double internal_energy;                  ///< formation enthalpies included, J/kg
    double internal_energy_by_temperature;   ///< at constant pressure, J/(kg·K)
    double internal_energy_by_log_pressure;  ///< at constant temperature, J/kg
};

/// Burned gas of a carbon–hydrogen–oxygen fuel and air in chemical equilibrium among CO, CO2, H2, H2O, H, OH,
/// N2, NO, O2, O and Ar. Rich mixtures therefore split carbon and hydrogen by the water-gas equilibrium at
/// the gas's own temperature. Method: equilibrium constants from the polynomials' Gibbs energies, element
/// balances, Newton iteration on the amounts of O2 and of all gas (the species list is that of Olikara &
/// Borman, SAE 750468, 1975, without N, and with Ar inert). Soot, methane and ammonia are left out: not for
/// oxygen shares below one atom a carbon. At most 101 steps of the iteration, some five as a rule; then
/// NoSolution(no_equilibrium).
class BurnedGas {
  public:
    /// Throws InvalidArgument("lambda", …) if there is not more than one oxygen atom for each carbon atom.
    explicit BurnedGas(const Elements& elements);

    /// Properties at `temperature`, K (about 600 … 3600) and `pressure`, Pa (above 0). `guess` is read and
    /// updated.
    BurnedProperties properties(double temperature, double pressure, EquilibriumGuess& guess) const;

    /// Amounts of all species at `temperature`, K, and `pressure`, Pa.
    Composition composition(double temperature, double pressure) const;

    const Elements& elements() const { return elements_; }

  private:
    Elements elements_;
};

/// Frozen gas of the given amounts as a polynomial in J/(kg·K) for a kilogram of it.
Polynomial frozen(const Composition& composition);
/// Gas constant of the given amounts in a kilogram of gas, J/(kg·K).
double gas_constant(const Composition& composition);

/// Burned gas for TwoZone, with the temperature at which the Newton iteration in the cylinder starts.
struct EquilibriumGas {
    BurnedGas gas;
    double start_temperature = 2600.0;
    static EquilibriumGuess first_guess() { return {}; }
    BurnedProperties properties(double temperature, double pressure, EquilibriumGuess& guess) const {
        return gas.properties(temperature, pressure, guess);
    }
};

}  // namespace pullsheet::cycle
