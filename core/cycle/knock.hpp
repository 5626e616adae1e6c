// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "core/cycle/cycle.hpp"

/// Where knock limits spark and boost, by the two-zone cycle. A computed limit is a plan: on the rollers the
/// knock sensor, exhaust temperature and lambda decide.
namespace pullsheet::cycle {

/// The cycles of one engine on one fuel, as the searches below ask for them. It refers to its arguments. What
/// derives from it can count the cycles or put others in their place.
class Cycles {
  public:
    Cycles(const Cylinder& cylinder, const fuel::Fuel& fuel) : cylinder_(cylinder), fuel_(fuel) {}
    virtual ~Cycles() = default;
    Cycles(const Cycles&) = delete;
    Cycles& operator=(const Cycles&) = delete;

    virtual CycleResult run(const CyclePoint& point) const { return cycle::run(cylinder_, point, fuel_); }
    virtual double knock_integral(const CyclePoint& point) const {
        return cycle::knock_integral(cylinder_, point, fuel_);
    }
    /// The spark, rad before top dead centre, that puts the half-burned angle at `angle`, rad after it; not
    /// always a possible one.
    double spark_for_half_burned(CyclePoint point, double angle) const;
    /// The point with that spark, or the earliest or latest that is possible.
    CyclePoint with_half_burned(const CyclePoint& point, double angle) const;
    double gas_temperature_reading(const CycleResult& result) const {
        return cycle::gas_temperature_reading(cylinder_, result);
    }
    double octane(const CyclePoint& point) const { return cycle::octane(cylinder_, point, fuel_); }

  private:
    const Cylinder& cylinder_;
    const fuel::Fuel& fuel_;
};

/// What holds the spark back.
enum class SparkLimited { best_torque, knock, peak_pressure };

struct SparkLimit {
    double spark_angle;  ///< rad before top dead centre; negative after it
    SparkLimited limited_by;
    CycleResult result;  ///< the cycle at that spark
};

/// The spark of best brake torque, rad before top dead centre. `point.spark_angle` is not used. Half-burned
/// angles from 5° before to 42° after top dead centre are searched (Brent's method) as far as a spark is
/// possible for them; best is near 8–10° after (Heywood 1988, sections 9.3 and 15.3), near 37° where a
/// throttled, slow burn loses half its heat to the walls. The torque there falls short of the best by less
/// than 1e-5 of the gross torque. At most 18 cycles; throws NoSolution(no_best_torque) if they do not
/// suffice.
double best_torque_spark(const Cycles& cycles, const CyclePoint& point);
double best_torque_spark(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel);

/// The earliest spark that neither knocks nor is earlier than best torque. `point.spark_angle` is not used.
/// Knock: the integral reaches 1. Half-burned angles up to 60° after top dead centre are searched; throws
/// NoSolution(knocks_at_any_spark) if it knocks even there. Where the peak pressure then passes
/// `highest_peak_pressure`, Pa, the spark is as much later; a latest burn that passes it is not refused. At
/// most 63 cycles, five to fifteen as a rule; 40 more where the peak pressure is the limit.
SparkLimit spark_limit(const Cycles& cycles, const CyclePoint& point,
                       double highest_peak_pressure = std::numeric_limits<double>::infinity());
SparkLimit spark_limit(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                       double highest_peak_pressure = std::numeric_limits<double>::infinity());

/// The model put on one measured point.
struct Calibration {
    double octane_offset;      ///< for Cylinder::octane_offset
    double octane;             ///< the octane number the delay then works with
    double efficiency_factor;  ///< for Cylinder::efficiency_factor; the engine's own if no power was given
    CycleResult result;        ///< the cycle at the measured point with both
    std::vector<Warning> warnings;
};

/// Calibrates to a measured point, `point.spark_angle` being the measured knock-limited spark: the octane
/// offset with which the knock integral there is 1 (closed form, since the delay goes with a power of the
/// octane number), and, if a measured brake `power`, W, is given, the efficiency factor. The engine's own
/// offset is ignored. Warns if the measured spark is earlier than best torque by more than 2°: then it was
/// hardly knock that limited it. Throws NoSolution(octane_offset_out_of_reach) if an offset beyond ±60 were
/// needed, NoSolution(efficiency_factor_out_of_reach) if a factor beyond 0.2 … 2 were. At most 21 cycles;
/// three where the spark is not compared with that of best torque.
Calibration calibrate(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                      std::optional<double> power = std::nullopt, bool compares_best_torque = true);

}  // namespace pullsheet::cycle
