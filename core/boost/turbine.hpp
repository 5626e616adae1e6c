// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "core/boost/compressor.hpp"
#include "core/boost/turbine_map.hpp"
#include "core/error.hpp"

/// The turbine of a turbocharger: flow, power and wastegate. Station 3 lies before the turbine (total
/// pressure and temperature), station 4 after it (static pressure). Efficiencies are total to static and
/// include the bearings, as gas stands measure them: no mechanical efficiency is multiplied again.
namespace pullsheet::boost {

/// Exhaust gas before a turbine: κ = 1.34, 1150 J/(kg·K). Usual values for burned gas near 1100 K, cf.
/// Heywood, Internal Combustion Engine Fundamentals, ch. 4 and 6. Its gas constant is c_p·(κ − 1)/κ.
inline constexpr Gas exhaust_gas{1.34, 1150.0};

/// Gas constant of a gas, J/(kg·K): c_p·(κ − 1)/κ.
constexpr double gas_constant(Gas gas) {
    return gas.heat_capacity * (gas.heat_capacity_ratio - 1.0) / gas.heat_capacity_ratio;
}

/// Two equal nozzles in series stand for a turbine, one for stator and one for rotor: a single nozzle chokes
/// far too early. Watson & Janota, Turbocharging the Internal Combustion Engine, 1982. One nozzle is a bare
/// orifice, such as a wastegate.
inline constexpr double turbine_nozzles = 2.0;

/// Expansion ratio above which the warning expansion_ratio_high is given: radial turbines of one
/// stage are hardly measured there. Common practice.
inline constexpr double usual_highest_expansion_ratio = 4.0;

/// Efficiency of turbine and bearings, share, and optimum blade speed ratio where nothing better is known.
inline constexpr double usual_turbine_efficiency = 0.70;
inline constexpr double usual_optimum_blade_speed_ratio = 0.68;
/// An efficiency by blade speed ratio does not fall below this share.
inline constexpr double lowest_turbine_efficiency = 0.15;

/// Pressure ratio at which one nozzle chokes: ((κ + 1)/2)^(κ/(κ − 1)). Heywood, appendix C.
double critical_pressure_ratio(Gas gas);

/// Flow function of one nozzle: ṁ·√(R·T)/(A·p) at a `pressure_ratio` (inlet divided by outlet, >= 1):
/// √(2κ/(κ − 1)·(y^(−2/κ) − y^(−(κ+1)/κ))), constant beyond the critical ratio. Throws InvalidArgument.
/// Heywood, appendix C.
double flow_function(double pressure_ratio, Gas gas);

/// Mass flow through a turbine, kg/s: A·p₃/√(R·T₃)·ψ(ε^(1/n)), ε = p₃/p₄, n `nozzles` in series (1 or 2).
/// `gas_temperature` K > 0, `inlet_pressure` Pa >= `outlet_pressure` Pa > 0, `effective_area` m² > 0. Throws
/// InvalidArgument. Nozzle: Heywood, appendix C; nozzles in series: Watson & Janota.
double turbine_flow(double gas_temperature, double inlet_pressure, double outlet_pressure,
                    double effective_area, double nozzles = turbine_nozzles, Gas gas = exhaust_gas);

/// The effective area, m², through which `gas_flow` kg/s > 0 flows: from one point of the maker's flow curve,
/// or from a logged pressure before the turbine. `inlet_pressure` > `outlet_pressure`. The rest as for
/// turbine_flow.
double turbine_area(double gas_flow, double gas_temperature, double inlet_pressure, double outlet_pressure,
                    double nozzles = turbine_nozzles, Gas gas = exhaust_gas);

/// Pressure before the turbine, Pa, at which `gas_flow` kg/s >= 0 flows through it. With a pulse amplitude
/// a, 0 … 1, the mean of the pressure over the period of a flow ṁ·(1 + a·sin φ): see turbine_pulses. Closed
/// form where choked, else Newton's method, at most 50 steps, about five as a rule.
double turbine_inlet_pressure(double gas_flow, double gas_temperature, double outlet_pressure,
                              double effective_area, double pulse_amplitude = 0.0,
                              double nozzles = turbine_nozzles, Gas gas = exhaust_gas);

/// Power that the turbine hands to the shaft, W: ṁ·c_p·T₃·η·(1 − ε^(−(κ−1)/κ)). `gas_flow` kg/s > 0 (air and
/// fuel), `gas_temperature` K > 0 before the turbine, `pressure_ratio` >= 1 (inlet divided by outlet),
/// `efficiency` share above 0 to 1 of turbine and bearings together. Throws InvalidArgument. Source: Heywood,
/// ch. 6 (turbocharging); Watson & Janota.
double turbine_power(double gas_flow, double gas_temperature, double pressure_ratio, double efficiency,
                     Gas gas = exhaust_gas);

/// Expansion ratio (inlet divided by outlet pressure) at which the turbine drives a compressor that takes up
/// `compressor_power` W >= 0. The inverse of turbine_power. Throws NoSolution with
/// Reason::turbine_power_out_of_reach (details: wanted W, W in the limit of a vacuum after the turbine)
/// where the gas does not carry that power.
double turbine_pressure_ratio(double gas_flow, double gas_temperature, double compressor_power,
                              double efficiency, Gas gas = exhaust_gas);

/// Blade speed ratio ν: tip speed of the wheel divided by the velocity that the gas would have after an
/// expansion without losses, (D/2)·ω/√(2·c_p·T₃·(1 − ε^(−(κ−1)/κ))). `diameter` of the wheel m > 0,
/// `shaft_speed` rad/s >= 0, `pressure_ratio` > 1. Throws InvalidArgument. Dixon & Hall 2014, ch. 8.
double blade_speed_ratio(double diameter, double shaft_speed, double gas_temperature, double pressure_ratio,
                         Gas gas = exhaust_gas);

/// Efficiency (share) at a blade speed ratio ν >= 0: η_peak·(1 − ((ν − ν₀)/ν₀)²), not below
/// lowest_turbine_efficiency or the peak, whichever is smaller. `peak_efficiency` share above 0 to 1,
/// `optimum_blade_speed_ratio` ν₀ above 0 to 2. Throws InvalidArgument. Dixon & Hall 2014, ch. 8; form of
/// Wahlström & Eriksson 2011.
double turbine_efficiency(double blade_speed_ratio, double peak_efficiency = usual_turbine_efficiency,
                          double optimum_blade_speed_ratio = usual_optimum_blade_speed_ratio);

/// The warning expansion_ratio_high (detail: ratio), where it applies.
std::vector<Warning> expansion_warnings(double pressure_ratio);

/// Gas that flows towards a turbine.
struct GasStream {
    double flow;         ///< kg/s, air and fuel, >= 0
    double temperature;  ///< K, before the turbine, > 0
    Gas gas = exhaust_gas;
};

/// A turbine with its wastegate, or equal ones in parallel.
struct Turbine {
    double effective_area;                         ///< m², of one, > 0
    double efficiency = usual_turbine_efficiency;  ///< share, with bearings; the peak if there is a
                                                   ///< wheel diameter
    double pulse_amplitude = 0.0;                  ///< of the flow, 0 … 1; see turbine_pulses
    std::optional<double> wastegate_area{};        ///< m², of one, fully open; none: any that is needed
    std::optional<double> wheel_diameter{};        ///< m; without it the efficiency is constant
    double optimum_blade_speed_ratio = usual_optimum_blade_speed_ratio;
    std::optional<double> inertia{};       ///< kg·m², of one shaft with both wheels
    std::optional<double> largest_area{};  ///< m²; variable geometry, >= effective_area
    double count = 1.0;
    std::optional<double> max_gas_temperature{};  ///< K, before the turbine
    double nozzles = turbine_nozzles;             ///< in series, 1 or 2
    /// What one turbine at its effective area passes, in place of the nozzles; where the map tells the
    /// efficiency, that one. At another area the flow of the map goes with the area.
    std::optional<TurbineMap> map{};

    bool operator==(const Turbine&) const = default;
};

/// Checks every number of a turbine; throws InvalidArgument.
void require_turbine(const Turbine& turbine);

/// The state of a turbine in a stream.
struct Expansion {
    double turbine_flow;           ///< kg/s, mean, through all turbines
    double inlet_pressure;         ///< Pa, mean
    double outlet_pressure;        ///< Pa
    double power;                  ///< W, mean, to all shafts
    double pulse_factor = 1.0;     ///< mean power divided by the power of the same flow without pulses
    double wastegate_share = 0.0;  ///< of the flow
    double wastegate_area = 0.0;   ///< m², of all wastegates, as far as they are open
    double area = 0.0;             ///< m², of all turbines, as far as they are open
    double pressure_ratio() const { return inlet_pressure / outlet_pressure; }
};

/// All of `stream` through the turbines, at the smallest area and with the wastegate shut: the greatest power
/// there is. `shaft_speed` rad/s > 0 counts where the turbine has a wheel diameter; otherwise leave it out.
///
/// Pulses: the flow is ṁ·(1 + a·sin φ), the equations hold at each moment, and power and inlet pressure are
/// means over the period (64 mid-points). The idea is that of Watson & Janota; a is an assumption.
Expansion expand(const Turbine& turbine, const GasStream& stream, double outlet_pressure,
                 std::optional<double> shaft_speed = {});

/// The turbines driving a compressor that takes up `power` W > 0, with the wastegate as far open as that
/// takes; with a variable geometry the area opens first. Wastegate: one nozzle at the same p₃, T₃ and p₄. It
/// may take more wastegate area than there is: compare wastegate_area. Throws
/// NoSolution(turbine_power_out_of_reach) (details: wanted, power with the wastegate shut). At most 102
/// evaluations of the equations of `expand`.
Expansion drive(const Turbine& turbine, const GasStream& stream, double outlet_pressure, double power,
                std::optional<double> shaft_speed = {});

/// The turbines at their largest area with `wastegate_area` m² (>= 0, of all wastegates) open: the least
/// power there is. At most 102 evaluations of the equations of `expand`.
Expansion expand_open(const Turbine& turbine, const GasStream& stream, double outlet_pressure,
                      double wastegate_area, std::optional<double> shaft_speed = {});

/// Effective area, m², of one turbine, with which `power` W > 0 is had with the wastegate shut, `turbine`
/// giving all but its area. Throws NoSolution(turbine_power_out_of_reach) where even the smallest area looked
/// at (0.01 cm²) does not give it.
double area_that_drives(const Turbine& turbine, const GasStream& stream, double outlet_pressure, double power,
                        std::optional<double> shaft_speed = {});

}  // namespace pullsheet::boost
