// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

namespace pullsheet::statistics {

/// Which cubic runs through the points.
enum class Cubic {
    /// Keeps rising where the points rise and has its highest and lowest places at points: nothing is claimed
    /// between two points that neither shows. Fritsch & Butland (A method for constructing local monotone
    /// piecewise
    /// cubic interpolants, SIAM J. Sci. Stat. Comput. 5, 1984), Boost.Math's pchip; slopes at the ends from
    /// three
    /// points, limited so that they keep the shape.
    shape_preserving,
    /// Rounder, may pass a little over a peak: Akima (J. ACM 17, 1970) with the modified weights,
    /// Boost.Math's
    /// makima. Needs four points.
    makima
};

/// A curve through points that owns its data. Never extrapolates.
class Interpolation {
  public:
    /// `x` strictly ascending, any unit, at least two points (makima: four). `x_name` and `y_name` are the
    /// names of the parameters for errors. Throws NoData(Reason::too_few_points), InvalidArgument for unequal
    /// lengths, values not finite, or x that does not ascend (Reason::not_increasing, detail: the row,
    /// counted from 1).
    Interpolation(std::vector<double> x, std::vector<double> y, Cubic cubic = Cubic::shape_preserving,
                  const char* x_name = "speeds", const char* y_name = "values");

    /// The value at `x`; outside the points InvalidArgument(`name`) with the interval that is covered.
    double at(double x, const char* name = "speed") const;
    /// The slope at `x`, likewise.
    double slope(double x, const char* name = "speed") const;
    /// The integral from `from` to `to` (within the points, from <= to), exact for the curve. Throws
    /// InvalidArgument("from" or "to").
    double integral(double from, double to) const;

    std::span<const double> x() const noexcept { return x_; }
    std::span<const double> y() const noexcept { return y_; }
    double first() const noexcept { return x_.front(); }
    double last() const noexcept { return x_.back(); }

  private:
    std::vector<double> x_;
    std::vector<double> y_;
    std::function<double(double)> value_;
    std::function<double(double)> slope_;
};

}  // namespace pullsheet::statistics
