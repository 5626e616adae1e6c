// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

namespace pullsheet::cycle {

/// Heat transfer from cylinder gas to the walls. Woschni, SAE 670931, 1967; Heywood (1988), eqs. 12.18–12.20.
/// It was established with a diesel engine; spark-ignition engines of today with their tumble lose more, as
/// much as a factor of about 1.3 says: that is an assumption of the cycle, checked against the heat that
/// naturally aspirated engines give to the coolant (Heywood, table 12.1).
namespace woschni {

/// Factor on the mean piston speed while the valves are closed (no swirl).
inline constexpr double closed_factor = 2.28;
/// The same during gas exchange.
inline constexpr double gas_exchange_factor = 6.18;
/// Factor on the pressure rise by combustion, m/(s·K).
inline constexpr double combustion_factor = 3.24e-3;
/// Exponent of the compression without combustion that the pressure is compared with. Common practice.
inline constexpr double motored_exponent = 1.3;

/// Gas velocity, m/s: c1 S_p + c2 V_d T_r/(p_r V_r) (p − p_m). mean_piston_speed in m/s, displaced_volume in
/// m³, state at the start of the burn: reference_temperature in K, reference_pressure in Pa, reference_volume
/// in m³; pressure_rise over the pressure without combustion in Pa.
inline double gas_velocity(double mean_piston_speed, double displaced_volume, double reference_temperature,
                           double reference_pressure, double reference_volume, double pressure_rise) {
    return closed_factor * mean_piston_speed + combustion_factor * displaced_volume * reference_temperature /
                                                   (reference_pressure * reference_volume) * pressure_rise;
}

/// Heat transfer coefficient, W/(m²·K): 3.26 B^−0.2 p^0.8 T^−0.55 w^0.8 with p in kPa. bore in m, pressure in
/// Pa, temperature in K, gas_velocity in m/s. All above 0.
inline double coefficient(double bore, double pressure, double temperature, double gas_velocity) {
    return 3.26 * std::exp(-0.2 * std::log(bore) + 0.8 * std::log(1e-3 * pressure * gas_velocity) -
                           0.55 * std::log(temperature));
}

}  // namespace woschni

}  // namespace pullsheet::cycle
