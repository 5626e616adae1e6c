// SPDX-License-Identifier: Apache-2.0
#include "core/plan/stage_table.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "core/plan/calibration.hpp"
#include "core/plan/full_load_curve.hpp"
#include "tests/plan/invented_plan.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::plan {
namespace {

using tests::degree;

TableBase invented_base() {
    TableBase base;
    base.engine = invented_engine();
    base.engine.volumetric_efficiency = 0.95;
    base.engine_model.cylinder.crank = {0.0825, 0.0928, 0.1545, 9.8};
    base.engine_model.cylinder.cylinders = 4;
    base.engine_model.cylinder.volumetric_efficiency = 0.95;
    base.redline = 7000 * rpm;
    return base;
}

road::Vehicle invented_car() {
    road::Vehicle car;
    car.mass = 1500;
    car.rolling_radius = 0.31;
    car.drag_area = 0.65;
    car.gears = {3.6, 2.2, 1.55, 1.2, 0.98, 0.8};
    car.final_drives = {3.5};
    return car;
}

OfferedFuel offered(double ron, double ethanol) {
    OfferedFuel offer;
    offer.fuel.gasoline.ron = ron;
    offer.fuel.ethanol_share = ethanol;
    return offer;
}

// Parts that never give out below what knock allows.
Parts generous_parts() {
    Injectors injectors{4, 4000 * cc_per_minute};
    Compressor compressor{};
    compressor.max_corrected_flow = 2.0;
    return {injectors, compressor, ChargeCooler{0.8}};
}

Parts small_injectors() {
    Parts parts = generous_parts();
    std::get<Injectors>(parts[0]).rated_flow = 380 * cc_per_minute;
    return parts;
}

cycle::CyclePoint measured_point(const TableBase& base, const MeasuredPoint& measured) {
    cycle::CyclePoint point;
    point.angular_speed = measured.speed;
    point.manifold_pressure = measured.manifold_pressure;
    point.manifold_temperature = measured.manifold_temperature;
    point.lambda = measured.lambda;
    point.spark_angle = measured.spark_angle;
    point.ambient_pressure = base.weather.pressure;
    return point;
}

// Why there is no such build.
NoSolution refusal(const TableBase& base, const Parts& parts, const OfferedFuel& fuel) {
    try {
        stage_on_fuel(base, parts, fuel);
    } catch (const NoSolution& error) {
        return error;
    }
    throw std::logic_error("no refusal");
}

// Identities and trends of the model itself; the sources of its parts are checked in their own rooms.
TEST(StageTableIdentities, TheWeakestPartIsNamedAndCarriesThePower) {
    const TableBase base = invented_base();
    const OfferedFuel e85 = offered(95, 0.8);
    const TableCell cell = stage_on_fuel(base, small_injectors(), e85);
    ASSERT_TRUE(cell.limited_by.part.has_value());
    EXPECT_EQ(*cell.limited_by.part, 0u);
    // What the injectors carry, at full duty, with the efficiency that the cycle found; to what the search
    // for the power is brought to.
    const Injectors injectors = std::get<Injectors>(small_injectors()[0]);
    EXPECT_GT(cell.power, 0.0);
    EXPECT_NEAR(cell.power / injection::injector_power(
                                 injection::injector_flow(injectors.rated_flow, injectors.rated_pressure,
                                                          injectors.fuel_pressure, injectors.rated_density,
                                                          fuel::density(e85.fuel)),
                                 4, injectors.max_duty, e85.fuel, cell.efficiency),
                1.0, 1e-3);
}

TEST(StageTableIdentities, KnockBitesWhereTheHardwareIsGenerous) {
    const TableCell cell = stage_on_fuel(invented_base(), generous_parts(), offered(95, 0.0));
    EXPECT_FALSE(cell.limited_by.part.has_value());
    EXPECT_GT(cell.manifold_pressure, 80e3);
}

// Charge temperature, fuel burned and knock limit of one cell, brought to agree the slow way: by halves, to
// the end.
TEST(StageTableIdentities, ChargeAndKnockLimitAgree) {
    for (const double ethanol : {0.0, 0.2})
        for (const double humidity : {0.0, 1.0}) {
            TableBase base = invented_base();
            base.weather = {308.15, 98e3, humidity};
            const OfferedFuel fuel = offered(95, ethanol);
            const TableCell cell = stage_on_fuel(base, generous_parts(), fuel);
            ASSERT_FALSE(cell.limited_by.part.has_value());
            Engine engine = base.engine;
            engine.lambda = fuel.lambda;
            engine.redline = base.redline;
            double power = 100e3;
            const auto state = [&] {
                return operating_point(engine, fuel.fuel, power, cell.power_speed, base.weather,
                                       generous_parts());
            };
            for (int round = 0; round < 40; ++round) {
                cycle::CyclePoint point;
                point.angular_speed = cell.power_speed;
                point.manifold_temperature = state().charge_temperature;
                point.lambda = fuel.lambda;
                point.ambient_pressure = base.weather.pressure;
                cycle::BoostBounds bounds;
                bounds.latest_half_burned = base.engine_model.latest_half_burned;
                bounds.highest_gas_temperature = base.engine_model.gas_temperature;
                bounds.highest_peak_pressure = base.engine_model.peak_pressure;
                const auto limit = cycle::boost_limit(base.engine_model.cylinder, point, fuel.fuel, bounds);
                engine.efficiency = limit.result.efficiency;
                // What the exhaust pressure leaves of the filling.
                engine.volumetric_efficiency =
                    0.95 *
                    (1.0 - (limit.result.exhaust_pressure / limit.manifold_pressure - 1.0) / (1.4 * 8.8));
                power = 0.5 * (power + limit.result.power);
            }
            EXPECT_NEAR(cell.power, power, 5e-4 * power) << ethanol << ' ' << humidity;
            // The boost that knock allows is the boost that the air path needs for that power.
            EXPECT_NEAR(cell.manifold_pressure, state().manifold_pressure, 2e-3 * cell.manifold_pressure)
                << ethanol << ' ' << humidity;
        }
}

TEST(StageTableIdentities, LowValueHigh) {
    TableBase base = invented_base();
    base.vehicle = invented_car();
    const TableCell cell = stage_on_fuel(base, generous_parts(), offered(98, 0.2));
    EXPECT_LT(cell.power_low, cell.power);
    EXPECT_LT(cell.power, cell.power_high);
    ASSERT_TRUE(cell.time_100_200.has_value());
    EXPECT_LT(cell.time_100_200->low, cell.time_100_200->value);
    EXPECT_LT(cell.time_100_200->value, cell.time_100_200->high);
    ASSERT_TRUE(cell.time_60_130 && cell.time_quarter_mile);
    // 60 to 130 mph is 96.6 to 209.2 km/h: longer than 100 to 200 km/h.
    EXPECT_GT(cell.time_60_130->value, cell.time_100_200->value);
}

// Parts that state no limit leave it to knock; a car too slow for a time has none.
TEST(StageTableIdentities, NoLimitAndNoTime) {
    TableBase base = invented_base();
    const OfferedFuel fuel = offered(95, 0.0);
    const TableCell bare = stage_on_fuel(base, {ChargeCooler{0.8}}, fuel);
    const TableCell generous = stage_on_fuel(base, generous_parts(), fuel);
    EXPECT_FALSE(bare.limited_by.part.has_value());
    EXPECT_NEAR(bare.power / generous.power, 1.0, 1e-3);
    road::Vehicle car = invented_car();
    car.gears = {3.6, 2.0, 1.3};  // 3.5 × 1.3 and 7000/min: 180 km/h
    base.vehicle = car;
    const TableCell slow = stage_on_fuel(base, generous_parts(), fuel);
    EXPECT_FALSE(slow.time_100_200.has_value());
    EXPECT_FALSE(slow.time_60_130.has_value());
    EXPECT_TRUE(slow.time_quarter_mile.has_value());
    EXPECT_EQ(slow.power, generous.power);
}

// The curve stands at the speeds from full boost on, and on a foot before the first of them.
TEST(StageTableIdentities, TheCurveBeginsWithFullBoost) {
    TableBase base = invented_base();
    const OfferedFuel fuel = offered(95, 0.0);
    const TableCell whole = stage_on_fuel(base, generous_parts(), fuel);
    EXPECT_LT(whole.speeds[1], 4500.0 * rpm);
    base.full_boost_from = 4500.0 * rpm;
    const TableCell late = stage_on_fuel(base, generous_parts(), fuel);
    EXPECT_LT(late.speeds.front(), 4500.0 * rpm);
    EXPECT_GE(late.speeds[1], 4500.0 * rpm);
    EXPECT_NEAR(late.torques.front() / late.torques[1], late.speeds.front() / late.speeds[1], 1e-12);
    EXPECT_EQ(late.speeds.back(), whole.speeds.back());
    base.full_boost_from = 1.1 * base.redline;
    EXPECT_THROW(stage_on_fuel(base, generous_parts(), fuel), InvalidArgument);
}

// First-order propagation, two standard uncertainties (JCGM 100:2008, 5.1.2 and 6.2), of an engine to which
// nothing was measured: efficiency and burn with what a part carries; with gas temperature and what the
// octane number brings, from the table itself with more and with less of it.
TEST(Jcgm100, LowAndHighOfAStage) {
    TableBase base = invented_base();
    const OfferedFuel fuel = offered(98, 0.0);
    const auto relative = [&](const Parts& parts) {
        const TableCell cell = stage_on_fuel(base, parts, fuel);
        EXPECT_NEAR(cell.power_high - cell.power, cell.power - cell.power_low, 1e-9 * cell.power);
        return (cell.power_high - cell.power) / cell.power;
    };
    base.uncertainty.guessed_octane = 0.0;
    EXPECT_NEAR(relative(small_injectors()), 2.0 * std::hypot(0.08, 0.05, 0.03), 1e-12);
    base.uncertainty.guessed_octane = base.uncertainty.assumed_peak_pressure = 0.0;
    EXPECT_NEAR(relative(generous_parts()), 2.0 * std::hypot(0.08, 0.05, 0.11), 1e-3);
    base.uncertainty.guessed_octane = 1.5;
    base.uncertainty.guessed_efficiency = base.uncertainty.guessed_burn = 0.0;
    base.uncertainty.guessed_temperature = 0.0;
    const double by_octane = relative(generous_parts());
    const auto power = [&](double offset) {
        TableBase other = base;
        other.engine_model.cylinder.octane_offset = offset;
        return stage_on_fuel(other, generous_parts(), fuel).power;
    };
    const double spread = (power(1.5) - power(-1.5)) / power(0.0);
    EXPECT_GT(spread, 0.0);
    EXPECT_NEAR(by_octane / spread, 1.0, 0.02);
}

// The times belong to the curve predicted, and low and high to the curve moved by the spread of the power.
TEST(StageTableIdentities, TimesOfThePredictedCurve) {
    TableBase base = invented_base();
    const road::Vehicle car = invented_car();
    base.vehicle = car;
    const TableCell cell = stage_on_fuel(base, generous_parts(), offered(98, 0.2));
    const double relative = cell.power_high / cell.power;
    const auto expect = [&](const std::optional<Span>& span, auto time) {
        ASSERT_TRUE(span.has_value());
        const road::TorqueCurve curve(cell.speeds, cell.torques);
        EXPECT_NEAR(span->value, time(curve), 1e-6);
        EXPECT_NEAR(span->low, time(curve.scaled(relative)), 1e-6);
        EXPECT_NEAR(span->high, time(curve.scaled(2.0 - relative)), 1e-6);
    };
    const auto between = [&](double from, double to) {
        return [&, from, to](const road::TorqueCurve& curve) {
            return road::speed_run(car, curve, from, to).time;
        };
    };
    expect(cell.time_100_200, between(100.0 * tests::kmh, 200.0 * tests::kmh));
    expect(cell.time_60_130, between(60.0 * 1609.344 / 3600.0, 130.0 * 1609.344 / 3600.0));
    expect(cell.time_quarter_mile, [&](const road::TorqueCurve& curve) {
        return road::distance_run(car, curve, 1609.344 / 4.0).time;
    });
    // Greatest power and torque are those of the curve.
    double power = 0.0, torque = 0.0;
    for (std::size_t i = 0; i < cell.speeds.size(); ++i) {
        power = std::max(power, cell.speeds[i] * cell.torques[i]);
        torque = std::max(torque, cell.torques[i]);
    }
    EXPECT_NEAR(cell.power, power, 1e-9 * power);
    EXPECT_EQ(cell.torque, torque);
    EXPECT_EQ(cell.speeds.back(), 7000 * rpm);
    // Below full boost the torque falls off in proportion to speed.
    EXPECT_NEAR(cell.torques[0] / cell.speeds[0], cell.torques[1] / cell.speeds[1], 1e-12 * cell.torques[0]);
}

// Heywood (1988), section 9.6.3: higher octane allows more boost; alcohols allow more for octane and charge
// cooling.
TEST(Heywood1988Identities, MorePowerWithMoreOctaneAndEthanol) {
    const TableBase base = invented_base();
    const double ron95 = stage_on_fuel(base, generous_parts(), offered(95, 0.0)).power;
    const double ron98 = stage_on_fuel(base, generous_parts(), offered(98, 0.0)).power;
    const double e20 = stage_on_fuel(base, generous_parts(), offered(98, 0.2)).power;
    EXPECT_LT(ron95, ron98);
    EXPECT_LT(ron98, e20);
}

TEST(StageTableIdentities, ACalibratedModelGivesTheMeasuredPowerBack) {
    TableBase base = invented_base();
    MeasuredPoint measured;
    measured.speed = 6000 * rpm;
    measured.manifold_pressure = 200e3;
    measured.manifold_temperature = 318.15;
    measured.lambda = 0.84;
    measured.spark_angle = 8.0 * degree;
    measured.power = 210e3;
    const OfferedFuel fuel = offered(98, 0.0);
    const MeasuredMap map{generous_parts(), fuel, {measured}, false, 0.02};
    base.engine_model = calibrated(base, {&map, 1}, {});
    EXPECT_EQ(base.engine_model.power_uncertainty, 0.02);
    for (const CalibrationWarning& warning : base.engine_model.warnings)
        EXPECT_NE(warning.why.reason, Reason::knocks);
    const auto result = cycle::run(base.engine_model.cylinder, measured_point(base, measured), fuel.fuel);
    EXPECT_NEAR(result.power / measured.power, 1.0, 1e-6);
    EXPECT_NEAR(result.knock_integral, 1.0, 1e-4);
}

// What holds an engine and what it is trusted with: each bound is kept and named.
TEST(StageTableIdentities, TheBoundOfTheEngineIsKeptAndNamed) {
    TableBase base = invented_base();
    base.engine_model.peak_pressure = 110e5;
    const OfferedFuel petrol = offered(98, 0.0), e85 = offered(95, 0.85);
    const auto with = [&](const EngineStrength& strength, const OfferedFuel& fuel) {
        Parts parts = generous_parts();
        parts.push_back(strength);
        return stage_on_fuel(base, parts, fuel);
    };
    const TableCell assumed = stage_on_fuel(base, generous_parts(), e85);
    EXPECT_EQ(assumed.limited_by.engine, EngineBound::assumed_peak_pressure);
    EXPECT_NEAR(assumed.peak_pressure, base.engine_model.peak_pressure,
                1e-3 * base.engine_model.peak_pressure);
    EngineStrength strength;
    strength.max_peak_pressure = 100e5;
    const TableCell stated = with(strength, e85);
    EXPECT_EQ(stated.limited_by.engine, EngineBound::peak_pressure);
    EXPECT_NEAR(stated.peak_pressure, 100e5, 1e-3 * 100e5);
    EXPECT_LT(stated.power, assumed.power);
    strength = {};
    strength.max_peak_pressure = 200e5;
    strength.max_gas_temperature = 950.0 + 273.15;
    const TableCell hot = with(strength, petrol);
    EXPECT_EQ(hot.limited_by.engine, EngineBound::exhaust_temperature);
    EXPECT_NEAR(hot.gas_temperature, *strength.max_gas_temperature, 0.5);
    strength = {};
    strength.max_peak_pressure = 200e5;
    strength.latest_half_burned = 15.0 * degree;
    const TableCell early = with(strength, petrol);
    EXPECT_EQ(early.limited_by.engine, EngineBound::knock);
    EXPECT_NEAR(early.half_burned_angle, 15.0 * degree, 0.01 * degree);
    // Where knock holds, less compression bears more boost.
    strength = {};
    strength.max_peak_pressure = 200e5;
    strength.max_gas_temperature = 1500.0;
    strength.latest_half_burned = 20.0 * degree;
    const double high = with(strength, petrol).power;
    strength.compression_ratio = 8.8;
    EXPECT_GT(with(strength, petrol).power, 1.01 * high);
}

namespace {

/// The engine put on its power peak, flat to what the model gives there.
MeasuredPoint measured_at_the_peak() {
    MeasuredPoint measured;
    measured.speed = 6300 * rpm;
    measured.manifold_pressure = 250e3;
    measured.manifold_temperature = 318.15;
    measured.lambda = 0.85;
    measured.spark_angle = 9.0 * degree;
    measured.power = 330e3;
    return measured;
}

}  // namespace

// Calibrated at its power peak alone, the measured fuel on the measured stage has a plateau: torque from 4000
// to 6300 rpm within 15 % of flat. At the measured speed it gives back what was measured.
TEST(StageTableIdentities, CalibratedAtOnePointTheTorqueIsAPlateau) {
    TableBase base = invented_base();
    base.redline = 7000 * rpm;
    const MeasuredPoint measured = measured_at_the_peak();
    const OfferedFuel fuel = offered(98, 0.0);
    const MeasuredMap map{generous_parts(), fuel, {measured}};
    base.engine_model = calibrated(base, {&map, 1}, curve_speeds(base.redline));
    const OverSpeed& burn = base.engine_model.fit.latest_burn;
    ASSERT_FALSE(burn.empty());
    const auto result = cycle::run(base.engine_model.cylinder, measured_point(base, measured), fuel.fuel);
    EXPECT_NEAR(burn.at(measured.speed), result.half_burned_angle, 1e-9);
    EXPECT_NEAR(base.engine_model.peak_pressure, 1.2 * result.peak_pressure, 1.0);
    const TableCell cell = stage_on_fuel(base, generous_parts(), fuel);
    double least = 1e9, most = 0.0;
    for (std::size_t i = 0; i < cell.speeds.size(); ++i) {
        if (cell.speeds[i] < 4000 * rpm || cell.speeds[i] > 6400 * rpm) continue;
        least = std::min(least, cell.torques[i]);
        most = std::max(most, cell.torques[i]);
    }
    EXPECT_LT(most / least, 1.15);
    // Below and above the measured speed the burn is not where it was before the calibration.
    EXPECT_GT(burn.at(3500 * rpm), burn.at(6300 * rpm));
}

// Other fuels run no later than the measured one.
TEST(StageTableIdentities, OtherFuelsBurnNoLaterThanTheMeasuredOne) {
    TableBase base = invented_base();
    const MeasuredPoint measured = measured_at_the_peak();
    const MeasuredMap map{generous_parts(), offered(98, 0.0), {measured}};
    base.engine_model = calibrated(base, {&map, 1}, curve_speeds(base.redline));
    for (const double ethanol : {0.0, 0.2, 0.85}) {
        const TableCell cell = stage_on_fuel(base, generous_parts(), offered(98, ethanol));
        EXPECT_LE(cell.half_burned_angle, base.engine_model.fit.latest_burn.at(cell.power_speed) + 1e-6);
        EXPECT_LE(cell.peak_pressure, base.engine_model.peak_pressure * (1.0 + 1e-3));
        EXPECT_LE(cell.gas_temperature, base.engine_model.gas_temperature + 0.5);
    }
}

namespace {

Parts parts_with_turbine(double square_centimetres) {
    Parts parts = generous_parts();
    std::get<Compressor>(parts[1]).efficiency = 0.72;
    boost::Turbine turbine{};
    turbine.effective_area = square_centimetres * 1e-4;
    parts.emplace_back(turbine);
    return parts;
}

}  // namespace

// With a turbine the exhaust pressure of the limit is that before the turbine: a smaller one holds the engine
// back by itself, a larger one by its back pressure less than the rule of 1.3 Pa for each Pa of boost would.
TEST(StageTableIdentities, TheTurbineSetsTheExhaustPressureAndLimits) {
    const TableBase base = invented_base();
    const OfferedFuel fuel = offered(98, 0.0);
    const double speed = 6300 * rpm;
    const auto limit = [&](const Parts& parts) {
        InitialGuess guess{base.engine, 200e3};
        return stage_limit(for_cell(base, parts, fuel), guess, parts, fuel, speed);
    };
    const Parts large_turbine = parts_with_turbine(12.0);
    const StageLimit large = limit(large_turbine);
    EXPECT_FALSE(large.limited_by.part);
    // The same engine by the rule with the factor that the turbine has there.
    const BoostedEngine engine(base, large_turbine, fuel);
    const CurvePoint point = full_load(engine, speed);
    TableBase ruled = base;
    const double ambient = base.weather.pressure;
    ruled.engine_model.cylinder.back_pressure_loss = 0.0;
    ruled.engine_model.cylinder.back_pressure_per_boost =
        (point.load.expansion.inlet_pressure - ambient) / (large.manifold_pressure - ambient);
    InitialGuess guess{base.engine, 200e3};
    Parts no_turbine = large_turbine;
    no_turbine.pop_back();
    const StageLimit by_rule = stage_limit(for_cell(ruled, no_turbine, fuel), guess, no_turbine, fuel, speed);
    EXPECT_NEAR(large.power / by_rule.power, 1.0, 2e-3);
    EXPECT_NEAR(large.manifold_pressure / by_rule.manifold_pressure, 1.0, 2e-3);
    // Too small a turbine knocks more, for its back pressure; too large a one gives no boost at low speed.
    EXPECT_LT(limit(parts_with_turbine(6.0)).power, large.power);
    InitialGuess slow{base.engine, 60e3};
    const StageLimit low = stage_limit(for_cell(base, parts_with_turbine(25.0), fuel), slow,
                                       parts_with_turbine(25.0), fuel, 2500 * rpm);
    ASSERT_TRUE(low.limited_by.part);
    EXPECT_EQ(*low.limited_by.part, 3u);
}

// A map measured with a turbine is given back with it.
TEST(StageTableIdentities, AMapMeasuredWithATurbineIsGivenBack) {
    TableBase base = invented_base();
    MeasuredMap map{parts_with_turbine(11.0), offered(98, 0.0), {measured_at_the_peak()}};
    map.has_power_peak = true;
    base.engine_model = calibrated(base, {&map, 1}, curve_speeds(base.redline));
    const TableCell cell = stage_on_fuel(base, map.parts, map.fuel);
    EXPECT_NEAR(cell.power / map.points[0].power, 1.0, 0.01);
    EXPECT_NEAR(cell.manifold_pressure / map.points[0].manifold_pressure, 1.0, 0.01);
    EXPECT_EQ(cell.basis.kind, Basis::Kind::measured);
    const TableCell other = stage_on_fuel(base, map.parts, offered(98, 0.2));
    EXPECT_GT(other.power, cell.power);
    EXPECT_GT(std::abs(other.effects[Assumption::turbine_area]), 0.0);
    EXPECT_LT(other.effects.spread() / other.power, 0.12);
}

// The gas temperature that the turbine stands binds, and so does a lower one stated for the engine.
TEST(StageTableIdentities, TheTurbineStatesTheGasTemperature) {
    const TableBase base = invented_base();
    const OfferedFuel fuel = offered(98, 0.0);
    Parts parts = parts_with_turbine(12.0);
    std::get<boost::Turbine>(parts[3]).max_gas_temperature = 1233.15;
    const TableCell cell = stage_on_fuel(base, parts, fuel);
    EXPECT_EQ(cell.limited_by.engine, EngineBound::exhaust_temperature);
    EXPECT_NEAR(cell.gas_temperature, 1233.15, 0.6);
    EngineStrength strength;
    strength.max_gas_temperature = 1213.15;
    parts.emplace_back(strength);
    EXPECT_NEAR(stage_on_fuel(base, parts, fuel).gas_temperature, 1213.15, 0.6);
    std::get<EngineStrength>(parts[4]).max_gas_temperature = 1300.0;
    EXPECT_NEAR(stage_on_fuel(base, parts, fuel).gas_temperature, 1233.15, 0.6);
}

// What moves both stages alike does not make their difference uncertain; what moves one alone does (JCGM
// 100:2008, 5.2.2, for full correlation).
TEST(Jcgm100, TheGainOfAStageIsSurerThanItsPower) {
    TableCell before, after;
    before.power = 200e3;
    after.power = 212e3;
    before.effects[Assumption::octane] = 10e3;
    after.effects[Assumption::octane] = 13e3;
    EXPECT_NEAR(after.effects.spread(), 13e3, 1e-9);
    StageGain gain = stage_gain(before, after);
    EXPECT_NEAR(gain.power, 12e3, 1e-9);
    EXPECT_NEAR(gain.uncertainty, 3e3, 1e-9);
    EXPECT_EQ(gain.verdict, StageGain::Verdict::pays);
    after.power = before.power + 5.9e3;
    before.effects[Assumption::octane] = after.effects[Assumption::octane];
    EXPECT_EQ(stage_gain(before, after).verdict, StageGain::Verdict::little);
    after.power = before.power + 12e3;
    before.effects[Assumption::octane] = 10e3;
    before.effects[Assumption::part_rating] = 4e3;
    after.effects[Assumption::part_rating] = 6e3;
    gain = stage_gain(before, after);
    EXPECT_NEAR(gain.uncertainty, std::sqrt(9e6 + 16e6 + 36e6), 1e-6);
    EXPECT_EQ(gain.verdict, StageGain::Verdict::uncertain);
    after.power = 201e3;
    EXPECT_EQ(stage_gain(before, after).verdict, StageGain::Verdict::none);
    after.power = 190e3;
    EXPECT_EQ(stage_gain(before, after).verdict, StageGain::Verdict::loss);
}

// Distance from what was measured: boost above 1.25 times the measured one 2 %, 3 % for each 1000 rpm, 3 %
// for each unit of compression ratio.
TEST(StageTableIdentities, TheBasisCountsTheDistance) {
    StageBase base = invented_base();
    StageLimit limit;
    limit.manifold_pressure = 200e3;
    limit.gas_temperature = 1250.0;
    const fuel::Fuel fuel = offered(98, 0.0).fuel;
    EXPECT_EQ(basis_of(base, limit, fuel, 600.0).kind, Basis::Kind::guess);
    const double ratio = base.engine_model.cylinder.crank.compression_ratio;
    base.engine_model.points = {{3000 * rpm, 180e3, 1150.0, ratio, fuel},
                                {6000 * rpm, 200e3, 1200.0, ratio, fuel}};
    EXPECT_EQ(basis_of(base, limit, fuel, 6000 * rpm).kind, Basis::Kind::measured);
    EXPECT_NEAR(basis_of(base, limit, fuel, 6000 * rpm).hotter_gas, 50.0, 1e-9);
    EXPECT_EQ(basis_of(base, limit, fuel, 5000 * rpm).kind, Basis::Kind::between);
    EXPECT_EQ(basis_of(base, limit, fuel, 5000 * rpm).uncertainty, 0.0);
    const Basis fast = basis_of(base, limit, fuel, 7000 * rpm);
    EXPECT_TRUE(fast.in_speed);
    EXPECT_EQ(fast.kind, Basis::Kind::extrapolated);
    EXPECT_NEAR(fast.uncertainty, 0.03, 1e-9);
    EXPECT_NEAR(basis_of(base, limit, fuel, 2500 * rpm).uncertainty, 0.015, 1e-9);
    EXPECT_TRUE(basis_of(base, limit, offered(98, 0.2).fuel, 5000 * rpm).in_fuel);
    limit.manifold_pressure = 230e3;  // 130 kPa of boost, 1.3 times the highest
    const Basis boosted = basis_of(base, limit, fuel, 6000 * rpm);
    EXPECT_TRUE(boosted.in_boost);
    EXPECT_NEAR(boosted.uncertainty, 0.02, 1e-9);
    base.engine_model.cylinder.crank.compression_ratio = ratio - 1.0;
    limit.manifold_pressure = 200e3;
    const Basis lower = basis_of(base, limit, fuel, 6000 * rpm);
    EXPECT_TRUE(lower.in_compression_ratio);
    EXPECT_NEAR(lower.uncertainty, 0.03, 1e-9);
}

TEST(OverSpeed, LinearBetweenAndHeldOutside) {
    const OverSpeed burn{{100.0, 200.0, 400.0}, {0.5, 0.4, 0.2}};
    EXPECT_EQ(burn.at(50.0), 0.5);
    EXPECT_EQ(burn.at(100.0), 0.5);
    EXPECT_NEAR(burn.at(300.0), 0.3, 1e-15);
    EXPECT_EQ(burn.at(900.0), 0.2);
}

TEST(StageTableIdentities, SideBySideIsTheSameAsOneByOne) {
    const TableBase base = invented_base();
    const std::vector<Parts> stages = {small_injectors(), generous_parts()};
    const std::vector<OfferedFuel> fuels = {offered(95, 0.0), offered(98, 0.2), offered(95, 0.8)};
    const auto cells = stage_table(base, stages, fuels);
    ASSERT_EQ(cells.size(), 6u);
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const TableCell alone = stage_on_fuel(base, stages[i / 3], fuels[i % 3]);
        EXPECT_EQ(cells[i].power, alone.power);
        EXPECT_EQ(cells[i].torques, alone.torques);
    }
    TableBase bad = base;
    bad.redline = -1.0;
    EXPECT_THROW(stage_table(bad, stages, fuels), InvalidArgument);
}

TEST(StageTableIdentities, WhatCannotBeSaysWhyAndTheRestStands) {
    TableBase base = invented_base();
    const Parts stages[] = {generous_parts()};
    const OfferedFuel fuels[] = {offered(40, 0.0), offered(95, 0.0)};
    const auto cells = stage_table(base, stages, fuels);
    ASSERT_TRUE(cells[0].impossible);
    EXPECT_EQ(cells[0].impossible->reason, Reason::knocks_at_any_pressure);
    EXPECT_FALSE(cells[1].impossible);
    EXPECT_EQ(cells[1].power, stage_on_fuel(base, stages[0], fuels[1]).power);
}

// Without a charge cooler an engine that knock does not hold back heats its charge beyond what a cycle is
// computed for; on the way to an answer a hotter charge than that may be looked at.
TEST(StageTableIdentities, AChargeBeyondTheCycleIsRefused) {
    TableBase base = invented_base();
    Parts parts = generous_parts();
    parts.pop_back();
    base.engine_model.cylinder.volumetric_efficiency = 0.35;
    base.engine.volumetric_efficiency = 0.35;
    const NoSolution error = refusal(base, parts, offered(98, 0.85));
    EXPECT_EQ(error.reason(), Reason::charge_too_hot);
    EXPECT_GT(error.details().at(0).value, cycle::possible::manifold_temperature.high);
}

// What the parts carry and the efficiency are brought to agree, whatever efficiency was typed in to begin
// with.
TEST(StageTableIdentities, TheEfficiencyTypedInIsOnlyWhereTheSearchBegins) {
    const OfferedFuel fuel = offered(98, 0.2);
    Parts held_by_torque = generous_parts(), held_by_air = generous_parts();
    held_by_torque.push_back(Clutch{230.0});
    std::get<Compressor>(held_by_air[1]).max_corrected_flow = 0.16;
    for (const Parts& parts : {small_injectors(), held_by_air, held_by_torque, generous_parts()}) {
        TableBase base = invented_base();
        base.full_boost_from = 0.95 * base.redline;  // no speed before it that would bring the efficiency
        const TableCell cell = stage_on_fuel(base, parts, fuel);
        for (const double efficiency : {0.15, 0.25, 0.42}) {
            base.engine.efficiency = efficiency;
            const TableCell other = stage_on_fuel(base, parts, fuel);
            EXPECT_EQ(other.limited_by.part, cell.limited_by.part) << efficiency;
            EXPECT_NEAR(other.power / cell.power, 1.0, 1e-3) << efficiency;
            EXPECT_NEAR(other.manifold_pressure / cell.manifold_pressure, 1.0, 2e-3) << efficiency;
        }
    }
}

// Far below what knock allows, at it and above: the smaller of the two holds.
TEST(StageTableIdentities, NoPowerBeyondWhatTheEngineIsTrustedWith) {
    const TableBase base = invented_base();
    const OfferedFuel fuel = offered(95, 0.1);
    const double knocking = stage_on_fuel(base, generous_parts(), fuel).power;
    for (const double share : {0.05, 0.2, 0.5, 0.9, 0.97, 0.99, 1.0, 1.01, 1.03, 1.1}) {
        Parts parts = generous_parts();
        parts.push_back(EngineStrength{.max_power = share * knocking, .max_torque = {}, .max_bmep = {}});
        const TableCell cell = stage_on_fuel(base, parts, fuel);
        EXPECT_NEAR(cell.power / knocking, std::min(share, 1.0), 2e-3) << share;
    }
}

// At high speed a compressor far too small feeds no more than friction takes: no torque there, and the
// greatest power stands at a lower speed.
TEST(StageTableIdentities, ACompressorThatOnlyFeedsFriction) {
    const TableBase base = invented_base();
    Parts parts = generous_parts();
    std::get<Compressor>(parts[1]).max_corrected_flow = 0.03;
    const TableCell cell = stage_on_fuel(base, parts, offered(98, 0.0));
    EXPECT_EQ(cell.torques.back(), 0.0);
    EXPECT_GT(cell.power, 0.0);
    EXPECT_LT(cell.power_speed, base.redline);
    EXPECT_EQ(cell.limited_by.part, 1u);
}

// Injectors so small that the engine does not turn on their fuel: no power, and no complaint about the spark
// or the pressure that such an engine would need.
TEST(StageTableIdentities, PartsThatCarryNothingGiveNoPower) {
    for (const double flow : {5.0, 12.0, 20.0}) {
        Parts parts = generous_parts();
        std::get<Injectors>(parts[0]).rated_flow = flow * cc_per_minute;
        EXPECT_EQ(refusal(invented_base(), parts, offered(95, 0.0)).reason(), Reason::no_power) << flow;
    }
}

// An efficiency factor from a measurement of another engine.
TEST(StageTableIdentities, AnEfficiencyBeyondEnginesIsRefused) {
    TableBase base = invented_base();
    base.engine_model.cylinder.efficiency_factor = 2.0;
    base.engine_model.cylinder.wall_heat_factor = 0.5;
    EXPECT_EQ(refusal(base, generous_parts(), offered(95, 0.0)).reason(), Reason::efficiency_beyond_engines);
}

// On a day colder than the cycle is computed for the row says so.
TEST(StageTableIdentities, AChargeTooColdForTheCycleIsRefused) {
    TableBase base = invented_base();
    base.weather.temperature = cycle::possible::manifold_temperature.low - 5.0;
    Parts parts = generous_parts();
    parts.push_back(Clutch{60.0});  // hardly any boost that would warm the charge
    const NoSolution error = refusal(base, parts, offered(98, 0.0));
    EXPECT_EQ(error.reason(), Reason::charge_too_cold);
    EXPECT_LT(error.details().at(0).value, cycle::possible::manifold_temperature.low);
}

// A pump whose curve ends below the rail pressure is not known to give any power: that is refused.
TEST(StageTableIdentities, APumpKnownBelowTheRailPressureOnly) {
    Parts parts = generous_parts();
    Pump pump{{{1e5, 2e5}, {300 * litre_per_hour, 250 * litre_per_hour}}};
    pump.fuel_pressure = 4e5;
    pump.reference = RailReference::surroundings;
    parts.push_back(pump);
    const TableCell cell = stage_on_fuel(invented_base(), parts, offered(98, 0.0));
    ASSERT_TRUE(cell.impossible);
    EXPECT_EQ(cell.impossible->reason, Reason::pump_curve_ends);
}

// A curve that ends early bounds the answer, and that is said; it is not the pump that gives out.
TEST(StageTableIdentities, APumpCurveThatEndsBoundsTheAnswerAndIsNoLimit) {
    const auto with_pump = [](const injection::PumpCurve& curve) {
        Parts parts = generous_parts();
        Pump pump{curve};
        pump.fuel_pressure = 4e5;
        parts.push_back(pump);
        return stage_on_fuel(invented_base(), parts, offered(98, 0.0));
    };
    const TableCell complete =
        with_pump({{4e5, 5e5, 12e5}, {400 * litre_per_hour, 380 * litre_per_hour, 300 * litre_per_hour}});
    EXPECT_FALSE(complete.missing);
    const TableCell ends = with_pump({{4e5, 4.4e5}, {400 * litre_per_hour, 390 * litre_per_hour}});
    ASSERT_TRUE(ends.limited_by.data_end);
    EXPECT_EQ(ends.limited_by.data_end->reason, Reason::pump_curve_ends);
    ASSERT_TRUE(ends.missing);
    EXPECT_LT(ends.power, 0.9 * complete.power);
}

TEST(StageTableIdentities, ARedlineIsNeeded) {
    TableBase base = invented_base();
    base.redline = 0.0;
    EXPECT_THROW(stage_on_fuel(base, generous_parts(), offered(95, 0.0)), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::plan
