// SPDX-License-Identifier: Apache-2.0
#include "core/boost/turbine_map.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/boost/turbine.hpp"
#include "core/error.hpp"

namespace pullsheet::boost {
namespace {

// A fit of a small turbine's reduced flow, kg/s·√K/kPa, over the expansion ratio, in the form of Jensen et
// al., SAE 910070; its coefficients from memory of open parameter sets.
double fitted(double ratio) {
    return 0.0292 * std::sqrt(1.0 - std::pow(ratio, -1.93171038));
}

const Reference unity{1.0, 1e3};  // corrected flow is then the reduced one

std::vector<TurbineMapPoint> fitted_points() {
    std::vector<TurbineMapPoint> points;
    for (const double ratio : {1.2, 1.4, 1.7, 2.0, 2.5, 3.0}) points.push_back({ratio, fitted(ratio)});
    return points;
}

TEST(Jensen1991Identities, MapOfAFit) {
    const TurbineMap map(fitted_points(), unity);
    EXPECT_NEAR(fitted(1.55), 0.0220671935, 5e-11);
    EXPECT_NEAR(map.at(1.55).corrected_flow, 0.0220671935, 3e-3 * 0.0220671935);
    EXPECT_FALSE(map.at(1.55).extrapolated);
    // Below and above the points.
    EXPECT_NEAR(map.at(1.1).corrected_flow, fitted(1.1), 0.02 * fitted(1.1));
    EXPECT_TRUE(map.at(1.1).extrapolated);
    EXPECT_EQ(map.at(4.0).corrected_flow, map.at(3.0).corrected_flow);
    EXPECT_TRUE(map.at(4.0).extrapolated);
}

TEST(TurbineMapIdentities, RatioIsTheInverseOfFlow) {
    const TurbineMap map(fitted_points(), unity);
    for (const double ratio : {1.0001, 1.05, 1.2, 1.63, 2.9, 3.0, 5.0}) {
        const double outlet = 110e3, temperature = 1150.0;
        const double flow = map.at(ratio).corrected_flow * ratio * outlet / 1e3 / std::sqrt(temperature);
        EXPECT_NEAR(map.pressure_ratio(flow, temperature, outlet), ratio, 1e-9 * ratio);
    }
    EXPECT_EQ(map.pressure_ratio(0.0, 1150.0, 110e3), 1.0);
}

// Points of two nozzles in series give the turbine by its area back.
TEST(TurbineMapIdentities, AMapOfTwoNozzlesIsATurbineByItsArea) {
    constexpr double area = 9e-4;
    std::vector<TurbineMapPoint> points;
    for (double ratio = 1.1; ratio < 4.5; ratio += 0.2) {
        const double flow = turbine_flow(288.15, 101325.0, 101325.0 / ratio, area);
        points.push_back({ratio, flow});
    }
    Turbine by_area{}, by_map{};
    by_area.effective_area = by_map.effective_area = area;
    by_map.map.emplace(points);
    for (const double flow : {0.02, 0.1, 0.2, 0.4}) {
        const GasStream stream{flow, 1200.0};
        const Expansion a = expand(by_area, stream, 108e3), b = expand(by_map, stream, 108e3);
        EXPECT_NEAR(b.inlet_pressure, a.inlet_pressure, 2e-3 * a.inlet_pressure);
        EXPECT_NEAR(b.power, a.power, 5e-3 * a.power);
        const double wanted = 0.6 * b.power;
        const Expansion driving = drive(by_map, stream, 108e3, wanted);
        EXPECT_NEAR(driving.power, wanted, 1e-9 * wanted);
        EXPECT_GT(driving.wastegate_share, 0.0);
    }
}

TEST(TurbineMapLines, BetweenTwoSpeeds) {
    const TurbineMap map(
        {{1.5, 0.10, 0.60, 5e3}, {2.5, 0.13, 0.64, 5e3}, {1.5, 0.09, 0.64, 9e3}, {2.5, 0.13, 0.70, 9e3}});
    EXPECT_TRUE(map.has_efficiency());
    EXPECT_NEAR(map.at(1.5, 5e3).corrected_flow, 0.10, 1e-15);
    EXPECT_NEAR(map.at(1.5, 7e3).corrected_flow, 0.095, 1e-15);
    EXPECT_NEAR(*map.at(2.5, 7e3).efficiency, 0.67, 1e-15);
    // Beyond the lines the last one; without a speed their mean.
    EXPECT_NEAR(map.at(1.5, 2e4).corrected_flow, 0.09, 1e-15);
    EXPECT_NEAR(map.at(1.5, 1e3).corrected_flow, 0.10, 1e-15);
    EXPECT_NEAR(map.at(1.5).corrected_flow, 0.095, 1e-15);
    // The efficiency of the map is that of the turbine.
    Turbine turbine{};
    turbine.effective_area = 1e-3;
    turbine.map = map;
    const GasStream stream{0.12, 1150.0};
    const double speed = 7e3 / map.corrected_speed(1.0, 1150.0);
    const Expansion at = expand(turbine, stream, 100e3, speed);
    const double efficiency = *map.at(at.pressure_ratio(), 7e3).efficiency;
    EXPECT_NEAR(at.power, turbine_power(0.12, 1150.0, at.pressure_ratio(), efficiency), 1e-6 * at.power);
}

TEST(TurbineMapErrors, WhatCannotBe) {
    const auto reason = [](const std::vector<TurbineMapPoint>& points) {
        try {
            const TurbineMap map(points);
        } catch (const InvalidArgument& error) {
            return error.reason();
        } catch (const NoData& error) {
            return error.reason();
        }
        return Reason::no_power;
    };
    EXPECT_EQ(reason({}), Reason::too_few_points);
    EXPECT_EQ(reason({{1.5, 0.1}}), Reason::map_line_too_short);
    EXPECT_EQ(reason({{1.5, 0.1}, {1.5, 0.11}}), Reason::map_point_twice);
    EXPECT_EQ(reason({{1.5, 0.1}, {2.0, 0.09}}), Reason::not_increasing);
    EXPECT_EQ(reason({{1.5, 0.1, 0.6}, {2.0, 0.11}}), Reason::lengths_differ);
    EXPECT_EQ(reason({{1.5, 0.1, {}, 9e3}, {2.0, 0.11}}), Reason::lengths_differ);
    EXPECT_EQ(reason({{1.0, 0.1}, {2.0, 0.11}}), Reason::out_of_range);
    EXPECT_EQ(reason({{1.5, 0.0}, {2.0, 0.11}}), Reason::out_of_range);
    EXPECT_EQ(reason({{1.5, 0.1, 1.2}, {2.0, 0.11, 0.6}}), Reason::out_of_range);
    EXPECT_EQ(reason({{2.0, 0.11}, {1.5, 0.1}}), Reason::no_power);
}

}  // namespace
}  // namespace pullsheet::boost
