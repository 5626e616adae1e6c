// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/constants.hpp"
#include "core/error.hpp"
#include "core/fuel/ethanol_density.hpp"

namespace pullsheet::fuel {

/// The temperature to which fuel densities and volume shares refer: 15 °C, in K. EN 228; API MPMS
/// chapter 11.1.
inline constexpr double reference_temperature = zero_celsius + 15.0;

/// The gasoline part of a fuel. The defaults are the reference gasoline.
struct Gasoline {
    double hydrogen_per_carbon = 1.87;  ///< hydrogen atoms for each carbon atom (Çengel & Boles, table A-27)
    double density = 745.0;             ///< kg/m³ at 15 °C, the middle of EN 228
    double heating_value = 43.4e6;      ///< lower heating value, J/kg (DOE Alternative Fuels Data Center)
    double latent_heat = 350e3;         ///< J/kg at 25 °C (Çengel & Boles, table A-27)
    double molar_mass = 0.105;          ///< kg/mol
    double ron = 95.0;                  ///< research octane number (EN 228)
    double mon = 85.0;                  ///< motor octane number (EN 228)

    bool operator==(const Gasoline&) const = default;
};

/// A blend of gasoline and ethanol.
struct Fuel {
    double ethanol_share = 0.0;  ///< ethanol by volume at 15 °C, 0…1, volumes measured before mixing
    Gasoline gasoline{};

    bool operator==(const Fuel&) const = default;
};

/// Ethanol, C2H6O, free of water.
namespace ethanol {
inline constexpr double molar_mass = 0.046069;   ///< kg/mol (IUPAC atomic masses)
inline constexpr double heating_value = 26.8e6;  ///< lower heating value, J/kg (Çengel & Boles, table A-27)
inline constexpr double latent_heat = 919e3;     ///< J/kg at 25 °C (Çengel & Boles, table A-27)
inline constexpr double density = ethanol_density(reference_temperature);  ///< kg/m³ at 15 °C (OIML R 22)
inline constexpr double ron = 108.0;  ///< research octane number (DOE Alternative Fuels Data Center)
inline constexpr double mon = 90.0;   ///< motor octane number, common practice
}  // namespace ethanol

/// What the fields of a gasoline can physically be.
namespace possible {
inline constexpr Interval hydrogen_per_carbon{0.5, 4.0};  ///< aromatics of several rings … methane
/// Carbon by mass of a hydrocarbon: methane … hydrogen_per_carbon of 0.5.
inline constexpr Interval carbon_share{0.749, 0.9597};
inline constexpr Interval density{600.0, 900.0};      ///< kg/m³ at 15 °C
inline constexpr Interval heating_value{30e6, 50e6};  ///< J/kg
inline constexpr Interval latent_heat{100e3, 600e3};  ///< J/kg
inline constexpr Interval molar_mass{0.05, 0.20};     ///< kg/mol
inline constexpr Interval octane{0.0, 150.0};         ///< research or motor octane number
inline constexpr Interval temperature{zero_celsius - 60.0, zero_celsius + 100.0};  ///< of liquid fuel, K
inline constexpr Interval lambda{0.4, 4.0};                   ///< of a mixture that burns in an engine
inline constexpr Interval efficiency{0.0, 0.6, true, false};  ///< brake efficiency of a piston engine
}  // namespace possible

/// Where the reference data and formulas were established.
namespace established {
inline constexpr Interval hydrogen_per_carbon{1.7, 2.1};  ///< market gasoline
inline constexpr Interval density{653.0, 787.5};  ///< kg/m³; gasoline zones of API MPMS 11.1, table 54B
/// Temperatures at which densities hold, K: those of OIML R 22 (−20 … 40 °C).
inline constexpr Interval temperature = established_ethanol_temperature;
inline constexpr Interval lambda{0.6, 1.6};
inline constexpr Interval efficiency{0.15, 0.45};
}  // namespace established

/// Throws InvalidArgument naming the field ("ethanol_share", "hydrogen_per_carbon", "density", …) if a number
/// of the fuel is impossible or not a number.
inline void require_possible(const Fuel& fuel) {
    const Gasoline& g = fuel.gasoline;
    require("ethanol_share", fuel.ethanol_share, unit_share);
    require("hydrogen_per_carbon", g.hydrogen_per_carbon, possible::hydrogen_per_carbon);
    require("density", g.density, possible::density);
    require("heating_value", g.heating_value, possible::heating_value);
    require("latent_heat", g.latent_heat, possible::latent_heat);
    require("molar_mass", g.molar_mass, possible::molar_mass);
    require("RON", g.ron, possible::octane);
    require("MON", g.mon, possible::octane);
}

/// Hydrogen atoms for each carbon atom of a hydrocarbon; carbon_share 0.749…0.9597 by mass, the rest
/// hydrogen.
double hydrogen_per_carbon(double carbon_share);

/// Ethanol by mass, 0…1. Volume shares times densities at 15 °C.
double ethanol_mass(const Fuel& fuel);

/// Ethanol by amount of substance, 0…1. Anderson et al. (2010), Energy & Fuels 24, 6576.
double ethanol_molar(const Fuel& fuel);

/// Density, kg/m³; temperature in K. The volumes of the components add (no excess volume: the true density of
/// blends is up to about 0.3 % lower); gasoline expands by API MPMS 11.1 table 54B, ethanol by OIML R 22.
/// Established −20 … 40 °C, possible −60 … 100 °C.
double density(const Fuel& fuel, double temperature);

/// Density at 15 °C, kg/m³.
inline double density(const Fuel& fuel) {
    require_possible(fuel);
    return fuel.ethanol_share * ethanol::density + (1.0 - fuel.ethanol_share) * fuel.gasoline.density;
}

/// Lower heating value, J/kg: mean of the components by mass.
double heating_value(const Fuel& fuel);

/// Lower heating value of a volume, J/m³; temperature in K as for density.
double energy_density(const Fuel& fuel, double temperature = reference_temperature);

/// Oxygen by mass, 0…0.347: that of the ethanol.
double oxygen(const Fuel& fuel);

/// Latent heat of evaporation at 25 °C, J/kg: mean of the components by mass.
double latent_heat(const Fuel& fuel);

/// Fuel flow for a brake power, kg/s; power in W (≥ 0), efficiency = brake power / (fuel flow × lower heating
/// value), 0…0.6 without 0.
double flow(double power, const Fuel& fuel, double efficiency);

/// Volume flow, m³/s, of a fuel flow in kg/s (≥ 0); temperature in K as for density.
double volume_flow(double fuel_flow, const Fuel& fuel, double temperature = reference_temperature);

}  // namespace pullsheet::fuel
