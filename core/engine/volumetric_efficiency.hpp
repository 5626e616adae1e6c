// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <optional>
#include <vector>

#include "core/statistics/monotone_curve.hpp"

namespace pullsheet::engine {

/// Volumetric efficiency: air breathed divided by the air that fills the displacement at the state of the
/// manifold, ratio. A number that holds at every speed, or a curve over engine speed.
class VolumetricEfficiency {
  public:
    /// Holds at every speed. Whoever uses it checks the range.
    VolumetricEfficiency(double value) : value_(value) {}  // NOLINT(google-explicit-constructor)
    /// A curve through two points or more: speeds in rad/s, ascending; values within
    /// possible::volumetric_efficiency. Throws what statistics::MonotoneCurve throws, with "speeds" and
    /// "volumetric_efficiency".
    VolumetricEfficiency(std::vector<double> speeds, std::vector<double> values);

    /// At a speed, rad/s. Outside the points of a curve throws NoData(Reason::volumetric_efficiency_ends:
    /// speed, first, last).
    double at(double speed) const;

    /// The speeds, rad/s, between which it is known.
    double lowest_speed() const { return curve_ ? curve_->first() : 0.0; }
    double highest_speed() const { return curve_ ? curve_->last() : std::numeric_limits<double>::infinity(); }

  private:
    double value_ = 0.0;
    std::optional<statistics::MonotoneCurve> curve_;
};

}  // namespace pullsheet::engine
