// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "core/road/vehicle.hpp"

namespace pullsheet::road {

/// How a run is cut out of a log.
struct LogOptions {
    double trigger_speed = 0.0;  ///< from rest: speed above which the car counts as moving, m/s, 0 … 5
    double rollout = 0.0;        ///< from rest: m that the car rolls before the clock starts, 0 … 1
    std::span<const double> heights = {};  ///< m, one for each row; empty: not logged
    std::optional<double>
        max_slope;  ///< mean slope, rise or fall divided by distance, that a run may have, 0 … 0.5
    double max_interval = 0.5;  ///< longest interval between the rows around a crossing, s, above 0
};

/// A run found in a log.
struct LogRun {
    double start;     ///< s, on the clock of the log
    double time;      ///< s
    double distance;  ///< m
    double slope;     ///< mean rise divided by distance, NaN without heights
};

/// All runs of a log from one speed to another, in the order of the log. A run goes from the last time the
/// speed rises through `from` to the first time it then rises through `to`, each found on the straight line
/// between the two rows around it. From rest (`from` 0) it starts where the line through the first two rows
/// above the trigger speed meets that speed, though not before the last row at or below it; with a rollout,
/// when the car has rolled so far. Distances by the trapezoidal rule. Runs steeper than `max_slope` are left
/// out.
///
/// `times` s, increasing; `speeds` m/s; `from` 0 or more; `to` above `from`. Throws InvalidArgument:
/// out_of_range, lengths_differ, not_increasing (row), too_few_points; NoData: no_run_in_log (highest speed
/// logged); log_too_coarse (interval, longest allowed); slope_over_limit (slope, limit) if no run keeps the
/// limit.
std::vector<LogRun> log_runs(std::span<const double> times, std::span<const double> speeds, double from,
                             double to, const LogOptions& options = {});

/// The quickest run of a log. Arguments and errors as log_runs.
LogRun log_time(std::span<const double> times, std::span<const double> speeds, double from, double to,
                const LogOptions& options = {});

/// How power is computed from a log.
struct LogPowerOptions {
    double half_width = 0.5;  ///< half-width of the local fit about a row, s, above 0, at most 10
    std::optional<std::size_t>
        gear;  ///< gear of the run; without it the lowest one that the rev limit allows at each row
    std::span<const double> heights = {};  ///< m, one for each row, in place of the slope of the surroundings
    RoadUncertainty uncertainty = {};  ///< of the car and its surroundings; the scatter of the log adds to it
};

/// Power and speed at one row of a log.
struct LogPower {
    double time;          ///< s
    double speed;         ///< m/s, of the local fit
    double acceleration;  ///< m/s², of the local fit
    double engine_speed;  ///< rad/s in the gear; NaN if the gear is not known
    double wheel_power;   ///< W that the driveline gives to the wheels, below 0 when the car slows the engine
    double crank_power;   ///< W; without a gear what speeds up the engine itself is not in it
    double wheel_uncertainty;  ///< standard uncertainty of wheel_power, W
    double crank_uncertainty;  ///< standard uncertainty of crank_power, W
};

/// Power from a logged run: the equation of motion solved for the driving force. Speed and acceleration at
/// each row come from a parabola fitted to the rows around it; wheel power = ((m + 4 I_wheel/r²) a + road
/// load) v, the slope as m g dh/dt where heights are logged; crank power = (wheel power + I_engine (i/r)² a
/// v)/efficiency, the forward equation solved for the engine. Uncertainty by GUM (JCGM 100:2008), first
/// order, from the scatter of the log about the fit and `uncertainty`. The gear counts only where it is given
/// or where the vehicle has a rev limit. `times` s, increasing, at least four rows; `speeds` m/s. Throws
/// InvalidArgument: out_of_range, lengths_differ, not_increasing (row), too_few_points.
std::vector<LogPower> log_power(std::span<const double> times, std::span<const double> speeds,
                                const Vehicle& vehicle, const Surroundings& surroundings = {},
                                const LogPowerOptions& options = {});

}  // namespace pullsheet::road
