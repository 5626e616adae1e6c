// SPDX-License-Identifier: Apache-2.0
#include "core/dyno/roller.hpp"

#include <algorithm>
#include <cmath>

#include "core/series.hpp"
#include "core/statistics/clean.hpp"
#include "core/statistics/local_polynomial.hpp"

namespace pullsheet::dyno {

namespace {

constexpr std::size_t least_rows = 5;     // in a window and in a run
constexpr double wanted_scatter = 0.003;  // of a row's power, relative to the mean power
constexpr double noticeable_scatter = 0.01;
constexpr double widest_window = 0.1;   // of the run
constexpr double standing_about = 4.0;  // standard deviations within which a speed is steady

Detail rad_s(double speed) {
    return {speed, Quantity::angular_speed};
}
struct EnergyRow {
    double roller_speed;  // rad/s
    double power;         // W, positive when the rollers gain energy
};

struct EnergyRun {
    std::vector<EnergyRow> rows;
    LogReading reading;
};

struct Bounds {
    std::size_t begin;
    std::size_t end;  // one past the last
};

// From the last row at the lowest speed before the highest to the first row at the highest: what stands still
// within the scatter of the log on either side is not part of the pull.
Bounds rising_run(const std::vector<double>& speed, double steady) {
    const auto highest = std::max_element(speed.begin(), speed.end());
    const auto lowest = std::min_element(speed.begin(), highest + 1);
    if (!(*highest - *lowest > steady && *highest > 0.0))
        throw InvalidArgument("roller_speeds", Reason::never_rises, {rad_s(*lowest), rad_s(*highest)});
    const auto last = std::find_if(lowest, highest, [&](double w) { return w >= *highest - steady; });
    auto first = last;
    while (first != lowest && *first > *lowest + steady) --first;
    return {static_cast<std::size_t>(first - speed.begin()),
            static_cast<std::size_t>(last - speed.begin()) + 1};
}

// The mirror image: from the last row at the highest speed down to the first at the lowest, or to standstill.
Bounds falling_run(const std::vector<double>& speed, double steady) {
    const auto highest = std::max_element(speed.begin(), speed.end());
    const auto stop = std::find_if(highest, speed.end(), [](double w) { return w <= 0.0; });
    const auto lowest = std::min_element(highest, stop);
    if (lowest == stop || !(*highest - *lowest > steady))
        throw InvalidArgument("roller_speeds", Reason::never_falls, {rad_s(*highest), rad_s(speed.back())});
    const auto last = std::find_if(highest, lowest, [&](double w) { return w <= *lowest + steady; });
    auto first = last;
    while (first != highest && *first < *highest - steady) --first;
    return {static_cast<std::size_t>(first - speed.begin()),
            static_cast<std::size_t>(last - speed.begin()) + 1};
}

// The half-width at which the slope of a parabola through rows with scatter `s`, spaced by `d`, has the
// standard deviation `slope_scatter`: var(slope) = 3 s²/(N h²) with N = 2h/d rows (least squares on an even
// grid).
double half_width_for(double s, double d, double slope_scatter) {
    return std::cbrt(1.5 * s * s * d / (slope_scatter * slope_scatter));
}
double slope_scatter_of(double s, double d, double half_width) {
    return s * std::sqrt(1.5 * d / (half_width * half_width * half_width));
}

template <class FindRun>
EnergyRun energy_run(std::span<const double> time, std::span<const double> roller_speed, double inertia,
                     std::optional<double> half_width, FindRun find_run) {
    require("inertia", inertia, positive);
    statistics::Series log = statistics::clean_series(time, roller_speed, statistics::Log::over_time,
                                                      {"times", "roller_speeds"}, least_rows);
    const statistics::Scatter scatter = statistics::scatter(log.x, log.y);
    const Bounds run = find_run(log.y, standing_about * scatter.standard_deviation);
    log.dropped.lead = run.begin;
    log.dropped.tail = log.x.size() - run.end;
    const std::size_t n = run.end - run.begin;
    require_points(n, least_rows);
    const std::span t = std::span(log.x).subspan(run.begin, n);
    const std::span speed = std::span(log.y).subspan(run.begin, n);

    std::vector<double> squared(n);  // ω², twice the energy at unit inertia
    for (std::size_t i = 0; i < n; ++i) squared[i] = speed[i] * speed[i];
    const double duration = t.back() - t.front();
    const double mean_slope = std::abs(squared.back() - squared.front()) / duration;
    const double squared_scatter = 2.0 * std::max(speed.front(), speed.back()) * scatter.standard_deviation;

    EnergyRun result;
    LogReading& reading = result.reading;
    if (half_width) {
        reading.half_width = require("half_width", *half_width, {0.0, 0.5 * duration, true, true});
    } else {
        const double narrowest =
            0.5 * static_cast<double>(least_rows - 1) * duration / static_cast<double>(n - 1);
        reading.half_width = std::max(
            narrowest, std::min(half_width_for(squared_scatter, scatter.spacing, wanted_scatter * mean_slope),
                                0.5 * widest_window * duration));
    }
    reading.power_scatter =
        slope_scatter_of(squared_scatter, scatter.spacing, reading.half_width) / mean_slope;
    reading.warnings = statistics::warnings(log.dropped);
    if (reading.power_scatter > noticeable_scatter)
        reading.warnings.push_back({Reason::noisy_log, {{reading.power_scatter, Quantity::share}}});

    // A little slack, so that an evenly spaced row half a window from the end is not lost to rounding.
    const double inside = reading.half_width * (1.0 - 1e-9);
    const auto first = std::lower_bound(t.begin(), t.end(), t.front() + inside);
    const auto last = std::upper_bound(first, t.end(), t.back() - inside);
    const std::span<const double> places(first, last);
    if (places.empty()) throw NoData(Reason::too_few_points, {counted(n), counted(n + 1)});
    const statistics::LocalFit fit =
        statistics::local_polynomial(t, squared, places, reading.half_width, 2, least_rows);
    result.rows.reserve(places.size());
    for (std::size_t i = 0; i < places.size(); ++i)
        if (fit.value[i] > 0.0)
            result.rows.push_back({std::sqrt(fit.value[i]), 0.5 * inertia * fit.derivative[i]});
    return result;
}

}  // namespace

RollerPull roller_pull(std::span<const double> time, std::span<const double> roller_speed, double inertia,
                       double speed_ratio, std::optional<double> half_width) {
    require("speed_ratio", speed_ratio, positive);
    EnergyRun run = energy_run(time, roller_speed, inertia, half_width, rising_run);
    RollerPull pull;
    pull.reading = std::move(run.reading);
    pull.rows.reserve(run.rows.size());
    for (const EnergyRow& row : run.rows) {
        const double engine_speed = row.roller_speed * speed_ratio;
        pull.rows.push_back({engine_speed, row.power, row.power / engine_speed});
    }
    return pull;
}

CoastLoss coast_loss(std::span<const double> time, std::span<const double> roller_speed, double inertia,
                     std::optional<double> half_width) {
    EnergyRun run = energy_run(time, roller_speed, inertia, half_width, falling_run);
    CoastLoss loss;
    loss.reading = std::move(run.reading);
    loss.rows.reserve(run.rows.size());
    for (const EnergyRow& row : run.rows) loss.rows.push_back({row.roller_speed, -row.power});
    return loss;
}

}  // namespace pullsheet::dyno
