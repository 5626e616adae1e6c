// SPDX-License-Identifier: Apache-2.0
#include "core/dyno/curve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/solve.hpp"
#include "core/statistics/clean.hpp"

namespace pullsheet::dyno {

namespace {

constexpr double most_rows = 100000.0;

}  // namespace

struct MeasuredCurve::Cleaned {
    statistics::Series series;
    const char* values_name;
};

MeasuredCurve::MeasuredCurve(std::span<const double> speeds, std::span<const double> values,
                             const char* values_name)
    : MeasuredCurve(Cleaned{
          statistics::clean_series(speeds, values, statistics::Log::over_speed, {"speeds", values_name}),
          values_name}) {}

MeasuredCurve::MeasuredCurve(Cleaned cleaned)
    : values_name_(cleaned.values_name),
      warnings_(statistics::warnings(cleaned.series.dropped)),
      curve_(std::move(cleaned.series.x), std::move(cleaned.series.y), "speeds", cleaned.values_name) {}

CurvePoint MeasuredCurve::peak() const {
    const auto highest = std::max_element(curve_.y().begin(), curve_.y().end());
    return {curve_.x()[static_cast<std::size_t>(highest - curve_.y().begin())], *highest};
}

Resampled MeasuredCurve::resample(double from, double to, double step) const {
    require("from", from, {-std::numeric_limits<double>::infinity(), curve_.last(), true, false});
    require("to", to, {std::max(from, curve_.first()), std::numeric_limits<double>::infinity(), false, true});
    require("speed_step", step, positive);
    // The last row is not lost because ten times a tenth falls short of one.
    const double steps = std::floor((to - from) / step * (1.0 + 1e-12) + 1e-9);
    if (!(steps < most_rows))
        throw InvalidArgument("speed_step", Reason::too_many_rows,
                              {{steps + 1.0, Quantity::count}, {most_rows, Quantity::count}});
    Resampled result;
    const auto rows = static_cast<std::size_t>(steps) + 1;
    result.rows.reserve(rows);
    const double rounding = 1e-12 * (std::abs(curve_.first()) + std::abs(curve_.last()));
    std::size_t outside = 0;
    for (std::size_t i = 0; i < rows; ++i) {
        const double speed = from + static_cast<double>(i) * step;
        ResampledRow row{speed, {}};
        if (speed >= curve_.first() - rounding && speed <= curve_.last() + rounding)
            row.value = curve_.at(std::clamp(speed, curve_.first(), curve_.last()));
        else
            ++outside;
        result.rows.push_back(row);
    }
    if (outside > 0)
        result.warnings.push_back(
            {Reason::rows_outside_curve, {counted(outside), {curve_.first()}, {curve_.last()}}});
    return result;
}

double MeasuredCurve::mean(double from, double to) const {
    require("from", from, {curve_.first(), curve_.last(), false, true});
    require("to", to, {from, curve_.last(), true, false});
    return curve_.integral(from, to) / (to - from);
}

Band MeasuredCurve::band(double share) const {
    require("share", share, {0.0, 1.0, true, false});
    const CurvePoint top = peak();
    if (!(top.value > 0.0)) throw InvalidArgument(values_name_, Reason::no_peak_above_zero, {{top.value}});
    const double level = share * top.value;
    const std::span<const double> x = curve_.x();
    const std::span<const double> y = curve_.y();
    const std::size_t n = x.size();

    // Between two rows the cubic is monotone, so it crosses the level at most once.
    const auto crossing = [this, level](double a, double b) {
        return root_between([this, level](double speed) { return curve_.at(speed) - level; }, a, b,
                            Reason::target_not_reached, {{level}, {level}}, 50);
    };
    auto left = static_cast<std::size_t>(std::lower_bound(x.begin(), x.end(), top.speed) - x.begin());
    std::size_t right = left;
    while (left > 0 && y[left - 1] >= level) --left;
    while (right + 1 < n && y[right + 1] >= level) ++right;

    Band band{x[left], x[right], 0.0, {}};
    if (left > 0)
        band.from = crossing(x[left - 1], x[left]);
    else
        band.warnings.push_back({Reason::band_reaches_end, {{x[left]}}});
    if (right + 1 < n)
        band.to = crossing(x[right], x[right + 1]);
    else
        band.warnings.push_back({Reason::band_reaches_end, {{x[right]}}});
    band.width = band.to - band.from;

    std::size_t others = 0;
    for (std::size_t i = 0; i < n; ++i) {
        if (i >= left && i <= right) continue;
        const bool begins = y[i] >= level && (i == 0 || y[i - 1] < level);
        if (begins) ++others;
    }
    if (others > 0) band.warnings.push_back({Reason::band_interrupted, {counted(others)}});
    return band;
}

}  // namespace pullsheet::dyno
