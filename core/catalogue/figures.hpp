// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <string_view>

#include "core/error.hpp"
#include "core/quantity.hpp"

namespace pullsheet::catalogue {

/// The bounds of a figure of the trade. Each parameter, row of a block, result and column is one such figure.
/// Both intervals are in `unit` (plain numbers if it is empty).
struct Figure {
    Quantity quantity;
    std::string_view unit;
    Interval possible;       ///< outside, physics or the definition forbids it: refused
    Interval usual;          ///< outside, it does not occur in practice: the value comes with a warning
    std::string_view basis;  ///< the source of both intervals

    constexpr bool is_open() const { return possible.low == finite.low && possible.high == finite.high; }
};

/// The figures of the trade. Without another source, `usual` is common practice: road and competition cars
/// with piston engines, wide enough that no sound value causes a warning; `possible` excludes only what no
/// machine reaches.
namespace figures {

constexpr Interval within(double low, double high) {
    return {low, high, false, false};
}
constexpr Interval over(double low, double high) {
    return {low, high, true, false};
}
/// Any number of a size that occurs in practice.
inline constexpr double huge = 1e15;

// Without bounds. `basis` gives the reason; a test requires it.
inline constexpr Figure anything{Quantity::number, "", finite, finite,
                                 "in whatever unit the values of the user are"};
inline constexpr Figure stated_by_row{Quantity::number, "", finite, finite,
                                      "each row states its own quantity, and is held against its own bounds"};
inline constexpr Figure not_negative_figure{Quantity::number, "", not_negative, not_negative,
                                            "a spread in whatever unit the values of the user are"};

// By definition.
inline constexpr Figure share{Quantity::share, "", within(0, 1), within(0, 1), "definition"};
inline constexpr Figure probability{Quantity::number, "", within(0, 1), within(0, 1), "definition"};
inline constexpr Figure price{Quantity::number, "", within(0, huge), within(0, huge), "any currency"};
inline constexpr Figure gear{Quantity::number, "", within(1, 20), within(1, 12), "common practice"};

// Engine.
inline constexpr Figure power{Quantity::power, "kW", within(-10000, 10000), within(-300, 1500),
                              "common practice; the largest dragsters give about 8000 kW"};
inline constexpr Figure brake_power{Quantity::power, "kW", within(0, 10000), within(0, 1500),
                                    "common practice; the largest dragsters give about 8000 kW"};
inline constexpr Figure torque{Quantity::torque, "N·m", within(-100000, 100000), within(-500, 3000),
                               "common practice"};
inline constexpr Figure engine_speed{Quantity::angular_speed, "rpm", within(0, 25000), within(0, 16000),
                                     "common practice; the fastest car engines turned about 20000 rpm"};
inline constexpr Figure displacement{Quantity::volume, "L", over(0, 1000), within(0.03, 15),
                                     "common practice"};
inline constexpr Figure cylinder_length{Quantity::length, "mm", over(0, 1000), within(20, 300),
                                        "common practice"};
inline constexpr Figure small_length{Quantity::length, "mm", within(0, 100), within(0, 20),
                                     "common practice"};
inline constexpr Figure cylinder_volume{Quantity::volume, "cc", within(-2000, 10000), within(-100, 500),
                                        "common practice"};
inline constexpr Figure compression_ratio{
    Quantity::ratio, "", over(1, 100), within(5, 25),
    "common practice; Heywood 1988: 8 to 12 spark ignition, 12 to 24 diesel"};
inline constexpr Figure piston_speed{Quantity::speed, "m/s", within(0, 200), within(0, 30),
                                     "common practice; Heywood 1988: 8 to 15 m/s of series engines"};
inline constexpr Figure piston_acceleration{Quantity::acceleration, "m/s²", within(0, 1e7), within(0, 120000),
                                            "common practice"};
inline constexpr Figure mean_pressure{
    Quantity::pressure_difference, "bar", within(-50, 200), within(-5, 40),
    "common practice; Heywood 1988: up to 17 bar of charged series engines"};
inline constexpr Figure air_flow{Quantity::mass_flow, "g/s", within(0, 10000), within(0, 2500),
                                 "common practice"};
inline constexpr Figure volumetric_efficiency{
    Quantity::ratio, "", over(0, 2), within(0.3, 1.3),
    "common practice; wave effects fill at most a third more than the manifold's density"};
inline constexpr Figure manifold_pressure{Quantity::pressure, "kPa", within(1, 1500), within(15, 450),
                                          "common practice"};
inline constexpr Figure manifold_temperature{Quantity::temperature, "°C", within(-60, 400), within(-40, 150),
                                             "a cooler of aluminium and hoses of rubber do not hold more"};
inline constexpr Figure specific_consumption{Quantity::specific_consumption, "g/kWh", within(100, 100000),
                                             within(180, 900),
                                             "100 g/kWh of gasoline would be an efficiency of 0.83; Heywood "
                                             "1988: best values 200 diesel, 270 spark ignition"};
inline constexpr Figure efficiency{Quantity::ratio, "", over(0, 0.6), within(0.1, 0.45),
                                   "the best piston engines, large and slow, reach 0.55"};
inline constexpr Figure fuel_per_cycle{Quantity::mass_per_volume_and_cycle, "mg/(L·cycle)", over(0, 500),
                                       within(10, 120), "common practice; ISO 1585 looks at 40 to 65"};
inline constexpr Figure fuel_flow{Quantity::mass_flow, "kg/h", within(0, 10000), within(0, 500),
                                  "common practice"};

// Fuel and mixture.
inline constexpr Figure stoich{Quantity::ratio, "", within(0.5, 40), within(6, 18),
                               "hydrogen, the highest, needs 34"};
inline constexpr Figure atoms{Quantity::number, "", within(0, 1000), within(0, 60), "definition"};
inline constexpr Figure fuel_density{Quantity::density, "kg/m³", within(500, 1200), within(640, 860),
                                     "EN 228 and EN 15293: 720 to 785 kg/m³ at 15 °C"};
inline constexpr Figure heating_value{Quantity::energy_per_mass, "MJ/kg", within(10, 130), within(26, 46),
                                      "Heywood 1988, fuel tables"};
inline constexpr Figure energy_density{Quantity::energy_per_volume, "MJ/L", within(5, 60), within(18, 38),
                                       "Heywood 1988, fuel tables"};
inline constexpr Figure latent_heat{Quantity::energy_per_mass, "kJ/kg", within(50, 1500), within(250, 1000),
                                    "Heywood 1988, fuel tables"};
inline constexpr Figure molar_mass{Quantity::molar_mass, "g/mol", within(2, 500), within(80, 125),
                                   "Heywood 1988, fuel tables"};
inline constexpr Figure octane{Quantity::number, "", within(0, 150), within(60, 125),
                               "the scales run from n-heptane, 0, past iso-octane, 100"};
inline constexpr Figure charge_cooling{Quantity::temperature_change, "K", within(0, 500), within(0, 150),
                                       "common practice"};
inline constexpr Figure fuel_volume{Quantity::volume, "L", within(0, 1e6), within(0, 500),
                                    "common practice: a tank or a drum"};
inline constexpr Figure lambda{
    Quantity::ratio, "", within(0.2, 50), within(0.6, 2),
    "gasoline and ethanol do not burn richer than about 0.25 (limits of flammability)"};
inline constexpr Figure air_fuel_ratio{Quantity::ratio, "", within(0.5, 500), within(5, 30),
                                       "common practice"};
inline constexpr Figure hydrocarbons{Quantity::share, "", within(0, 0.1), within(0, 0.02), "common practice"};

// Air.
inline constexpr Figure vapour_pressure{Quantity::pressure, "kPa", within(0, 10000), within(0, 13),
                                        "saturated at 51 °C"};
inline constexpr Figure air_pressure{Quantity::pressure, "kPa", within(1, 2000), within(50, 108.5),
                                     "highest ever at sea level 108.4 kPa; 50 kPa at 5500 m"};
inline constexpr Figure air_density{Quantity::density, "kg/m³", within(0.003, 60), within(0.6, 1.6),
                                    "-40 °C at sea level; 40 °C at 5000 m"};
inline constexpr Figure air_temperature{Quantity::temperature, "°C", within(-100, 300), within(-60, 60),
                                        "outdoor records are -89 and 57 °C"};
inline constexpr Figure altitude{Quantity::length, "m", within(-10000, 12000), within(-2000, 7000),
                                 "roads end below 6000 m; the shore of the Dead Sea is at -430 m"};

// Rollers.
inline constexpr Figure power_factor{Quantity::ratio, "", within(0.2, 5), within(0.8, 1.35),
                                     "ISO 1585 admits 0.93 to 1.07, at high altitude it is more"};
inline constexpr Figure roller_speed{Quantity::angular_speed, "rpm", within(0, 20000), within(0, 6000),
                                     "common practice"};
inline constexpr Figure loss_power{Quantity::power, "kW", within(-1000, 10000), within(-50, 300),
                                   "common practice"};
inline constexpr Figure inertia{Quantity::inertia, "kg·m²", over(0, 100000), within(0.05, 5000),
                                "common practice"};
inline constexpr Figure fit_time{Quantity::time, "s", over(0, 3600), within(0.01, 10), "common practice"};
inline constexpr Figure speed_ratio{Quantity::ratio, "", over(0, 1000), within(0.2, 30), "common practice"};
inline constexpr Figure log_time{Quantity::time, "s", within(-1e9, 1e9), within(-1e9, 1e9),
                                 "the clock of the logger"};

// Boost.
inline constexpr Figure boost{Quantity::pressure_difference, "bar", within(-1.1, 20), within(-1, 4),
                              "common practice"};
inline constexpr Figure pressure_loss{Quantity::pressure_difference, "kPa", within(0, 5000), within(0, 50),
                                      "common practice"};
inline constexpr Figure pressure_ratio{Quantity::ratio, "", over(0, 50), within(0.3, 6),
                                       "one centrifugal stage of a turbocharger gives at most about 6"};
inline constexpr Figure inlet_temperature{Quantity::temperature, "°C", within(-100, 400), within(-40, 150),
                                          "common practice"};
inline constexpr Figure compressor_temperature{Quantity::temperature, "°C", within(-100, 1000),
                                               within(-40, 260),
                                               "wheels of aluminium lose their strength above 200 °C"};
inline constexpr Figure compressor_efficiency{
    Quantity::share, "", within(0.05, 1), within(0.4, 0.85),
    "Dixon & Hall 2014: small centrifugal compressors up to 0.8; positive displacement 0.4 to 0.65"};
inline constexpr Figure corrected_flow{Quantity::mass_flow, "g/s", within(0, 10000), within(0, 2000),
                                       "common practice"};
inline constexpr Figure compressor_power{Quantity::power, "kW", within(0, 10000), within(0, 300),
                                         "common practice"};
inline constexpr Figure shaft_speed{Quantity::angular_speed, "rpm", within(0, 1000000), within(0, 400000),
                                    "common practice"};
inline constexpr Figure margin{Quantity::ratio, "", within(-1, 1000), within(-1, 10), "definition"};
inline constexpr Figure charge_temperature{Quantity::temperature, "°C", within(-100, 400), within(-40, 150),
                                           "a cooler of aluminium and hoses of rubber do not hold more"};
inline constexpr Figure coolant_temperature{Quantity::temperature, "°C", within(-100, 300), within(-40, 130),
                                            "common practice"};
inline constexpr Figure effectiveness{Quantity::share, "", within(-1, 1), within(0.2, 0.98),
                                      "no cooler cools below its coolant; common practice 0.5 to 0.9"};
inline constexpr Figure gas_temperature{Quantity::temperature, "°C", within(-100, 3000), within(200, 1150),
                                        "turbines of nickel alloys are made for up to 1050 °C"};
inline constexpr Figure turbine_gas_temperature{Quantity::temperature, "°C", within(-100, 3000),
                                                within(200, 1050),
                                                "turbines of nickel alloys are made for up to 1050 °C"};
inline constexpr Figure turbine_efficiency{Quantity::share, "", within(0.05, 1), within(0.3, 0.85),
                                           "common practice"};
inline constexpr Figure expansion_ratio{Quantity::ratio, "", within(1, 20), within(1, 4),
                                        "one radial stage of a turbocharger expands at most about 6 times, "
                                        "and is hardly measured above 4"};
inline constexpr Figure effective_area{Quantity::area, "cm²", over(0, 10000), within(0.5, 60),
                                       "common practice: 4 to 25 cm² on cars"};
inline constexpr Figure wastegate_area{Quantity::area, "cm²", within(0, 10000), within(0, 60),
                                       "common practice"};
inline constexpr Figure pulse_amplitude{Quantity::share, "", within(0, 1), within(0, 1), "definition"};
inline constexpr Figure pulse_factor{
    Quantity::ratio, "", within(0, 10), within(0.9, 2.5),
    "of a flow that swings by a, at most 1 + 1.5·a² where the turbine expands little"};
inline constexpr Figure nozzles{Quantity::count, "", within(1, 2), within(1, 2), "definition"};
inline constexpr Figure blade_speed_ratio{Quantity::ratio, "", within(0, 1000), within(0.2, 1.2),
                                          "Dixon & Hall 2014: 0.68 to 0.71 at the best efficiency"};
inline constexpr Figure wheel_diameter{Quantity::length, "mm", over(0, 10000), within(20, 200),
                                       "common practice: 30 to 100 mm on cars"};
inline constexpr Figure pipe_temperature{Quantity::temperature, "°C", within(-100, 1500), within(-40, 1100),
                                         "from the intake to the exhaust"};
inline constexpr Figure velocity{Quantity::speed, "m/s", within(0, 1500), within(0, 250),
                                 "gas in a plain pipe does not pass the speed of sound"};
inline constexpr Figure mach{Quantity::ratio, "", within(0, 1), within(0, 0.7),
                             "gas in a plain pipe does not pass the speed of sound"};
inline constexpr Figure pipe_diameter{Quantity::length, "mm", over(0, 10000), within(5, 300),
                                      "common practice"};
inline constexpr Figure pipe_length{Quantity::length, "m", within(0, 1000), within(0, 15), "common practice"};
inline constexpr Figure loss_coefficient{Quantity::ratio, "", within(0, 1000), within(0, 30),
                                         "common practice: 0.2 to 1.5 a bend"};
inline constexpr Figure roughness{Quantity::length, "mm", within(0, 10), within(0, 0.5),
                                  "Çengel & Boles 2015: 0.0015 drawn tube to 0.26 cast iron"};
inline constexpr Figure gas_pressure{Quantity::pressure, "kPa", within(1, 5000), within(40, 700),
                                     "common practice"};

// Injection.
inline constexpr Figure injector_flow{Quantity::volume_flow, "cc/min", over(0, 100000), within(50, 6000),
                                      "common practice"};
inline constexpr Figure injector_demand{Quantity::volume_flow, "cc/min", within(0, 100000), within(0, 6000),
                                        "common practice"};
inline constexpr Figure pump_flow{Quantity::volume_flow, "L/h", within(0, 100000), within(0, 3000),
                                  "common practice"};
inline constexpr Figure duty{Quantity::share, "", within(0, 100), within(0, 100),
                             "a duty above 1 is said to be out of reach"};
inline constexpr Figure pump_pressure{Quantity::pressure_difference, "bar", within(0, 1000), within(0, 500),
                                      "common practice"};
inline constexpr Figure injection_time{Quantity::time, "ms", within(0, 100000), within(0.2, 200),
                                       "common practice"};
inline constexpr Figure plunger_length{Quantity::length, "mm", within(0.1, 100), within(0.5, 30),
                                       "common practice"};
inline constexpr Figure injection_angle{Quantity::angle, "°", within(-180, 360), within(-180, 360),
                                        "the stroke of intake and the one of compression"};

// Cycle and knock.
inline constexpr Figure crank_angle{Quantity::angle, "°", within(-720, 720), within(-720, 720), "definition"};
inline constexpr Figure spark{Quantity::angle, "°", within(-90, 120), within(-45, 70), "common practice"};
inline constexpr Figure cylinder_pressure{Quantity::pressure, "bar", within(0.01, 2000), within(0.1, 250),
                                          "common practice"};
inline constexpr Figure peak_pressure{Quantity::pressure, "bar", within(0.1, 2000), within(5, 200),
                                      "common practice: 80 to 140 bar of charged spark-ignition engines"};
inline constexpr Figure cylinder_gas{Quantity::volume, "cc", over(0, 100000), within(1, 5000),
                                     "common practice"};
inline constexpr Figure flame_temperature{Quantity::temperature, "°C", within(-100, 4000), within(-50, 2900),
                                          "Heywood 1988: up to about 2800 K behind the flame"};
inline constexpr Figure cylinder_exhaust{Quantity::temperature, "°C", within(-100, 3000), within(200, 1300),
                                         "of the gas that leaves the cylinder; the turbine sees less"};
inline constexpr Figure burn_duration{Quantity::angle, "°", within(1, 360), within(20, 120),
                                      "Heywood 1988: 30 to 90 degrees"};
inline constexpr Figure knock_integral{Quantity::ratio, "", within(0, huge), within(0, huge),
                                       "1 is the onset of knock; above, the sentence on knock says so"};
inline constexpr Figure octane_offset{Quantity::number, "", within(-100, 100), within(-15, 15),
                                      "common practice"};
inline constexpr Figure octane_index_k{Quantity::number, "", within(-1.5, 1), within(-1, 0.6),
                                       "Kalghatgi, SAE 2001-01-3584; negative in charged engines"};
inline constexpr Figure wall_heat_factor{Quantity::ratio, "", within(0.5, 3), within(0.8, 2),
                                         "common practice"};
inline constexpr Figure exhaust_heat_transfer{Quantity::number, "", within(0, 40), within(3, 20),
                                              "pulsating flow in a pipe; nothing of an insulated port is 0"};
inline constexpr Figure probe_reads_low{Quantity::number, "", within(0, 150), within(0, 90),
                                        "common practice: the probe radiates to the walls"};
inline constexpr Figure efficiency_factor{Quantity::ratio, "", within(0.1, 5), within(0.7, 1.3),
                                          "a cycle without gas exchange misses a measured power by so much"};
inline constexpr Figure cycle_efficiency{Quantity::ratio, "", within(-100, 0.65), within(0.1, 0.45),
                                         "the best piston engines, large and slow, reach 0.55"};
inline constexpr Figure residual{Quantity::ratio, "", within(0, 1), within(0, 0.35), "common practice"};
inline constexpr Figure wall_heat{Quantity::ratio, "", within(-1, 1), within(0, 0.5),
                                  "Heywood 1988: 0.1 to 0.3 of the fuel's energy"};

// Road.
inline constexpr Figure run_time{Quantity::time, "s", within(0, 36000), within(0.2, 600), "common practice"};
inline constexpr Figure moment{Quantity::time, "s", within(-3600, 36000), within(-10, 600),
                               "common practice; before the clock starts it is negative"};
inline constexpr Figure distance{Quantity::length, "m", within(-10, 1e6), within(0, 30000),
                                 "common practice"};
inline constexpr Figure height{Quantity::length, "m", within(-12000, 12000), within(-500, 6000),
                               "roads end below 6000 m; the shore of the Dead Sea is at -430 m"};
inline constexpr Figure rollout{Quantity::length, "m", within(0, 1), within(0, 0.6),
                                "common practice: about 0.3 m"};
inline constexpr Figure road_speed{Quantity::speed, "km/h", within(0, 1300), within(0, 450),
                                   "the land speed record, by jets, is 1228 km/h"};
inline constexpr Figure acceleration{Quantity::acceleration, "m/s²", within(-200, 200), within(-15, 25),
                                     "common practice"};
inline constexpr Figure tyre_radius{Quantity::length, "m", within(0.05, 1.5), within(0.2, 0.5),
                                    "common practice"};

// Rows of blocks and parts.
inline constexpr Figure rod_length{Quantity::length, "mm", over(0, 2000), within(40, 500), "common practice"};
inline constexpr Figure gasoline_heating_value{Quantity::energy_per_mass, "MJ/kg", within(10, 130),
                                               within(41, 45), "Heywood 1988, fuel tables"};
inline constexpr Figure gasoline_latent_heat{Quantity::energy_per_mass, "kJ/kg", within(50, 1500),
                                             within(250, 450), "Heywood 1988, fuel tables"};
inline constexpr Figure sea_level_pressure{Quantity::pressure, "kPa", within(80, 115), within(94, 108.5),
                                           "records of weather: 87 and 108.4 kPa"};
inline constexpr Figure wind{Quantity::speed, "km/h", within(-400, 400), within(-60, 60), "common practice"};
inline constexpr Figure slope{Quantity::ratio, "", within(-1, 1), within(-0.2, 0.2), "common practice"};
inline constexpr Figure vehicle_mass{Quantity::mass, "kg", within(50, 50000), within(300, 4000),
                                     "common practice"};
inline constexpr Figure drag_area{Quantity::area, "m²", within(0, 20), within(0.3, 2), "common practice"};
inline constexpr Figure rolling_resistance{Quantity::ratio, "", within(0, 0.5), within(0.005, 0.03),
                                           "Gillespie 1992: 0.010 to 0.015 on a hard road"};
inline constexpr Figure front_share{Quantity::share, "", within(0, 1), within(0.3, 0.7), "common practice"};
inline constexpr Figure wheelbase{Quantity::length, "m", within(0.3, 20), within(1.6, 4), "common practice"};
inline constexpr Figure gravity_height{Quantity::length, "m", within(0, 5), within(0.2, 0.9),
                                       "common practice"};
inline constexpr Figure grip{Quantity::ratio, "", within(0, 10), within(0.3, 2.5),
                             "common practice: 0.8 to 1.2 a road tyre, above 2 a drag slick"};
inline constexpr Figure gear_ratio{Quantity::ratio, "", within(0.05, 50), within(0.4, 6), "common practice"};
inline constexpr Figure final_drive{Quantity::ratio, "", within(0.1, 50), within(1.5, 7), "common practice"};
inline constexpr Figure shift_time{Quantity::time, "s", within(0, 60), within(0, 1), "common practice"};
inline constexpr Figure driveline_efficiency{Quantity::share, "", over(0, 1), within(0.7, 0.98),
                                             "common practice"};
inline constexpr Figure engine_inertia{Quantity::inertia, "kg·m²", within(0, 100), within(0.02, 2),
                                       "common practice"};
inline constexpr Figure wheel_inertia{Quantity::inertia, "kg·m²", within(0, 200), within(0.2, 5),
                                      "common practice"};
inline constexpr Figure rise_time{Quantity::time, "s", within(0, 60), within(0, 4), "common practice"};
inline constexpr Figure dead_time{Quantity::time, "ms", within(0, 100), within(0, 3), "common practice"};
inline constexpr Figure cam_ratio{Quantity::ratio, "", within(0, 10), within(0.5, 1), "common practice"};
inline constexpr Figure part_torque{Quantity::torque, "N·m", over(0, 100000), within(50, 5000),
                                    "common practice"};
inline constexpr Figure shaft_inertia{Quantity::inertia, "kg·m²", over(0, 1), within(1e-6, 2e-3),
                                      "common practice: 1e-5 to 3e-4 on cars"};
inline constexpr Figure part_boost{Quantity::pressure_difference, "bar", within(0, 20), within(0, 4),
                                   "common practice"};
inline constexpr Figure part_mean_pressure{Quantity::pressure_difference, "bar", over(0, 200), within(5, 60),
                                           "common practice"};

}  // namespace figures
}  // namespace pullsheet::catalogue
