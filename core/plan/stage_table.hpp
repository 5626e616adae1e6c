// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/cycle/boost_limit.hpp"
#include "core/plan/limits.hpp"
#include "core/road/acceleration.hpp"

namespace pullsheet::plan {

/// What the shop measured on one stage and fuel, on its own rollers: the anchor of all that is predicted.
struct MeasuredMap {
    std::size_t stage = 0;              ///< index
    std::size_t fuel = 0;               ///< index
    double speed = 0.0;                 ///< rad/s
    double manifold_pressure = 0.0;     ///< Pa, absolute
    double manifold_temperature = 0.0;  ///< K
    double lambda = 0.85;               ///< ratio
    double spark_angle = 0.0;           ///< rad before top dead centre at which knock began
    double power = 0.0;                 ///< W at the crank
    double power_uncertainty = 0.03;    ///< relative standard uncertainty of that power
};

/// A fuel on offer.
struct OfferedFuel {
    fuel::Fuel fuel{};
    double lambda = 0.85;  ///< at full load
};

/// How far the inputs of a prediction are trusted: standard uncertainties. The defaults are common practice,
/// no source.
struct TableUncertainty {
    double efficiency = 0.02;   ///< relative, of the cycle's efficiency from point to point
    double octane = 1.5;        ///< octane numbers, of fuel and model together; counts where knock limits
    double part_rating = 0.03;  ///< relative, of what a part carries
    double assumed_peak_pressure = 0.1 / 1.2;      ///< relative, of a peak pressure that nobody stated
    double latest_half_burned = 1.5 * pi / 180.0;  ///< rad, of the latest burn on another fuel or stage
    double measured_power =
        0.03;  ///< relative, of the power calibrated to; without a calibration see `uncalibrated`
    double uncalibrated = 0.08;  ///< relative, of the cycle's power where nothing was measured
};

/// The latest half-burned angle over engine speed, that of the measured fuel and stage at the gas temperature
/// of the measured point: other fuels and stages run no later.
struct CalibratedBurn {
    std::vector<double> speeds;  ///< rad/s, rising
    std::vector<double> angles;  ///< rad after top dead centre
    /// Linear between the speeds, the end values held outside.
    double at(double speed) const;
};

/// What does not change from stage to stage.
struct TableBase {
    Engine engine{};             ///< for the chain; its efficiency serves only before the cycle has answered
    cycle::Cylinder cylinder{};  ///< for the cycle
    double full_boost_from =
        0.0;  ///< rad/s; below it the torque falls off in proportion to speed. 0: from 45 % of the redline
    double redline = 0.0;  ///< rad/s, above 0; at most what the cycle computes
    /// What the engine is asked to bear where a stage does not state it: assumptions.
    double latest_half_burned = 35.0 * pi / 180.0;  ///< rad after top dead centre
    double gas_temperature = 1323.15;               ///< K, as a probe before the turbine reads it
    double peak_pressure = 140e5;                   ///< Pa in the cylinder
    std::optional<CalibratedBurn> calibrated_burn{};
    std::optional<road::Vehicle> vehicle{};
    Weather weather{};
    road::Surroundings road_weather{};
    TableUncertainty uncertainty{};
};

/// What holds a stage back on a fuel where no part does.
enum class EngineBound { knock, exhaust_temperature, peak_pressure, assumed_peak_pressure };

/// What holds a stage back on a fuel.
struct Bite {
    std::optional<std::size_t> part{};  ///< index of the part that gives out first; none: `held`
    EngineBound held = EngineBound::knock;
    std::optional<Warning> data_end{};  ///< why it is not known beyond, where it does not give out there
};

/// A time with its interval.
struct Span {
    double value;
    double low;
    double high;
};

/// One stage on one fuel.
struct TableCell {
    double torque;                          ///< N·m, greatest
    double power;                           ///< W, greatest
    double power_speed;                     ///< rad/s
    double power_low;                       ///< W, two standard uncertainties below
    double power_high;                      ///< W, two above
    Bite bite;                              ///< at the speed of greatest power
    std::optional<Bite> missing{};          ///< a part whose data bound the power at any speed, and why
    double manifold_pressure;               ///< Pa there
    double spark_angle;                     ///< rad before top dead centre there
    double gas_temperature;                 ///< K there, as a probe before the turbine reads it
    double peak_pressure;                   ///< Pa there
    double half_burned_angle;               ///< rad after top dead centre there
    std::optional<Span> time_100_200;       ///< s, 100 to 200 km/h
    std::optional<Span> time_60_130;        ///< s, 60 to 130 mph
    std::optional<Span> time_quarter_mile;  ///< s, from rest
    std::vector<double> speeds;             ///< rad/s
    std::vector<double> torques;            ///< N·m, the curve predicted
    std::vector<Warning> warnings;
    std::optional<Warning> impossible{};  ///< why there is no such build; nothing else is then told
};

/// The model put on the measured map: octane offset and efficiency factor for the cycle.
cycle::Calibration calibrate_table(const TableBase& base, const MeasuredMap& measured,
                                   const OfferedFuel& fuel);

/// Puts the engine of `base` on the measured map: octane offset, efficiency factor and the sensitivity of the
/// fuel measured; the greatest peak pressure assumed is 1.2 times the measured point's, the gas temperature
/// assumed not below the measured point's, and the latest burn over engine speed is that of the measured
/// stage and fuel at the gas temperature of the measured point, at most 35°. Throws as calibrate_table and
/// stage_on_fuel do.
cycle::Calibration calibrate(TableBase& base, const MeasuredMap& measured, const Parts& parts,
                             const OfferedFuel& fuel);

/// Predicts one stage on one fuel. At each of five speeds the hardware's limit (plan::limits, with all parts
/// in place) and the limit of the two-zone cycle at one speed (cycle::boost_limit: knock, gas temperature,
/// peak pressure, latest burn, at the charge temperature the chain gives) are found together; the smaller
/// holds. The brake efficiency comes from the cycle, which burns the dry air of the manifold; that water
/// vapour slows knock a little is left out. Times by road::speed_run and road::distance_run; none without a
/// vehicle, or where the car does not reach the speed. Low and high: two standard uncertainties by
/// first-order propagation of `base.uncertainty` (JCGM 100:2008), for the times by running the scaled curve.
/// `calibrated`: the cylinder carries a calibration to a measured power. Where the parts carry so little that
/// the engine does not turn by itself, the power at that speed is 0. At each speed, and for the uncertainty
/// twice at one of them, at most 90 rounds: the parts or the chain and a knock limit of the cycle. Throws
/// NoSolution(charge_too_hot or charge_too_cold), NoSolution(no_charge_agreement) where the rounds do not
/// suffice, NoSolution(no_power) where there is none at any speed, NoSolution(efficiency_beyond_engines);
/// InvalidArgument and NoSolution as the functions named do.
TableCell stage_on_fuel(const TableBase& base, const Parts& parts, const OfferedFuel& fuel, bool calibrated);

/// Every stage on every fuel, stage by stage. The cells do not depend on one another and are computed side by
/// side on the machine's cores. Where one has no solution, that cell says so; of other errors the first in
/// the order of the cells is thrown.
std::vector<TableCell> stage_table(const TableBase& base, std::span<const Parts> stages,
                                   std::span<const OfferedFuel> fuels, bool calibrated);

}  // namespace pullsheet::plan
