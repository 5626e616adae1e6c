// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/fuel.hpp"

#include "core/fuel/atoms.hpp"
#include "core/fuel/thermal_expansion.hpp"

namespace pullsheet::fuel {

namespace {

/// The mean of a property of ethanol and one of gasoline, weighted by `share` of ethanol.
double blend(double share, double of_ethanol, double of_gasoline) {
    return share * of_ethanol + (1.0 - share) * of_gasoline;
}

constexpr double oxygen_of_ethanol = atoms::oxygen / ethanol::molar_mass;

/// ethanol_mass of a fuel that is possible.
double mass_share(const Fuel& fuel) {
    const double of_ethanol = fuel.ethanol_share * ethanol::density;
    return of_ethanol / (of_ethanol + (1.0 - fuel.ethanol_share) * fuel.gasoline.density);
}

}  // namespace

double hydrogen_per_carbon(double carbon_share) {
    require("carbon_share", carbon_share, possible::carbon_share);
    return (1.0 - carbon_share) / carbon_share * atoms::carbon / atoms::hydrogen;
}

double ethanol_mass(const Fuel& fuel) {
    require_possible(fuel);
    return mass_share(fuel);
}

double ethanol_molar(const Fuel& fuel) {
    const double mass = ethanol_mass(fuel);
    const double of_ethanol = mass / ethanol::molar_mass;
    return of_ethanol / (of_ethanol + (1.0 - mass) / fuel.gasoline.molar_mass);
}

double density(const Fuel& fuel, double temperature) {
    require("temperature", temperature, possible::temperature);
    const double share = fuel.ethanol_share;
    const double mass = density(fuel);
    if (temperature == reference_temperature) return mass;
    const double ethanol_volume = ethanol::density / ethanol_density(temperature);
    const double gasoline_volume = 1.0 / volume_correction(fuel.gasoline.density, temperature);
    return mass / blend(share, ethanol_volume, gasoline_volume);
}

double heating_value(const Fuel& fuel) {
    return blend(ethanol_mass(fuel), ethanol::heating_value, fuel.gasoline.heating_value);
}

double energy_density(const Fuel& fuel, double temperature) {
    return heating_value(fuel) * density(fuel, temperature);
}

double oxygen(const Fuel& fuel) {
    return ethanol_mass(fuel) * oxygen_of_ethanol;
}

double latent_heat(const Fuel& fuel) {
    return blend(ethanol_mass(fuel), ethanol::latent_heat, fuel.gasoline.latent_heat);
}

double flow(double power, const Fuel& fuel, double efficiency) {
    require("power", power, not_negative);
    require("efficiency", efficiency, possible::efficiency);
    return power / (efficiency * heating_value(fuel));
}

double volume_flow(double fuel_flow, const Fuel& fuel, double temperature) {
    require("fuel_flow", fuel_flow, not_negative);
    return fuel_flow / density(fuel, temperature);
}

}  // namespace pullsheet::fuel
