// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet {

/// The kind of physical quantity a number is. Core numbers are always in the SI unit named here.
enum class Quantity {
    number,                     ///< a plain number without unit, unchanged
    share,                      ///< 0…1
    ratio,                      ///< a ratio of two equal quantities, 1
    count,                      ///< a whole number of things
    torque,                     ///< N·m
    power,                      ///< W
    angular_speed,              ///< rad/s
    speed,                      ///< m/s
    acceleration,               ///< m/s²
    temperature,                ///< K
    temperature_change,         ///< K, a difference
    pressure,                   ///< Pa, absolute
    pressure_difference,        ///< Pa, over the surroundings or between two points
    mass_flow,                  ///< kg/s
    volume_flow,                ///< m³/s
    specific_consumption,       ///< kg/J
    mass,                       ///< kg
    length,                     ///< m
    area,                       ///< m²
    volume,                     ///< m³
    density,                    ///< kg/m³
    energy_per_mass,            ///< J/kg
    energy_per_volume,          ///< J/m³
    molar_mass,                 ///< kg/mol
    energy,                     ///< J
    force,                      ///< N
    time,                       ///< s
    frequency,                  ///< Hz
    inertia,                    ///< kg·m²
    angle,                      ///< rad
    mass_per_volume_and_cycle,  ///< kg/m³, fuel mass for each displaced volume and cycle
};

}  // namespace pullsheet
