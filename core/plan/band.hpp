// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>

/// The band of a predicted power: what each assumption is worth, in quadrature (JCGM 100:2008, 5.1.2).
namespace pullsheet::plan {

/// What a prediction rests on and what may be otherwise.
enum class Assumption : std::size_t {
    measured_power,
    efficiency,
    octane,
    latest_half_burned,
    peak_pressure,
    part_rating,
    distance,  ///< from what was measured
    count
};

/// W by which one standard uncertainty of each assumption moves the power, with its sign.
class Effects {
  public:
    double& operator[](Assumption a) { return effects_[static_cast<std::size_t>(a)]; }
    double operator[](Assumption a) const { return effects_[static_cast<std::size_t>(a)]; }
    /// W, one standard uncertainty of the power.
    double spread() const;
    /// W, one standard uncertainty of the gain over another power predicted from the same assumptions: what
    /// moves both alike does not count. Ratings of parts are independent.
    double spread_of_gain(const Effects& over) const;

  private:
    std::array<double, static_cast<std::size_t>(Assumption::count)> effects_{};
};

}  // namespace pullsheet::plan
