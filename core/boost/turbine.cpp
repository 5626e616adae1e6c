// SPDX-License-Identifier: Apache-2.0
#include "core/boost/turbine.hpp"

#include <cmath>

#include "core/error.hpp"

namespace pullsheet::boost {

namespace {

/// Power of an expansion into a vacuum, W.
double greatest_power(double gas_flow, double gas_temperature, double efficiency, Gas gas) {
    require("gas_flow", gas_flow, positive);
    require("gas_temperature", gas_temperature, positive);
    require("turbine_efficiency", efficiency, {0.0, 1.0, true, false});
    return gas_flow * gas.heat_capacity * gas_temperature * efficiency;
}

}  // namespace

double turbine_power(double gas_flow, double gas_temperature, double pressure_ratio, double efficiency,
                     Gas gas) {
    const double greatest = greatest_power(gas_flow, gas_temperature, efficiency, gas);
    require("pressure_ratio", pressure_ratio, {1.0, std::numeric_limits<double>::infinity(), false, true});
    const double exponent = (gas.heat_capacity_ratio - 1.0) / gas.heat_capacity_ratio;
    return -greatest * std::expm1(-exponent * std::log(pressure_ratio));
}

double turbine_pressure_ratio(double compressor_power, double gas_flow, double gas_temperature,
                              double efficiency, Gas gas) {
    require("compressor_power", compressor_power, not_negative);
    const double greatest = greatest_power(gas_flow, gas_temperature, efficiency, gas);
    if (!(compressor_power < greatest)) {
        throw NoSolution(Reason::turbine_power_out_of_reach,
                         {{compressor_power, Quantity::power}, {greatest, Quantity::power}});
    }
    const double exponent = gas.heat_capacity_ratio / (gas.heat_capacity_ratio - 1.0);
    return std::exp(-exponent * std::log1p(-compressor_power / greatest));
}

}  // namespace pullsheet::boost
