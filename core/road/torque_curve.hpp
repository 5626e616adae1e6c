// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "core/statistics/monotone_curve.hpp"

namespace pullsheet::road {

/// Full-load torque of an engine over its speed: statistics::MonotoneCurve through the measured points.
class TorqueCurve {
  public:
    /// `speeds` rad/s, above 0 and increasing; `torques` N·m, 0 or more. Throws InvalidArgument("speeds" or
    /// "torques") for a bad number and what statistics::MonotoneCurve throws.
    TorqueCurve(std::span<const double> speeds, std::span<const double> torques);

    double lowest_speed() const { return curve_.first(); }
    double highest_speed() const { return curve_.last(); }
    std::span<const double> speeds() const { return curve_.x(); }

    /// Torque, N·m, between lowest and highest speed. A step of the integration may evaluate it
    /// outside, beyond a shift, before the step is cut back; no result rests on that.
    double torque(double speed) const { return curve_.trial(speed); }

    /// The same curve with every torque multiplied.
    TorqueCurve scaled(double factor) const { return TorqueCurve(curve_.scaled(factor)); }

    struct Peak {
        double power;   ///< W
        double speed;   ///< rad/s
        double torque;  ///< greatest torque, N·m
    };
    /// Greatest power and its speed, and the greatest torque, between lowest speed and `up_to`, rad/s.
    Peak peak(double up_to) const;

  private:
    explicit TorqueCurve(statistics::MonotoneCurve curve) : curve_(std::move(curve)) {}

    statistics::MonotoneCurve curve_;
};

}  // namespace pullsheet::road
