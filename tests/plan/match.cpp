// SPDX-License-Identifier: Apache-2.0
#include "core/plan/match.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>

#include "core/error.hpp"
#include "tests/plan/plain_engine.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::plan {
namespace {

using tests::rpm;
constexpr double cm2 = 1e-4;
constexpr double kPa = 1e3;

boost::Turbine plain_turbine(double area, double nozzles = 2.0) {
    boost::Turbine turbine{};
    turbine.effective_area = area * cm2;
    turbine.efficiency = 0.68;
    turbine.nozzles = nozzles;
    return turbine;
}

PlainEngine plain_engine(double exhaust_loss) {
    PlainEngine engine;
    engine.exhaust_loss = exhaust_loss;
    return engine;
}

const Ceiling boost_control[] = {{300 * kPa, 7}};

// ---- computed twice by independent programs

TEST(MatchIndependent, BalanceBelowTheBoostWanted) {
    const PlainEngine engine = plain_engine(15 * kPa);
    const boost::Turbine two = plain_turbine(10), one = plain_turbine(10, 1);
    EXPECT_NEAR(*Match(engine, two).balance(2900 * rpm, 300 * kPa), 126565.657, 5e-2);
    EXPECT_NEAR(*Match(engine, two).balance(3400 * rpm, 300 * kPa), 173218.38, 5e-1);
    EXPECT_NEAR(*Match(engine, one).balance(3400 * rpm, 300 * kPa), 112261.633, 5e-2);
    EXPECT_NEAR(*Match(engine, one).balance(3950 * rpm, 300 * kPa), 131741.052, 5e-2);
}

TEST(MatchIndependent, ThresholdRisingAndFalling) {
    const PlainEngine engine = plain_engine(15 * kPa);
    const boost::Turbine two = plain_turbine(10), one = plain_turbine(10, 1);
    const Threshold a = Match(engine, two).threshold(300 * kPa, 1500 * rpm, 7000 * rpm);
    EXPECT_NEAR(*a.falling / rpm, 3643.66788, 5e-5);
    EXPECT_NEAR(*a.rising / rpm, 3643.66788, 5e-5);
    const Threshold b = Match(engine, one).threshold(300 * kPa, 1500 * rpm, 7000 * rpm);
    EXPECT_NEAR(*b.falling / rpm, 3906.69992, 5e-5);
    EXPECT_NEAR(*b.rising / rpm, 4221.62373, 5e-5);
}

// Between the two thresholds the surplus at the boost wanted is above zero, and below it there is a band in
// which it is not: the boost does not get through. Whoever looks at the boost wanted alone finds it held.
TEST(MatchIndependent, TheBoostDoesNotJumpOverABandWithoutSurplus) {
    const PlainEngine engine = plain_engine(15 * kPa);
    const boost::Turbine one = plain_turbine(10, 1);
    const Match match(engine, one);
    for (const double speed : {3950.0, 4100.0, 4200.0}) {
        EXPECT_GT(match.shut(speed * rpm, 300 * kPa).surplus(), 0.0);
        const FullLoad at = match.full_load(speed * rpm, boost_control);
        EXPECT_EQ(at.held, Held::turbine);
        EXPECT_LT(at.manifold_pressure, 200 * kPa);
        EXPECT_NEAR(match.shut(speed * rpm, at.manifold_pressure).surplus_share(), 0.0, 1e-9);
    }
    EXPECT_EQ(match.full_load(4230 * rpm, boost_control).held, Held::ceiling);
}

TEST(MatchIndependent, WastegateAboveTheThreshold) {
    const PlainEngine engine = plain_engine(15 * kPa);
    const boost::Turbine two = plain_turbine(10);
    const FullLoad at = Match(engine, two).full_load(5450 * rpm, boost_control);
    EXPECT_EQ(at.held, Held::ceiling);
    EXPECT_EQ(at.ceiling, 7U);
    EXPECT_EQ(at.manifold_pressure, 300 * kPa);
    EXPECT_NEAR(at.expansion.wastegate_share, 0.162416112, 5e-9);
    EXPECT_NEAR(at.expansion.wastegate_area, 1.88325766 * cm2, 5e-8 * cm2);
    EXPECT_NEAR(at.expansion.inlet_pressure, 252737.908, 5e-2);
}

TEST(MatchIndependent, MoreBackPressureMovesTheThreshold) {
    const PlainEngine engine = plain_engine(40 * kPa);
    const boost::Turbine two = plain_turbine(12), one = plain_turbine(12, 1);
    const Match match(engine, two);
    EXPECT_NEAR(*match.threshold(300 * kPa, 1500 * rpm, 7000 * rpm).rising / rpm, 4857.99535, 5e-4);
    EXPECT_NEAR(*match.balance(4500 * rpm, 300 * kPa), 226525.782, 5e-1);
    EXPECT_NEAR(*Match(engine, one).threshold(300 * kPa, 1500 * rpm, 7000 * rpm).rising / rpm, 5333.9571,
                5e-3);
}

TEST(MatchIndependent, AreaForABoostAtASpeed) {
    const PlainEngine engine = plain_engine(40 * kPa);
    const boost::Turbine two = plain_turbine(12), one = plain_turbine(12, 1);
    const Match::AreaFor a = Match(engine, two).area_for(4000 * rpm, 300 * kPa);
    EXPECT_NEAR(a.balance, 10.3008566 * cm2, 5e-6 * cm2);
    EXPECT_NEAR(a.from_below, a.balance, 1e-9 * cm2);
    const Match::AreaFor b = Match(engine, one).area_for(4000 * rpm, 300 * kPa);
    EXPECT_NEAR(b.balance, 9.64998848 * cm2, 5e-7 * cm2);
    // With one nozzle it asks for less, so that the boost gets there.
    EXPECT_LT(b.from_below, 0.97 * b.balance);
    const boost::Turbine reached = plain_turbine(b.from_below / cm2 * (1 - 1e-6), 1);
    EXPECT_EQ(Match(engine, reached).full_load(4000 * rpm, boost_control).held, Held::ceiling);
    const boost::Turbine held = plain_turbine(b.balance / cm2, 1);
    EXPECT_EQ(Match(engine, held).full_load(4000 * rpm, boost_control).held, Held::turbine);
}

TEST(MatchIndependent, TimeToTorque) {
    const PlainEngine engine = plain_engine(15 * kPa);
    boost::Turbine two = plain_turbine(10);
    two.inertia = 1.2e-4;
    const auto moments = Match(engine, two).spool(4350 * rpm, 110 * kPa, 300 * kPa, 0.9);
    EXPECT_NEAR(moments.front().shaft_speed / rpm, 45087.4617, 5e-3);
    EXPECT_NEAR(moments.back().time, 1.65620596, 1e-5 * 1.65620596);
    EXPECT_NEAR(moments.back().manifold_pressure, 270 * kPa, 1.0);
    two.inertia = 0.6e-4;
    EXPECT_NEAR(Match(engine, two).spool(4350 * rpm, 110 * kPa, 300 * kPa, 0.9).back().time,
                0.5 * moments.back().time, 1e-6);
}

// ---- identities

TEST(MatchIdentities, TwoTurbinesOfHalfTheSizeAreOne) {
    const PlainEngine engine;
    boost::Turbine one = plain_turbine(10), two = plain_turbine(5);
    one.inertia = 1.2e-4;
    two.inertia = 0.6e-4;
    two.count = 2.0;
    one.pulse_amplitude = two.pulse_amplitude = 0.5;
    const Match a(engine, one), b(engine, two);
    EXPECT_NEAR(*a.balance(3000 * rpm, 300 * kPa), *b.balance(3000 * rpm, 300 * kPa), 1e-3);
    EXPECT_NEAR(*a.threshold(300 * kPa, 1500 * rpm, 7000 * rpm).rising,
                *b.threshold(300 * kPa, 1500 * rpm, 7000 * rpm).rising, 1e-6);
    EXPECT_NEAR(a.spool(4350 * rpm, 110 * kPa, 300 * kPa, 0.9).back().time,
                b.spool(4350 * rpm, 110 * kPa, 300 * kPa, 0.9).back().time, 1e-6);
}

// With what one nozzle passes at the same pressures the wastegate has its share of the areas.
TEST(MatchIdentities, WastegateBesideOneNozzle) {
    const PlainEngine engine;
    const boost::Turbine one = plain_turbine(9, 1);
    const boost::Expansion at = Match(engine, one).full_load(5500 * rpm, boost_control).expansion;
    ASSERT_GT(at.wastegate_area, 0.0);
    EXPECT_NEAR(at.wastegate_share, at.wastegate_area / (at.wastegate_area + 9 * cm2), 1e-9);
}

/// Numbers that look random and are the same on every machine.
class Numbers {
  public:
    double between(double low, double high) {
        state_ = state_ * 6364136223846793005U + 1442695040888963407U;
        return low + (high - low) * static_cast<double>(state_ >> 11U) * 0x1p-53;
    }

  private:
    std::uint64_t state_ = 42;
};

struct Sample {
    PlainEngine engine;
    boost::Turbine turbine;
    double target;
};

Sample sample(Numbers& numbers) {
    Sample s{};
    s.engine.displacement = numbers.between(0.8e-3, 5e-3);
    s.engine.volumetric_efficiency = numbers.between(0.7, 1.1);
    s.engine.gas_temperature = numbers.between(1000, 1350);
    s.engine.compressor_efficiency = numbers.between(0.6, 0.78);
    s.engine.exhaust_loss = numbers.between(0, 60e3);
    s.engine.charge_loss = numbers.between(0, 20e3);
    s.engine.residual_share = numbers.between(0, 0.06);
    // One number a statement: the order in which arguments are evaluated is the compiler's.
    const double area = numbers.between(2, 8) * s.engine.displacement / 1e-3;
    s.turbine = plain_turbine(area, numbers.between(1, 3) < 2);
    s.turbine.nozzles = numbers.between(0, 1) < 0.5 ? 1.0 : 2.0;
    s.turbine.efficiency = numbers.between(0.55, 0.75);
    s.turbine.pulse_amplitude = numbers.between(0, 1) < 0.5 ? 0.0 : numbers.between(0, 0.9);
    s.target = numbers.between(130e3, 320e3);
    return s;
}

// A better or smaller turbine is never later.
TEST(MatchIdentities, ABetterOrSmallerTurbineIsNeverLater) {
    Numbers numbers;
    constexpr double never = 1e9;
    int reached = 0;
    for (int i = 0; i < 15; ++i) {
        const Sample s = sample(numbers);
        const auto rising = [&](const boost::Turbine& turbine) {
            return Match(s.engine, turbine)
                .threshold(s.target, 1000 * rpm, 8000 * rpm)
                .rising.value_or(never);
        };
        const double as_it_is = rising(s.turbine);
        boost::Turbine better = s.turbine, smaller = s.turbine;
        better.efficiency *= 1.05;
        smaller.effective_area *= 0.93;
        EXPECT_LE(rising(better), as_it_is * (1 + 1e-9));
        EXPECT_LE(rising(smaller), as_it_is * (1 + 1e-9));
        if (as_it_is < never) ++reached;
    }
    EXPECT_GT(reached, 6);
}

// Every full load of random engines and turbines is what its name says, and nothing is thrown.
TEST(MatchSweep, FullLoadIsWhatItSays) {
    Numbers numbers;
    int by_turbine = 0, by_ceiling = 0, by_wastegate = 0, by_surge = 0;
    for (int i = 0; i < 60; ++i) {
        Sample s = sample(numbers);
        if (i % 3 == 0) s.turbine.wastegate_area = numbers.between(0, 0.15) * s.turbine.effective_area;
        if (i % 2 == 0) s.engine.surge_flow = numbers.between(0.02, 0.06) * s.engine.displacement / 1e-3;
        const Match match(s.engine, s.turbine);
        const Ceiling ceilings[] = {{1.4 * s.target, 1}, {s.target, 0}};
        for (double speed = 1200; speed < 8000; speed *= 1.3) {
            const FullLoad at = match.full_load(speed * rpm, ceilings);
            EXPECT_GT(at.manifold_pressure, 0.0);
            if (at.held != Held::wastegate && !at.creeps) {
                EXPECT_LE(at.manifold_pressure, s.target * (1 + 1e-9));
            }
            const double drives = at.expansion.power - at.breath.compressor_power;
            switch (at.held) {
                case Held::turbine:
                    ++by_turbine;
                    EXPECT_NEAR(drives, 0.0, 1e-6 * at.expansion.power);
                    EXPECT_EQ(at.expansion.wastegate_share, 0.0);
                    break;
                case Held::ceiling:
                    ++by_ceiling;
                    // The second ceiling holds what the wastegate cannot.
                    EXPECT_EQ(at.ceiling, at.creeps ? 1U : 0U);
                    if (at.creeps)
                        EXPECT_GT(drives, 0.0);
                    else
                        EXPECT_NEAR(drives, 0.0, 1e-6 * at.expansion.power);
                    break;
                case Held::wastegate:
                    ++by_wastegate;
                    EXPECT_TRUE(at.creeps);
                    EXPECT_GE(at.manifold_pressure, s.target * (1 - 1e-9));
                    EXPECT_NEAR(drives, 0.0, 1e-6 * at.expansion.power);
                    break;
                case Held::surge:
                    ++by_surge;
                    EXPECT_NEAR(at.breath.surge_margin, 0.0, 1e-6);
                    break;
                case Held::throttle: FAIL() << "the target lies above the surroundings";
            }
            // What the engine felt is the pressure before the turbine.
            const Breath again =
                s.engine.breathe(speed * rpm, at.manifold_pressure, at.expansion.inlet_pressure);
            EXPECT_NEAR(again.air_flow, at.breath.air_flow, 1e-9 * at.breath.air_flow);
        }
    }
    EXPECT_GT(by_turbine, 20);
    EXPECT_GT(by_ceiling, 20);
    EXPECT_GT(by_wastegate, 2);
    EXPECT_GT(by_surge, 5);
}

// Neighbouring speeds give neighbouring pressures, but for a jump up where a band without surplus ends.
TEST(MatchSweep, BelowTheThresholdPressureRisesWithSpeed) {
    const PlainEngine engine;
    const boost::Turbine turbine = plain_turbine(10);
    const Match match(engine, turbine);
    double before = 0.0;
    for (double speed = 1500; speed < 3600; speed += 50) {
        const double pressure = match.full_load(speed * rpm, boost_control).manifold_pressure;
        EXPECT_GT(pressure, before);
        before = pressure;
    }
}

// ---- what else holds

TEST(MatchLimits, ThrottleWhereTheCeilingLiesBelowTheSurroundings) {
    const PlainEngine engine;
    const boost::Turbine turbine = plain_turbine(10);
    const Ceiling low[] = {{80 * kPa, 3}};
    const FullLoad at = Match(engine, turbine).full_load(4000 * rpm, low);
    EXPECT_EQ(at.held, Held::throttle);
    EXPECT_EQ(at.ceiling, 3U);
    EXPECT_EQ(at.manifold_pressure, 80 * kPa);
}

TEST(MatchLimits, BoostCreepsOverAWastegateTooSmall) {
    const PlainEngine engine;
    boost::Turbine turbine = plain_turbine(10);
    turbine.wastegate_area = 1.0 * cm2;
    const Match match(engine, turbine);
    const FullLoad alone = match.full_load(5450 * rpm, boost_control);
    EXPECT_EQ(alone.held, Held::wastegate);
    EXPECT_TRUE(alone.creeps);
    EXPECT_GT(alone.manifold_pressure, 310 * kPa);
    EXPECT_NEAR(alone.expansion.wastegate_area, 1.0 * cm2, 1e-12);
    // A second ceiling below that pressure holds, and the creep is told all the same.
    const Ceiling two[] = {{300 * kPa, 7}, {305 * kPa, 8}};
    const FullLoad bounded = match.full_load(5450 * rpm, two);
    EXPECT_EQ(bounded.held, Held::ceiling);
    EXPECT_EQ(bounded.ceiling, 8U);
    EXPECT_TRUE(bounded.creeps);
    // Large enough, it just holds.
    turbine.wastegate_area = 1.9 * cm2;
    EXPECT_FALSE(Match(engine, turbine).full_load(5450 * rpm, boost_control).creeps);
}

TEST(MatchLimits, SurgeLineHolds) {
    PlainEngine engine;
    engine.surge_flow = 0.1;
    const boost::Turbine turbine = plain_turbine(8);
    const FullLoad at = Match(engine, turbine).full_load(3500 * rpm, boost_control);
    EXPECT_EQ(at.held, Held::surge);
    EXPECT_NEAR(at.breath.surge_margin, 0.0, 1e-9);
    EXPECT_LT(at.manifold_pressure, 300 * kPa);
    EXPECT_GT(at.manifold_pressure, 90 * kPa);
}

TEST(MatchLimits, AVariableGeometryOpensBeforeTheWastegate) {
    const PlainEngine engine;
    boost::Turbine turbine = plain_turbine(8);
    turbine.largest_area = 14 * cm2;
    const Match match(engine, turbine);
    const FullLoad at = match.full_load(5000 * rpm, boost_control);
    EXPECT_EQ(at.expansion.wastegate_share, 0.0);
    EXPECT_GT(at.expansion.area, 8 * cm2);
    EXPECT_LT(at.expansion.area, 14 * cm2);
    // The threshold is that of the smallest area.
    const boost::Turbine small = plain_turbine(8);
    EXPECT_NEAR(*match.threshold(300 * kPa, 1500 * rpm, 7000 * rpm).rising,
                *Match(engine, small).threshold(300 * kPa, 1500 * rpm, 7000 * rpm).rising, 1e-6);
}

TEST(MatchThreshold, NeverReachedTellsTheHighest) {
    const PlainEngine engine;
    const boost::Turbine turbine = plain_turbine(30);
    const Threshold at = Match(engine, turbine).threshold(300 * kPa, 1500 * rpm, 7000 * rpm);
    EXPECT_FALSE(at.rising);
    EXPECT_FALSE(at.falling);
    EXPECT_EQ(at.highest_speed, 7000 * rpm);
    EXPECT_NEAR(at.highest_pressure, *Match(engine, turbine).balance(7000 * rpm, 300 * kPa), 1e-6);
}

TEST(MatchThreshold, ThereFromTheLowestSpeedOn) {
    const PlainEngine engine;
    const boost::Turbine turbine = plain_turbine(10);
    for (const double target : {80 * kPa, 105 * kPa}) {
        const Threshold at = Match(engine, turbine).threshold(target, 4000 * rpm, 7000 * rpm);
        EXPECT_EQ(*at.rising, 4000 * rpm);
        EXPECT_EQ(*at.falling, 4000 * rpm);
    }
}

TEST(MatchThreshold, ItsBandJoinsEachUncertainty) {
    const PlainEngine engine = plain_engine(15 * kPa);
    const boost::Turbine turbine = plain_turbine(10);
    const Match match(engine, turbine);
    const ThresholdBand band = match.threshold_band(300 * kPa, 1500 * rpm, 7000 * rpm);
    const double rising = *band.threshold.rising;
    ASSERT_EQ(band.shifts.size(), 7U);
    // Each by hand, with the whole search.
    const auto moved = [&](const PlainEngine& e, const boost::Turbine& t) {
        return *Match(e, t).threshold(300 * kPa, 1500 * rpm, 7000 * rpm).rising - rising;
    };
    boost::Turbine larger = plain_turbine(10.5), worse = turbine, pulsed = turbine;
    worse.efficiency = 0.65;
    pulsed.pulse_amplitude = 0.6;
    PlainEngine colder = engine, emptier = engine, lossy = engine;
    colder.gas_temperature -= 30;
    emptier.volumetric_efficiency *= 0.97;
    lossy.compressor_efficiency = 0.67;
    const double by_hand[] = {moved(engine, larger), moved(engine, worse), moved(colder, turbine),
                              moved(emptier, turbine), moved(lossy, turbine)};
    for (std::size_t i = 0; i < 5; ++i) {
        EXPECT_NEAR(band.shifts[i], by_hand[i], 1e-5 * rising) << i;
        EXPECT_GT(by_hand[i], 0.0) << i;
    }
    EXPECT_GT(band.shifts[5], 0.0);
    EXPECT_NEAR(band.shifts[6], moved(engine, pulsed), 1e-5 * rising);
    EXPECT_LT(band.shifts[6], 0.0);
    double square = 0.0;
    for (const double shift : band.shifts) square += shift * shift;
    EXPECT_NEAR(*band.high - rising, 2 * std::sqrt(square), 1e-9 * rising);
    EXPECT_NEAR(rising - *band.low, 2 * std::sqrt(square), 1e-9 * rising);
}

TEST(MatchThreshold, ABandWithoutAnUpperEnd) {
    const PlainEngine engine = plain_engine(15 * kPa);
    const boost::Turbine turbine = plain_turbine(10);
    const ThresholdBand band = Match(engine, turbine).threshold_band(300 * kPa, 1500 * rpm, 3700 * rpm);
    EXPECT_TRUE(band.threshold.rising);
    EXPECT_TRUE(band.low);
    EXPECT_FALSE(band.high);
    EXPECT_TRUE(Match(engine, turbine).threshold_band(300 * kPa, 1500 * rpm, 3000 * rpm).shifts.empty());
}

TEST(MatchSpool, StartsAndEndsWhereItShould) {
    const PlainEngine engine;
    boost::Turbine turbine = plain_turbine(10);
    turbine.inertia = 1.2e-4;
    const Match match(engine, turbine);
    const auto moments = match.spool(4350 * rpm, 110 * kPa, 300 * kPa, 0.9);
    EXPECT_EQ(moments.front().time, 0.0);
    EXPECT_NEAR(moments.front().manifold_pressure, 110 * kPa, 1.0);
    for (std::size_t i = 1; i < moments.size(); ++i) {
        EXPECT_GT(moments[i].time, moments[i - 1].time);
        EXPECT_GT(moments[i].torque, moments[i - 1].torque);
    }
    const double full = match.shut(4350 * rpm, 300 * kPa).breath.torque;
    EXPECT_NEAR(moments.back().torque, 0.9 * full, 1e-6 * full);
}

/// A plain engine of whose shaft nothing is known.
struct EngineWithoutShaft final : MatchedEngine {
    PlainEngine plain;

    Breath breathe(double speed, double manifold_pressure, double exhaust_pressure) const override {
        Breath breath = plain.breathe(speed, manifold_pressure, exhaust_pressure);
        breath.shaft_speed.reset();
        return breath;
    }
    double natural_filling(double speed) const override { return plain.natural_filling(speed); }
    double outlet_pressure(const boost::GasStream& gas, double turbine_power) const override {
        return plain.outlet_pressure(gas, turbine_power);
    }
};

/// An engine whose breath jumps back and forth with the pressure before the turbine.
struct EngineWithoutBalance final : MatchedEngine {
    PlainEngine plain;

    Breath breathe(double speed, double manifold_pressure, double exhaust_pressure) const override {
        Breath breath = plain.breathe(speed, manifold_pressure, exhaust_pressure);
        if (exhaust_pressure > 1.02 * manifold_pressure) breath.gas.flow *= 0.3;
        return breath;
    }
    double natural_filling(double speed) const override { return plain.natural_filling(speed); }
    double outlet_pressure(const boost::GasStream& gas, double turbine_power) const override {
        return plain.outlet_pressure(gas, turbine_power);
    }
};

TEST(MatchErrors, WhatTheEngineDoesNotTell) {
    boost::Turbine turbine = plain_turbine(10);
    turbine.inertia = 1.2e-4;
    const EngineWithoutShaft silent;
    try {
        Match(silent, turbine).spool(4350 * rpm, 110 * kPa, 300 * kPa, 0.9);
        FAIL() << "there is no shaft speed";
    } catch (const InvalidArgument& error) {
        EXPECT_EQ(error.reason(), Reason::shaft_speed_unknown);
    }
    // What needs no shaft speed is told all the same.
    EXPECT_TRUE(Match(silent, turbine).balance(2900 * rpm, 300 * kPa));
    const EngineWithoutBalance restless;
    const boost::Turbine small = plain_turbine(5);
    try {
        Match(restless, small).shut(4000 * rpm, 250 * kPa);
        FAIL() << "no pressure before the turbine agrees";
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::no_pressure_balance);
    }
}

TEST(MatchLimits, AnyAreaGivesWhatTheSurroundingsGive) {
    const PlainEngine engine;
    const boost::Turbine turbine = plain_turbine(10);
    const Match::AreaFor at = Match(engine, turbine).area_for(4000 * rpm, 85 * kPa);
    EXPECT_EQ(at.balance, 2e-2);
    EXPECT_EQ(at.from_below, 2e-2);
}

TEST(MatchErrors, WhatCannotBe) {
    const PlainEngine engine;
    boost::Turbine turbine = plain_turbine(10);
    EXPECT_THROW(Match(engine, plain_turbine(0)), InvalidArgument);
    const Match match(engine, turbine);
    EXPECT_THROW(match.threshold(0.0, 1.0, 2.0), InvalidArgument);
    EXPECT_THROW(match.threshold(200 * kPa, 300.0, 200.0), InvalidArgument);
    EXPECT_THROW(match.spool(4000 * rpm, 110 * kPa, 300 * kPa, 0.9), InvalidArgument);  // no inertia
    PlainEngine cold;
    cold.gas_temperature = 400;
    EXPECT_THROW(Match(cold, turbine).area_for(1000 * rpm, 900 * kPa), NoSolution);
    turbine.inertia = 1.2e-4;
    // At 3000 rpm the turbine does not get there, however long it is waited.
    EXPECT_THROW(Match(engine, turbine).spool(3000 * rpm, 110 * kPa, 300 * kPa, 0.9), NoSolution);
}

}  // namespace
}  // namespace pullsheet::plan
