// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/road/torque_curve.hpp"
#include "core/road/vehicle.hpp"

// Model of a run
//
// Equation of motion, clutch closed (Gillespie, Fundamentals of Vehicle Dynamics, 1992, eq. 2-9):
//     (m + (4 I_wheel + I_engine i²)/r²) dv/dt = η i T(ω)/r − road load,   ω = i v/r.
// Where this exceeds the limit of grip, the driven tyres pass traction_limit() to the road, and only the mass
// and the wheels that are not driven are accelerated by it.
//
// Launch from rest, first gear: the clutch slips and holds the engine at the launch speed (at the first point
// of the curve if that is higher) until the wheels have caught up. The clutch slips likewise wherever a gear
// would pull the engine below the first point of the curve: the curve is not extrapolated.
//
// Gears: a rolling start is tried in every gear that keeps the engine within the curve (in another only if
// none of them reaches the goal). Upshifts come at the speed from which the next gear accelerates harder up
// to the rev limit, at the latest at the rev limit, and where a gear does not accelerate any more while the
// next one does. At each upshift the gear may also be held to the end, for a run over a distance at its rev
// limit if need be. The quickest of all these runs is the result. During a shift the engine is decoupled and
// the share torque_in_shift of the new gear's force remains.
//
// Rise of torque: when the throttle opens (launch, rolling start, end of a shift) the torque approaches the
// curve as 1 − exp(−t/τ), τ = rise time / ln 9: the step response of a first-order lag, whose rise from 10 %
// to 90 % is the rise time (IEC 60050-351). After a shift it starts from torque_in_shift.

namespace pullsheet::road {

/// What limits the acceleration at a moment.
enum class Limit {
    engine,  ///< the torque of the engine
    grip,    ///< the driven tyres
    clutch,  ///< the engine's torque at the speed at which the slipping clutch holds it
    shift,   ///< a shift in progress
};

/// How a run is integrated and timed.
struct RunOptions {
    double from = 0.0;  ///< speed at the start, m/s; 0: from rest. Ignored where `from` is an argument.
    /// m that the car rolls before the clock starts, from rest only, 0 … 1; none: that of the vehicle, from
    /// rest.
    std::optional<double> rollout;
    double tolerance = 1e-10;               ///< relative tolerance of a step, 1e-12 … 1e-4
    std::optional<std::size_t> first_gear;  ///< gear at the start instead of the quickest
};

/// An upshift in a run.
struct Shift {
    std::size_t gear;     ///< gear that was left
    double time;          ///< s, when the clutch opens
    double speed;         ///< m/s
    double engine_speed;  ///< rad/s
};

/// A run up to a speed.
struct SpeedRun {
    double time;      ///< s
    double distance;  ///< m
    std::size_t first_gear;
    std::vector<Shift> shifts;
};

/// A point on the strip.
struct Mark {
    double distance;  ///< m
    double time;      ///< s
    double speed;     ///< m/s
};

/// A run over a distance.
struct DistanceRun {
    double time;         ///< s
    double final_speed;  ///< m/s at the end
    double trap_speed;   ///< m/s, mean over the last 66 ft (20.1168 m), as a drag strip measures it; over the
                         ///< whole run if that is shorter
    std::vector<Mark> marks;  ///< those of 60 ft, 330 ft, 1/8 mile, 1000 ft, 1/4 mile, 1/2 mile and 1 mile
                              ///< that the run passes, ascending
    std::size_t first_gear;
    std::vector<Shift> shifts;
};

/// A moment of a run.
struct TraceRow {
    double time;          ///< s
    double speed;         ///< m/s
    double distance;      ///< m
    std::size_t gear;     ///< during a shift the gear that will be engaged
    double engine_speed;  ///< rad/s; during a shift the speed it must reach in the new gear
    double acceleration;  ///< m/s²
    Limit limit;
};

/// An upshift at full throttle on the level in still air.
struct ShiftSpeed {
    std::size_t gear;           ///< gear that is left
    double engine_speed;        ///< rad/s at which to shift
    double speed;               ///< m/s
    double engine_speed_after;  ///< rad/s in the next gear at the same road speed
    bool at_rev_limit;          ///< the gear pulls harder than the next one up to the rev limit
};

/// Time from one speed to another, `from` < `to`, m/s, `from` 0 or more (0: from rest). Throws
/// InvalidArgument for bad figures (`launch_speed` and `rev_limit` outside the curve included); NoSolution
/// speed_beyond_gearing, speed_not_reached, car_does_not_move. Source: see the head of this file. Results do
/// not depend on the tolerance to 1e-6. A run takes at most 200 000 steps, then it throws
/// NoSolution(integration_failed). Each gear to start in gives one run and, from each of its upshifts, the
/// rest of another: at most gears × (gears + 1)/2 in all. If none reaches the goal, the error is that of the
/// run with the highest speed.
SpeedRun speed_run(const Vehicle& vehicle, const TorqueCurve& curve, double from, double to,
                   const Surroundings& surroundings = {}, const RunOptions& options = {});

/// Time over a distance, m, above 0, at most 100 km, from rest or from options.from. Errors as speed_run.
DistanceRun distance_run(const Vehicle& vehicle, const TorqueCurve& curve, double distance,
                         const Surroundings& surroundings = {}, const RunOptions& options = {});

/// The trace of the run from rest (or options.from) to a speed: a row at the start, every `time_step`
/// seconds (0.001 … 60), at the beginning and end of each shift, and at the end. Errors as speed_run, and
/// InvalidArgument("time_step", Reason::too_many_rows) for more than 100 000 rows.
std::vector<TraceRow> trace(const Vehicle& vehicle, const TorqueCurve& curve, double until_speed,
                            const Surroundings& surroundings = {}, double time_step = 0.1,
                            const RunOptions& options = {});

/// The engine speed for each upshift: where the next gear accelerates the car harder, at the latest the rev
/// limit.
std::vector<ShiftSpeed> shift_speeds(const Vehicle& vehicle, const TorqueCurve& curve,
                                     const Surroundings& surroundings = {});

}  // namespace pullsheet::road
