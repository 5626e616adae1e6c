// SPDX-License-Identifier: Apache-2.0
#include "core/road/power_for_time.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/error.hpp"
#include "core/solve.hpp"

namespace pullsheet::road {

namespace {

/// Relative tolerance of the time: where it is missed by more, the time jumps there.
constexpr double time_tolerance = 1e-3;
/// The time on the upper side of a jump is computed with this share more power.
constexpr double beside_jump = 1e-9;

struct Bracket {
    double low, high;
};

/// Factors on the torque, one twice the other, between which `excess` (above 0: too much) changes its sign.
template <class F>
Bracket bracket_around_one(F excess) {
    constexpr double widest = 64.0;
    double low = 1.0, high = 1.0;
    if (excess(1.0) > 0.0) {
        do low *= 0.5;
        while (low >= 1.0 / widest && excess(low) > 0.0);
        high = 2.0 * low;
    } else {
        do high *= 2.0;
        while (high <= widest && !(excess(high) > 0.0));
        low = 0.5 * high;
    }
    if (low < 1.0 / widest || high > widest) throw NoSolution(Reason::time_not_reached);
    return {low, high};
}

template <class F>
double torque_factor(F excess) {
    const auto [low, high] = bracket_around_one(excess);
    return root_between(excess, low, high, Reason::time_not_reached, {}, 40);
}

PowerForTime power_at(const Vehicle& vehicle, const TorqueCurve& curve, double factor) {
    const double rev_limit = std::min(curve.highest_speed(), vehicle.rev_limit.value_or(positive.high));
    const TorqueCurve::Peak peak = curve.scaled(factor).peak(rev_limit);
    return {factor, peak.power, peak.speed, peak.torque};
}

}  // namespace

PowerForTime power_for_time(const Vehicle& vehicle, const TorqueCurve& curve, double from, double to,
                            double time, const Surroundings& surroundings, const RunOptions& options) {
    require("time", time, positive);
    double best = std::numeric_limits<double>::infinity();
    // In 1/time, which is nearly proportional to the power, and 0 where the speed is not reached.
    const auto excess = [&](double factor) {
        try {
            const double taken =
                speed_run(vehicle, curve.scaled(factor), from, to, surroundings, options).time;
            best = std::min(best, taken);
            return 1.0 / taken - 1.0 / time;
        } catch (const NoSolution& error) {
            if (error.reason() != Reason::speed_not_reached && error.reason() != Reason::car_does_not_move)
                throw;
            return -1.0 / time;
        }
    };
    try {
        const double factor = torque_factor(excess);
        // As the power grows, the next gear may suddenly take the car to its speed, so that the time jumps.
        if (!(std::abs(excess(factor)) * time <= time_tolerance)) {
            const double taken = time / (1.0 + time * excess(factor * (1.0 + beside_jump)));
            throw NoSolution(Reason::time_skipped, {{std::isfinite(taken) ? taken : best, Quantity::time}});
        }
        return power_at(vehicle, curve, factor);
    } catch (const NoSolution& error) {
        if (error.reason() != Reason::time_not_reached) throw;
        // Where the speed is reached with no power at all, the run itself throws the reason.
        if (!std::isfinite(best)) speed_run(vehicle, curve, from, to, surroundings, options);
        throw NoSolution(Reason::time_not_reached, {{best, Quantity::time}});
    }
}

PowerForTime power_for_trap_speed(const Vehicle& vehicle, const TorqueCurve& curve, double distance,
                                  double trap_speed, const Surroundings& surroundings,
                                  const RunOptions& options) {
    require("trap_speed", trap_speed, {options.from, positive.high, true, true});
    double best = 0.0;
    const auto excess = [&](double factor) {
        try {
            const double reached =
                distance_run(vehicle, curve.scaled(factor), distance, surroundings, options).trap_speed;
            best = std::max(best, reached);
            return reached - trap_speed;
        } catch (const NoSolution& error) {
            if (error.reason() != Reason::car_does_not_move) throw;
            return -trap_speed;
        }
    };
    try {
        // Where the trap speed jumps past the one sought, the root is the jump itself; it is never a place
        // where the trap speed falls.
        return power_at(vehicle, curve, torque_factor(excess));
    } catch (const NoSolution& error) {
        if (error.reason() != Reason::time_not_reached) throw;
        throw NoSolution(Reason::trap_speed_not_reached, {{best, Quantity::speed}});
    }
}

}  // namespace pullsheet::road
