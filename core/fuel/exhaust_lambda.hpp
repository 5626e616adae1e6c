// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/fuel/fuel.hpp"

namespace pullsheet::fuel {

/// Dry exhaust gas: shares by volume, 0…1.
struct Exhaust {
    double co2;
    double co;
    double o2;
    /// As the analyser shows it, in molecules of `carbon_in_hydrocarbon` atoms of carbon.
    double hydrocarbons = 0.0;
    double nitric_oxide = 0.0;
};

/// Carbon atoms in the hydrocarbon that an infrared analyser reports: hexane.
inline constexpr double carbon_in_hexane = 6.0;
/// Equilibrium constant of the water-gas reaction in Brettschneider's balance.
inline constexpr double water_gas_constant = 3.5;

namespace possible {
inline constexpr Interval exhaust_co2{0.0, 0.20};
inline constexpr Interval exhaust_co{0.0, 0.30};
inline constexpr Interval exhaust_o2{0.0, 0.22};
inline constexpr Interval exhaust_hydrocarbons{0.0, 0.10};
inline constexpr Interval exhaust_nitric_oxide{0.0, 0.02};
}  // namespace possible

/// Lambda from the composition of dry exhaust gas before any air is added; H/C and O/C are those of the
/// blend. J. Brettschneider, Bosch Technische Berichte 6 (1979) 177. Exact where carbon monoxide and hydrogen
/// stand in the water-gas equilibrium K = 3.5; an exhaust leak or secondary air falsifies it. Infrared
/// analysers see less than all hydrocarbons: for gasoline Singer & Harley (1998) suggest 12 in place of 6
/// carbon atoms. Errors name "co2", "co", "o2", "hydrocarbons", "nitric_oxide" (limits above);
/// Reason::no_carbon_in_exhaust if co2 and co are both zero.
double exhaust_lambda(const Exhaust& exhaust, const Fuel& fuel,
                      double carbon_in_hydrocarbon = carbon_in_hexane);

}  // namespace pullsheet::fuel
