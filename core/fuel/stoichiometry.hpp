// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/fuel/fuel.hpp"

namespace pullsheet::fuel {

/// Atoms in a molecule of fuel, or in any other amount of it.
struct Formula {
    double carbon;
    double hydrogen;
    double oxygen = 0.0;
};

/// What burns the fuel. The defaults are the dry clean air of ISO 2533:1975, table 1.
struct DryAir {
    double oxygen = 0.209476;         ///< oxygen by amount of substance
    double molar_mass = 0.028964420;  ///< kg/mol
};

/// Formula of a blend for one atom of carbon.
Formula formula(const Fuel& fuel);

/// Stoichiometric air–fuel ratio, kg dry air for each kg fuel, of a fuel CcHhOo that burns to CO2 and H2O:
/// (c + h/4 − o/2) oxygen molecules a formula unit. Heywood (1988), section 3.2. The counts are zero or more
/// and not all zero; throws InvalidArgument("oxygen", Reason::nothing_to_burn) if the fuel brings all the
/// oxygen it can use.
double stoich_formula(const Formula& formula, const DryAir& air = {});

/// Stoichiometric air–fuel ratio of a blend, kg dry air for each kg fuel.
double stoich(const Fuel& fuel, const DryAir& air = {});

/// Lambda: air–fuel ratio (kg/kg, > 0) divided by the stoichiometric ratio of the fuel.
double lambda(double air_fuel_ratio, const Fuel& fuel);

/// Air–fuel ratio, kg dry air for each kg fuel, at `lambda` (> 0).
double air_fuel_ratio(double lambda, const Fuel& fuel);

}  // namespace pullsheet::fuel
