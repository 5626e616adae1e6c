// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

namespace pullsheet::cycle {

/// Exhaust ports and manifold, between the cylinders and the turbine.
namespace port {

/// Conductance to the walls of one port with its share of the manifold, W/K, at `reference_flow`. Fully
/// turbulent pipe flow, times 1.5 for its pulsation, over a port of 15 cm² cross section and ten times its
/// diameter: an assumption.
inline constexpr double usual_conductance = 9.0;
inline constexpr double reference_flow = 0.1;        ///< kg/s through one port
inline constexpr double flow_exponent = 0.8;         ///< of turbulent pipe flow
inline constexpr double gas_heat_capacity = 1150.0;  ///< J/(kg·K)
inline constexpr double wall_over_coolant = 100.0;   ///< K

/// Temperature of the gas before the turbine, K, the mean by enthalpy: T_p + (T_x − T_p) e^(−G/(ṁ c_p)), G =
/// z·conductance·(ṁ/(z·reference_flow))^0.8, T_p = coolant_temperature + 100 K. `exhaust_temperature` T_x, K,
/// leaves the cylinders, `gas_flow` ṁ, kg/s > 0, all `cylinders` z; `conductance` W/K, at least 0.
inline double gas_temperature(double exhaust_temperature, double gas_flow, double cylinders,
                              double coolant_temperature, double conductance = usual_conductance) {
    const double wall = coolant_temperature + wall_over_coolant;
    const double total =
        cylinders * conductance * std::pow(gas_flow / (cylinders * reference_flow), flow_exponent);
    return wall + (exhaust_temperature - wall) * std::exp(-total / (gas_flow * gas_heat_capacity));
}

/// The conductance, W/K, with which the gas has cooled to `gas_temperature` K: the inverse. Both temperatures
/// above that of the wall.
inline double conductance(double exhaust_temperature, double gas_temperature, double gas_flow,
                          double cylinders, double coolant_temperature) {
    const double wall = coolant_temperature + wall_over_coolant;
    const double total =
        std::log((exhaust_temperature - wall) / (gas_temperature - wall)) * gas_flow * gas_heat_capacity;
    return total / (cylinders * std::pow(gas_flow / (cylinders * reference_flow), flow_exponent));
}

}  // namespace port

}  // namespace pullsheet::cycle
