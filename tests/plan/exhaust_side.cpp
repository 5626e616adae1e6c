// SPDX-License-Identifier: Apache-2.0
#include "core/plan/exhaust_side.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/plan/chain.hpp"
#include "core/plan/limits.hpp"
#include "tests/plan/invented_plan.hpp"

namespace pullsheet::plan {
namespace {

boost::Turbine invented_turbine(double square_centimetres) {
    boost::Turbine turbine{};
    turbine.effective_area = square_centimetres * 1e-4;
    return turbine;
}

boost::ExhaustSystem invented_system() {
    boost::ExhaustSystem system{};
    system.pressure_loss = 20e3;
    system.reference_flow = 0.25;
    return system;
}

/// The invented build with a turbine and an exhaust system: parts 10 and 11.
Parts with_turbine(double square_centimetres) {
    Parts parts = invented_parts();
    parts.emplace_back(invented_turbine(square_centimetres));
    parts.emplace_back(invented_system());
    return parts;
}

TEST(ExhaustSideIdentities, WithTheWastegateShutPowerAndOutletPressureAgree) {
    const Parts parts{Compressor{}, invented_turbine(8.0), invented_system()};
    const ExhaustSide side(parts);
    for (const double flow : {0.02, 0.1, 0.3, 0.5}) {
        const boost::GasStream stream{flow, 1200.0};
        const boost::Expansion shut = side.shut(stream, 98e3);
        EXPECT_NEAR(side.outlet_pressure(stream, 98e3, shut.power), shut.outlet_pressure, 1e-7);
        EXPECT_EQ(shut.wastegate_share, 0.0);
        const auto driving = side.driving(stream, 98e3, 0.7 * shut.power);
        ASSERT_TRUE(driving);
        EXPECT_NEAR(driving->power, 0.7 * shut.power, 1e-8 * shut.power);
        EXPECT_GT(driving->wastegate_share, 0.0);
        EXPECT_FALSE(side.driving(stream, 98e3, 1.02 * shut.power));
        EXPECT_FALSE(side.driving(stream, 98e3, 1e7));
        EXPECT_FALSE(side.state(stream, 98e3, 1.02 * shut.power).drives);
        EXPECT_TRUE(side.state(stream, 98e3, 0.0).drives);
    }
}

TEST(ExhaustSideErrors, WhatCannotBe) {
    const auto reason = [](const Parts& parts) {
        try {
            const ExhaustSide side(parts);
        } catch (const InvalidArgument& error) {
            return error.reason();
        }
        return Reason::not_finite;
    };
    EXPECT_EQ(reason({invented_turbine(8.0)}), Reason::turbine_without_compressor);
    EXPECT_EQ(reason({Compressor{}, invented_turbine(8.0), invented_turbine(8.0)}), Reason::part_twice);
    EXPECT_EQ(reason({invented_system(), invented_system()}), Reason::part_twice);
    EXPECT_EQ(reason({BoostControl{}, BoostControl{}}), Reason::part_twice);
    EXPECT_EQ(reason({Compressor{}, invented_turbine(0.0)}), Reason::out_of_range);
    BoostControl control{};
    control.max_boost = 0.0;
    EXPECT_EQ(reason({control}), Reason::out_of_range);
}

// At its limit the turbine gives with the wastegate shut what the compressor takes up; a larger turbine
// carries less at a low engine speed.
TEST(LimitsIdentities, TheTurbineIsJustUsedUp) {
    const Engine engine = invented_engine();
    const Weather weather{};
    for (const double area : {7.0, 9.0, 12.0}) {
        const Parts parts = with_turbine(area);
        const double speed = 3000 * rpm;
        const Limits result = limits(engine, parts, gasoline, speed, weather);
        ASSERT_TRUE(result.parts[10].power) << area;
        EXPECT_FALSE(result.parts[11].power) << area;
        const Chain chain(engine, gasoline, speed, weather, parts);
        OperatingPoint point = chain.fuel_side(*result.parts[10].power);
        chain.add_air(point);
        EXPECT_NEAR(point.compressor_power, point.turbine_power, 1e-8 * point.turbine_power) << area;
        EXPECT_GT(point.exhaust_pressure, point.outlet_pressure);
        point = chain.fuel_side(0.97 * *result.parts[10].power);
        chain.add_air(point);
        EXPECT_LT(point.compressor_power, point.turbine_power);
        EXPECT_GT(point.wastegate_share, 0.0);
    }
    const auto carried = [&](double area, double speed) {
        return *limits(engine, with_turbine(area), gasoline, speed * rpm).parts[10].power;
    };
    EXPECT_GT(carried(7.0, 3000), carried(9.0, 3000));
    EXPECT_GT(carried(9.0, 3000), carried(12.0, 3000));
    EXPECT_GT(carried(9.0, 3400), carried(9.0, 3000));
}

// The exhaust system states its loss and no limit; the boost control is a limit of boost and torque.
TEST(LimitsIdentities, ExhaustSystemAndBoostControl) {
    Parts parts = with_turbine(9.0);
    BoostControl control{};
    control.max_boost = 0.9e5;
    parts.emplace_back(control);
    const Engine engine = invented_engine();
    const Weather weather{};
    const Limits result = limits(engine, parts, gasoline, 5500 * rpm, weather);
    EXPECT_EQ(result.weakest, 12U);
    EXPECT_NEAR(result.parts[12].load.demand, 0.9e5, 1e-3);
    EXPECT_GT(result.parts[11].load.demand, 5e3);
    EXPECT_EQ(result.parts[11].load.quantity, Quantity::pressure_difference);
    EXPECT_EQ(result.parts[11].load.use, 0.0);
    EXPECT_TRUE(std::isinf(result.parts[11].load.capacity));
    parts.pop_back();
    control = {};
    control.max_torque = 300.0;
    parts.emplace_back(control);
    EXPECT_NEAR(limits(engine, parts, gasoline, 5500 * rpm, weather).power, 300.0 * 5500 * rpm, 1e-3);
}

TEST(OperatingPointWarnings, ATurbineWithoutAnExhaustSystem) {
    Parts parts = invented_parts();
    parts.emplace_back(invented_turbine(9.0));
    const OperatingPoint point = operating_point(invented_engine(), gasoline, 200e3, 5500 * rpm, {}, parts);
    bool said = false;
    for (const Warning& warning : point.warnings) said = said || warning.reason == Reason::no_exhaust_system;
    EXPECT_TRUE(said);
    EXPECT_EQ(point.outlet_pressure, 100e3);
    EXPECT_TRUE(std::isnan(operating_point(invented_engine(), gasoline, 200e3, 5500 * rpm).exhaust_pressure));
}

}  // namespace
}  // namespace pullsheet::plan
