// SPDX-License-Identifier: Apache-2.0
#include "core/boost/compressor_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "core/solve.hpp"
#include "core/statistics/monotone_curve.hpp"

namespace pullsheet::boost {

namespace {

constexpr double same_speed = 0.005;  // share by which the points of a line may differ
constexpr double near_edge = 0.05;    // margin below which a warning is given
constexpr double slip = 0.05;         // of a line's range: how far a hand may slip in digitising
constexpr double rounding = 1e-9;     // a digitised point lies on the edge, not beyond it
constexpr int solver_bits = 36;       // far below what can be digitised

}  // namespace

/// One speed line over its coordinate u, 0 at surge, 1 at choke.
struct SpeedLine {
    double shaft_speed;
    double peak;        // u of the highest ratio
    double peak_ratio;  // it is a point: monotone cubics have their extrema at points
    statistics::MonotoneCurve flow_curve;
    statistics::MonotoneCurve ratio_curve;
    statistics::MonotoneCurve efficiency_curve;

    double flow(double u) const { return flow_curve.trial(u); }
    double ratio(double u) const { return ratio_curve.trial(u); }
    double efficiency(double u) const { return efficiency_curve.trial(u); }

    /// The u of the line's point from which a point off the line lies up and to the right, flow and ratio
    /// each measured by their range along the line.
    double beside(double flow_there, double ratio_there) const {
        const double flows = flow(1.0) - flow(0.0);
        const double ratios = ratio(0.0) - ratio(1.0);
        const auto gap = [&](double u) {
            return (flow(u) - flow_there) / flows - (ratio(u) - ratio_there) / ratios;
        };
        if (gap(0.0) >= 0.0) return 0.0;
        if (gap(1.0) <= 0.0) return 1.0;
        return root_between(gap, 0.0, 1.0, Reason::map_ends_above, {}, solver_bits);
    }
};

namespace {

SpeedLine build_line(std::vector<MapPoint> points) {
    const double speed = points.front().shaft_speed;
    if (points.size() < 3) {
        throw NoData(Reason::map_line_too_short,
                     {{speed, Quantity::angular_speed}, counted(points.size()), counted(3)});
    }
    const auto by_flow = [](const MapPoint& a, const MapPoint& b) {
        return a.corrected_flow < b.corrected_flow;
    };
    const auto by_ratio = [](const MapPoint& a, const MapPoint& b) {
        return a.pressure_ratio < b.pressure_ratio;
    };
    const auto [least, most] = std::minmax_element(points.begin(), points.end(), by_flow);
    const auto [lowest, highest] = std::minmax_element(points.begin(), points.end(), by_ratio);
    double flow_range = most->corrected_flow - least->corrected_flow;
    double ratio_range = highest->pressure_ratio - lowest->pressure_ratio;
    const auto shape_error = [&] {
        return InvalidArgument("map", Reason::map_line_shape, {{speed, Quantity::angular_speed}});
    };
    if (!(flow_range > 0.0) || !(ratio_range > 0.0)) throw shape_error();
    const auto along = [&](const MapPoint& p) {
        return p.corrected_flow / flow_range - p.pressure_ratio / ratio_range;
    };
    std::sort(points.begin(), points.end(),
              [&](const MapPoint& a, const MapPoint& b) { return along(a) < along(b); });
    // From here on the ranges are those between the two ends of the line.
    flow_range = points.back().corrected_flow - points.front().corrected_flow;
    ratio_range = points.front().pressure_ratio - points.back().pressure_ratio;
    if (!(flow_range > 0.0) || !(ratio_range > 0.0)) throw shape_error();
    const double start = along(points.front());
    std::vector<double> u, flow, ratio, efficiency;
    for (const MapPoint& p : points) {
        const double here = std::clamp(0.5 * (along(p) - start), 0.0, 1.0);
        if (!u.empty() && !(here > u.back() + 1e-9)) {
            throw InvalidArgument(
                "map", Reason::map_point_twice,
                {{speed, Quantity::angular_speed}, {p.corrected_flow, Quantity::mass_flow}});
        }
        u.push_back(here);
        flow.push_back(p.corrected_flow);
        ratio.push_back(p.pressure_ratio);
        efficiency.push_back(p.efficiency);
    }
    u.back() = 1.0;
    const auto peak = std::max_element(ratio.begin(), ratio.end());
    for (std::size_t k = 1; k < u.size(); ++k) {
        const double rise = (ratio[k] - ratio[k - 1]) / ratio_range;
        const bool before_peak = ratio.begin() + static_cast<std::ptrdiff_t>(k) <= peak;
        const bool back_in_flow = flow[k] - flow[k - 1] < -slip * flow_range;
        if (back_in_flow || (before_peak ? rise < -slip : rise > slip)) throw shape_error();
    }
    const double peak_ratio = *peak;
    const double u_peak = u[static_cast<std::size_t>(peak - ratio.begin())];
    return {speed,
            u_peak,
            peak_ratio,
            statistics::MonotoneCurve(u, flow),
            statistics::MonotoneCurve(u, ratio),
            statistics::MonotoneCurve(u, efficiency)};
}

double flow_margin(double more, double less, double flow) {
    return (more - less) / flow;
}

}  // namespace

struct CompressorMap::Lines {
    std::vector<SpeedLine> line;  // slowest first

    const SpeedLine& slowest() const { return line.front(); }
    const SpeedLine& fastest() const { return line.back(); }
    double highest_ratio() const { return fastest().peak_ratio; }

    struct State {
        double flow;
        double efficiency;
        double shaft_speed;
    };

    /// The place of the interpolation between lines: ratios at equal u, ascending, around the one wanted.
    template <std::size_t n, class Value>
    static double across(const std::array<double, n>& ratios, double ratio, Value value) {
        std::array<double, n> y{};
        for (std::size_t i = 0; i < n; ++i) y[i] = value(i);
        return statistics::monotone_value(ratios, y, std::clamp(ratio, ratios.front(), ratios.back()));
    }

    template <std::size_t n>
    double flow_across(std::size_t first, double u, double ratio) const {
        std::array<double, n> ratios{};
        for (std::size_t i = 0; i < n; ++i) ratios[i] = line[first + i].ratio(u);
        return across(ratios, ratio, [&](std::size_t i) { return line[first + i].flow(u); });
    }

    template <std::size_t n>
    State state_across(std::size_t first, double u, double ratio) const {
        std::array<double, n> ratios{};
        for (std::size_t i = 0; i < n; ++i) ratios[i] = line[first + i].ratio(u);
        return {across(ratios, ratio, [&](std::size_t i) { return line[first + i].flow(u); }),
                across(ratios, ratio, [&](std::size_t i) { return line[first + i].efficiency(u); }),
                across(ratios, ratio, [&](std::size_t i) { return line[first + i].shaft_speed; })};
    }

    /// The first of the (at most four) lines that decide the monotone cubic around `ratio` at `u`: two on
    /// each side. More lines would not change the result, since the slopes at a point depend on its
    /// neighbours only.
    std::size_t first_line(double u, double ratio) const {
        std::size_t above = 1;
        while (above + 1 < line.size() && line[above].ratio(u) < ratio) ++above;
        const std::size_t first = above >= 2 ? above - 2 : 0;
        return std::min(first, line.size() >= 4 ? line.size() - 4 : 0);
    }

    double flow(double u, double ratio) const {
        if (line.size() == 2) return flow_across<2>(0, u, ratio);
        if (line.size() == 3) return flow_across<3>(0, u, ratio);
        return flow_across<4>(first_line(u, ratio), u, ratio);
    }

    State state(double u, double ratio) const {
        if (line.size() == 2) return state_across<2>(0, u, ratio);
        if (line.size() == 3) return state_across<3>(0, u, ratio);
        return state_across<4>(first_line(u, ratio), u, ratio);
    }

    State fastest_state(double u) const {
        return {fastest().flow(u), fastest().efficiency(u), fastest().shaft_speed};
    }

    /// Where a line has the ratio, between two u at which it lies on either side of it.
    static double u_at_ratio(const SpeedLine& of, double ratio, double from, double to) {
        return root_between([&](double u) { return of.ratio(u) - ratio; }, from, to, Reason::map_ends_above,
                            {{of.peak_ratio, Quantity::ratio}, {ratio, Quantity::ratio}}, solver_bits);
    }

    /// The stretch of u in which the pressure ratio lies in the map.
    struct Stretch {
        double from;
        double to;
        MapEdge left;
        MapEdge right;
    };

    Stretch stretch(double ratio) const {
        Stretch s{0.0, 1.0, MapEdge::surge, MapEdge::choke};
        const SpeedLine& top = fastest();
        if (top.ratio(1.0) < ratio) {
            s.to = u_at_ratio(top, ratio, top.peak, 1.0);
            s.right = MapEdge::highest_speed;
        }
        if (top.ratio(0.0) < ratio) {  // on the rising beginning of the fastest line
            s.from = u_at_ratio(top, ratio, 0.0, top.peak);
            s.left = MapEdge::highest_speed;
        }
        return s;
    }
};

CompressorMap::CompressorMap(std::span<const MapPoint> points, Reference reference) : reference_(reference) {
    require("reference_temperature", reference.temperature, positive);
    require("reference_pressure", reference.pressure, positive);
    std::vector<MapPoint> sorted(points.begin(), points.end());
    for (const MapPoint& p : sorted) {
        require("shaft_speed", p.shaft_speed, positive);
        require("corrected_flow", p.corrected_flow, positive);
        require("pressure_ratio", p.pressure_ratio,
                {1.0, std::numeric_limits<double>::infinity(), false, true});
        require("efficiency", p.efficiency, {0.0, 1.0, true, false});
    }
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const MapPoint& a, const MapPoint& b) { return a.shaft_speed < b.shaft_speed; });
    auto lines = std::make_shared<Lines>();
    for (auto first = sorted.begin(); first != sorted.end();) {
        const auto next = std::find_if(first, sorted.end(), [&](const MapPoint& p) {
            return p.shaft_speed > first->shaft_speed * (1.0 + same_speed);
        });
        lines->line.push_back(build_line({first, next}));
        first = next;
    }
    if (lines->line.size() < 2) {
        throw NoData(Reason::map_too_small, {counted(lines->line.size()), counted(2)});
    }
    for (std::size_t i = 1; i < lines->line.size(); ++i) {
        const SpeedLine& slow = lines->line[i - 1];
        const SpeedLine& fast = lines->line[i];
        for (int k = 0; k <= 64; ++k) {
            const double u = k / 64.0;
            if (!(fast.ratio(u) > slow.ratio(u))) {
                throw InvalidArgument("map", Reason::map_lines_cross,
                                      {{slow.shaft_speed, Quantity::angular_speed},
                                       {fast.shaft_speed, Quantity::angular_speed}});
            }
        }
    }
    lines_ = std::move(lines);
}

double CompressorMap::highest_ratio() const noexcept {
    return lines_->highest_ratio();
}

double CompressorMap::highest_flow() const noexcept {
    double highest = 0.0;
    for (const SpeedLine& line : lines_->line) highest = std::max(highest, line.flow(1.0));
    return highest;
}

double CompressorMap::surge_flow(double pressure_ratio) const {
    require("pressure_ratio", pressure_ratio, {1.0, std::numeric_limits<double>::infinity(), false, true});
    const double ratio = std::min(pressure_ratio, lines_->highest_ratio());
    const double slowest = lines_->slowest().ratio(0.0);
    if (ratio >= slowest) return lines_->flow(lines_->stretch(ratio).from, ratio);
    constexpr double exponent =
        (compressed_air.heat_capacity_ratio - 1.0) / compressed_air.heat_capacity_ratio;
    const auto head = [](double at) { return std::pow(at, exponent) - 1.0; };
    return lines_->slowest().flow(0.0) * std::sqrt(head(ratio) / head(slowest));
}

double CompressorMap::speed_below_slowest(double corrected_flow, double pressure_ratio) const {
    require("corrected_flow", corrected_flow, positive);
    require("pressure_ratio", pressure_ratio, {1.0, std::numeric_limits<double>::infinity(), false, true});
    constexpr double exponent =
        (compressed_air.heat_capacity_ratio - 1.0) / compressed_air.heat_capacity_ratio;
    const SpeedLine& line = lines_->slowest();
    const double head = std::pow(pressure_ratio, exponent) - 1.0;
    // At each point of the line the factor that the flow asks for, and what it then gives too much.
    const auto too_much = [&](double u) {
        const double factor = corrected_flow / line.flow(u);
        return (std::pow(line.ratio(u), exponent) - 1.0) * factor * factor - head;
    };
    const auto by_head = [&](double u) {
        return std::fmin(std::sqrt(head / (std::pow(line.ratio(u), exponent) - 1.0)), 1.0);
    };
    if (!(too_much(0.0) > 0.0)) return by_head(0.0);  // left of the surge line
    if (!(too_much(1.0) < 0.0)) return by_head(1.0);
    const double u = root_between(too_much, 0.0, 1.0, Reason::map_begins_above, {}, solver_bits);
    return std::fmin(corrected_flow / line.flow(u), 1.0);
}

MapReading CompressorMap::nearest(double corrected_flow, double pressure_ratio) const {
    require("corrected_flow", corrected_flow, positive);
    require("pressure_ratio", pressure_ratio, positive);
    const double ratio = std::min(pressure_ratio, lines_->highest_ratio());
    const SpeedLine& bottom = lines_->slowest();
    const Lines::Stretch stretch = lines_->stretch(ratio);
    MapReading reading{};
    reading.left_edge = stretch.left;
    reading.right_edge = stretch.right;
    const double begins = lines_->flow(stretch.from, ratio);
    reading.left_flow = begins;
    reading.right_flow = lines_->flow(stretch.to, ratio);
    if (ratio < bottom.ratio(0.0)) {
        reading.left_edge = MapEdge::lowest_speed;
        reading.left_flow = ratio > bottom.ratio(1.0)
                                ? bottom.flow(Lines::u_at_ratio(bottom, ratio, bottom.peak, 1.0))
                                : bottom.flow(1.0);
    }
    // Below the slowest line `flow` follows that line, so that the point found there has the flow asked for.
    double u = stretch.to;
    const bool over_fastest = pressure_ratio > ratio || (stretch.right == MapEdge::highest_speed &&
                                                         corrected_flow > reading.right_flow);
    if (over_fastest) {
        u = lines_->fastest().beside(corrected_flow, pressure_ratio);
    } else if (corrected_flow <= begins) {
        u = stretch.from;
    } else if (corrected_flow < reading.right_flow) {
        u = root_between([&](double at) { return lines_->flow(at, ratio) - corrected_flow; }, stretch.from,
                         stretch.to, Reason::map_ends_right, {}, solver_bits);
    }
    reading.lowest_ratio = bottom.ratio(u);
    const Lines::State state = over_fastest ? lines_->fastest_state(u) : lines_->state(u, ratio);
    reading.efficiency = state.efficiency;
    reading.shaft_speed = state.shaft_speed;
    reading.surge_margin = flow_margin(corrected_flow, reading.left_flow, corrected_flow);
    reading.choke_margin = flow_margin(reading.right_flow, corrected_flow, corrected_flow);
    reading.ratio_margin = (lines_->highest_ratio() - pressure_ratio) / pressure_ratio;
    return reading;
}

MapReading CompressorMap::at(double corrected_flow, double pressure_ratio) const {
    MapReading reading = nearest(corrected_flow, pressure_ratio);
    if (reading.ratio_margin < -rounding) {
        throw NoSolution(Reason::map_ends_above,
                         {{highest_ratio(), Quantity::ratio}, {pressure_ratio, Quantity::ratio}});
    }
    if (reading.left_edge != MapEdge::lowest_speed && reading.surge_margin < -rounding) {
        throw NoSolution(Reason::map_ends_left, {{pressure_ratio, Quantity::ratio},
                                                 {reading.left_flow, Quantity::mass_flow},
                                                 {corrected_flow, Quantity::mass_flow}});
    }
    if (reading.choke_margin < -rounding) {
        throw NoSolution(Reason::map_ends_right, {{pressure_ratio, Quantity::ratio},
                                                  {reading.right_flow, Quantity::mass_flow},
                                                  {corrected_flow, Quantity::mass_flow}});
    }
    if (pressure_ratio < reading.lowest_ratio * (1.0 - rounding)) {
        throw NoSolution(Reason::map_begins_above,
                         {{reading.lowest_ratio, Quantity::ratio}, {pressure_ratio, Quantity::ratio}});
    }
    if (reading.left_edge == MapEdge::surge && reading.surge_margin < near_edge) {
        reading.warnings.push_back({Reason::near_surge, {{reading.surge_margin, Quantity::share}}});
    }
    if (reading.choke_margin < near_edge) {
        reading.warnings.push_back(
            {reading.right_edge == MapEdge::choke ? Reason::near_choke : Reason::near_highest_speed,
             {{reading.choke_margin, Quantity::share}}});
    }
    return reading;
}

double clearance(const MapReading& reading) {
    const double right = std::min(reading.choke_margin, reading.ratio_margin);
    return reading.left_edge == MapEdge::lowest_speed ? right : std::min(right, reading.surge_margin);
}

}  // namespace pullsheet::boost
