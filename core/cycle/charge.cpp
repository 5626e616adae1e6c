// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/charge.hpp"

#include <algorithm>
#include <cmath>

#include "core/fuel/atoms.hpp"
#include "core/fuel/stoichiometry.hpp"

namespace pullsheet::cycle {

namespace {

constexpr double reference_temperature = 298.15;  // K, of formation enthalpies and heating values
constexpr fuel::DryAir dry_air{};
constexpr double air_nitrogen = 0.78084;         // by amount, ISO 2533:1975, table 1
constexpr double air_carbon_dioxide = 0.000314;  // the same; the rare gases count as argon
constexpr double iso_octane_molar_mass = 8 * fuel::atoms::carbon + 18 * fuel::atoms::hydrogen;

}  // namespace

double FrozenGas::temperature_at(double enthalpy) const {
    double t = 600.0;
    for (int i = 0; i < 100; ++i) {
        const double step = (enthalpy - properties.enthalpy(t)) / heat_capacity(t);
        t = std::max(50.0, t + step);
        if (std::abs(step) < 1e-9 * t) return t;
    }
    throw NoSolution(Reason::no_cylinder_state, {{0.0, Quantity::angle}});
}

Composition air_composition() {
    Composition n{};
    n[static_cast<std::size_t>(Species::o2)] = dry_air.oxygen / dry_air.molar_mass;
    n[static_cast<std::size_t>(Species::n2)] = air_nitrogen / dry_air.molar_mass;
    n[static_cast<std::size_t>(Species::co2)] = air_carbon_dioxide / dry_air.molar_mass;
    n[static_cast<std::size_t>(Species::ar)] =
        (1.0 - dry_air.oxygen - air_nitrogen - air_carbon_dioxide) / dry_air.molar_mass;
    return n;
}

const FrozenGas& air() {
    static const FrozenGas gas{gas_constant(air_composition()), frozen(air_composition())};
    return gas;
}

Elements air_elements() {
    const Composition n = air_composition();
    const double carbon = n[static_cast<std::size_t>(Species::co2)];
    return {carbon, 0.0, 2.0 * (n[static_cast<std::size_t>(Species::o2)] + carbon),
            2.0 * n[static_cast<std::size_t>(Species::n2)], n[static_cast<std::size_t>(Species::ar)]};
}

Elements fuel_elements(const fuel::Fuel& fuel) {
    const fuel::Formula f = fuel::formula(fuel);
    const double mass =
        f.carbon * fuel::atoms::carbon + f.hydrogen * fuel::atoms::hydrogen + f.oxygen * fuel::atoms::oxygen;
    return {f.carbon / mass, f.hydrogen / mass, f.oxygen / mass, 0.0, 0.0};
}

FrozenGas fuel_vapour(const fuel::Fuel& fuel) {
    const double ethanol = fuel::ethanol_mass(fuel);
    FrozenGas gas;
    gas.properties.add(polynomial(Species::iso_octane),
                       (1.0 - ethanol) * molar_gas_constant / iso_octane_molar_mass);
    gas.properties.add(polynomial(Species::ethanol),
                       ethanol * molar_gas_constant / fuel::ethanol::molar_mass);
    gas.gas_constant = molar_gas_constant *
                       ((1.0 - ethanol) / fuel.gasoline.molar_mass + ethanol / fuel::ethanol::molar_mass);
    const Elements e = fuel_elements(fuel);
    const double products = e.carbon * molar_enthalpy(Species::co2, reference_temperature) +
                            0.5 * e.hydrogen * molar_enthalpy(Species::h2o, reference_temperature);
    const double wanted = products + fuel::heating_value(fuel) + fuel::latent_heat(fuel);
    const double shift = wanted - gas.enthalpy(reference_temperature);
    gas.properties.low[5] += shift;
    gas.properties.high[5] += shift;
    return gas;
}

Charge mix(const fuel::Fuel& fuel, double lambda, double residual_share) {
    const double air_fuel_ratio = lambda * fuel::stoich(fuel);
    const double fresh_fuel = 1.0 / (1.0 + air_fuel_ratio);
    const Elements of_air = air_elements();
    const Elements of_fuel = fuel_elements(fuel);
    Charge charge;
    charge.elements = {(1.0 - fresh_fuel) * of_air.carbon + fresh_fuel * of_fuel.carbon,
                       fresh_fuel * of_fuel.hydrogen,
                       (1.0 - fresh_fuel) * of_air.oxygen + fresh_fuel * of_fuel.oxygen,
                       (1.0 - fresh_fuel) * of_air.nitrogen, (1.0 - fresh_fuel) * of_air.argon};
    const Composition residual = BurnedGas(charge.elements).composition(water_gas_freeze, standard_pressure);
    charge.residual = {gas_constant(residual), frozen(residual)};
    charge.vapour = fuel_vapour(fuel);
    charge.residual_share = residual_share;
    charge.fuel_share = (1.0 - residual_share) * fresh_fuel;
    charge.air_share = (1.0 - residual_share) * (1.0 - fresh_fuel);
    charge.unburned.add(air(), charge.air_share);
    charge.unburned.add(charge.vapour, charge.fuel_share);
    charge.unburned.add(charge.residual, charge.residual_share);
    return charge;
}

double mixing_temperature(const Charge& charge, double latent_heat, double evaporated, double air_temperature,
                          double residual_temperature, double heating) {
    const double enthalpy =
        charge.air_share * air().enthalpy(air_temperature) +
        charge.fuel_share * (charge.vapour.enthalpy(air_temperature) - evaporated * latent_heat) +
        charge.residual_share * charge.residual.enthalpy(residual_temperature) + heating;
    return charge.unburned.temperature_at(enthalpy);
}

}  // namespace pullsheet::cycle
