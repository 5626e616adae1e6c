// SPDX-License-Identifier: Apache-2.0
#include "core/plan/full_load_curve.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/plan/boost_response.hpp"
#include "core/plan/boost_threshold.hpp"
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

// Injectors on a fixed rail pressure work only below it.
TEST(FullLoadIdentities, InjectorsOnAFixedRailPressureLimitTheBoost) {
    Parts parts = boosted_parts(9.0);
    Injectors injectors{5, 1500 * cc_per_minute};
    injectors.fuel_pressure = 1.5e5;
    injectors.reference = RailReference::surroundings;
    parts.push_back(injectors);
    const BoostedEngine engine(boosted_base(), parts, pump_fuel());
    const CurvePoint at = full_load(engine, 5000 * rpm);
    EXPECT_EQ(at.held, Held::ceiling);
    EXPECT_EQ(at.limited_by.part, 4U);
    EXPECT_LT(at.manifold_pressure, 250e3);
    const BoostedSpeed here(engine, 5000 * rpm);
    EXPECT_NEAR(*here.loads().upper_excess(4, at.load.point), 0.0, 1e-4);
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

// From speed to speed against each speed on its own.
TEST(FullLoadIdentities, ACurveIsThatOfItsSpeeds) {
    for (const auto& [ethanol, area] : {std::pair{0.0, 9.0}, {0.3, 14.0}, {0.85, 11.0}}) {
        Parts parts = boosted_parts(area);
        parts.push_back(Clutch{700.0});
        const BoostedEngine engine(boosted_base(), parts, pump_fuel(ethanol));
        FullLoadCurve curve(engine);
        for (double speed = 1500.0; speed <= 7000.0; speed += 137.0) {
            const CurvePoint at = curve.at(speed * rpm);
            const CurvePoint alone = full_load(engine, speed * rpm);
            EXPECT_EQ(at.held, alone.held) << speed;
            EXPECT_NEAR(at.load.cycle.torque, alone.load.cycle.torque, 2e-4 * alone.load.cycle.torque)
                << speed;
            EXPECT_NEAR(at.torque_low, alone.torque_low, 0.03 * alone.load.cycle.torque) << speed;
        }
    }
}

// Just above the threshold the boost is there, just below it is not; the area for that boost at that speed is
// the one that the turbine has.
TEST(FullLoadIdentities, ThresholdCurveAndAreaAgree) {
    for (const auto& [ethanol, area, pressure] :
         {std::tuple{0.0, 9.0, 260e3}, {0.0, 16.0, 200e3}, {0.85, 12.0, 320e3}}) {
        Parts parts = boosted_parts(area);
        const BoostedEngine engine(boosted_base(), parts, pump_fuel(ethanol));
        const ThresholdBand band = boost_threshold(engine, pressure, 1000 * rpm, 8000 * rpm);
        ASSERT_TRUE(band.threshold.rising);
        const double rising = *band.threshold.rising;
        EXPECT_LE(*band.threshold.falling, rising);
        EXPECT_LT(*band.low, rising);
        EXPECT_GT(*band.high, rising);
        parts.push_back(boost_of((pressure - 100e3) / 1e5));
        const BoostedEngine controlled(boosted_base(), parts, pump_fuel(ethanol));
        EXPECT_EQ(full_load(controlled, rising - 5 * rpm).held, Held::turbine);
        EXPECT_EQ(full_load(controlled, rising + 5 * rpm).held, Held::ceiling);
        const AreaAnswer answer =
            area_for_boost(boosted_base(), boosted_parts(6.0), pump_fuel(ethanol), rising, pressure);
        EXPECT_NEAR(answer.area.from_below, area * 1e-4, 2e-3 * area * 1e-4);
        EXPECT_GE(answer.area.balance, answer.area.from_below * (1 - 1e-9));
    }
    // A turbine too large for the engine: the highest pressure there is.
    const Parts large = boosted_parts(40.0);
    const BoostedEngine engine(boosted_base(), large, pump_fuel());
    const ThresholdBand never = boost_threshold(engine, 300e3, 1000 * rpm, 7000 * rpm);
    EXPECT_FALSE(never.threshold.rising);
    EXPECT_NEAR(never.threshold.highest_speed, 7000 * rpm, 1e-6);
    EXPECT_LT(never.threshold.highest_pressure, 300e3);
    EXPECT_GT(never.threshold.highest_pressure, 100e3);
}

// The curves over shaft speed against the equations of the match solved at each moment.
TEST(FullLoadIdentities, TheShaftGathersSpeedAsItsBalanceOfPowerTells) {
    const auto parts_with = [](double inertia) {
        Parts parts = boosted_parts(12.0);
        std::get<boost::Turbine>(parts[2]).inertia = inertia;
        parts.push_back(boost_of(1.2));
        return parts;
    };
    const Parts parts = parts_with(8e-5);
    const double speed = 4000 * rpm;
    const BoostedEngine engine(boosted_base(), parts, pump_fuel());
    const BoostResponse response = boost_response(engine, speed, 110e3, 0.9);
    const BoostedSpeed at(engine, speed);
    const LoadLine line(at, engine, at.natural_filling(), 220e3, {});
    const Match match(line, engine.turbine());
    const double full = match.shut(speed, 220e3).breath.torque;
    const auto plain = match.spool(speed, 110e3, 220e3, 0.9 * response.full_load.load.cycle.torque / full);
    EXPECT_NEAR(response.moments.back().time, plain.back().time, 2e-3 * plain.back().time);
    EXPECT_NEAR(response.moments.back().torque, 0.9 * response.full_load.load.cycle.torque, 0.05);
    const Parts light = parts_with(4e-5);
    const BoostResponse half =
        boost_response(BoostedEngine(boosted_base(), light, pump_fuel()), speed, 110e3, 0.9);
    EXPECT_NEAR(half.moments.back().time, 0.5 * response.moments.back().time, 1e-6);
    // Where nothing has to build up, there is nothing to wait for.
    Parts throttled = parts_with(8e-5);
    throttled.push_back(Clutch{150.0});
    EXPECT_EQ(boost_response(BoostedEngine(boosted_base(), throttled, pump_fuel()), speed, 110e3, 0.9)
                  .moments.size(),
              1U);
    // A shaft so heavy that it takes more than a minute.
    const Parts heavy = parts_with(0.1);
    EXPECT_THROW(boost_response(BoostedEngine(boosted_base(), heavy, pump_fuel()), speed, 110e3, 0.9),
                 NoSolution);
    const Parts no_inertia = boosted_parts(12.0);
    EXPECT_THROW(boost_response(BoostedEngine(boosted_base(), no_inertia, pump_fuel()), speed, 110e3, 0.9),
                 InvalidArgument);
}

// The measured power comes out again at the measured pressure, with the pressure before the turbine that the
// turbine gives.
TEST(FullLoadIdentities, ACalibratedCurvePassesTheMeasuredPoint) {
    Parts parts = boosted_parts(10.0);
    parts.push_back(boost_of(1.1));
    MeasuredPoint point;
    point.speed = 5000 * rpm;
    point.manifold_pressure = 210e3;
    point.manifold_temperature = 318.15;
    point.spark_angle = 11 * tests::degree;
    point.power = 205e3;
    const MeasuredMap map{parts, pump_fuel(), {point}};
    const double speeds[] = {2500 * rpm, 4000 * rpm, 6500 * rpm};
    StageBase base = boosted_base();
    base.engine_model = calibrated_with_turbine(base, {&map, 1}, speeds);
    const CurvePoint at = full_load(BoostedEngine(base, parts, pump_fuel()), point.speed);
    EXPECT_NEAR(at.manifold_pressure, 210e3, 0.5e3);
    EXPECT_NEAR(at.load.cycle.power, point.power, 3e-3 * point.power);
    EXPECT_NEAR(at.load.spark_angle, point.spark_angle, 0.2 * tests::degree);
    EXPECT_NEAR(at.load.point.charge_temperature, 318.15, 0.5);
    EXPECT_LT(at.torque_high - at.torque_low, 0.2 * at.load.cycle.torque);
}

// Common practice, no source: on such an engine one turbocharger gives full torque from about 4000 rpm,
// whatever the fuel.
TEST(FullLoadCommonPractice, OneTurbineGivesFullTorqueFromAboutTheSameSpeedOnEveryFuel) {
    const Parts parts = boosted_parts(14.5);
    for (const double ethanol : {0.0, 0.2, 0.85}) {
        const BoostedEngine engine(boosted_base(), parts, pump_fuel(ethanol));
        FullLoadCurve curve(engine);
        double from = 0.0;
        for (double speed = 2500.0; speed <= 6000.0 && from == 0.0; speed += 50.0)
            if (curve.at(speed * rpm).held == Held::ceiling) from = speed;
        EXPECT_NEAR(from, 4000.0, 400.0) << ethanol;
    }
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
    // A compressor without a cooler makes the charge hotter than the cycle takes.
    Parts hot{Compressor{}, turbine_of(6.0), boost_of(2.5)};
    std::get<Compressor>(hot[0]).efficiency = 0.35;
    try {
        full_load(BoostedEngine(boosted_base(), hot, pump_fuel(0.85)), 5000 * rpm);
        FAIL();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::charge_too_hot);
    }
    // A compressor too small for any air.
    Parts parts = boosted_parts(9.0);
    std::get<Compressor>(parts[0]).max_corrected_flow = 1e-3;
    EXPECT_THROW(full_load(BoostedEngine(boosted_base(), parts, pump_fuel()), 3500 * rpm), NoSolution);
}

}  // namespace
}  // namespace pullsheet::plan
