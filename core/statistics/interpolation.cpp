// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/interpolation.hpp"

// Boost 1.74 calls isnan without its namespace in pchip.hpp, so the global one must be known before.
#include <math.h>  // NOLINT(modernize-deprecated-headers)

#include <algorithm>
#include <boost/math/interpolators/cubic_hermite.hpp>
#include <boost/math/interpolators/makima.hpp>
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>

#include "core/error.hpp"

namespace pullsheet::statistics {

namespace {

namespace interpolators = ::boost::math::interpolators;

// The slope at the end of a curve from the nearest two intervals (h, secant slope d; the nearest first):
// three-point formula, set to zero where it would point against the nearest secant and limited to three times
// it where the secants differ in sign. Fritsch & Butland 1984, as in the routine PCHIM of SLATEC.
double end_slope(double h0, double d0, double h1, double d1) {
    const double slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1);
    if (slope * d0 <= 0.0) return 0.0;
    if (d0 * d1 <= 0.0 && std::abs(slope) > 3.0 * std::abs(d0)) return 3.0 * d0;
    return slope;
}

// The slope between two intervals: weighted harmonic mean of the secants (Fritsch & Butland 1984).
double inner_slope(double h0, double d0, double h1, double d1) {
    if (!(d0 * d1 > 0.0)) return 0.0;
    const double w0 = 2.0 * h1 + h0;
    const double w1 = h1 + 2.0 * h0;
    return (w0 + w1) / (w0 / d0 + w1 / d1);
}

}  // namespace

Interpolation::Interpolation(std::vector<double> x, std::vector<double> y, Cubic cubic, const char* x_name,
                             const char* y_name)
    : x_(std::move(x)), y_(std::move(y)) {
    const std::size_t n = x_.size();
    if (n != y_.size())
        throw InvalidArgument(y_name, Reason::lengths_differ, {counted(n), counted(y_.size())});
    const std::size_t needed = cubic == Cubic::makima ? 4 : 2;
    if (n < needed) throw NoData(Reason::too_few_points, {counted(n), counted(needed)});
    for (std::size_t i = 0; i < n; ++i) {
        require(x_name, x_[i], finite);
        require(y_name, y_[i], finite);
        if (i > 0 && !(x_[i] > x_[i - 1]))
            throw InvalidArgument(x_name, Reason::not_increasing, {counted(i + 1)});
    }
    const auto keep = [this](auto curve) {
        slope_ = [curve](double place) { return curve.prime(place); };
        value_ = [curve](double place) { return curve(place); };
    };
    std::vector<double> abscissae = x_;
    std::vector<double> ordinates = y_;
    if (cubic == Cubic::makima) {
        keep(interpolators::makima<std::vector<double>>(std::move(abscissae), std::move(ordinates)));
        return;
    }
    const auto step = [this](std::size_t i) { return x_[i + 1] - x_[i]; };
    const auto secant = [this, step](std::size_t i) { return (y_[i + 1] - y_[i]) / step(i); };
    if (n == 2) {
        std::vector<double> slopes(2, secant(0));
        keep(interpolators::cubic_hermite<std::vector<double>>(std::move(abscissae), std::move(ordinates),
                                                               std::move(slopes)));
        return;
    }
    const double left = end_slope(step(0), secant(0), step(1), secant(1));
    const double right = end_slope(step(n - 2), secant(n - 2), step(n - 3), secant(n - 3));
    if (n == 3) {
        std::vector<double> slopes{left, inner_slope(step(0), secant(0), step(1), secant(1)), right};
        keep(interpolators::cubic_hermite<std::vector<double>>(std::move(abscissae), std::move(ordinates),
                                                               std::move(slopes)));
        return;
    }
    keep(interpolators::pchip<std::vector<double>>(std::move(abscissae), std::move(ordinates), left, right));
}

double Interpolation::at(double x, const char* name) const {
    return value_(require(name, x, {first(), last()}));
}

double Interpolation::slope(double x, const char* name) const {
    return slope_(require(name, x, {first(), last()}));
}

double Interpolation::integral(double from, double to) const {
    require("from", from, {first(), last()});
    require("to", to, {from, last()});
    // Simpson's rule is exact for a cubic, and between two points the curve is one.
    auto next = std::upper_bound(x_.begin(), x_.end(), from);
    double sum = 0.0;
    double a = from;
    double at_a = value_(a);
    while (a < to) {
        const double b = next == x_.end() ? to : std::min(*next++, to);
        const double at_b = value_(b);
        sum += (b - a) / 6.0 * (at_a + 4.0 * value_(0.5 * (a + b)) + at_b);
        a = b;
        at_a = at_b;
    }
    return sum;
}

}  // namespace pullsheet::statistics
