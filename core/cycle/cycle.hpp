// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "core/constants.hpp"
#include "core/cycle/autoignition.hpp"
#include "core/cycle/friction.hpp"
#include "core/cycle/port.hpp"
#include "core/cycle/trace_point.hpp"
#include "core/engine/slider_crank.hpp"
#include "core/engine/volumetric_efficiency.hpp"
#include "core/error.hpp"
#include "core/fuel/fuel.hpp"

/// A crank-angle-resolved two-zone cycle of one cylinder of a four-stroke spark-ignition engine.
///
/// What it is: from intake valve closing to exhaust valve opening, a zone of unburned gas (air, fuel vapour,
/// residual gas) and one of burned gas in chemical equilibrium, Wiebe burn, Woschni heat transfer, the
/// Livengood–Wu integral in the unburned zone. What it is not: gas exchange is a filling by volumetric
/// efficiency and a back pressure, not a computation of valve flow and waves; knock is an empirical delay;
/// the burn does not feel pressure or turbulence but by the stated rule. It plans and cross-checks. It is no
/// substitute for knock detection, exhaust temperature and lambda measurement on the rollers, and it does not
/// calibrate an engine.
namespace pullsheet::cycle {

/// Shares of the latent heat that the charge gives. Direct injection cools gasoline by 14 K, about 70 % of
/// what evaporation could (SAE 2012-01-1275); most of what wets ports and valves takes its heat from them: an
/// assumption of this model.
namespace evaporated {
inline constexpr double direct_injection = 0.70;
inline constexpr double port_injection = 0.30;
}  // namespace evaporated

/// RON − MON of gasoline where nothing is said. Common practice.
inline constexpr double usual_sensitivity = 10.0;

/// A cylinder as the cycle needs it, and how many of them the engine has. All angles in rad. Defaults without
/// a source are assumptions of this model, set to what is common practice on turbocharged petrol engines.
struct Cylinder {
    engine::SliderCrank crank{};  ///< of one cylinder
    int cylinders = 4;            ///< 1 … 24
    /// Fresh air over displacement at manifold density, 0.2 … 1.5 at the speed of the point, where exhaust
    /// pressure equals manifold pressure: see filling_factor.
    engine::VolumetricEfficiency volumetric_efficiency = 1.0;
    double burn_duration = 55.0 * pi / 180.0;  ///< Wiebe's, at the burn reference below; 10° … 150°
    double burn_speed = 3000.0 * pi / 30.0;    ///< angular speed burn_duration belongs to, rad/s
    double burn_lambda = 0.85;                 ///< lambda burn_duration belongs to
    double coolant_temperature = 363.15;       ///< K
    double wall_over_coolant = 90.0;  ///< the gas side of the walls is hotter than coolant by this, K
    double intake_heating = 10.0;     ///< ports and walls warm the fresh charge by this, K, with coolant at
                                      ///< 90 °C; a fifth of a kelvin more for each kelvin of coolant
    /// Share of the latent heat that the charge gives, the walls the rest: see evaporated.
    double evaporated = evaporated::direct_injection;
    double wall_heat_factor = 1.3;                     ///< on Woschni's coefficient; see heat_transfer.hpp
    double intake_valve_closing = 40.0 * pi / 180.0;   ///< after bottom dead centre, 0 … 100°
    double exhaust_valve_opening = 50.0 * pi / 180.0;  ///< before bottom dead centre, 0 … 90°
    double back_pressure_loss = 5e3;                   ///< exhaust pressure over ambient without boost, Pa
    double back_pressure_per_boost = 1.3;              ///< exhaust pressure over ambient for each Pa of boost
    double exhaust_heat_transfer = port::usual_conductance;  ///< of a port at 0.1 kg/s of gas, W/K
    double probe_reads_low_by = 40.0;  ///< K; what a thermocouple before the turbine reads below the gas
    double octane_offset = 0.0;        ///< added to the fuel's research octane number; from KNOCK calibration
    double octane_index_k = 0.0;       ///< K of the octane index; see octane()
    double calibration_sensitivity = usual_sensitivity;  ///< RON − MON of the fuel the offset was found with
    double efficiency_factor = 1.0;  ///< on the gross indicated work; from calibration to a measured power
    KnockDelay knock_delay{};
    ChenFlynn friction{};
};

/// Where the engine runs.
struct CyclePoint {
    double angular_speed = 0.0;          ///< of the crank, rad/s
    double manifold_pressure = 0.0;      ///< Pa, absolute
    double manifold_temperature = 0.0;   ///< K
    double lambda = 0.85;                ///< excess air
    double spark_angle = 0.0;            ///< start of the burn before top dead centre, rad
    double ambient_pressure = 101325.0;  ///< Pa
    std::optional<double>
        exhaust_pressure{};  ///< Pa, absolute; if not given, by the engine's back pressure rule
};

/// What is possible, and refused otherwise.
namespace possible {
inline constexpr Interval angular_speed{200.0 * pi / 30.0, 20000.0 * pi / 30.0};  ///< rad/s
inline constexpr Interval manifold_pressure{15e3, 1000e3};                        ///< Pa
inline constexpr Interval manifold_temperature{223.15, 473.15};                   ///< K
inline constexpr Interval lambda{0.6, 1.5};  ///< the flame speed rule and the gas hold here
inline constexpr Interval spark_angle{-45.0 * pi / 180.0, 80.0 * pi / 180.0};  ///< rad before top dead centre
inline constexpr Interval compression_ratio{5.0, 20.0};
inline constexpr Interval efficiency_factor{0.2, 2.0};
inline constexpr Interval wall_heat_factor{0.5, 3.0};
inline constexpr Interval exhaust_heat_transfer{0.0, 40.0};  ///< W/K
inline constexpr Interval probe_reads_low_by{0.0, 150.0};    ///< K
inline constexpr Interval octane_index_k{-1.5, 1.0};
inline constexpr Interval burn_duration{10.0 * pi / 180.0, 150.0 * pi / 180.0};  ///< rad, at its reference
}  // namespace possible

/// What one cycle gives. Mean pressures are work over displacement, Pa.
struct CycleResult {
    double gross_mean_pressure;      ///< compression and expansion, efficiency factor applied
    double pumping_mean_pressure;    ///< lost: exhaust pressure − manifold pressure
    double friction_mean_pressure;   ///< lost
    double indicated_mean_pressure;  ///< gross − pumping
    double brake_mean_pressure;      ///< indicated − friction
    double torque;                   ///< of the engine, N·m
    double power;                    ///< of the engine, W
    double peak_pressure;            ///< Pa
    double peak_pressure_angle;      ///< rad after top dead centre
    double half_burned_angle;        ///< rad after top dead centre
    double burn_duration;            ///< Wiebe's, rad
    double exhaust_temperature;      ///< K, mean of what flows out of the cylinder, before the port
    double gas_temperature;     ///< K, before the turbine: the mean by enthalpy, behind port and manifold
    double knock_integral;      ///< 1 = knock begins; see knock_integral()
    double octane;              ///< the octane number the delay was computed with
    double efficiency;          ///< brake power over fuel flow × lower heating value
    double air_flow;            ///< of the engine, kg/s
    double fuel_flow;           ///< of the engine, kg/s
    double residual_share;      ///< by mass, 0…1
    double charge_temperature;  ///< when the intake valve closes, K
    double charge_pressure;     ///< when the intake valve closes, Pa
    double exhaust_pressure;    ///< Pa
    double wall_heat;  ///< to the walls while the valves are closed, over fuel mass × lower heating value
    std::vector<Warning> warnings;
};

/// Angle of one step of the integrator during the burn, rad; elsewhere it takes twice that. A short burn has
/// at least twelve steps all the same. Against steps of 0.1° the work errs by 1e-6 to 2e-5, the knock
/// integral by up to 1e-4 and the peak pressure by up to 1e-3, by 4e-3 in the corners of what is possible;
/// the error falls with the fourth power.
inline constexpr double usual_step = 4.0 * pi / 180.0;

/// Computes one cycle. Throws InvalidArgument for what is not possible, NoSolution(too_much_residual_gas)
/// from a residual share of 0.35 on, NoSolution(no_cylinder_state) if the gas equations have no solution at
/// some angle or for the exhaust. Warnings: knock; octane number outside the range of the delay correlation.
/// `step`: see usual_step; 0.05° … 5°. The grid of angles is fixed by it; at each angle Newton's method takes
/// at most 61 steps, and for the temperature of the exhaust 50.
CycleResult run(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                double step = usual_step);

/// The knock integral alone, the same as run() gives: the greatest of this spark and of all later ones, so
/// that more advance never clears knock (Heywood 1988, section 9.6.1). Only where the half-burned angle is
/// earlier than 8° after top dead centre (40° with a burn shorter than 20°) can a later spark give more: then
/// a second cycle tells, and where it does, at most 60 more find the maximum. Each cycle is left where knock
/// ends, after some half of the work.
double knock_integral(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel);

/// What run() warns of for this knock integral and the octane number of the delay.
std::vector<Warning> knock_warnings(double knock_integral, double octane);

/// The cycle angle by angle, from the intake valve's closing to the exhaust valve's opening.
/// Every `step`, 0.05° … 5° in rad; the start of the burn and the end of knock are points of the grid as
/// well.
std::vector<TracePoint> trace(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                              double step = 0.25 * pi / 180.0);

/// Exhaust pressure, Pa, by the engine's back pressure rule.
double exhaust_pressure(const Cylinder& cylinder, const CyclePoint& point);

/// What a thermocouple before the turbine reads, K, of a cycle.
double gas_temperature_reading(const Cylinder& cylinder, const CycleResult& result);

/// The octane index of a fuel in the engine, before its offset: RON − K (S − S_cal).
double octane_index(const Cylinder& cylinder, const fuel::Fuel& fuel);

/// The octane number of the delay: (RON + offset − K (S − S_cal)) (1 + 0.3 x_r). S is RON − MON of the blend
/// and K the weight of the octane index RON − K S (Kalghatgi, SAE 2001-01-3584); the offset was found with a
/// fuel of S_cal. x_r, the share of residual gas by mass, slows autoignition: ten points of it are worth 3 %
/// of the octane number at 14 to 18 bar (SAE 2012-01-0707).
double octane(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel);

/// The spark angle, rad before top dead centre, that puts the half-burned angle at `half_burned_angle`, rad
/// after it; it need not be a possible one. Throws as run() does before it computes.
double spark_for_half_burned(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                             double half_burned_angle);

/// The efficiency factor, above 0, with which the cycle gives the measured brake `power`, W, of the engine.
/// Closed form; the engine's own factor is ignored. Throws NoSolution(no_indicated_work) if the cycle gives
/// no work.
double efficiency_factor(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                         double power);

}  // namespace pullsheet::cycle
