// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/road/acceleration.hpp"

namespace pullsheet::road {

/// The curve scaled until a time or a speed is met.
struct PowerForTime {
    double factor;  ///< torque / torque of the curve given
    double power;   ///< greatest crank power within the rev limit, W
    double speed;   ///< engine speed of that power, rad/s
    double torque;  ///< greatest crank torque within the rev limit, N·m
};

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
