// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/exhaust_lambda.hpp"

#include "core/fuel/stoichiometry.hpp"

namespace pullsheet::fuel {

double exhaust_lambda(const Exhaust& exhaust, const Fuel& fuel, double carbon_in_hydrocarbon) {
    const double co2 = require("co2", exhaust.co2, possible::exhaust_co2);
    const double co = require("co", exhaust.co, possible::exhaust_co);
    const double o2 = require("o2", exhaust.o2, possible::exhaust_o2);
    const double hydrocarbons = require("hydrocarbons", exhaust.hydrocarbons, possible::exhaust_hydrocarbons);
    const double nitric_oxide = require("nitric_oxide", exhaust.nitric_oxide, possible::exhaust_nitric_oxide);
    require("carbon_in_hydrocarbon", carbon_in_hydrocarbon, positive);
    const double oxides = co2 + co;
    if (!(oxides > 0.0)) throw InvalidArgument("co2", Reason::no_carbon_in_exhaust);

    const Formula blend = formula(fuel);
    // Share of the hydrogen burned to water rather than left as hydrogen, by the water-gas equilibrium.
    const double to_water = water_gas_constant * co2 / (water_gas_constant * co2 + co);
    const double used = co2 + 0.5 * co + o2 + 0.5 * nitric_oxide +
                        (0.25 * blend.hydrogen * to_water - 0.5 * blend.oxygen) * oxides;
    const double needed =
        (1.0 + 0.25 * blend.hydrogen - 0.5 * blend.oxygen) * (oxides + carbon_in_hydrocarbon * hydrocarbons);
    return used / needed;
}

}  // namespace pullsheet::fuel
