// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/monotone_curve.hpp"

#include <algorithm>

#include "core/error.hpp"
#include "core/series.hpp"

namespace pullsheet::statistics {

MonotoneCurve::MonotoneCurve(std::vector<double> x, std::vector<double> y, const char* x_name,
                             const char* y_name)
    : x_(std::move(x)), y_(std::move(y)) {
    const std::size_t n = x_.size();
    require_length(y_name, n, y_);
    require_points(n, 2);
    require_ascending(x_name, x_);
    require_all(y_name, y_, finite);
    pieces_.reserve(n - 1);
    double slope = monotone_slope(x_, y_, 0);
    for (std::size_t i = 0; i + 1 < n; ++i) {
        const double next = monotone_slope(x_, y_, i + 1);
        pieces_.push_back(cubic_piece(x_, y_, i, slope, next));
        slope = next;
    }
    last_slope_ = slope;
}

std::size_t MonotoneCurve::piece(double x) const noexcept {
    const auto above = std::upper_bound(x_.begin() + 1, x_.end() - 1, x);
    return static_cast<std::size_t>(above - x_.begin()) - 1;
}

double MonotoneCurve::trial(double x) const noexcept {
    if (x >= x_.back()) return y_.back() + last_slope_ * (x - x_.back());
    if (x <= x_.front()) return y_.front() + pieces_.front().slope * (x - x_.front());
    const std::size_t i = piece(x);
    return pieces_[i].at(x - x_[i]);
}

double MonotoneCurve::at(double x, const char* name) const {
    return trial(require(name, x, {first(), last()}));
}

double MonotoneCurve::slope(double x, const char* name) const {
    const std::size_t i = piece(require(name, x, {first(), last()}));
    return pieces_[i].slope_at(x - x_[i]);
}

double MonotoneCurve::integral(double from, double to) const {
    require("from", from, {first(), last()});
    require("to", to, {from, last()});
    // Simpson's rule is exact for a cubic, and between two points the curve is one.
    auto next = std::upper_bound(x_.begin(), x_.end(), from);
    double sum = 0.0;
    double a = from;
    double at_a = trial(a);
    while (a < to) {
        const double b = next == x_.end() ? to : std::min(*next++, to);
        const double at_b = trial(b);
        sum += (b - a) / 6.0 * (at_a + 4.0 * trial(0.5 * (a + b)) + at_b);
        a = b;
        at_a = at_b;
    }
    return sum;
}

MonotoneCurve MonotoneCurve::scaled(double factor) const {
    MonotoneCurve curve = *this;
    for (double& y : curve.y_) y *= factor;
    for (CubicPiece& piece : curve.pieces_) {
        piece.value *= factor;
        piece.slope *= factor;
        piece.second *= factor;
        piece.third *= factor;
    }
    curve.last_slope_ *= factor;
    return curve;
}

}  // namespace pullsheet::statistics
