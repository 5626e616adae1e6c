// SPDX-License-Identifier: Apache-2.0
#include "core/road/log.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/constants.hpp"
#include "core/error.hpp"
#include "core/series.hpp"
#include "core/statistics/local_polynomial.hpp"

namespace pullsheet::road {

namespace {

/// Speed, distance and height of a log at any time in it.
class SpeedLog {
  public:
    SpeedLog(std::span<const double> times, std::span<const double> speeds, std::span<const double> heights)
        : times_(times), speeds_(speeds), heights_(heights), distances_(times.size()) {
        for (std::size_t i = 1; i < times.size(); ++i)
            distances_[i] = distances_[i - 1] + 0.5 * (speeds[i - 1] + speeds[i]) * (times[i] - times[i - 1]);
    }

    /// Distance at a time between row i and the next, the speed changing evenly between them.
    double distance(std::size_t i, double time) const {
        const double dt = time - times_[i];
        const double gain = (speeds_[i + 1] - speeds_[i]) / (times_[i + 1] - times_[i]);
        return distances_[i] + dt * (speeds_[i] + 0.5 * gain * dt);
    }
    double height(std::size_t i, double time) const {
        return heights_[i] +
               (heights_[i + 1] - heights_[i]) * (time - times_[i]) / (times_[i + 1] - times_[i]);
    }
    /// Time between row i and the next at which the distance is reached.
    double time_at(std::size_t i, double distance) const {
        const double step = times_[i + 1] - times_[i];
        const double gain = (speeds_[i + 1] - speeds_[i]) / step;
        const double way = distance - distances_[i];
        // way = v dt + ½ gain dt², solved in the form that holds for gain 0 as well.
        const double root = std::sqrt(std::max(0.0, speeds_[i] * speeds_[i] + 2.0 * gain * way));
        return times_[i] + std::clamp(2.0 * way / (speeds_[i] + root), 0.0, step);
    }
    double distance_at_row(std::size_t i) const { return distances_[i]; }

  private:
    std::span<const double> times_, speeds_, heights_;
    std::vector<double> distances_;
};

/// A moment between row and row + 1.
struct Moment {
    std::size_t row;
    double time;
};

Moment crossing(std::span<const double> times, std::span<const double> speeds, std::size_t row,
                double level) {
    const double share = (level - speeds[row]) / (speeds[row + 1] - speeds[row]);
    return {row, times[row] + share * (times[row + 1] - times[row])};
}

void check_rows(std::span<const double> times, std::span<const double> speeds,
                std::span<const double> heights, std::size_t least) {
    require_length("road_speeds", times.size(), speeds);
    if (!heights.empty()) require_length("heights", times.size(), heights);
    if (times.size() < least)
        throw InvalidArgument("times", Reason::too_few_points, {counted(times.size()), counted(least)});
    require_ascending("times", times);
    require_all("road_speeds", speeds, finite);
    require_all("heights", heights, finite);
}

double square(double x) {
    return x * x;
}

}  // namespace

std::vector<LogRun> log_runs(std::span<const double> times, std::span<const double> speeds, double from,
                             double to, const LogOptions& options) {
    require("from", from, not_negative);
    require("to", to, {from, std::numeric_limits<double>::infinity(), true, true});
    const bool from_rest = from == 0.0;
    require("trigger_speed", options.trigger_speed, {0.0, from_rest ? std::min(5.0, to) : 0.0});
    require("rollout", options.rollout, {0.0, from_rest ? 1.0 : 0.0});
    require("max_interval", options.max_interval, positive);
    if (options.max_slope) require("largest_slope", *options.max_slope, {0.0, 0.5});
    check_rows(times, speeds, options.heights, 2);

    const SpeedLog log(times, speeds, options.heights);
    const double level = from_rest ? options.trigger_speed : from;
    std::vector<LogRun> runs;
    bool started = false;
    Moment start{0, times.front()};
    double coarsest = 0.0, steepest = 0.0;
    for (std::size_t i = 0; i + 1 < times.size(); ++i) {
        const bool below = from_rest ? speeds[i] <= level : speeds[i] < level;
        const bool above_next = from_rest ? speeds[i + 1] > level : speeds[i + 1] >= level;
        if (below) started = false;
        if (!from_rest && speeds[i] == level && i == 0) started = true;
        if (below && above_next) {
            started = true;
            start = crossing(times, speeds, i, level);
            if (from_rest && i + 2 < times.size() && speeds[i + 2] > speeds[i + 1]) {
                // Somewhere between the two rows the car set off; the next two rows show how it pulls.
                const double gain = (speeds[i + 2] - speeds[i + 1]) / (times[i + 2] - times[i + 1]);
                start.time =
                    std::clamp(times[i + 1] - (speeds[i + 1] - level) / gain, times[i], times[i + 1]);
            }
        }
        if (!started || !(speeds[i] < to && speeds[i + 1] >= to)) continue;
        started = false;
        Moment begin = start;
        const Moment end = crossing(times, speeds, i, to);
        const double first_interval = times[begin.row + 1] - times[begin.row];
        const double interval = std::max(first_interval, times[i + 1] - times[i]);
        if (interval > options.max_interval) {
            coarsest = coarsest > 0.0 ? std::min(coarsest, interval) : interval;
            continue;
        }
        if (options.rollout > 0.0) {
            const double target = log.distance(begin.row, begin.time) + options.rollout;
            while (begin.row < end.row && log.distance_at_row(begin.row + 1) < target) ++begin.row;
            begin.time = log.time_at(begin.row, target);
            if (!(begin.time < end.time)) continue;
        }
        LogRun run{begin.time, end.time - begin.time,
                   log.distance(end.row, end.time) - log.distance(begin.row, begin.time),
                   std::numeric_limits<double>::quiet_NaN()};
        if (!options.heights.empty()) {
            run.slope = (log.height(end.row, end.time) - log.height(begin.row, begin.time)) / run.distance;
            if (options.max_slope && !(std::abs(run.slope) <= *options.max_slope)) {
                steepest = run.slope;
                continue;
            }
        }
        runs.push_back(run);
    }
    if (!runs.empty()) return runs;
    if (steepest != 0.0)
        throw NoData(Reason::slope_over_limit,
                     {{steepest, Quantity::share}, {*options.max_slope, Quantity::share}});
    if (coarsest > 0.0)
        throw NoData(Reason::log_too_coarse,
                     {{coarsest, Quantity::time}, {options.max_interval, Quantity::time}});
    throw NoData(Reason::no_run_in_log, {{*std::max_element(speeds.begin(), speeds.end()), Quantity::speed}});
}

LogRun log_time(std::span<const double> times, std::span<const double> speeds, double from, double to,
                const LogOptions& options) {
    const std::vector<LogRun> runs = log_runs(times, speeds, from, to, options);
    return *std::min_element(runs.begin(), runs.end(),
                             [](const LogRun& a, const LogRun& b) { return a.time < b.time; });
}

std::vector<LogPower> log_power(std::span<const double> times, std::span<const double> speeds,
                                const Vehicle& vehicle, const Surroundings& surroundings,
                                const LogPowerOptions& options) {
    check(vehicle);
    check(surroundings);
    check(options.uncertainty);
    require("half_width", options.half_width, {0.0, 10.0, true, false});
    if (options.gear)
        require("gear", static_cast<double>(*options.gear), {1.0, static_cast<double>(vehicle.gears.size())});
    check_rows(times, speeds, options.heights, 4);

    const statistics::LocalFit fit = statistics::local_polynomial(times, speeds, times, options.half_width);
    const statistics::Scatter scatter = statistics::scatter(times, speeds);
    // Rows that repeat the one before carry no information: the effective number of rows is smaller.
    const double length = times.back() - times.front();
    const double repetition = std::sqrt(scatter.spacing * static_cast<double>(times.size() - 1) / length);
    const double noise = scatter.standard_deviation * std::max(1.0, repetition);

    std::vector<double> climbing(times.size(), 0.0), climbing_uncertainty(times.size(), 0.0);
    Surroundings level = surroundings;
    if (!options.heights.empty()) {
        level.slope = 0.0;
        statistics::LocalFit heights =
            statistics::local_polynomial(times, options.heights, times, options.half_width);
        climbing = std::move(heights.derivative);
        const double height_noise = statistics::scatter(times, options.heights).standard_deviation;
        for (std::size_t i = 0; i < times.size(); ++i)
            climbing_uncertainty[i] = height_noise * heights.derivative_factor[i];
    }

    const std::size_t last_gear = vehicle.gears.size();
    std::vector<double> turns(last_gear + 1);
    for (std::size_t gear = 1; gear <= last_gear; ++gear)
        turns[gear] = overall_ratio(vehicle, gear) / vehicle.rolling_radius;
    const auto gear_at = [&](double v) -> std::size_t {
        if (options.gear) return *options.gear;
        if (!vehicle.rev_limit) return 0;
        for (std::size_t gear = 1; gear < last_gear; ++gear)
            if (turns[gear] * v <= *vehicle.rev_limit) return gear;
        return last_gear;
    };

    const RoadUncertainty& u = options.uncertainty;
    const double rolling_mass = effective_mass(vehicle, 0);
    const double weight = vehicle.mass * standard_gravity;
    const double efficiency = vehicle.driveline_efficiency;
    std::vector<LogPower> rows;
    rows.reserve(times.size());
    for (std::size_t i = 0; i < times.size(); ++i) {
        const double v = fit.value[i], a = fit.derivative[i];
        const double air_speed = v + surroundings.headwind;
        const double force = rolling_mass * a + road_load(vehicle, level, v);
        const double wheel = force * v + weight * climbing[i];
        const std::size_t gear = gear_at(v);
        const double engine_mass = vehicle.engine_inertia * square(turns[gear]);

        const double u_gain = noise * fit.derivative_factor[i];
        const double u_speed = noise * fit.value_factor[i];
        const double drag =
            0.5 * surroundings.air_density * vehicle.drag_area * air_speed * std::abs(air_speed);
        const double drag_slope = surroundings.air_density * vehicle.drag_area * std::abs(air_speed);
        const double per_mass = (wheel - ((rolling_mass - vehicle.mass) * a + drag) * v) / vehicle.mass;
        const double variance = square(rolling_mass * v * u_gain) +
                                square((force + drag_slope * v) * u_speed) +
                                square(weight * climbing_uncertainty[i]) + square(per_mass * u.mass) +
                                square(0.5 * surroundings.air_density * square(air_speed) * v * u.drag_area) +
                                square(weight * v * u.rolling_resistance) +
                                square(0.5 * vehicle.drag_area * square(air_speed) * v * u.air_density) +
                                square(drag_slope * v * u.headwind);
        const double crank = (wheel + engine_mass * a * v) / efficiency;
        const double crank_variance =
            (variance + (2.0 * rolling_mass + engine_mass) * engine_mass * square(v * u_gain)) /
                square(efficiency) +
            square(crank / efficiency * u.driveline_efficiency);
        const double engine_speed = gear == 0 ? std::numeric_limits<double>::quiet_NaN() : turns[gear] * v;
        rows.push_back(
            {times[i], v, a, engine_speed, wheel, crank, std::sqrt(variance), std::sqrt(crank_variance)});
    }
    return rows;
}

}  // namespace pullsheet::road
