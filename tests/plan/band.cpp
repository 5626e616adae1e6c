// SPDX-License-Identifier: Apache-2.0
#include "core/plan/band.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/plan/stage_table.hpp"
#include "tests/plan/invented_plan.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::plan {
namespace {

using tests::degree;

/// A five-cylinder of 2.48 litres: INVENTED.
TableBase assumed_engine() {
    TableBase base;
    base.engine.displacement = 2.4803e-3;
    base.engine.volumetric_efficiency = 0.95;
    base.engine_model.cylinder.crank = {0.0825, 0.0928, 0.144, 10.5};
    base.engine_model.cylinder.cylinders = 5;
    base.engine_model.cylinder.volumetric_efficiency = 0.95;
    base.redline = 7000 * rpm;
    return base;
}

OfferedFuel petrol(double ethanol = 0.0) {
    OfferedFuel offer;
    offer.fuel.gasoline.ron = 98.0;
    offer.fuel.gasoline.mon = 88.0;
    offer.fuel.ethanol_share = ethanol;
    return offer;
}

Parts ample() {
    Compressor compressor{};
    compressor.max_corrected_flow = 3.0;
    return {Injectors{5, 4000 * cc_per_minute}, compressor, ChargeCooler{0.8}};
}

MeasuredMap one_point() {
    MeasuredMap map;
    map.parts = ample();
    map.fuel = petrol();
    MeasuredPoint point;
    point.speed = 6300 * rpm;
    point.manifold_pressure = 290e3;
    point.manifold_temperature = 318.15;
    point.spark_angle = 10.0 * degree;
    point.power = 400e3;
    map.points = {point};
    map.has_power_peak = true;
    return map;
}

TableBase calibrated_to(const MeasuredMap& map) {
    TableBase base = assumed_engine();
    base.engine_model = calibrated(base, {&map, 1}, curve_speeds(base.redline));
    return base;
}

double percent(const TableCell& cell, Assumption assumption) {
    return 100.0 * cell.effects[assumption] / cell.power;
}

// The cell that was measured is as uncertain as its power was, and as nothing else (JCGM 100:2008, 5.1.2).
TEST(Jcgm100, TheMeasuredCellIsAsUncertainAsTheMeasurement) {
    MeasuredMap map = one_point();
    map.power_uncertainty = 0.025;
    const TableCell cell = stage_on_fuel(calibrated_to(map), map.parts, map.fuel);
    EXPECT_EQ(cell.basis.kind, Basis::Kind::measured);
    EXPECT_NEAR(cell.power_high / cell.power - 1.0, 0.05, 1e-12);
    EXPECT_NEAR(cell.power / map.points[0].power, 1.0, 2e-3);
}

// A fifth of ethanol in the measured fuel: 6 to 7 % of power, one standard uncertainty, of which no
// assumption alone is more than half.
TEST(Band, AFifthOfEthanolInTheMeasuredFuel) {
    for (const double pressure : {290.0, 320.0, 350.0})
        for (const double spark : {6.0, 10.0}) {
            MeasuredMap map = one_point();
            map.points[0].manifold_pressure = pressure * 1e3;
            map.points[0].spark_angle = spark * degree;
            map.points[0].power = pressure / 290.0 * 400e3;
            const TableCell cell = stage_on_fuel(calibrated_to(map), map.parts, petrol(0.2));
            EXPECT_NEAR(cell.effects.spread() / cell.power, 0.068, 0.006) << pressure << ' ' << spark;
            EXPECT_NEAR(cell.effects[Assumption::measured_power], 0.03 * cell.power, 1e-9 * cell.power);
            EXPECT_NEAR(cell.effects[Assumption::efficiency], 0.02 * cell.power, 1e-9 * cell.power);
            EXPECT_GT(cell.effects[Assumption::octane], 0.005 * cell.power);
            EXPECT_EQ(cell.effects[Assumption::part_rating], 0.0);
            EXPECT_EQ(cell.effects[Assumption::distance], 0.0);
        }
}

// Each effect is half the difference of two predictions of engines calibrated to the same measurement: here
// found the long way, each with its own base from the beginning, to the usual precision.
TEST(Jcgm100, EffectsAreHalfDifferencesOfRecalibratedEngines) {
    const MeasuredMap map = one_point();
    const TableUncertainty u;
    const OfferedFuel fuel = petrol(0.3);
    const TableCell cell = stage_on_fuel(calibrated_to(map), map.parts, fuel);
    const auto half = [&](auto change) {
        const auto power = [&](double sign) {
            TableBase base = assumed_engine();
            MeasuredMap measured = map;
            Parts parts = map.parts;
            change(base.engine_model.cylinder, measured, parts, sign);
            base.engine_model = calibrated(base, {&measured, 1}, curve_speeds(base.redline));
            InitialGuess guess{base.engine, 400e3};
            return stage_limit(for_cell(base, parts, fuel), guess, parts, fuel, cell.power_speed).power;
        };
        return 0.5 * (power(1.0) - power(-1.0));
    };
    const double near = 1.5e-3 * cell.power;
    EXPECT_NEAR(cell.effects[Assumption::pressure_exponent],
                half([&](auto& cylinder, auto&, auto&, double sign) {
                    cylinder.knock_delay.pressure_exponent += sign * 0.2;
                }),
                near);
    EXPECT_NEAR(cell.effects[Assumption::octane_exponent],
                half([&](auto& cylinder, auto&, auto&, double sign) {
                    cylinder.knock_delay.octane_exponent += sign * 0.4;
                }),
                near);
    EXPECT_NEAR(cell.effects[Assumption::activation_temperature],
                half([&](auto& cylinder, auto&, auto&, double sign) {
                    cylinder.knock_delay.activation_temperature += sign * 600.0;
                }),
                near);
    EXPECT_NEAR(cell.effects[Assumption::evaporated],
                half([&](auto& cylinder, auto&, auto&, double sign) { cylinder.evaporated += sign * 0.1; }),
                near);
    EXPECT_NEAR(cell.effects[Assumption::wall_heat], half([&](auto& cylinder, auto&, auto&, double sign) {
                    cylinder.wall_heat_factor += sign * 0.3;
                }),
                near);
    EXPECT_NEAR(cell.effects[Assumption::burn_duration], half([&](auto& cylinder, auto&, auto&, double sign) {
                    cylinder.burn_duration += sign * 7.0 * degree;
                }),
                near);
    EXPECT_NEAR(cell.effects[Assumption::spark], half([&](auto&, auto& measured, auto&, double sign) {
                    measured.points[0].spark_angle += sign * 2.0 * degree;
                }),
                near);
    EXPECT_NEAR(cell.effects[Assumption::cooler_effectiveness],
                half([&](auto&, auto& measured, auto& parts, double sign) {
                    std::get<ChargeCooler>(measured.parts[2]).effectiveness += sign * 0.05;
                    std::get<ChargeCooler>(parts[2]).effectiveness += sign * 0.05;
                }),
                near);
    EXPECT_EQ(cell.effects[Assumption::turbine_area], 0.0);
}

// Another fuel is known less well than the measured one, and a strong blend less than a weak one.
TEST(Band, GrowsWithTheDistanceOfTheFuel) {
    const MeasuredMap map = one_point();
    const TableBase base = calibrated_to(map);
    double last = 0.0;
    for (const double ethanol : {0.0, 0.1, 0.3}) {
        const TableCell cell = stage_on_fuel(base, map.parts, petrol(ethanol));
        const double spread = cell.effects.spread() / cell.power;
        EXPECT_GT(spread, last) << ethanol;
        last = spread;
    }
}

// Where nothing was measured the prediction is a guess of about 35 %.
TEST(Band, AGuess) {
    const TableBase base = assumed_engine();
    for (const double ethanol : {0.0, 0.2}) {
        const TableCell cell = stage_on_fuel(base, ample(), petrol(ethanol));
        EXPECT_EQ(cell.basis.kind, Basis::Kind::guess);
        EXPECT_NEAR(cell.power_high / cell.power - 1.0, 0.35, 0.05) << ethanol;
    }
}

// A peak pressure that nobody stated counts for 1/12 of itself, a stated one for 3 %. Only with a measured
// half-burned angle does that narrow the band: the pressure of the cycle rests on it.
TEST(Band, AStatedPeakPressureNarrowsTheBand) {
    MeasuredMap map = one_point();
    map.points[0].half_burned_angle = 20.0 * degree;
    const TableBase base = calibrated_to(map);
    const TableCell assumed = stage_on_fuel(base, map.parts, petrol(0.85));
    ASSERT_EQ(assumed.limited_by.engine, EngineBound::assumed_peak_pressure);
    Parts parts = map.parts;
    EngineStrength strength;
    strength.max_peak_pressure = base.engine_model.peak_pressure;
    parts.emplace_back(strength);
    const TableCell stated = stage_on_fuel(base, parts, petrol(0.85));
    ASSERT_EQ(stated.limited_by.engine, EngineBound::peak_pressure);
    EXPECT_NEAR(stated.power / assumed.power, 1.0, 2e-3);
    EXPECT_NEAR(stated.effects[Assumption::peak_pressure] / assumed.effects[Assumption::peak_pressure],
                0.03 * 12.0, 0.03);
    EXPECT_LT(stated.effects.spread(), assumed.effects.spread());
}

// What is stated of the boost still needs the efficiency, and knock the spark, to become power.
TEST(Band, AGuessAtAStatedBoost) {
    Parts parts = ample();
    BoostControl control;
    control.max_boost = 0.7e5;
    parts.emplace_back(control);
    const TableCell cell = stage_on_fuel(assumed_engine(), parts, petrol());
    ASSERT_EQ(cell.limited_by.part, 3u);
    EXPECT_GT(cell.effects.spread() / cell.power, std::hypot(0.08, 0.05, 0.03) - 1e-9);
    EXPECT_LT(cell.effects.spread() / cell.power, 0.16);
    std::get<BoostControl>(parts[3]).max_boost.reset();
    std::get<BoostControl>(parts[3]).max_torque = 250.0;
    EXPECT_NEAR(stage_on_fuel(assumed_engine(), parts, petrol()).effects.spread(),
                0.03 * 250.0 * assumed_engine().redline, 0.03 * 250.0 * 1.0);
}

// A rating of power is as uncertain as the rating; a flow also as the efficiency that makes power of it.
TEST(Jcgm100, BandOfAPart) {
    const MeasuredMap map = one_point();
    const TableBase base = calibrated_to(map);
    Parts parts = map.parts;
    parts.emplace_back(Clutch{300.0});
    const TableCell clutch = stage_on_fuel(base, parts, petrol(0.2));
    ASSERT_EQ(clutch.limited_by.part, 3u);
    EXPECT_NEAR(clutch.effects.spread() / clutch.power, std::hypot(0.03, clutch.basis.uncertainty), 1e-12);
    parts = map.parts;
    std::get<Injectors>(parts[0]).rated_flow = 500 * cc_per_minute;
    const TableCell injectors = stage_on_fuel(base, parts, petrol(0.2));
    ASSERT_EQ(injectors.limited_by.part, 0u);
    const double octane = injectors.effects[Assumption::octane] / injectors.power;
    EXPECT_GE(octane, 0.0);
    EXPECT_LT(octane, 0.02);
    EXPECT_NEAR(injectors.effects.spread() / injectors.power,
                std::hypot(octane, std::hypot(0.03, 0.03, std::hypot(0.02, injectors.basis.uncertainty))),
                1e-12);
}

}  // namespace
}  // namespace pullsheet::plan
