// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/road/torque_curve.hpp"
#include "core/road/vehicle.hpp"

// How a run is reckoned
//
// In a gear with the clutch closed the car gains speed by
//     (m + (4 I_wheel + I_engine i²)/r²) dv/dt = η i T(ω)/r - road load,   ω = i v/r
// (Gillespie, Fundamentals of Vehicle Dynamics, 1992, eq. 2-9), but no faster than grip allows: at the limit
// the driven tyres pass traction_limit() to the road, and only the mass and the wheels that are not driven
// need it.
//
// From rest, first gear: the clutch slips and the engine is held at the launch speed (at the first point of
// the curve if that lies higher) until the wheels have caught up. The same holds at the first point of the
// curve whenever a gear would pull the engine below it: torque is never guessed below the first point nor
// above the last.
//
// The driver wants the best time. A run from a speed starts in the quickest of the gears that keep the engine
// within the curve (in another only if none of them gets there). Upshifts come where the next gear pulls
// harder up to the rev limit, at the latest at the rev limit, and where a gear gains nothing more while the
// next one does. At each shift the driver may stay in the gear to the end instead, over a distance at its rev
// limit if need be; the quickest of these ways is the run. During a shift the engine's inertia is not coupled
// and the share torque_in_shift of the new gear's force remains.
//
// Rise of torque: when the throttle opens (end of a launch's standstill, start of a roll-on, end of a shift)
// the torque approaches the curve as 1 - exp(-t/τ), τ = rise time / ln 9: the step response of a first-order
// lag, whose rise from 10 % to 90 % is the rise time (IEC 60050-351). After a shift it starts from
// torque_in_shift.

namespace pullsheet::road {

/// What holds the car back at a moment.
enum class Limit {
    engine,  ///< the torque of the engine
    grip,    ///< the driven tyres
    clutch,  ///< the engine's torque at the speed at which the slipping clutch holds it
    shift,   ///< a shift is under way
};

/// What the search for the quickest way has cost.
struct RunWork {
    std::size_t runs = 0;  ///< those from a shift on included
};

/// How a run is integrated and timed.
struct RunOptions {
    double from = 0.0;  ///< speed at the start, m/s; 0: from rest. Ignored where `from` is an argument.
    /// m that the car rolls before the clock starts, from rest only, 0 … 1; none: that of the vehicle, from
    /// rest.
    std::optional<double> rollout;
    double tolerance = 1e-10;               ///< relative tolerance of a step, 1e-12 … 1e-4
    std::optional<std::size_t> first_gear;  ///< gear at the start instead of the quickest
    RunWork* work = nullptr;                ///< if given, the work is added to it
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

/// The curve scaled until a time or a speed is met.
struct PowerForTime {
    double factor;  ///< torque over the torque of the curve given
    double power;   ///< greatest crank power within the rev limit, W
    double speed;   ///< engine speed of that power, rad/s
    double torque;  ///< greatest crank torque within the rev limit, N·m
};

/// Time from one speed to another, `from` < `to`, m/s, `from` 0 or more (0: from rest). Throws
/// InvalidArgument for bad figures (`launch_speed` and `rev_limit` outside the curve included); NoSolution
/// speed_beyond_gearing, speed_not_reached, car_does_not_move. Source: see the head of this file. Results do
/// not depend on the tolerance to 1e-6. A run takes at most 200 000 steps, then it throws
/// NoSolution(integration_failed); each gear to begin with gives one run and, from each of its shifts, the
/// rest of another, at most gears × (gears + 1)/2 in all. If no way gets there, the error is that of the one
/// that knows the highest speed.
SpeedRun speed_run(const Vehicle& vehicle, const TorqueCurve& curve, double from, double to,
                   const Surroundings& surroundings = {}, const RunOptions& options = {});

/// Time over a distance, m, above 0, at most 100 km, from rest or from options.from. Errors as speed_run.
DistanceRun distance_run(const Vehicle& vehicle, const TorqueCurve& curve, double distance,
                         const Surroundings& surroundings = {}, const RunOptions& options = {});

/// The course of the run from rest (or options.from) to a speed: a row at the start, every `time_step`
/// seconds (0.001 … 60), at the beginning and end of each shift, and at the end. Errors as speed_run, and
/// InvalidArgument("time_step", Reason::too_many_rows) for more than 100 000 rows.
std::vector<TraceRow> trace(const Vehicle& vehicle, const TorqueCurve& curve, double until_speed,
                            const Surroundings& surroundings = {}, double time_step = 0.1,
                            const RunOptions& options = {});

/// The engine speed for each upshift: where the next gear accelerates the car harder, at the latest the rev
/// limit.
std::vector<ShiftSpeed> shift_speeds(const Vehicle& vehicle, const TorqueCurve& curve,
                                     const Surroundings& surroundings = {});

/// Scales the torque curve until the car takes `time` s from one speed to another. Throws NoSolution
/// time_not_reached if 64 times the torque is not enough (grip, shifts) and, likewise, if a 64th is too much.
/// At most 112 runs as of speed_run. Where the time jumps past the one sought (with a little more power the
/// next gear takes the car to its speed all at once): NoSolution time_skipped.
PowerForTime power_for_time(const Vehicle& vehicle, const TorqueCurve& curve, double from, double to,
                            double time, const Surroundings& surroundings = {},
                            const RunOptions& options = {});

/// Scales the torque curve until the car passes the trap at the end of `distance` m with `trap_speed`, m/s.
/// Where another shift becomes worth while the trap speed jumps; inside such a jump it is the power at the
/// jump: with less the car stays slower, with more it is faster. Throws NoSolution trap_speed_not_reached
/// likewise. At most 112 runs as of distance_run.
PowerForTime power_for_trap_speed(const Vehicle& vehicle, const TorqueCurve& curve, double distance,
                                  double trap_speed, const Surroundings& surroundings = {},
                                  const RunOptions& options = {});

}  // namespace pullsheet::road
