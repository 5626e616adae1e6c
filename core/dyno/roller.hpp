// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::dyno {

/// One row of a pull on an inertia dynamometer.
struct RollerRow {
    double engine_speed;  ///< rad/s
    double power;         ///< W, what accelerates the rollers; nothing is added for losses
    double torque;        ///< N·m at engine speed, power / engine speed
};

/// One row of a coast-down.
struct CoastRow {
    double roller_speed;  ///< rad/s
    double loss_power;    ///< W, what brakes the rollers
};

/// What was done with the log.
struct LogReading {
    double half_width = 0.0;     ///< s, half the window of the local fit
    double power_scatter = 0.0;  ///< relative standard uncertainty of a row's power from the scatter of the
                                 ///< speed, at the mean power
    std::vector<Warning>
        warnings;  ///< rows left out or moved (see statistics::clean_series), Reason::noisy_log
};

struct RollerPull {
    std::vector<RollerRow> rows;  ///< in the order of time
    LogReading reading;
};

struct CoastLoss {
    std::vector<CoastRow> rows;  ///< in the order of time, from fast to slow
    LogReading reading;
};

/// Power and torque of a pull on an inertia dynamometer: P = d(½·I·ω²)/dt.
///
/// `time` s and `roller_speed` rad/s are a raw log: it is cleaned first, and of it the run from the lowest
/// speed up to the highest is used, so rolling in, lift-off and coast-down may stand in it. `inertia` kg·m²
/// (> 0) is that of all turning parts, referred to the rollers; `speed_ratio` (> 0) is engine speed / roller
/// speed.
///
/// The kinetic energy is fitted, not the speed: by a parabola over ± `half_width` s, of which the slope in
/// the middle is taken. A parabola in energy is exact both at constant power (energy linear in time) and at
/// constant torque (speed linear in time), whatever the window, and what it smooths it smooths without loss
/// of energy; a fit of the speed errs at constant power. Without `half_width` the window is as wide as it
/// must be to bring the scatter of the power to 0.3 % of the mean power (by the scatter of the speed found in
/// the log, see statistics::scatter), but not above a tenth of the run. If more than 1 % remains,
/// Reason::noisy_log says how much. Rows closer to an end of the run than half a window have no answer: the
/// fit would be one-sided there, with four times the scatter.
///
/// Throws InvalidArgument("inertia", "speed_ratio", "half_width", or what statistics::clean_series refuses),
/// InvalidArgument("roller_speeds", Reason::never_rises) (lowest, highest), NoData(Reason::too_few_points).
RollerPull roller_pull(std::span<const double> time, std::span<const double> roller_speed, double inertia,
                       double speed_ratio = 1.0, std::optional<double> half_width = {});

/// Power that brakes the rollers as they coast down: −d(½·I·ω²)/dt, by the same fit. The run from the highest
/// speed to the lowest after it is used. Throws as roller_pull, with Reason::never_falls (highest, last).
CoastLoss coast_loss(std::span<const double> time, std::span<const double> roller_speed, double inertia,
                     std::optional<double> half_width = {});

}  // namespace pullsheet::dyno
