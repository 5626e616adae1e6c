// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/cycle/burned_gas.hpp"
#include "core/cycle/nasa.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::cycle {

/// A gas that does not react, a kilogram of it.
struct FrozenGas {
    double gas_constant = 0.0;  ///< J/(kg·K)
    Polynomial properties{};    ///< J/(kg·K), formation enthalpies included

    double heat_capacity(double temperature) const { return properties.heat_capacity(temperature); }
    double enthalpy(double temperature) const { return properties.enthalpy(temperature); }
    double internal_energy(double temperature) const {
        return properties.enthalpy(temperature) - gas_constant * temperature;
    }
    double entropy(double temperature) const { return properties.entropy(temperature); }

    /// Adds `share` kilograms of another gas.
    void add(const FrozenGas& other, double share) {
        gas_constant += share * other.gas_constant;
        properties.add(other.properties, share);
    }

    /// The temperature, K, at which the enthalpy is `enthalpy`, J/kg. At most 100 steps of Newton's method,
    /// then it throws NoSolution(no_cylinder_state).
    double temperature_at(double enthalpy) const;
};

/// Amounts in a kilogram of dry air, mol. ISO 2533:1975, table 1; rare gases count as argon.
Composition air_composition();

/// Dry air as a frozen gas.
const FrozenGas& air();

/// Atoms in a kilogram of dry air, mol/kg.
Elements air_elements();

/// Atoms in a kilogram of fuel, mol/kg.
Elements fuel_elements(const fuel::Fuel& fuel);

/// Fuel vapour. Heat capacity: iso-octane for the gasoline part, ethanol for the ethanol part, by mass. The
/// formation enthalpy is set so that burning the liquid at 25 °C to CO2 and H2O vapour gives the fuel's lower
/// heating value.
FrozenGas fuel_vapour(const fuel::Fuel& fuel);

/// Air and fuel, evaporated, and residual gas.
struct Charge {
    FrozenGas unburned;     ///< all of it
    Elements elements;      ///< mol/kg; the residual gas has the same ones as the fresh mixture
    FrozenGas residual;     ///< burned gas as it stays in the cylinder
    FrozenGas vapour;       ///< the fuel alone
    double air_share;       ///< by mass, of the whole charge
    double fuel_share;      ///< by mass, of the whole charge
    double residual_share;  ///< by mass, of the whole charge
};

/// Temperature, K, at which the water-gas reaction stops in residual gas (equilibrium constant about 3.5;
/// Heywood (1988), section 4.9; from memory).
inline constexpr double water_gas_freeze = 1740.0;

/// The charge of excess air `lambda` (0.6 … 1.5) with `residual_share` of burned gas by mass, 0 … 0.5.
Charge mix(const fuel::Fuel& fuel, double lambda, double residual_share);

/// Temperature, K, of the charge when the intake valve closes: air at `air_temperature`, K, liquid fuel at
/// the same temperature of which the share `evaporated` takes its latent heat from the charge (the walls give
/// the rest), residual gas at `residual_temperature`, K. Enthalpy balance at constant pressure; `heating`, J
/// for a kilogram of charge, comes from ports and walls.
double mixing_temperature(const Charge& charge, double latent_heat, double evaporated, double air_temperature,
                          double residual_temperature, double heating);

}  // namespace pullsheet::cycle
