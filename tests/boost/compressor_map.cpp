// SPDX-License-Identifier: Apache-2.0
#include "core/boost/compressor_map.hpp"

#include <gtest/gtest.h>
#include <math.h>  // Boost 1.74's pchip calls isnan without its namespace

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>
#include <random>
#include <span>

#include "core/boost/shaft.hpp"
#include "tests/boost/invented_map.hpp"

namespace pullsheet::boost {
namespace {

/// A map given by formulas: at u on the line of speed x (1 is 1000 rad/s).
MapPoint smooth(double x, double u) {
    const double flow = (0.1 + 0.25 * x) * (0.4 + 0.6 * u) * x;
    const double ratio = 1.0 + 0.9 * x * x * (1.0 - 0.55 * u * u * u);
    return {x * 1000.0, flow, ratio, 0.78 - 0.9 * (u - 0.45) * (u - 0.45) - 0.05 * (x - 1.1) * (x - 1.1)};
}

std::vector<MapPoint> smooth_map(int lines, int points) {
    std::vector<MapPoint> map;
    for (int i = 0; i < lines; ++i) {
        for (int k = 0; k < points; ++k)
            map.push_back(smooth(0.5 + 1.0 * i / (lines - 1), 1.0 * k / (points - 1)));
    }
    return map;
}

// Evidence from outside: along a speed line the curve is that of Boost.Math's pchip through the same points
// with the same slopes at its ends.

/// One speed line of `count` points, over u as the class documents it.
struct LineByPchip {
    using Pchip = ::boost::math::interpolators::pchip<std::vector<double>>;
    double flows, ratios;  // the ranges of flow and ratio
    Pchip flow, ratio, efficiency;

    static LineByPchip through(std::span<const MapPoint> points) {
        const double flows = points.back().corrected_flow - points.front().corrected_flow;
        const double ratios = points.front().pressure_ratio - points.back().pressure_ratio;
        std::vector<double> u, flow, ratio, efficiency;
        for (const MapPoint& p : points) {
            u.push_back(0.5 * ((p.corrected_flow - points.front().corrected_flow) / flows +
                               (points.front().pressure_ratio - p.pressure_ratio) / ratios));
            flow.push_back(p.corrected_flow);
            ratio.push_back(p.pressure_ratio);
            efficiency.push_back(p.efficiency);
        }
        const auto pchip = [&u](std::vector<double> y) {
            const std::size_t n = u.size();
            const double left = end(u[1] - u[0], u[2] - u[1], y[1] - y[0], y[2] - y[1]);
            const double right =
                end(u[n - 1] - u[n - 2], u[n - 2] - u[n - 3], y[n - 1] - y[n - 2], y[n - 2] - y[n - 3]);
            return Pchip{std::vector(u), std::move(y), left, right};
        };
        return {flows, ratios, pchip(std::move(flow)), pchip(std::move(ratio)), pchip(std::move(efficiency))};
    }

    /// Slope at an end from two intervals, the nearest first: the parabola through the three points, 0 where
    /// it would turn (the function PCHST of SLATEC's PCHIM, from memory). None of these lines has a peak
    /// next to its end.
    static double end(double near, double far, double rise, double next_rise) {
        const double slope = rise / near + (rise / near - next_rise / far) * near / (near + far);
        return slope * rise > 0.0 ? slope : 0.0;
    }
};

TEST(BoostMathPchipIndependent, AlongASpeedLine) {
    const auto points = invented_map();
    const CompressorMap map(points);
    const LineByPchip slowest = LineByPchip::through(std::span(points).first(5));
    for (double at : {0.05, 0.21, 0.4, 0.66, 0.87}) {
        const MapReading reading = map.at(slowest.flow(at), slowest.ratio(at) * (1.0 + 1e-12));
        EXPECT_NEAR(reading.efficiency, slowest.efficiency(at), 1e-7);
        EXPECT_NEAR(reading.shaft_speed, points[0].shaft_speed, 1e-3);
    }
}

// Beyond the fastest line the nearest point is the one from which flow and ratio have both grown by the same
// share of their ranges along the line.
TEST(BoostMathPchipIndependent, BeyondTheFastestLine) {
    const auto points = invented_map();
    const CompressorMap map(points);
    const LineByPchip fastest = LineByPchip::through(std::span(points).last(5));
    for (double at : {0.05, 0.21, 0.4, 0.66, 0.87}) {
        for (double share : {0.02, 0.1, 0.5}) {
            const MapReading reading = map.nearest(fastest.flow(at) + share * fastest.flows,
                                                   fastest.ratio(at) + share * fastest.ratios);
            EXPECT_NEAR(reading.efficiency, fastest.efficiency(at), 1e-7) << at << ' ' << share;
            EXPECT_EQ(reading.shaft_speed, points.back().shaft_speed);
        }
    }
}

// The fastest line may rise at its beginning: above its first point it is itself the left edge of the map.
TEST(CompressorMapIdentities, AboveTheRisingBeginningOfTheFastestLine) {
    auto points = invented_map();
    MapPoint& first = points[25];
    ASSERT_EQ(first.corrected_flow, 0.460);
    first.pressure_ratio = 3.60;
    const CompressorMap map(points);
    const MapReading reading = map.at(0.56, 3.66);
    EXPECT_EQ(reading.left_edge, MapEdge::highest_speed);
    EXPECT_GT(reading.left_flow, 0.460);
    EXPECT_LT(reading.left_flow, 0.540);
    // There the line has the ratio asked for, and left of it the map has none.
    EXPECT_NEAR(map.at(reading.left_flow * (1.0 + 1e-9), 3.66).shaft_speed, first.shaft_speed, 1.0);
    EXPECT_THROW(map.at(0.99 * reading.left_flow, 3.66), NoSolution);
    EXPECT_EQ(map.at(0.52, 3.40).left_edge, MapEdge::surge);
}

TEST(CompressorMapIdentities, PassesThroughEveryPointInAnyOrder) {
    auto points = invented_map();
    std::mt19937 random(1);
    std::shuffle(points.begin(), points.end(), random);
    const CompressorMap map(points);
    for (const MapPoint& p : points) {
        const MapReading reading = map.at(p.corrected_flow, p.pressure_ratio);
        EXPECT_NEAR(reading.efficiency, p.efficiency, 1e-6) << p.corrected_flow << ' ' << p.pressure_ratio;
        EXPECT_NEAR(reading.shaft_speed / p.shaft_speed, 1.0, 1e-6);
    }
}

TEST(CompressorMapIdentities, RecoversASmoothMapBetweenItsPoints) {
    const CompressorMap coarse(smooth_map(6, 6));
    const CompressorMap fine(smooth_map(21, 21));
    double worst_coarse = 0.0, worst_fine = 0.0;
    for (double x = 0.55; x < 1.45; x += 0.07) {
        for (double u = 0.06; u < 0.95; u += 0.073) {
            const MapPoint p = smooth(x, u);
            const auto deviation = [&](const CompressorMap& map) {
                const MapReading r = map.at(p.corrected_flow, p.pressure_ratio);
                EXPECT_NEAR(r.shaft_speed / p.shaft_speed, 1.0, 0.01);
                return std::fabs(r.efficiency - p.efficiency);
            };
            worst_coarse = std::max(worst_coarse, deviation(coarse));
            worst_fine = std::max(worst_fine, deviation(fine));
        }
    }
    EXPECT_LT(worst_coarse, 0.01);
    EXPECT_LT(worst_fine, 0.001);
}

TEST(CompressorMapIdentities, EfficiencyDoesNotOvershoot) {
    const auto points = invented_map();
    const CompressorMap map(points);
    for (double ratio = 1.1; ratio < map.highest_ratio(); ratio += 0.03) {
        for (double flow = 0.05; flow < 0.72; flow += 0.007) {
            const MapReading r = map.nearest(flow, ratio);
            EXPECT_GE(r.efficiency, 0.5 - 1e-12);
            EXPECT_LE(r.efficiency, 0.765 + 1e-12);
            EXPECT_GE(r.shaft_speed, points.front().shaft_speed * (1.0 - 1e-12));
            EXPECT_LE(r.shaft_speed, points.back().shaft_speed * (1.0 + 1e-12));
        }
    }
}

TEST(CompressorMapIdentities, ReadingIsContinuous) {
    const CompressorMap map(invented_map());
    for (double ratio = 1.35; ratio < 3.7; ratio += 0.1) {
        const MapReading any = map.nearest(0.3, ratio);
        double last = map.at(any.left_flow, ratio).efficiency;
        const int steps = 400;
        for (int k = 1; k <= steps; ++k) {
            const double flow = any.left_flow + (any.right_flow - any.left_flow) * k / steps;
            const double now = map.at(flow, ratio).efficiency;
            EXPECT_LT(std::fabs(now - last), 0.02) << ratio << ' ' << flow;
            last = now;
        }
    }
}

// The nearest point does not jump where a point leaves the map, along ways through every edge.
TEST(CompressorMapIdentities, NearestIsContinuousAcrossTheEdges) {
    const CompressorMap map(invented_map());
    const int steps = 4000;
    for (double start = 0.05; start < 0.3; start += 0.02) {
        for (double slope : {2.0, 4.0, 5.5, 7.0, 9.0}) {
            double last = map.nearest(start, 1.05).efficiency;
            for (int k = 1; k <= steps; ++k) {
                const double flow = start + 0.8 * k / steps;
                const double now = map.nearest(flow, 1.05 + slope * (flow - start)).efficiency;
                EXPECT_LT(std::fabs(now - last), 0.01) << start << ' ' << slope << ' ' << flow;
                last = now;
            }
        }
    }
}

TEST(CompressorMapIdentities, MarginsAreSharesOfTheFlow) {
    const CompressorMap map(invented_map());
    const MapReading r = map.at(0.45, 2.4);
    EXPECT_NEAR(0.45 * (1.0 - r.surge_margin), r.left_flow, 1e-12);
    EXPECT_NEAR(0.45 * (1.0 + r.choke_margin), r.right_flow, 1e-12);
    EXPECT_EQ(r.left_edge, MapEdge::surge);
    EXPECT_EQ(r.right_edge, MapEdge::choke);
    EXPECT_EQ(map.at(0.6, 3.0).right_edge, MapEdge::highest_speed);
    EXPECT_EQ(map.at(0.3, 1.2).left_edge, MapEdge::lowest_speed);
    // At the surge end of a line the map begins, at its choke end it ends.
    EXPECT_NEAR(map.at(0.290, 2.640).left_flow, 0.290, 1e-9);
    EXPECT_NEAR(map.at(0.610, 1.750).right_flow, 0.610, 1e-9);
}

TEST(CompressorMapIdentities, SmallestMap) {
    const std::vector<MapPoint> points = {{5e3, 0.1, 1.5, 0.65},  {5e3, 0.2, 1.45, 0.74},
                                          {5e3, 0.25, 1.2, 0.6},  {8e3, 0.18, 2.2, 0.64},
                                          {8e3, 0.32, 2.1, 0.73}, {8e3, 0.38, 1.6, 0.58}};
    const CompressorMap map(points);
    for (const MapPoint& p : points)
        EXPECT_NEAR(map.at(p.corrected_flow, p.pressure_ratio).efficiency, p.efficiency, 1e-6);
    EXPECT_NEAR(map.at(0.25, 1.8).shaft_speed, 6.5e3, 1e3);
}

TEST(CompressorMapIdentities, StandsHandDigitisedChokeEnd) {
    // Near choke a hand slips: the flow falls back a little while the ratio falls.
    auto points = invented_map();
    for (MapPoint& p : points) {
        if (p.corrected_flow == 0.670) p.corrected_flow = 0.6295;
    }
    const CompressorMap map(points);
    EXPECT_NEAR(map.at(0.6295, 2.05).efficiency, 0.53, 1e-6);
    EXPECT_NEAR(map.at(0.630, 2.68).efficiency, 0.69, 1e-6);
}

template <class Error, class Call>
Error caught(Call call) {
    try {
        call();
    } catch (const Error& error) {
        return error;
    }
    throw std::runtime_error("no error");
}

TEST(CompressorMapErrors, OutsideTheMap) {
    const CompressorMap map(invented_map());
    const auto left = caught<NoSolution>([&] { map.at(0.2, 2.5); });
    EXPECT_EQ(left.reason(), Reason::map_ends_left);
    EXPECT_NEAR(left.details().at(1).value, 0.27, 0.01);
    EXPECT_EQ(left.details().at(2).value, 0.2);
    const auto right = caught<NoSolution>([&] { map.at(0.7, 2.0); });
    EXPECT_EQ(right.reason(), Reason::map_ends_right);
    EXPECT_NEAR(right.details().at(1).value, 0.65, 0.02);
    const auto above = caught<NoSolution>([&] { map.at(0.5, 4.0); });
    EXPECT_EQ(above.reason(), Reason::map_ends_above);
    EXPECT_EQ(above.details().at(0).value, 3.76);
    const auto below = caught<NoSolution>([&] { map.at(0.15, 1.1); });
    EXPECT_EQ(below.reason(), Reason::map_begins_above);
    EXPECT_NEAR(below.details().at(0).value, 1.32, 0.01);
    EXPECT_LT(clearance(map.nearest(0.2, 2.5)), 0.0);
    EXPECT_LT(clearance(map.nearest(0.7, 2.0)), 0.0);
    EXPECT_LT(clearance(map.nearest(0.5, 4.0)), 0.0);
    EXPECT_GT(clearance(map.nearest(0.15, 1.1)), 0.0);
}

TEST(CompressorMapErrors, RefusesWhatIsNoMap) {
    const auto points = invented_map();
    EXPECT_EQ(caught<NoData>([] { CompressorMap(std::vector<MapPoint>{}); }).reason(), Reason::map_too_small);
    EXPECT_EQ(
        caught<NoData>([&] { CompressorMap(std::vector(points.begin(), points.begin() + 5)); }).reason(),
        Reason::map_too_small);
    EXPECT_EQ(
        caught<NoData>([&] { CompressorMap(std::vector(points.begin(), points.begin() + 7)); }).reason(),
        Reason::map_line_too_short);
    auto twice = points;
    twice.push_back(points[7]);
    EXPECT_EQ(caught<InvalidArgument>([&] { CompressorMap{twice}; }).reason(), Reason::map_point_twice);
    auto rising = points;
    std::swap(rising[0].pressure_ratio, rising[4].pressure_ratio);
    EXPECT_EQ(caught<InvalidArgument>([&] { CompressorMap{rising}; }).reason(), Reason::map_line_shape);
    auto crossing = points;
    for (MapPoint& p : crossing) {
        if (p.shaft_speed == points[5].shaft_speed) p.shaft_speed = 0.5 * points[0].shaft_speed;
    }
    EXPECT_EQ(caught<InvalidArgument>([&] { CompressorMap{crossing}; }).reason(), Reason::map_lines_cross);
    auto bad = points;
    bad[3].efficiency = 70.0;
    EXPECT_THROW(CompressorMap{bad}, InvalidArgument);
    bad = points;
    bad[3].corrected_flow = std::nan("");
    EXPECT_THROW(CompressorMap{bad}, InvalidArgument);
    EXPECT_THROW(CompressorMap(points, {298.15, 0.0}), InvalidArgument);
    EXPECT_THROW(CompressorMap(points).at(std::nan(""), 2.0), InvalidArgument);
    EXPECT_THROW(CompressorMap(points).at(0.3, std::nan("")), InvalidArgument);
}

// The surge line passes the surge ends of the speed lines, and goes on below the slowest by similarity.
TEST(CompressorMapIdentities, SurgeLine) {
    const CompressorMap map(invented_map());
    EXPECT_NEAR(map.surge_flow(1.33), 0.080, 1e-9);
    EXPECT_NEAR(map.surge_flow(2.08), 0.200, 1e-9);
    EXPECT_NEAR(map.surge_flow(3.76), 0.460, 1e-9);
    EXPECT_EQ(map.surge_flow(5.0), map.surge_flow(map.highest_ratio()));
    EXPECT_EQ(map.surge_flow(1.0), 0.0);
    for (const double share : {0.3, 0.7, 0.9})
        EXPECT_NEAR(map.surge_flow(pressure_ratio_by_similarity(1.33, share)), share * 0.080, 1e-12);
    EXPECT_THROW(map.surge_flow(0.9), InvalidArgument);
}

// Below the slowest line: at each of its points with flow and speed times a factor, the ratio by similarity.
TEST(CompressorMapIdentities, SpeedBelowTheSlowestLine) {
    const CompressorMap map(invented_map());
    for (const auto& [flow, ratio] : {std::pair{0.140, 1.325}, {0.200, 1.290}, {0.260, 1.210}})
        for (const double factor : {0.3, 0.6, 0.95})
            EXPECT_NEAR(map.speed_below_slowest(factor * flow, pressure_ratio_by_similarity(ratio, factor)),
                        factor, 1e-9);
    EXPECT_NEAR(map.speed_below_slowest(0.2, 1.290), 1.0, 1e-9);
    EXPECT_EQ(map.speed_below_slowest(0.2, 1.0), 0.0);
    // Left of the surge line and right of the line's end the ratio alone tells.
    EXPECT_NEAR(map.speed_below_slowest(1e-3, pressure_ratio_by_similarity(1.33, 0.5)), 0.5, 1e-9);
    EXPECT_NEAR(map.speed_below_slowest(5.0, pressure_ratio_by_similarity(1.08, 0.5)), 0.5, 1e-9);
}

TEST(CompressorMapWarnings, NearTheEdges) {
    const CompressorMap map(invented_map());
    EXPECT_TRUE(map.at(0.45, 2.4).warnings.empty());
    EXPECT_EQ(map.at(0.295, 2.640).warnings.at(0).reason, Reason::near_surge);
    EXPECT_EQ(map.at(0.608, 1.750).warnings.at(0).reason, Reason::near_choke);
    EXPECT_EQ(map.at(0.68, 3.10).warnings.at(0).reason, Reason::near_highest_speed);
}

}  // namespace
}  // namespace pullsheet::boost
