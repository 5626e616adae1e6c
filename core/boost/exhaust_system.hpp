// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/boost/compressor.hpp"

namespace pullsheet::boost {

/// Everything after the turbine, catalyst and silencers included, by one measured pressure loss.
struct ExhaustSystem {
    double pressure_loss;                    ///< Pa over the surroundings, >= 0, at the flow and state below
    double reference_flow;                   ///< kg/s, > 0
    double reference_temperature = 1073.15;  ///< K, > 0, of the gas in that measurement
    double laminar_share = 0.2;              ///< share of that loss that grows with ṁ·μ/ρ (channels of a
                                             ///< catalyst), the rest with ṁ²/ρ
    double reference_pressure = 100e3;       ///< Pa, > 0, of the surroundings in that measurement

    bool operator==(const ExhaustSystem&) const = default;
};

/// Checks every number; throws InvalidArgument.
void require_exhaust_system(const ExhaustSystem& system);

/// Pressure loss of the exhaust system, Pa: Δp_r·(s·(ṁ/ṁ_r)·(μ·ρ_r/(μ_r·ρ)) + (1 − s)·(ṁ/ṁ_r)²·(ρ_r/ρ)), with
/// the density at the pressure of the surroundings and the temperature of the gas, and a viscosity that grows
/// with T^0.7. `gas_flow` kg/s >= 0, `gas_temperature` K > 0 after the turbine, `ambient_pressure` Pa > 0.
/// Throws InvalidArgument. The sum of a laminar and a turbulent term is Darcy's and Forchheimer's; the
/// exponent of the viscosity and the share 0.2 are common practice.
double exhaust_loss(const ExhaustSystem& system, double gas_flow, double gas_temperature,
                    double ambient_pressure);

}  // namespace pullsheet::boost
