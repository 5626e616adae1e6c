// SPDX-License-Identifier: Apache-2.0
#include "core/plan/limits.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <iterator>

#include "core/engine/power.hpp"
#include "core/injection/injector.hpp"
#include "core/plan/chain.hpp"
#include "tests/plan/invented_plan.hpp"

namespace pullsheet::plan {
namespace {

// 300 kW at 330 g/kWh from four injectors at 85 % duty want 651.4015 cc/min each with a fuel of 745 kg/m³
// (sizing rule of the trade from the definition of specific consumption, evaluated independently). The other
// way round, such injectors carry 300 kW.
TEST(CommonPractice, InjectorsCarryTheirPower) {
    Engine engine = invented_engine();
    engine.efficiency = 3600.0 / (330e-3 * 1e3 * 43.4);  // of 43.4 MJ/kg
    Injectors injectors{4, 651.4015 * cc_per_minute};
    injectors.rated_density = 745.0;
    const Limits result = limits(engine, {injectors}, gasoline, 6500 * rpm);
    EXPECT_NEAR(result.power, 300e3, 0.5);
}

TEST(LimitsIdentities, AtItsLimitEveryPartIsJustUsedUp) {
    const Parts parts = invented_parts();
    for (const fuel::Fuel& fuel : {gasoline, e85}) {
        for (double speed : {5000.0, 6500.0, 7200.0}) {
            const Limits result = limits(invented_engine(), parts, fuel, speed * rpm);
            ASSERT_EQ(result.parts.size(), parts.size());
            const Weather weather{};
            const Engine engine = invented_engine();
            const Chain chain(engine, fuel, speed * rpm, weather, parts);
            for (std::size_t i = 0; i < parts.size(); ++i) {
                // The air after the compressor grows denser as more of it flows: these pipes are never too
                // small here.
                const std::optional<double> bound = result.parts[i].bound();
                EXPECT_EQ(bound.has_value(), i != 6 && i != 7) << i;
                if (!bound) continue;
                OperatingPoint point = chain.fuel_side(*bound);
                chain.add_air(point);
                const bool curve_ends = i == 1 && point.boost + 4e5 > 7e5 * (1.0 - 1e-6);
                if (i == 1) {
                    EXPECT_EQ(result.parts[i].data_end.has_value(), curve_ends) << speed;
                }
                if (curve_ends) {
                    EXPECT_LT(chain.loads().excess(i, point), 0.0);
                } else {
                    EXPECT_NEAR(chain.loads().excess(i, point).value(), 0.0, 1e-8) << i << ' ' << speed;
                }
                EXPECT_GE(*bound, result.power);
            }
        }
    }
}

// What limits says, operating_point confirms with every refusal in place: just below the power of the weakest
// part every load fits, just above one does not.
TEST(LimitsIdentities, InverseOfOperatingPoint) {
    const Parts parts = invented_parts();
    for (const fuel::Fuel& fuel : {gasoline, fuel::Fuel{0.3}, e85}) {
        for (double speed = 4500; speed <= 7500; speed += 500) {
            const Limits result = limits(invented_engine(), parts, fuel, speed * rpm);
            const auto fits = [&](double power) {
                try {
                    for (const PartLoad& load :
                         operating_point(invented_engine(), fuel, power, speed * rpm, {}, parts).loads) {
                        if (load.use > 1.0) return false;
                    }
                } catch (const NoSolution&) {
                    return false;
                } catch (const NoData&) {
                    return false;
                }
                return true;
            };
            EXPECT_TRUE(fits(result.power * (1.0 - 1e-7))) << speed << ' ' << result.weakest;
            EXPECT_FALSE(fits(result.power * (1.0 + 1e-7))) << speed << ' ' << result.weakest;
        }
    }
}

// Of any part alone operating_point says that it is just used up at what it carries, whatever it needs to
// know of the air.
TEST(LimitsIdentities, OnePartAlone) {
    const double speed = 6500 * rpm;
    Injectors fixed{4, 900 * cc_per_minute, 3e5, 5e5, RailReference::surroundings};
    Pump pump{{{3e5, 5e5, 12e5}, {200 * litre_per_hour, 160 * litre_per_hour, 60 * litre_per_hour}}};
    Pump fixed_pump = pump;
    fixed_pump.reference = RailReference::surroundings;
    Compressor by_flow{}, by_ratio{}, by_both{};
    by_flow.max_corrected_flow = by_both.max_corrected_flow = 0.2;
    by_ratio.max_pressure_ratio = by_both.max_pressure_ratio = 2.2;
    ChargeCooler cooler{0.6};
    cooler.max_charge_temperature = 330.0;
    const Part parts[] = {fixed,
                          pump,
                          fixed_pump,
                          by_flow,
                          by_ratio,
                          by_both,
                          cooler,
                          PlacedPipe{{0.05, 0.3, 0.5}, PipePlace::intake},
                          PlacedPipe{{0.06, 0.5, 0.5}, PipePlace::exhaust},
                          Gearbox{400.0},
                          EngineStrength{.max_power = 250e3, .max_torque = {}, .max_bmep = {}},
                          EngineStrength{.max_power = {}, .max_torque = 400.0, .max_bmep = {}},
                          EngineStrength{.max_power = {}, .max_torque = {}, .max_bmep = 25e5}};
    for (std::size_t i = 0; i < std::size(parts); ++i) {
        const Limits result = limits(invented_engine(), {parts[i]}, gasoline, speed);
        const OperatingPoint point =
            operating_point(invented_engine(), gasoline, result.power * (1.0 - 1e-9), speed, {}, {parts[i]});
        EXPECT_NEAR(point.loads[0].use, 1.0, 1e-6) << i;
        EXPECT_NEAR(point.loads[0].demand / point.loads[0].capacity,
                    i == 6 ? point.charge_temperature / 330.0 : 1.0, 1e-6)
            << i;
    }
}

TEST(LimitsIdentities, TheStartOfTheSearchDoesNotMatter) {
    const Parts parts = invented_parts();
    const Limits reference = limits(invented_engine(), parts, e85, 6500 * rpm);
    for (double wanted : {1e3, 50e3, 200e3, 400e3, 3e6}) {
        const Limits other = limits(invented_engine(), parts, e85, 6500 * rpm, {}, wanted);
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (!reference.parts[i].power) continue;
            ASSERT_TRUE(other.parts[i].power) << i;
            EXPECT_NEAR(*other.parts[i].power, *reference.parts[i].power, 1e-8 * *reference.parts[i].power)
                << i << ' ' << wanted;
        }
        EXPECT_EQ(other.weakest, reference.weakest);
        EXPECT_EQ(other.wanted, wanted);
    }
}

TEST(LimitsIdentities, PlainPartsInClosedForm) {
    const double speed = 6000 * rpm;
    const Limits result = limits(invented_engine(),
                                 {Clutch{500.0}, Gearbox{450.0},
                                  EngineStrength{.max_power = 310e3, .max_torque = {}, .max_bmep = 30e5}},
                                 gasoline, speed, {}, 200e3);
    EXPECT_NEAR(*result.parts[0].power, 500.0 * speed, 1e-6);
    EXPECT_NEAR(*result.parts[1].power, 450.0 * speed, 1e-6);
    EXPECT_NEAR(*result.parts[2].power, 30e5 * 1.984e-3 / (4 * pi) * speed, 1e-4);
    EXPECT_EQ(result.weakest, 1u);
    EXPECT_NEAR(result.parts[1].load.use, 200e3 / (450.0 * speed), 1e-12);
    EXPECT_EQ(result.parts[1].load.quantity, Quantity::torque);
}

// A plunger of 9 mm and 4.8 mm lift, four lobes, the cam at half the speed: what it sweeps in a second, 90 %
// of it delivered. Either pump has to deliver a tenth more than what burns.
TEST(LimitsIdentities, PumpsInClosedForm) {
    const Engine engine = invented_engine();
    const Parts parts{HighPressurePump{0.009, 0.0048, 4}, Pump{{{20e5}, {200 * litre_per_hour}}}};
    const Limits result = limits(engine, parts, gasoline, 6000 * rpm);
    const double swept = pi / 4.0 * 0.009 * 0.009 * 0.0048 * 4.0 * (6000.0 / 60.0) / 2.0;
    const double power_of_volume =
        fuel::density(gasoline) * fuel::heating_value(gasoline) * engine.efficiency;
    EXPECT_NEAR(*result.parts[0].power, swept * 0.9 / 1.1 * power_of_volume, 1e-6 * *result.parts[0].power);
    EXPECT_NEAR(*result.parts[1].power, 200 * litre_per_hour / 1.1 * power_of_volume,
                1e-6 * *result.parts[1].power);
}

TEST(LimitsIdentities, EthanolTakesFuelSystemBeforeAirSystem) {
    // More fuel for the same air: injectors and pump give out earlier on E85, pipes and compressor hardly
    // change.
    const Parts parts = invented_parts();
    const Limits on_gasoline = limits(invented_engine(), parts, gasoline, 6500 * rpm);
    const Limits on_e85 = limits(invented_engine(), parts, e85, 6500 * rpm);
    const auto ratio = [&](std::size_t part) {
        return on_e85.parts[part].bound().value() / on_gasoline.parts[part].bound().value();
    };
    EXPECT_LT(ratio(0), 0.80);
    EXPECT_LT(ratio(1), 0.95);
    EXPECT_NEAR(ratio(5), 1.0, 0.05);
    EXPECT_NEAR(ratio(3), 1.0, 0.05);
}

// The end of what was typed is no limit of the part: what the others carry does not rest on it.
TEST(LimitsIdentities, PumpCurveThatEndsIsNoLimit) {
    Pump pump{{{4.2e5}, {1e-3}}};
    const Parts parts{pump, ChargeCooler{0.8}, Clutch{700.0}};
    const Limits result = limits(invented_engine(), parts, gasoline, 6500 * rpm);
    EXPECT_EQ(result.weakest, 0U);
    EXPECT_FALSE(result.parts[0].power);
    ASSERT_TRUE(result.parts[0].data_end);
    EXPECT_EQ(result.parts[0].data_end->power, result.power);
    EXPECT_EQ(result.parts[0].data_end->why.reason, Reason::pump_curve_ends);
    EXPECT_EQ(result.parts[0].data_end->why.details.at(1).value, 4.2e5);
    EXPECT_FALSE(result.parts[1].bound());  // a cooler without a limit
    EXPECT_NEAR(*result.parts[2].power, 700.0 * 6500 * rpm, 1e-3);
    // It is known up to the boost that lifts the rail to the last point.
    const OperatingPoint point =
        operating_point(invented_engine(), gasoline, result.power, 6500 * rpm, {}, parts);
    EXPECT_NEAR(point.boost, 1.2e5, 1.0);
    EXPECT_LT(point.loads[0].use, 0.5);
    const Limits wanted = limits(invented_engine(), parts, gasoline, 6500 * rpm, {}, 1.2 * result.power);
    ASSERT_TRUE(wanted.parts[0].broken);
    EXPECT_EQ(wanted.parts[0].broken->reason, Reason::pump_curve_ends);
    // With the missing point typed the clutch is the limiting part, and nothing is missing.
    const Parts complete{Pump{{{4.2e5, 9e5}, {1e-3, 0.9e-3}}}, ChargeCooler{0.8}, Clutch{700.0}};
    const Limits known = limits(invented_engine(), complete, gasoline, 6500 * rpm);
    EXPECT_EQ(known.weakest, 2U);
    EXPECT_FALSE(known.parts[2].data_end);
    EXPECT_EQ(known.power, *result.parts[2].power);
    // A pump known nowhere near the rail pressure: the other loads are computed all the same.
    Pump low{{{0.5e5}, {1e-3}}};
    low.reference = RailReference::surroundings;
    const Limits unknown = limits(invented_engine(), {low, Clutch{700.0}}, gasoline, 6500 * rpm);
    EXPECT_EQ(unknown.weakest, 0U);
    EXPECT_EQ(unknown.power, 0.0);
    ASSERT_TRUE(unknown.parts[0].data_end);
    EXPECT_EQ(unknown.parts[0].data_end->why.reason, Reason::pump_curve_ends);
    EXPECT_NEAR(unknown.parts[1].load.use, 1.0, 1e-9);
}

// The right and the upper edge of a map are where it ends; a limit stated there is the compressor's own.
TEST(LimitsIdentities, CompressorMapThatEndsIsNoLimit) {
    Compressor compressor{};
    compressor.map.emplace(boost::invented_map(0.75));
    const Parts parts{compressor, ChargeCooler{0.8}, Clutch{5000.0}};
    const Limits result = limits(invented_engine(), parts, gasoline, 6500 * rpm);
    EXPECT_EQ(result.weakest, 0U);
    EXPECT_FALSE(result.parts[0].power);
    ASSERT_TRUE(result.parts[0].data_end);
    const Reason why = result.parts[0].data_end->why.reason;
    EXPECT_TRUE(why == Reason::map_ends_right || why == Reason::map_ends_above);
    const OperatingPoint end =
        operating_point(invented_engine(), gasoline, result.power * (1.0 - 1e-6), 6500 * rpm, {}, parts);
    compressor.max_corrected_flow = end.corrected_flow;
    compressor.max_shaft_speed = end.shaft_speed;
    const Limits stated = limits(invented_engine(), {compressor, ChargeCooler{0.8}}, gasoline, 6500 * rpm);
    ASSERT_TRUE(stated.parts[0].power);
    EXPECT_FALSE(stated.parts[0].data_end);
    EXPECT_NEAR(*stated.parts[0].power / result.power, 1.0, 1e-5);
}

// On which side of its map a build leaves it: right of a small compressor's lines, above a fastest line that
// is flat on top, left of the hump of a fastest line.
TEST(LimitsIdentities, TheSideOnWhichTheMapEnds) {
    const auto why = [](std::vector<boost::MapPoint> map) {
        Compressor compressor{};
        compressor.map.emplace(std::move(map));
        const Parts parts{compressor, ChargeCooler{0.8}, Clutch{5000.0}};
        const Limits result = limits(invented_engine(), parts, gasoline, 6500 * rpm);
        return result.parts[0].data_end ? std::optional(result.parts[0].data_end->why) : std::nullopt;
    };
    const auto right = why(boost::invented_map(0.5));
    ASSERT_TRUE(right);
    EXPECT_EQ(right->reason, Reason::map_ends_right);
    EXPECT_LT(right->details[1].value, right->details[2].value);
    const double slow = 80e3 * rpm, fast = 100e3 * rpm;
    const auto above = why({{slow, 0.05, 1.3, 0.7},
                            {slow, 0.5, 1.3, 0.7},
                            {slow, 0.6, 1.1, 0.6},
                            {fast, 0.06, 1.8, 0.7},
                            {fast, 0.6, 1.8, 0.7},
                            {fast, 0.7, 1.3, 0.6}});
    ASSERT_TRUE(above);
    EXPECT_EQ(above->reason, Reason::map_ends_above);
    EXPECT_NEAR(above->details[0].value, 1.8, 1e-9);
    EXPECT_GE(above->details[1].value, 1.8);
    std::vector<boost::MapPoint> slower = boost::invented_map(1.0);
    slower.resize(10);
    const auto left = why(slower);
    ASSERT_TRUE(left);
    EXPECT_EQ(left->reason, Reason::map_ends_left);
    EXPECT_GT(left->details[1].value, left->details[2].value);
}

// No pump stands in the way of another, so each carries what it carries alone. With so many more points are
// solved than the search keeps.
TEST(LimitsIdentities, ManyPumpsCarryWhatEachCarriesAlone) {
    Parts many;
    for (int i = 0; i < 300; ++i)
        many.push_back(Pump{{{3e5, 5e5, 8e5},
                             {(400.0 + i % 7 * 31.0 + i) * litre_per_hour, (330.0 + i) * litre_per_hour,
                              200.0 * litre_per_hour}}});
    const Limits together = limits(invented_engine(), many, gasoline, 6500 * rpm);
    for (std::size_t i = 0; i < many.size(); i += 13) {
        const Limits alone = limits(invented_engine(), {many[i]}, gasoline, 6500 * rpm);
        EXPECT_NEAR(together.parts[i].bound().value() / alone.parts[0].bound().value(), 1.0, 1e-9) << i;
    }
}

// Of a thousand pipes in a row hardly any pressure is left at a trial power; there is an answer all the same.
TEST(LimitsIdentities, ManyPipesInARow) {
    const Parts few(10, PlacedPipe{{0.080, 0.01, 0.001}, PipePlace::intake});
    const Parts many(1000, PlacedPipe{{0.080, 0.01, 0.001}, PipePlace::intake});
    const double most = limits(invented_engine(), few, gasoline, 6500 * rpm).power;
    const double less = limits(invented_engine(), many, gasoline, 6500 * rpm).power;
    EXPECT_GT(less, 0.0);
    EXPECT_LT(less, most);
}

/// Pipes of different widths, none like another, a few of them narrow: INVENTED.
Parts row_of_pipes(std::size_t count, double length) {
    Parts row;
    for (std::size_t i = 0; i < count; ++i) {
        const double width = 1.0 + 0.3 * std::sin(static_cast<double>(i));
        row.push_back(PlacedPipe{{0.080 * width, length, 0.1 * length}, PipePlace::intake});
    }
    return row;
}

// Also where the pipes take most of the pressure.
TEST(LimitsIdentities, EveryPipeOfARowIsJustUsedUpAtItsLimit) {
    for (const double length : {0.001, 0.03, 1.0}) {
        const Parts row = row_of_pipes(100, length);
        const Engine engine = invented_engine();
        const Weather weather{};
        const Chain chain(engine, e85, 6500 * rpm, weather, row);
        const Limits result = limits(engine, row, e85, 6500 * rpm);
        int limited = 0;
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (!result.parts[i].power) continue;  // more than any boost could feed
            const auto use = [&](double power) {
                OperatingPoint point = chain.fuel_side(power);
                chain.add_air(point);
                return point.loads[i].use;
            };
            EXPECT_LT(use(*result.parts[i].power * (1.0 - 1e-10)), 1.0) << length << ' ' << i;
            EXPECT_GT(use(*result.parts[i].power * (1.0 + 1e-10)), 1.0) << length << ' ' << i;
            ++limited;
        }
        EXPECT_GT(limited, 5) << length;
    }
}

// A pipe has no limit where there is no operating point: just below what it carries the chain still holds.
TEST(LimitsIdentities, APipeThatCarriesMoreThanCanBeFedHasNoLimit) {
    const Parts wide{PlacedPipe{{0.080, 0.01, 0.001}, PipePlace::intake},
                     PlacedPipe{{0.5, 0.01, 0.001}, PipePlace::intake}};
    const Limits result = limits(invented_engine(), wide, e85, 6500 * rpm);
    EXPECT_TRUE(result.parts[0].power);
    EXPECT_FALSE(result.parts[1].power);
    // Nor one that carries more than 100 MW, nor one that carries nothing.
    EXPECT_EQ(
        limits(invented_engine(), {PlacedPipe{{1e-6, 0.0, 0.0, 0.0}, PipePlace::intake}}, e85, 6500 * rpm)
            .power,
        0.0);
}

TEST(LimitsErrors, NothingToAnswerFrom) {
    try {
        limits(invented_engine(), {ChargeCooler{0.8}}, gasoline, 6500 * rpm);
        FAIL();
    } catch (const NoData& error) {
        EXPECT_EQ(error.reason(), Reason::no_limit);
    }
    EXPECT_THROW(limits(invented_engine(), {}, gasoline, 6500 * rpm), NoData);
    EXPECT_THROW(limits(invented_engine(), invented_parts(), gasoline, 6500 * rpm, {}, -1.0),
                 InvalidArgument);
    EXPECT_THROW(limits(invented_engine(), invented_parts(), gasoline, std::nan("")), InvalidArgument);
}

TEST(LimitsErrors, CompressorFarTooLargeCarriesNothing) {
    Compressor compressor{};
    compressor.map.emplace(boost::invented_map(20.0));
    const Limits result = limits(invented_engine(), {compressor, ChargeCooler{0.8}}, gasoline, 6500 * rpm);
    // Left of the surge line at every boost above the slowest speed line: it carries what needs no more than
    // that.
    const OperatingPoint point = operating_point(invented_engine(), gasoline, *result.parts[0].power,
                                                 6500 * rpm, {}, {ChargeCooler{0.8}});
    EXPECT_LT(point.pressure_ratio, 1.4);
}

TEST(LimitsErrors, AChargeColderThanTheCoolant) {
    ChargeCooler cooler{0.8};
    cooler.coolant_temperature = 313.15;
    for (const double allowed : {303.15, 313.15}) {
        cooler.max_charge_temperature = allowed;
        try {
            limits(invented_engine(), {cooler}, gasoline, 5000 * rpm);
            FAIL() << "no error";
        } catch (const InvalidArgument& error) {
            EXPECT_EQ(error.reason(), Reason::charge_below_coolant);
            EXPECT_EQ(error.details().at(0).value, allowed);
            EXPECT_EQ(error.details().at(1).value, 313.15);
        }
    }
    cooler.max_charge_temperature = 313.25;
    EXPECT_NO_THROW(limits(invented_engine(), {cooler}, gasoline, 5000 * rpm));
}

}  // namespace
}  // namespace pullsheet::plan
