// SPDX-License-Identifier: Apache-2.0
#include "core/road/acceleration.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "core/error.hpp"
#include "core/road/gear_search.hpp"

namespace pullsheet::road {

namespace {

constexpr double foot = 0.3048;
constexpr double trap_length = 66.0 * foot;
constexpr std::array mark_distances{60.0 * foot,   330.0 * foot,  660.0 * foot, 1000.0 * foot,
                                    1320.0 * foot, 2640.0 * foot, 5280.0 * foot};

void check_all(const Vehicle& vehicle, const Surroundings& surroundings, const RunOptions& options,
               double from) {
    check(vehicle);
    check(surroundings);
    require("tolerance", options.tolerance, {1e-12, 1e-4});
    require("from", from, not_negative);
    if (options.rollout) require("rollout", *options.rollout, {0.0, from > 0.0 ? 0.0 : 1.0});
}

/// Only a run from rest has one: the clock of a rolling start starts at its speed.
double rollout_of(const Vehicle& vehicle, const RunOptions& options, double from) {
    return options.rollout.value_or(from > 0.0 ? 0.0 : vehicle.rollout);
}

/// Time at which the clock starts: after the rollout, one of the marks of the course.
double clock_start(const Course& course, double rollout) {
    if (!(rollout > 0.0)) return 0.0;
    for (const Mark& mark : course.marks)
        if (mark.distance == rollout) return mark.time;
    throw NoSolution(Reason::rollout_not_passed, {{rollout, Quantity::length}});
}

}  // namespace

SpeedRun speed_run(const Vehicle& vehicle, const TorqueCurve& curve, double from, double to,
                   const Surroundings& surroundings, const RunOptions& options) {
    check_all(vehicle, surroundings, options, from);
    require("to", to, {from, unbounded, true, true});
    const Car car(vehicle, curve, surroundings);
    const double rollout = rollout_of(vehicle, options, from);
    Task task{from, {to, unbounded}, {}, 0.0};
    if (rollout > 0.0) task.marks = {rollout};
    Course course = GearSearch(car, task, options).quickest();
    return {course.time - clock_start(course, rollout), course.distance, course.first_gear,
            std::move(course.shifts)};
}

DistanceRun distance_run(const Vehicle& vehicle, const TorqueCurve& curve, double distance,
                         const Surroundings& surroundings, const RunOptions& options) {
    check_all(vehicle, surroundings, options, options.from);
    const double rollout = rollout_of(vehicle, options, options.from);
    require("distance", distance, {rollout, 1e5, true, false});
    const Car car(vehicle, curve, surroundings);
    Task task{options.from, {unbounded, distance}, {}, 0.0};
    for (const double mark : mark_distances)
        if (mark <= distance) task.marks.push_back(mark);
    const double trap_start = std::max(distance - trap_length, rollout);
    if (trap_start > 0.0) task.marks.push_back(trap_start);
    if (rollout > 0.0) task.marks.push_back(rollout);
    std::sort(task.marks.begin(), task.marks.end());
    task.marks.erase(std::unique(task.marks.begin(), task.marks.end()), task.marks.end());

    Course course = GearSearch(car, task, options).quickest();
    const double start = clock_start(course, rollout);
    DistanceRun result{course.time - start,     course.speed, 0.0, {}, course.first_gear,
                       std::move(course.shifts)};
    double trap_time = 0.0;
    for (const Mark& mark : course.marks) {
        if (mark.distance == trap_start) trap_time = mark.time;
        if (std::find(mark_distances.begin(), mark_distances.end(), mark.distance) != mark_distances.end())
            result.marks.push_back({mark.distance, mark.time - start, mark.speed});
    }
    result.trap_speed = (distance - trap_start) / (course.time - trap_time);
    return result;
}

std::vector<TraceRow> trace(const Vehicle& vehicle, const TorqueCurve& curve, double until_speed,
                            const Surroundings& surroundings, double time_step, const RunOptions& options) {
    check_all(vehicle, surroundings, options, options.from);
    require("to", until_speed, {options.from, unbounded, true, true});
    require("time_step", time_step, {1e-3, 60.0});
    const Car car(vehicle, curve, surroundings);
    const double rollout = rollout_of(vehicle, options, options.from);
    Task task{options.from, {until_speed, unbounded}, {}, time_step};
    if (rollout > 0.0) task.marks = {rollout};
    Course course = GearSearch(car, task, options).quickest();
    if (course.rows.size() > most_rows)
        throw InvalidArgument("time_step", Reason::too_many_rows,
                              {counted(most_rows + 1), counted(most_rows)});
    const double start = clock_start(course, rollout);
    for (TraceRow& row : course.rows) row.time -= start;
    return std::move(course.rows);
}

std::vector<ShiftSpeed> shift_speeds(const Vehicle& vehicle, const TorqueCurve& curve,
                                     const Surroundings& surroundings) {
    check_all(vehicle, surroundings, {}, 0.0);
    const Car car(vehicle, curve, surroundings);
    std::vector<ShiftSpeed> shifts;
    for (std::size_t gear = 1; gear < car.gear_count(); ++gear) {
        const double v = best_upshift(car, gear);
        shifts.push_back({gear, car.engine_speed(gear, v), v, car.engine_speed(gear + 1, v),
                          !(v < car.rev_limited_speed(gear))});
    }
    return shifts;
}

}  // namespace pullsheet::road
