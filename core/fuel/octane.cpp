// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/octane.hpp"

namespace pullsheet::fuel {

namespace {

double on_molar_share(const Fuel& fuel, double of_gasoline, double of_ethanol) {
    const double molar = ethanol_molar(fuel);
    return (1.0 - molar) * of_gasoline + molar * of_ethanol;
}

}  // namespace

double octane(double base_ron, double ethanol, double ethanol_ron, const Gasoline& gasoline) {
    require("base_ron", base_ron, possible::octane);
    require("ethanol_share", ethanol, unit_share);
    require("ethanol_ron", ethanol_ron, possible::octane);
    return on_molar_share({ethanol, gasoline}, base_ron, ethanol_ron);
}

double ron(const Fuel& fuel) {
    return on_molar_share(fuel, fuel.gasoline.ron, ethanol::ron);
}

double mon(const Fuel& fuel) {
    return on_molar_share(fuel, fuel.gasoline.mon, ethanol::mon);
}

double aki(double ron, double mon) {
    return 0.5 * (require("ron", ron, possible::octane) + require("mon", mon, possible::octane));
}

}  // namespace pullsheet::fuel
