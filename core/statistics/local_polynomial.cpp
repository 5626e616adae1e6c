// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/local_polynomial.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>

#include "core/error.hpp"
#include "core/series.hpp"
#include "core/statistics/clean.hpp"

namespace pullsheet::statistics {

namespace {

// Up to four rows and columns, without allocation; one type for all orders is compiled once.
using Small = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor, 4, 4>;

// The sums of the normal equations of a polynomial of order N over a window of rows, about an origin.
template <int N>
class Sums {
  public:
    void begin_at(double origin, double scale, double level) {
        origin_ = origin;
        scale_ = scale;
        level_ = level;
        powers_.fill(0.0);
        moments_.fill(0.0);
    }
    void add(double x, double y, double sign) {
        const double u = (x - origin_) / scale_;
        const double v = y - level_;
        double power = sign;
        for (std::size_t k = 0; k < powers_.size(); ++k, power *= u) {
            powers_[k] += power;
            if (k < moments_.size()) moments_[k] += power * v;
        }
    }
    // Value and derivative of the fit at x. The sums are moved to the place itself first, where the equations
    // are best conditioned and its value and slope are two of the coefficients.
    // Behind them: the standard deviations that rows scattering by 1 give these two.
    std::array<double, 4> at(double x) const {
        const double e = (x - origin_) / scale_;
        const auto powers = moved(powers_, e);
        const auto moments = moved(moments_, e);
        Small normal(N + 1, N + 1);
        // First column: the moments; the others: unit vectors for two columns of the inverse.
        Small right = Small::Zero(N + 1, 3);
        right(0, 1) = right(1, 2) = 1.0;
        for (int i = 0; i <= N; ++i) {
            right(i, 0) = moments[static_cast<std::size_t>(i)];
            for (int j = 0; j <= N; ++j) normal(i, j) = powers[static_cast<std::size_t>(i + j)];
        }
        const Small b = normal.ldlt().solve(right);
        return {b(0, 0) + level_, b(1, 0) / scale_, std::sqrt(b(0, 1)), std::sqrt(b(1, 2)) / scale_};
    }

  private:
    // Sums of (u − e)^k from sums of u^k, by the binomial theorem, one factor (u − e) at a time.
    template <std::size_t K>
    static std::array<double, K> moved(std::array<double, K> sums, double e) {
        for (std::size_t pass = 1; pass < K; ++pass)
            for (std::size_t k = K; k-- > pass;) sums[k] -= e * sums[k - 1];
        return sums;
    }

    double origin_ = 0.0;
    double scale_ = 1.0;
    double level_ = 0.0;
    std::array<double, 2 * N + 1> powers_{};
    std::array<double, N + 1> moments_{};
};

struct Window {
    std::size_t begin;
    std::size_t end;
};

// The rows within half_width of `place`, or the nearest rows if these are too few. Moves forward only.
Window next_window(std::span<const double> x, double place, double half_width, std::size_t least,
                   Window last) {
    Window w = last;
    while (w.begin < x.size() && x[w.begin] < place - half_width) ++w.begin;
    w.end = std::max(w.end, w.begin);
    while (w.end < x.size() && x[w.end] <= place + half_width) ++w.end;
    return w.end - w.begin >= least ? w : Window{w.begin, w.end};
}

Window widened(std::span<const double> x, double place, std::size_t least, Window w) {
    while (w.end - w.begin < least) {
        const bool left = w.begin > 0;
        const bool right = w.end < x.size();
        if (left && (!right || place - x[w.begin - 1] <= x[w.end] - place))
            --w.begin;
        else
            ++w.end;
    }
    return w;
}

template <int N>
void fit(std::span<const double> x, std::span<const double> y, std::span<const double> at, double half_width,
         std::size_t least, LocalFit& result) {
    // After so many places the sums are computed afresh, before rounding shows. A wide window holds more rows
    // than that and tolerates more, and computed afresh too often it would cost the square of the rows.
    constexpr std::size_t least_places = 64;
    Sums<N> sums;
    Window held{0, 0};    // the rows in `sums`
    Window within{0, 0};  // the rows within half_width
    double origin = 0.0;
    std::size_t places = 0;
    for (std::size_t i = 0; i < at.size(); ++i) {
        const double place = at[i];
        within = next_window(x, place, half_width, least, within);
        const Window wanted = widened(x, place, least, within);
        const std::size_t most_places = std::max(least_places, (held.end - held.begin) / 16);
        const bool fresh = i == 0 || places >= most_places || place - origin > half_width ||
                           wanted.begin >= held.end || wanted.begin < held.begin || wanted.end < held.end;
        if (fresh) {
            origin = place;
            const double reach = std::max({half_width, x[wanted.end - 1] - place, place - x[wanted.begin]});
            sums.begin_at(origin, std::min(reach, x[wanted.end - 1] - x[wanted.begin]), y[wanted.begin]);
            for (std::size_t k = wanted.begin; k < wanted.end; ++k) sums.add(x[k], y[k], 1.0);
            places = 0;
        } else {
            for (std::size_t k = held.begin; k < wanted.begin; ++k) sums.add(x[k], y[k], -1.0);
            for (std::size_t k = held.end; k < wanted.end; ++k) sums.add(x[k], y[k], 1.0);
        }
        ++places;
        held = wanted;
        const auto [value, derivative, value_factor, derivative_factor] = sums.at(place);
        result.value[i] = value;
        result.derivative[i] = derivative;
        result.value_factor[i] = value_factor;
        result.derivative_factor[i] = derivative_factor;
    }
}

}  // namespace

LocalFit local_polynomial(std::span<const double> x, std::span<const double> y, std::span<const double> at,
                          double half_width, std::size_t order, std::size_t least_rows) {
    require("half_width", half_width, positive);
    require("order", static_cast<double>(order), {1.0, 3.0});
    require_length("values", x.size(), y);
    const std::size_t least = std::max(least_rows, order + 2);
    require_points(x.size(), least);
    const std::vector<double> empty(at.size());
    LocalFit result{empty, empty, empty, empty};
    for (const double place : at) require("at", place, {x.front(), x.back()});
    switch (order) {
        case 1: fit<1>(x, y, at, half_width, least, result); break;
        case 2: fit<2>(x, y, at, half_width, least, result); break;
        default: fit<3>(x, y, at, half_width, least, result); break;
    }
    return result;
}

Scatter scatter(std::span<const double> x, std::span<const double> y) {
    require_length("values", x.size(), y);
    require_points(x.size(), 3);
    constexpr double robust = 1.4826;  // standard deviation / median absolute deviation, normal scatter
    const std::size_t n = x.size();
    std::vector<double> departures;
    departures.reserve(n);
    for (std::size_t i = 1; i + 1 < n; ++i) {
        const double a = (x[i + 1] - x[i]) / (x[i + 1] - x[i - 1]);
        const double b = 1.0 - a;
        departures.push_back(std::abs(a * y[i - 1] + b * y[i + 1] - y[i]) / std::sqrt(1.0 + a * a + b * b));
    }
    std::vector<double> steps;
    for (std::size_t i = 1; i < n; ++i)
        if (y[i] != y[i - 1]) steps.push_back(std::abs(y[i] - y[i - 1]));
    const double length = x.back() - x.front();
    Scatter result{robust * median(departures), length / static_cast<double>(n - 1)};
    // More than a twentieth of the rows held: the resolution shows.
    if (!steps.empty() && 20 * steps.size() < 19 * (n - 1)) {
        const double rounding = median(steps) / std::sqrt(12.0);
        result.standard_deviation = std::max(result.standard_deviation, rounding);
        result.spacing = length / static_cast<double>(steps.size());
    }
    return result;
}

}  // namespace pullsheet::statistics
