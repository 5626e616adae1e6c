// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/shared.hpp"

#include "core/fuel/fuel.hpp"

namespace pullsheet::catalogue::families {

Parameter lambda() {
    return plain("lambda", "air–fuel ratio / stoichiometric air–fuel ratio", Quantity::ratio,
                 fuel::possible::lambda)
        .otherwise(0.85)
        .established(fuel::established::lambda);
}

Parameter brake_efficiency() {
    return share("efficiency", "brake power / (fuel flow × lower heating value)", fuel::possible::efficiency)
        .otherwise(0.30)
        .established(fuel::established::efficiency);
}

Parameter fuel_flow(Interval range) {
    return number("fuel_flow", "fuel flow of the engine", Quantity::mass_flow, "kg/h", range)
        .of(figures::fuel_flow);
}

}  // namespace pullsheet::catalogue::families
