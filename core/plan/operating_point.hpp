// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/error.hpp"
#include "core/fuel/fuel.hpp"
#include "core/plan/parts.hpp"

namespace pullsheet::plan {

/// The load of a part, in the quantity in which it reaches its limit first.
struct PartLoad {
    double demand = 0.0;    ///< SI, of `quantity`
    double capacity = 0.0;  ///< SI, of `quantity`; infinite where the part states no limit
    Quantity quantity =
        Quantity::number;  ///< share: duty of injectors; volume_flow: pumps; mass_flow (corrected),
                           ///< ratio or angular_speed: a compressor; temperature: a charge cooler; number:
                           ///< Mach number of a pipe; power: a turbine; pressure_difference: an exhaust
                           ///< system; torque, power or pressure (bmep): the rest
    double use = 0.0;  ///< 1 at the limit: demand/capacity; for a charge cooler of the rise over its coolant;
                       ///< for a compressor in surge, flow of the surge line divided by flow
};

/// An engine at one power and speed, from the fuel in the tank to the pressure in the manifold.
struct OperatingPoint {
    double power;                  ///< W at the crank
    double speed;                  ///< rad/s
    double torque;                 ///< N·m
    double bmep;                   ///< Pa
    double fuel_flow;              ///< kg/s
    double fuel_volume_flow;       ///< m³/s at 15 °C
    double dry_air_flow;           ///< kg/s that take part in the combustion
    double air_flow;               ///< kg/s through filter and compressor: with the day's moisture
    double volumetric_efficiency;  ///< ratio, on the state of the manifold
    double manifold_pressure;      ///< Pa, absolute
    double boost;           ///< Pa over the surroundings; below zero where the throttle is partly closed
    double intake_loss;     ///< Pa from the surroundings to the compressor
    double charge_loss;     ///< Pa from the compressor to the manifold
    double pressure_ratio;  ///< of the compressor; 1 where it has nothing to do
    double corrected_flow;  ///< kg/s of each compressor, in the reference of the part
    double compressor_efficiency;   ///< share
    double compressor_power;        ///< W, of all compressors together
    double shaft_speed;             ///< rad/s, real; NaN without a map or the diameter of the wheel
    double surge_margin;            ///< share of the flow; NaN without a map
    double choke_margin;            ///< share of the flow; NaN without a map
    double compressor_temperature;  ///< K after the compressor
    double charge_temperature;      ///< K in the manifold
    double exhaust_pressure;        ///< Pa before the turbine; NaN without a turbine
    double outlet_pressure;         ///< Pa after the turbine, or where the exhaust system begins
    double wastegate_share;         ///< of the exhaust gas; NaN without a turbine
    double wastegate_area;        ///< m², of all wastegates, as far as they are open; NaN without a turbine
    double turbine_power;         ///< W with the wastegate shut; NaN without a turbine
    std::vector<PartLoad> loads;  ///< one for each part, in the order of the parts
    std::vector<Warning> warnings;
};

/// The chain from a wanted power back to the hardware.
///
/// Fuel flow from power, efficiency and heating value; dry air from fuel, lambda and stoichiometry, moist air
/// by the day's humidity; manifold pressure by speed–density. Pressure ratio, compressor efficiency (from the
/// map), temperatures and all pressure losses depend on one another: they are solved together, so that the
/// pressure the compressor delivers after all losses is the pressure the engine needs at the temperature the
/// charge then has.
///
/// `power` W > 0, `speed` rad/s > 0. Without a compressor among the parts, one of 70 % efficiency and without
/// limits is taken. A manifold pressure below what the intake delivers is met by the throttle (warning
/// Reason::throttled: manifold pressure, pressure at hand). Throws InvalidArgument for impossible numbers
/// and, with Reason::part_twice, for a second compressor, charge cooler, turbine, exhaust system or boost
/// control; with Reason::turbine_without_compressor; NoSolution where the compressor
/// map ends (boost::CompressorMap::at), a pipe is choked, boost leaves no pressure across the injector
/// (Reason::no_injection_pressure: rail pressure over the surroundings, boost), or no pressure ratio up to 50
/// gives the power (Reason::no_pressure_ratio: power); NoData where the rail pressure lies beyond the pump's
/// curve (injection::PumpCurve) or the speed outside that of volumetric efficiency
/// (engine::VolumetricEfficiency). The air path is computed at most 135 times.
OperatingPoint operating_point(const Engine& engine, const fuel::Fuel& fuel, double power, double speed,
                               const Weather& weather = {}, const Parts& parts = {});

}  // namespace pullsheet::plan
