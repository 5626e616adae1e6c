// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <span>
#include <vector>

namespace pullsheet::statistics {

// The one curve that the project fits through points: a piecewise cubic with continuous slope that rises and
// falls only where the points do, so that its extrema are points.
//
// Inner slopes: weighted harmonic mean of the two secants, 0 where they differ in sign. End slopes:
// three-point formula, 0 where it would point against the nearest secant, at most three times that secant
// where the two nearest differ in sign. Two points give a straight line. F. N. Fritsch & J. Butland, A method
// for constructing local monotone piecewise cubic interpolants, SIAM J. Sci. Stat. Comput. 5 (1984) 300; ends
// as in the routine PCHIM of SLATEC. The slope at a point depends on this point and its two neighbours on
// each side at most.

/// The cubic between two points over the distance from the first.
struct CubicPiece {
    double value, slope, second, third;  ///< coefficients, from the constant up

    double at(double distance) const {
        return value + distance * (slope + distance * (second + distance * third));
    }
    double slope_at(double distance) const {
        return slope + distance * (2.0 * second + distance * 3.0 * third);
    }
};

/// The slope at point k of two or more. `Points` is anything with [] and size(); x ascends strictly.
template <class Points>
double monotone_slope(const Points& x, const Points& y, std::size_t k) {
    const std::size_t last = x.size() - 1;
    const auto step = [&](std::size_t i) { return x[i + 1] - x[i]; };
    const auto secant = [&](std::size_t i) { return (y[i + 1] - y[i]) / step(i); };
    if (last == 1) return secant(0);
    if (k == 0 || k == last) {
        const std::size_t near = k == 0 ? 0 : last - 1, far = k == 0 ? 1 : last - 2;
        const double h0 = step(near), h1 = step(far), d0 = secant(near), d1 = secant(far);
        const double slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
        if (!(slope * d0 > 0.0)) return 0.0;
        return d0 * d1 <= 0.0 && std::abs(slope) > 3.0 * std::abs(d0) ? 3.0 * d0 : slope;
    }
    const double h0 = step(k - 1), h1 = step(k), d0 = secant(k - 1), d1 = secant(k);
    if (!(d0 * d1 > 0.0)) return 0.0;
    const double w0 = 2.0 * h1 + h0, w1 = h1 + 2.0 * h0;
    return (w0 + w1) / (w0 / d0 + w1 / d1);
}

/// The cubic from point k to point k + 1, given the slopes there.
template <class Points>
CubicPiece cubic_piece(const Points& x, const Points& y, std::size_t k, double slope, double next_slope) {
    const double h = x[k + 1] - x[k];
    const double secant = (y[k + 1] - y[k]) / h;
    return {y[k], slope, (3.0 * secant - 2.0 * slope - next_slope) / h,
            (slope + next_slope - 2.0 * secant) / (h * h)};
}

/// The curve through a few points, read once at `place` without being stored. The caller sees to it that x
/// ascends strictly and that `place` lies within the points.
template <std::size_t n>
double monotone_value(const std::array<double, n>& x, const std::array<double, n>& y, double place) {
    std::size_t k = 0;
    while (k + 2 < n && place >= x[k + 1]) ++k;
    return cubic_piece(x, y, k, monotone_slope(x, y, k), monotone_slope(x, y, k + 1)).at(place - x[k]);
}

/// The curve with its points. Outside the points nothing is known: `at`, `slope` and `integral` refuse.
class MonotoneCurve {
  public:
    /// `x` strictly ascending, any unit, at least two points. `x_name` and `y_name` are the names of the
    /// parameters for errors. Throws NoData(Reason::too_few_points), InvalidArgument for unequal lengths,
    /// values not finite, or x that does not ascend (Reason::not_increasing, detail: the row, counted from
    /// 1).
    MonotoneCurve(std::vector<double> x, std::vector<double> y, const char* x_name = "speeds",
                  const char* y_name = "values");

    /// The value at `x`; outside the points InvalidArgument(`name`) with the interval that is covered.
    double at(double x, const char* name = "speed") const;
    /// The slope at `x`, likewise.
    double slope(double x, const char* name = "speed") const;
    /// The integral from `from` to `to` (within the points, from <= to), exact for the curve. Throws
    /// InvalidArgument("from" or "to").
    double integral(double from, double to) const;

    /// The value without a check, for solvers: outside the points the curve is extrapolated
    /// linearly, for a trial step that is rejected. No result may rest on it.
    double trial(double x) const noexcept;

    /// The same curve with every y multiplied.
    MonotoneCurve scaled(double factor) const;

    std::span<const double> x() const noexcept { return x_; }
    std::span<const double> y() const noexcept { return y_; }
    double first() const noexcept { return x_.front(); }
    double last() const noexcept { return x_.back(); }

    /// The same points.
    friend bool operator==(const MonotoneCurve& a, const MonotoneCurve& b) {
        return a.x_ == b.x_ && a.y_ == b.y_;
    }

  private:
    std::size_t piece(double x) const noexcept;

    std::vector<double> x_;
    std::vector<double> y_;
    std::vector<CubicPiece> pieces_;
    double last_slope_ = 0.0;
};

}  // namespace pullsheet::statistics
