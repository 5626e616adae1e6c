// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/charge_cooling.hpp"

#include "core/fuel/stoichiometry.hpp"

namespace pullsheet::fuel {

double charge_cooling(const Fuel& fuel, double lambda, double evaporated, double temperature) {
    require("lambda", lambda, possible::lambda);
    require("evaporated", evaporated, unit_share);
    require("temperature", temperature, possible::charge_temperature);
    constexpr double temperature_of_latent_heat = zero_celsius + 25.0;
    const double mass = ethanol_mass(fuel);
    const double liquid =
        mass * heat_capacity::liquid_ethanol + (1.0 - mass) * heat_capacity::liquid_gasoline;
    const double vapour =
        mass * heat_capacity::ethanol_vapour + (1.0 - mass) * heat_capacity::gasoline_vapour;
    const double latent = latent_heat(fuel) + (vapour - liquid) * (temperature - temperature_of_latent_heat);
    const double fuel_for_air = 1.0 / air_fuel_ratio(lambda, fuel);
    const double capacity =
        heat_capacity::air + fuel_for_air * ((1.0 - evaporated) * liquid + evaporated * vapour);
    return fuel_for_air * evaporated * latent / capacity;
}

}  // namespace pullsheet::fuel
