// SPDX-License-Identifier: Apache-2.0
#include "core/plan/full_load_curve.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/plan/invented_plan.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::plan {
namespace {

// A five-cylinder engine of 2.48 L with a turbocharger: INVENTED.
StageBase boosted_base() {
    StageBase base;
    base.engine_model.cylinder.crank = {0.0825, 0.0928, 0.150, 10.5};
    base.engine_model.cylinder.cylinders = 5;
    base.engine_model.cylinder.volumetric_efficiency = 0.95;
    base.engine.displacement = 5.0 * base.engine_model.cylinder.crank.displaced_volume();
    base.engine.volumetric_efficiency = 0.95;
    base.weather = {298.15, 100e3, 0.3};
    return base;
}

OfferedFuel pump_fuel(double ethanol = 0.0) {
    OfferedFuel offer;
    offer.fuel.gasoline.ron = 98.0;
    offer.fuel.ethanol_share = ethanol;
    return offer;
}

boost::Turbine turbine_of(double square_centimetres) {
    boost::Turbine turbine{};
    turbine.effective_area = square_centimetres * 1e-4;
    return turbine;
}

Parts boosted_parts(double square_centimetres) {
    Compressor compressor{};
    compressor.efficiency = 0.72;
    compressor.wheel_diameter = 0.066;
    ChargeCooler cooler{0.78};
    cooler.pressure_loss = 10e3;
    cooler.reference_flow = 0.4;
    boost::ExhaustSystem system{};
    system.pressure_loss = 20e3;
    system.reference_flow = 0.45;
    return {compressor, cooler, turbine_of(square_centimetres), system};
}

BoostControl boost_of(double bar) {
    BoostControl control{};
    control.max_boost = bar * 1e5;
    return control;
}

// The stage without a turbine, its rule of the exhaust pressure giving at that load what the turbine gave.
StageLimit without_turbine(StageBase base, Parts parts, const OfferedFuel& fuel, double speed,
                           const CurvePoint& at) {
    base.engine_model.cylinder.back_pressure_loss = 0.0;
    base.engine_model.cylinder.back_pressure_per_boost =
        (at.load.expansion.inlet_pressure - base.weather.pressure) /
        (dry_share(base.weather) * at.manifold_pressure - base.weather.pressure);
    std::erase_if(parts, [](const Part& part) { return std::holds_alternative<boost::Turbine>(part); });
    InitialGuess guess{base.engine, 200e3};
    guess.engine.lambda = fuel.lambda;
    guess.manifold_pressure = dry_share(base.weather) * at.manifold_pressure;
    return stage_limit(base, guess, parts, fuel, speed);
}

// Where the turbine is not the limit, it only sets the pressure against which the cylinders exhaust: the
// limit is that of the stage without a turbine against the same pressure.
TEST(FullLoadIdentities, WhereTheTurbineDoesNotLimitItIsTheLimitOfTheStage) {
    for (const double ethanol : {0.0, 0.85})
        for (const double speed : {3500.0, 6500.0}) {
            const StageBase base = boosted_base();
            const Parts parts = boosted_parts(9.0);
            const OfferedFuel fuel = pump_fuel(ethanol);
            const BoostedEngine engine(base, parts, fuel);
            const CurvePoint at = full_load(engine, speed * rpm);
            ASSERT_EQ(at.held, Held::ceiling);
            EXPECT_FALSE(at.limited_by.part);
            const StageLimit stage = without_turbine(base, parts, fuel, speed * rpm, at);
            EXPECT_NEAR(at.load.cycle.power, stage.power, 5e-4 * stage.power);
            EXPECT_NEAR(at.manifold_pressure, stage.manifold_pressure, 5e-4 * stage.manifold_pressure);
            EXPECT_NEAR(at.load.spark_angle, stage.spark_angle, 0.1 * tests::degree);
            EXPECT_EQ(at.limited_by.engine, stage.limited_by.engine);
        }
}

TEST(FullLoadIdentities, WhereAPartLimitsItIsTheLimitOfTheStage) {
    const double speed = 5000 * rpm;
    const StageBase base = boosted_base();
    const OfferedFuel fuel = pump_fuel(0.2);
    Injectors injectors{5, 550 * cc_per_minute};
    for (const Part& limiting : std::initializer_list<Part>{
             Clutch{480.0}, injectors, EngineStrength{.max_power = 230e3, .max_torque = {}, .max_bmep = {}},
             boost_of(1.1)}) {
        Parts parts = boosted_parts(9.0);
        parts.push_back(limiting);
        const BoostedEngine engine(base, parts, fuel);
        const CurvePoint at = full_load(engine, speed);
        EXPECT_EQ(at.held, Held::ceiling);
        ASSERT_EQ(at.limited_by.part, parts.size() - 1);
        const StageLimit stage = without_turbine(base, parts, fuel, speed, at);
        // The fuel iteration of the stage ends at 1e-3.
        EXPECT_NEAR(at.load.cycle.power, stage.power, 2e-3 * stage.power);
        ASSERT_TRUE(stage.limited_by.part);
    }
}

// Every look at the engine a spark of its own, every pressure on the way to the boost looked at.
TEST(FullLoadIdentities, TheSearchesThatBeginNearbyFindWhatThePlainOnesDo) {
    struct Case {
        double ethanol, area, speed;
        Held held;
    };
    for (const Case& c : {Case{0.0, 9.0, 2000.0, Held::turbine}, Case{0.85, 16.0, 3000.0, Held::turbine},
                          Case{0.0, 16.0, 4500.0, Held::ceiling}}) {
        Parts parts = boosted_parts(c.area);
        parts.push_back(boost_of(1.6));
        const BoostedEngine engine(boosted_base(), parts, pump_fuel(c.ethanol));
        const CurvePoint at = full_load(engine, c.speed * rpm);
        EXPECT_EQ(at.held, c.held);
        const Ceiling ceilings[] = {{260e3, 4}};
        const FullLoad plain = Match(engine, engine.turbine()).full_load(c.speed * rpm, ceilings);
        EXPECT_EQ(plain.held, c.held);
        EXPECT_NEAR(at.load.cycle.torque, plain.breath.torque, 2e-4 * plain.breath.torque);
        EXPECT_NEAR(at.load.expansion.inlet_pressure, plain.expansion.inlet_pressure,
                    5e-4 * plain.expansion.inlet_pressure);
    }
}

// What the turbine hands over is what the compressor takes up, and the pressures agree with one another.
TEST(FullLoadIdentities, TurbineAndCompressorBalance) {
    const Parts parts = boosted_parts(12.0);
    const BoostedEngine engine(boosted_base(), parts, pump_fuel());
    for (const double speed : {1500.0, 2200.0, 4000.0, 7000.0}) {
        const CurvePoint at = full_load(engine, speed * rpm);
        const boost::Expansion& expansion = at.load.expansion;
        EXPECT_NEAR(expansion.power, at.load.point.compressor_power, 2e-4 * expansion.power) << speed;
        EXPECT_EQ(at.load.cycle.exhaust_pressure, expansion.inlet_pressure);
        EXPECT_NEAR(at.load.cycle.air_flow, at.load.point.dry_air_flow, 1e-6 * at.load.cycle.air_flow);
        EXPECT_NEAR(at.load.cycle.fuel_flow, at.load.point.fuel_flow, 1e-6 * at.load.cycle.fuel_flow);
        EXPECT_EQ(expansion.wastegate_share > 0.0, at.held == Held::ceiling);
    }
}

TEST(FullLoadIdentities, AWastegateThatIsTooSmallLetsTheBoostRise) {
    Parts parts = boosted_parts(7.0);
    parts.push_back(boost_of(0.5));
    std::get<boost::Turbine>(parts[2]).wastegate_area = 6e-4;
    const BoostedEngine engine(boosted_base(), parts, pump_fuel(0.85));
    const CurvePoint at = full_load(engine, 6000 * rpm);
    EXPECT_TRUE(at.creeps);
    EXPECT_EQ(at.held, Held::wastegate);
    EXPECT_GT(at.manifold_pressure, 155e3);
    EXPECT_NEAR(at.load.expansion.power, at.load.point.compressor_power, 2e-3 * at.load.expansion.power);
    // With the area that it needs, it does not.
    parts[2] = turbine_of(7.0);
    const CurvePoint held = full_load(BoostedEngine(boosted_base(), parts, pump_fuel(0.85)), 6000 * rpm);
    EXPECT_FALSE(held.creeps);
    EXPECT_EQ(held.manifold_pressure, 150e3);
    EXPECT_GT(held.load.expansion.wastegate_area, 6e-4);
}

TEST(FullLoadIdentities, SurgeHoldsThePressureDown) {
    Parts parts = boosted_parts(4.0);
    Compressor& compressor = std::get<Compressor>(parts[0]);
    compressor.map.emplace(boost::invented_map(1.2));
    const BoostedEngine engine(boosted_base(), parts, pump_fuel());
    const CurvePoint at = full_load(engine, 2000 * rpm);
    ASSERT_EQ(at.held, Held::surge);
    EXPECT_NEAR(at.load.point.surge_margin, 0.0, 2e-3);
    EXPECT_GT(at.manifold_pressure, 105e3);
}

// Beyond the points of its map nothing is known of a compressor; the edge is its limit where that is stated.
TEST(FullLoadIdentities, WhereTheMapEndsTheDataOfTheCompressorAreMissing) {
    Parts parts = boosted_parts(10.0);
    Compressor& compressor = std::get<Compressor>(parts[0]);
    compressor.map.emplace(boost::invented_map(0.7));
    const CurvePoint at = full_load(BoostedEngine(boosted_base(), parts, pump_fuel(0.85)), 6500 * rpm);
    EXPECT_EQ(at.held, Held::ceiling);
    ASSERT_EQ(at.limited_by.part, 0U);
    ASSERT_TRUE(at.limited_by.data_end);
    compressor.max_corrected_flow = at.load.point.corrected_flow;
    const CurvePoint stated = full_load(BoostedEngine(boosted_base(), parts, pump_fuel(0.85)), 6500 * rpm);
    ASSERT_EQ(stated.limited_by.part, 0U);
    EXPECT_FALSE(stated.limited_by.data_end);
    EXPECT_NEAR(stated.load.cycle.torque, at.load.cycle.torque, 1e-3 * at.load.cycle.torque);
}

TEST(FullLoadIdentities, BelowWhatTheSurroundingsGiveTheThrottleHolds) {
    Parts parts = boosted_parts(9.0);
    parts.push_back(Clutch{150.0});
    const CurvePoint at = full_load(BoostedEngine(boosted_base(), parts, pump_fuel()), 3500 * rpm);
    EXPECT_EQ(at.held, Held::throttle);
    EXPECT_EQ(at.limited_by.part, 4U);
    EXPECT_LT(at.manifold_pressure, 100e3);
    EXPECT_NEAR(at.load.cycle.torque, 150.0, 0.1);
}

TEST(FullLoadErrors, WhatCannotBe) {
    Parts none = boosted_parts(9.0);
    none.erase(none.begin() + 2);
    try {
        const BoostedEngine engine(boosted_base(), none, pump_fuel());
        FAIL();
    } catch (const InvalidArgument& error) {
        EXPECT_EQ(error.reason(), Reason::turbine_missing);
    }
    // A compressor too small for any air.
    Parts parts = boosted_parts(9.0);
    std::get<Compressor>(parts[0]).max_corrected_flow = 1e-3;
    EXPECT_THROW(full_load(BoostedEngine(boosted_base(), parts, pump_fuel()), 3500 * rpm), NoSolution);
}

}  // namespace
}  // namespace pullsheet::plan
