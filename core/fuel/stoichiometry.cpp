// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/stoichiometry.hpp"

#include "core/fuel/atoms.hpp"

namespace pullsheet::fuel {

Formula formula(const Fuel& fuel) {
    const double mass = ethanol_mass(fuel);
    const double hydrogen_per_carbon = fuel.gasoline.hydrogen_per_carbon;
    const double gasoline_carbon = (1.0 - mass) / (atoms::carbon + hydrogen_per_carbon * atoms::hydrogen);
    const double ethanol_molecules = mass / ethanol::molar_mass;
    const double carbon = gasoline_carbon + 2.0 * ethanol_molecules;
    return {1.0, (gasoline_carbon * hydrogen_per_carbon + 6.0 * ethanol_molecules) / carbon,
            ethanol_molecules / carbon};
}

double stoich_formula(const Formula& formula, const DryAir& air) {
    require("carbon", formula.carbon, not_negative);
    require("hydrogen", formula.hydrogen, not_negative);
    require("oxygen", formula.oxygen, not_negative);
    const double molecules = formula.carbon + 0.25 * formula.hydrogen - 0.5 * formula.oxygen;
    if (!(molecules > 0.0)) throw InvalidArgument("oxygen", Reason::nothing_to_burn);
    const double fuel_mass =
        formula.carbon * atoms::carbon + formula.hydrogen * atoms::hydrogen + formula.oxygen * atoms::oxygen;
    return molecules / air.oxygen * air.molar_mass / fuel_mass;
}

double stoich(const Fuel& fuel, const DryAir& air) {
    return stoich_formula(formula(fuel), air);
}

double lambda(double air_fuel_ratio, const Fuel& fuel) {
    return require("air_fuel_ratio", air_fuel_ratio, positive) / stoich(fuel);
}

double air_fuel_ratio(double lambda, const Fuel& fuel) {
    return require("lambda", lambda, positive) * stoich(fuel);
}

}  // namespace pullsheet::fuel
