// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/boost/compressor.hpp"

namespace pullsheet::boost {

/// Exhaust gas ahead of a turbine: κ = 1.34, 1150 J/(kg·K). Usual values for burned gas near 1100 K, cf.
/// Heywood, Internal Combustion Engine Fundamentals, ch. 4 and 6.
inline constexpr Gas exhaust_gas{1.34, 1150.0};

/// Power that the turbine hands to the shaft, W: ṁ·c_p·T₃·η·(1 − Π^(−(κ−1)/κ)). `gas_flow` kg/s > 0 (air and
/// fuel), `gas_temperature` K > 0 ahead of the turbine, `pressure_ratio` >= 1 (ahead over behind),
/// `efficiency` share above 0 to 1 of turbine and bearings together. Throws InvalidArgument. Source: Heywood,
/// ch. 6 (turbocharging).
double turbine_power(double gas_flow, double gas_temperature, double pressure_ratio, double efficiency,
                     Gas gas = exhaust_gas);

/// Expansion ratio (pressure ahead over behind) at which the turbine drives a compressor that takes up
/// `compressor_power` W. The inverse of turbine_power. Throws NoSolution with
/// Reason::turbine_power_out_of_reach (details: wanted W, W in the limit of a vacuum behind the turbine)
/// where the gas does not carry that power.
double turbine_pressure_ratio(double compressor_power, double gas_flow, double gas_temperature,
                              double efficiency, Gas gas = exhaust_gas);

}  // namespace pullsheet::boost
