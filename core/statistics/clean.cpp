// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/clean.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

#include "core/series.hpp"

namespace pullsheet::statistics {

namespace {

struct Row {
    double x;
    double y;
};

// Net change over total change: 1 for a column that only rises, −1 for one that only falls, near 0 for one
// that jumps about.
double directedness(std::span<const Row> rows) {
    double total = 0.0;
    for (std::size_t i = 1; i < rows.size(); ++i) total += std::abs(rows[i].x - rows[i - 1].x);
    return total > 0.0 ? (rows.back().x - rows.front().x) / total : 0.0;
}

// Leaves out what follows the highest x, if x clearly rises up to it and clearly falls from it.
std::size_t cut_tail(std::vector<Row>& rows) {
    const auto highest = std::max_element(rows.begin(), rows.end(), [](Row a, Row b) { return a.x < b.x; });
    const auto rise = static_cast<std::size_t>(highest - rows.begin()) + 1;
    if (rise < 2 || rise == rows.size()) return 0;
    const std::span all(rows);
    if (directedness(all.first(rise)) < 0.5 || directedness(all.subspan(rise - 1)) > -0.5) return 0;
    const std::size_t tail = rows.size() - rise;
    rows.resize(rise);
    return tail;
}

// A log over time that goes back far and then runs on is two logs in one column. Rows that stand a little out
// of order are not, nor is a table that is reversed or shuffled throughout.
void refuse_second_run(std::span<const Row> rows, const char* name) {
    constexpr std::size_t most_backward_steps = 10;
    std::size_t backward_steps = 0;
    for (std::size_t i = 1; i < rows.size(); ++i)
        if (rows[i].x < rows[i - 1].x) ++backward_steps;
    if (backward_steps == 0 || backward_steps > most_backward_steps || 4 * backward_steps > rows.size())
        return;
    const std::size_t far = std::max<std::size_t>(10, rows.size() / 20);
    double reached = rows[0].x;
    std::size_t behind = 0;
    for (std::size_t i = 1; i < rows.size(); ++i) {
        if (rows[i].x >= reached) {
            reached = rows[i].x;
            behind = 0;
        } else if (++behind > far) {
            const std::size_t first = i + 1 - behind;
            throw InvalidArgument(name, Reason::series_starts_again,
                                  {counted(first + 1), {rows[first - 1].x}, {rows[first].x}});
        }
    }
}

std::size_t sort_rows(std::vector<Row>& rows) {
    std::size_t out_of_order = 0;
    double reached = rows.empty() ? 0.0 : rows[0].x;
    for (const Row& row : rows) {
        if (row.x < reached) ++out_of_order;
        reached = std::max(reached, row.x);
    }
    if (out_of_order > 0) std::stable_sort(rows.begin(), rows.end(), [](Row a, Row b) { return a.x < b.x; });
    return out_of_order;
}

std::size_t merge_repeated(std::vector<Row>& rows) {
    std::size_t kept = 0;
    for (std::size_t i = 0; i < rows.size();) {
        std::size_t end = i;
        double sum = 0.0;
        for (; end < rows.size() && rows[end].x == rows[i].x; ++end) sum += rows[end].y;
        rows[kept++] = {rows[i].x, sum / static_cast<double>(end - i)};
        i = end;
    }
    const std::size_t merged = rows.size() - kept;
    rows.resize(kept);
    return merged;
}

double line_through(double x0, double y0, double x1, double y1, double x) {
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0);
}

}  // namespace

std::vector<Warning> warnings(const Dropped& dropped) {
    std::vector<Warning> said;
    const auto say = [&said](Reason reason, std::size_t rows) {
        if (rows > 0) said.push_back({reason, {counted(rows)}});
    };
    say(Reason::rows_not_numeric, dropped.not_numeric);
    say(Reason::rows_sorted, dropped.out_of_order);
    say(Reason::rows_repeated, dropped.repeated);
    say(Reason::rows_before_run, dropped.lead);
    say(Reason::rows_after_run, dropped.tail);
    say(Reason::rows_spikes, dropped.spikes);
    return said;
}

double median(std::vector<double>& values) {
    if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    if (values.size() % 2 == 1) return *middle;
    return 0.5 * (*middle + *std::max_element(values.begin(), middle));
}

std::vector<bool> spikes(std::span<const double> x, std::span<const double> y) {
    constexpr std::size_t reach = 5;   // lines through neighbours up to so many rows away
    constexpr std::size_t around = 3;  // rows on each side for the local scatter
    constexpr double robust = 1.4826;  // standard deviation / median absolute deviation, normal scatter
    constexpr double limit = 6.0;      // robust standard deviations
    constexpr double one_sided_scatter = 2.0;  // how much more a line beyond its points scatters

    const std::size_t n = y.size();
    std::vector<bool> found(n, false);
    if (n < 3 * reach) return found;

    std::vector<double> departure(n);
    std::array<double, reach> lines{};
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 1; j <= reach; ++j) {
            std::size_t a = i - j, b = i + j;
            if (i < reach) {
                a = i + j;
                b = i + 2 * j;
            } else if (i + reach >= n) {
                a = i - 2 * j;
                b = i - j;
            }
            lines[j - 1] = line_through(x[a], y[a], x[b], y[b], x[i]);
        }
        std::nth_element(lines.begin(), lines.begin() + reach / 2, lines.end());
        departure[i] = std::abs(y[i] - lines[reach / 2]);
    }

    std::vector<double> sorted = departure;
    const double everywhere = robust * median(sorted);
    std::vector<double> steps;
    steps.reserve(n);
    for (std::size_t i = 1; i < n; ++i)
        if (y[i] != y[i - 1]) steps.push_back(std::abs(y[i] - y[i - 1]));
    double resolution = 0.0;
    if (!steps.empty()) {
        const auto tenth = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 10);
        std::nth_element(steps.begin(), tenth, steps.end());
        resolution = *tenth;
    }

    std::array<double, 2 * around + 1> near{};
    for (std::size_t i = 0; i < n; ++i) {
        if (!(departure[i] > 3.0 * resolution)) continue;
        const std::size_t first = std::min(i > around ? i - around : 0, n - near.size());
        std::copy_n(departure.begin() + static_cast<std::ptrdiff_t>(first), near.size(), near.begin());
        std::nth_element(near.begin(), near.begin() + around, near.end());
        const bool at_end = i < reach || i + reach >= n;
        const double scatter =
            std::max(everywhere, robust * near[around]) * (at_end ? one_sided_scatter : 1.0);
        found[i] = departure[i] > limit * scatter;
    }
    return found;
}

Series clean_series(std::span<const double> x, std::span<const double> y, Log log, Columns columns,
                    std::size_t needed) {
    require_length(columns.y, x.size(), y);
    Series series;
    Dropped& dropped = series.dropped;
    std::vector<Row> rows;
    rows.reserve(x.size());
    for (std::size_t i = 0; i < x.size(); ++i)
        if (std::isfinite(x[i]) && std::isfinite(y[i])) rows.push_back({x[i], y[i]});
    dropped.not_numeric = x.size() - rows.size();

    if (rows.size() > 1) {
        if (log == Log::over_speed) dropped.tail = cut_tail(rows);
        if (log == Log::over_time) refuse_second_run(rows, columns.x);
        dropped.out_of_order = sort_rows(rows);
        dropped.repeated = merge_repeated(rows);
    }

    series.x.reserve(rows.size());
    series.y.reserve(rows.size());
    for (const Row& row : rows) {
        series.x.push_back(row.x);
        series.y.push_back(row.y);
    }

    if (rows.size() >= least_rows_for_spikes) {
        const std::vector<bool> spike = spikes(series.x, series.y);
        std::size_t kept = 0;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (spike[i]) continue;
            series.x[kept] = rows[i].x;
            series.y[kept++] = rows[i].y;
        }
        dropped.spikes = rows.size() - kept;
        if (10 * dropped.spikes > rows.size())
            throw InvalidArgument(columns.y, Reason::too_many_spikes,
                                  {counted(dropped.spikes), counted(rows.size())});
        series.x.resize(kept);
        series.y.resize(kept);
    }
    require_points(series.x.size(), needed);
    return series;
}

}  // namespace pullsheet::statistics
