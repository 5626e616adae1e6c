// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace pullsheet::road {

/// How a run is cut out of a log.
struct LogOptions {
    double trigger_speed = 0.0;  ///< from rest: speed above which the car counts as moving, m/s, 0 … 5
    double rollout = 0.0;        ///< from rest: m that the car rolls before the clock starts, 0 … 1
    std::span<const double> heights = {};  ///< m, one for each row; empty: not logged
    std::optional<double> max_slope;  ///< mean slope, rise or fall over run, that a run may have, 0 … 0.5
    double max_interval = 0.5;        ///< longest interval between the rows around a crossing, s, above 0
};

/// A run found in a log.
struct LogRun {
    double start;     ///< s, on the clock of the log
    double time;      ///< s
    double distance;  ///< m
    double slope;     ///< mean rise over run, NaN without heights
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

}  // namespace pullsheet::road
