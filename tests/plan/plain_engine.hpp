// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "core/constants.hpp"
#include "core/plan/match.hpp"

/// An engine so plain that a pocket calculator follows it: constant volumetric efficiency, gas temperature
/// and efficiency. What the match finds on it was computed twice by independent programs.
namespace pullsheet::plan {

struct PlainEngine final : MatchedEngine {
    double displacement = 2.2e-3;  // m³
    double volumetric_efficiency = 0.95;
    double air_fuel_ratio = 12.0;
    double manifold_temperature = 318.15;  // K
    double gas_temperature = 1173.15;      // K
    double charge_loss = 10e3;             // Pa
    double compressor_efficiency = 0.70;
    double exhaust_loss = 15e3;     // Pa at 0.5 kg/s
    double wheel_diameter = 0.074;  // m, of the compressor
    double surge_flow = 0.0;        // kg/s, of the surge line for each unit of pressure ratio above 1

    double residual_share =
        0.0;  // by which the filling falls for each unit of exhaust over manifold pressure

    Breath breathe(double speed, double manifold_pressure, double exhaust_pressure) const override {
        constexpr double inlet_temperature = 298.15;
        Breath breath{};
        const double filling =
            volumetric_efficiency * (1.0 - residual_share * exhaust_pressure / manifold_pressure);
        breath.air_flow = filling * displacement * speed / (4.0 * pi) * manifold_pressure /
                          (dry_air_gas_constant * manifold_temperature);
        const double fuel_flow = breath.air_flow / air_fuel_ratio;
        breath.gas = {breath.air_flow + fuel_flow, gas_temperature};
        breath.torque = 0.30 * fuel_flow * 43e6 / speed;
        breath.pressure_ratio = (manifold_pressure + charge_loss) / 100e3;
        breath.compressor_efficiency = compressor_efficiency;
        // Below a ratio of 1 the compressor throttles.
        breath.compressor_power = breath.air_flow * 1005.0 * inlet_temperature *
                                  (std::pow(breath.pressure_ratio, 2.0 / 7.0) - 1.0) / compressor_efficiency;
        if (breath.pressure_ratio >= 1.0)
            breath.shaft_speed = boost::wheel_speed(wheel_diameter, breath.pressure_ratio, inlet_temperature);
        breath.surge_margin = 1.0 - surge_flow * (breath.pressure_ratio - 1.0) / breath.air_flow;
        return breath;
    }
    double natural_filling(double) const override { return 100e3 - charge_loss; }
    double outlet_pressure(const boost::GasStream& gas, double) const override {
        return 100e3 + exhaust_loss * std::pow(gas.flow / 0.5, 2);
    }
};

}  // namespace pullsheet::plan
