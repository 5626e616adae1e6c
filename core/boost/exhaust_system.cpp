// SPDX-License-Identifier: Apache-2.0
#include "core/boost/exhaust_system.hpp"

#include <cmath>

#include "core/error.hpp"

namespace pullsheet::boost {

void require_exhaust_system(const ExhaustSystem& system) {
    require("pressure_loss", system.pressure_loss, not_negative);
    require("reference_flow", system.reference_flow, positive);
    require("reference_temperature", system.reference_temperature, positive);
    require("laminar_share", system.laminar_share, unit_share);
    require("reference_pressure", system.reference_pressure, positive);
}

double exhaust_loss(const ExhaustSystem& system, double gas_flow, double gas_temperature,
                    double ambient_pressure) {
    require_exhaust_system(system);
    require("gas_flow", gas_flow, not_negative);
    require("gas_temperature", gas_temperature, positive);
    require("ambient_pressure", ambient_pressure, positive);
    constexpr double viscosity_exponent = 0.7;
    const double flows = gas_flow / system.reference_flow;
    const double temperatures = gas_temperature / system.reference_temperature;
    const double thinner = temperatures * system.reference_pressure / ambient_pressure;  // ρ_r/ρ
    const double laminar = flows * std::pow(temperatures, viscosity_exponent) * thinner;
    const double turbulent = flows * flows * thinner;
    return system.pressure_loss * (system.laminar_share * laminar + (1.0 - system.laminar_share) * turbulent);
}

}  // namespace pullsheet::boost
