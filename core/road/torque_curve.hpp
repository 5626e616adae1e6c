// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <span>
#include <vector>

namespace pullsheet::road {

/// Full-load torque of an engine over its speed, monotone between the measured points (piecewise cubic,
/// Fritsch & Butland 1984) and once continuously differentiable.
class TorqueCurve {
  public:
    /// `speeds` rad/s, above 0 and increasing; `torques` N·m, 0 or more. Throws InvalidArgument("speeds" or
    /// "torques") for a bad number, lengths_differ, not_increasing (row), and too_few_points below two
    /// points.
    TorqueCurve(std::span<const double> speeds, std::span<const double> torques);

    double lowest_speed() const { return speeds_.front(); }
    double highest_speed() const { return speeds_.back(); }
    const std::vector<double>& speeds() const { return speeds_; }

    /// Torque, N·m. Outside the points the end pieces go on in a straight line: that serves only a step of
    /// the integration that looks past a shift before it is cut back; no result rests on it.
    double torque(double speed) const;

    /// The same curve with every torque multiplied.
    TorqueCurve scaled(double factor) const;

    struct Peak {
        double power;   ///< W
        double speed;   ///< rad/s
        double torque;  ///< greatest torque, N·m
    };
    /// Greatest power and its speed, and the greatest torque, between lowest speed and `up_to`, rad/s.
    Peak peak(double up_to) const;

  private:
    std::vector<double> speeds_;
    std::vector<double> torques_;
    std::vector<std::array<double, 4>> pieces_;  ///< coefficients of the cubic between two points
    double first_slope_, last_slope_;
};

}  // namespace pullsheet::road
