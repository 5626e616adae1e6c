// SPDX-License-Identifier: Apache-2.0
#include "core/plan/operating_point.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/air/moist_air.hpp"
#include "core/boost/charge_cooler.hpp"
#include "core/boost/compressor.hpp"
#include "core/engine/air_flow.hpp"
#include "core/engine/power.hpp"
#include "core/fuel/stoichiometry.hpp"
#include "tests/plan/invented_plan.hpp"

namespace pullsheet::plan {
namespace {

Engine plain_engine() {
    Engine engine{};
    engine.displacement = 1.984e-3;
    engine.volumetric_efficiency = 1.0;
    return engine;
}

// A cooler without losses of effectiveness or pressure leaves the chain in closed form: manifold pressure by
// speed–density (Heywood, Internal Combustion Engine Fundamentals, eq. 2.27) at the coolant's temperature.
// Evaluated independently: 179.22812 g/s is what 1.984 L at 5500/min breathe at 180 kPa, 318.15 K and a
// volumetric efficiency of 1 (R = 287.05 J/(kg·K)).
TEST(Heywood1988Identities, SpeedDensityBackFromPower) {
    const double air = 0.17922812;
    const double power = engine::power_from_air(air, gasoline, 0.85, 0.30);
    ChargeCooler cooler{1.0};
    cooler.coolant_temperature = 318.15;
    const OperatingPoint point = operating_point(plain_engine(), gasoline, power, 5500 * rpm, {}, {cooler});
    EXPECT_NEAR(point.manifold_pressure, 180e3, 180e3 * 1.1e-5);  // R of ISO 2533 is 1.0e-5 higher
    EXPECT_NEAR(point.charge_temperature, 318.15, 1e-9);
    EXPECT_NEAR(point.pressure_ratio, point.manifold_pressure / 100e3, 1e-12);
}

// Fact of the trade (common practice, no source): a 2.5-litre five-cylinder turbo engine on E85 makes about
// 865 PS and 970 N·m near 6300 to 7000/min with a charge pipe of 70 mm, a throttle elbow of 80 mm, an intake
// of 125 mm and an exhaust of 100 mm. Efficiency, volumetric efficiency, cooler and pipe lengths are
// plausible values of our own.
TEST(CommonPractice, FiveCylinderOnEthanol) {
    Engine engine{};
    engine.displacement = 2.48e-3;
    engine.volumetric_efficiency = 1.05;
    engine.efficiency = 0.33;
    ChargeCooler cooler{0.80};
    cooler.pressure_loss = 5e3;
    cooler.reference_flow = 0.3;
    const Parts parts{cooler, PlacedPipe{{0.125, 0.8, 1.0}, PipePlace::intake},
                      PlacedPipe{{0.070, 1.5, 1.0}, PipePlace::charge},
                      PlacedPipe{{0.080, 0.2, 0.5}, PipePlace::charge},
                      PlacedPipe{{0.100, 3.0, 1.0}, PipePlace::exhaust}};
    const double power = 865 * 735.49875;
    const double speed = engine::speed(power, 970.0);
    EXPECT_NEAR(speed / rpm, 6263.0, 1.0);
    const OperatingPoint point = operating_point(engine, e85, power, speed, {}, parts);
    EXPECT_NEAR(point.bmep, 49e5, 0.5e5);
    EXPECT_GT(point.manifold_pressure, 300e3);
    EXPECT_LT(point.manifold_pressure, 450e3);
    EXPECT_GT(point.air_flow, 0.45);
    EXPECT_LT(point.air_flow, 0.65);
    const double intake = point.loads[1].demand, charge = point.loads[2].demand,
                 elbow = point.loads[3].demand, exhaust = point.loads[4].demand;
    EXPECT_LT(intake, 0.15);
    EXPECT_LT(charge, 0.15);
    EXPECT_LT(elbow, charge);
    EXPECT_GT(exhaust, 0.25);
    EXPECT_LT(exhaust, 0.45);
    EXPECT_LT(point.charge_loss, 0.05 * point.manifold_pressure);
}

// The solution put back into each formula by itself.
void expect_closed(const Engine& engine, const fuel::Fuel& fuel, const Weather& weather, const Parts& parts,
                   double power, double speed) {
    const OperatingPoint p = operating_point(engine, fuel, power, speed, weather, parts);
    EXPECT_NEAR(p.torque * speed, power, 1e-9 * power);
    EXPECT_NEAR(p.fuel_flow * fuel::heating_value(fuel) * engine.efficiency, power, 1e-9 * power);
    EXPECT_NEAR(p.dry_air_flow / p.fuel_flow, fuel::air_fuel_ratio(engine.lambda, fuel), 1e-9);
    const double inlet = weather.pressure - p.intake_loss;
    EXPECT_NEAR(p.pressure_ratio * inlet - p.charge_loss, p.manifold_pressure, 1e-9 * p.manifold_pressure);
    EXPECT_NEAR(boost::pressure_ratio(p.boost, weather.pressure, p.intake_loss, p.charge_loss),
                p.pressure_ratio, 1e-9 * p.pressure_ratio);
    EXPECT_NEAR(boost::compressor_temperature(weather.temperature, p.pressure_ratio, p.compressor_efficiency),
                p.compressor_temperature, 1e-9 * p.compressor_temperature);
    // Moist air by its own gas constant fills the displacement.
    const double gas_constant = air::gas_constant(weather.temperature, weather.pressure, weather.humidity);
    EXPECT_NEAR(engine::air_flow(engine.displacement, speed, p.manifold_pressure, p.charge_temperature,
                                 p.volumetric_efficiency) *
                    dry_air_gas_constant / gas_constant,
                p.air_flow, 1e-9 * p.air_flow);
    EXPECT_NEAR(p.air_flow / p.dry_air_flow - 1.0,
                air::humidity_ratio(weather.temperature, weather.pressure, weather.humidity), 1e-12);
    double pressure = p.pressure_ratio * inlet;
    double temperature = p.compressor_temperature;
    for (PipePlace place : {PipePlace::hot, PipePlace::charge}) {
        for (const Part& part : parts) {
            const auto* pipe = std::get_if<PlacedPipe>(&part);
            if (pipe && pipe->place == place) {
                pressure -= boost::pipe_flow(p.air_flow, pipe->geometry, temperature, pressure).pressure_loss;
            }
        }
        for (const Part& part : parts) {
            const auto* cooler = std::get_if<ChargeCooler>(&part);
            if (!cooler || place == PipePlace::charge) continue;
            const double densities =
                pressure / temperature / (cooler->reference.pressure / cooler->reference.temperature);
            pressure -= cooler->pressure_loss * std::pow(p.air_flow / cooler->reference_flow, 2) / densities;
            temperature = boost::charge_temperature(temperature, weather.temperature, cooler->effectiveness);
        }
    }
    if (weather.humidity == 0.0) {
        EXPECT_NEAR(pressure, p.manifold_pressure, 1e-9 * pressure);
    }
    EXPECT_NEAR(temperature, p.charge_temperature, 1e-9 * temperature);
}

TEST(OperatingPointIdentities, EveryFormulaHoldsAtTheSolution) {
    Parts parts = invented_parts();
    parts.erase(parts.begin() + 2);  // of the pumps, the port injected one
    for (const fuel::Fuel& fuel : {gasoline, fuel::Fuel{0.20}, e85}) {
        for (double power : {200e3, 260e3, 290e3}) {
            expect_closed(invented_engine(), fuel, {}, parts, power, 6500 * rpm);
            expect_closed(invented_engine(), fuel, {308.15, 95e3, 0.0}, parts, power, 6800 * rpm);
            expect_closed(invented_engine(), fuel, {308.15, 95e3, 0.6}, parts, power, 6800 * rpm);
        }
    }
}

TEST(OperatingPointIdentities, ManyPowersAndSpeedsWithoutAMap) {
    Parts parts = invented_parts();
    std::get<Compressor>(parts[3]) = Compressor{};
    std::get<Pump>(parts[1]).curve = {{1e5, 3e5, 4e5, 5e5, 6e5, 30e5},
                                      {420 * litre_per_hour, 365 * litre_per_hour, 335 * litre_per_hour,
                                       300 * litre_per_hour, 260 * litre_per_hour, 205 * litre_per_hour}};
    for (double speed = 2000; speed <= 7500; speed += 500) {
        double last = 0.0;
        for (double power = 2e3; power < 400e3; power *= 1.3) {
            if (power / (speed * rpm) > 900.0) break;
            const OperatingPoint p =
                operating_point(invented_engine(), gasoline, power, speed * rpm, {}, parts);
            EXPECT_GT(p.manifold_pressure, last);
            EXPECT_TRUE(std::isfinite(p.charge_temperature));
            last = p.manifold_pressure;
        }
    }
}

TEST(OperatingPointIdentities, MoistAirTakesMoreBoost) {
    const OperatingPoint dry =
        operating_point(invented_engine(), gasoline, 250e3, 6500 * rpm, {308.15, 100e3, 0.0});
    const OperatingPoint moist =
        operating_point(invented_engine(), gasoline, 250e3, 6500 * rpm, {308.15, 100e3, 0.8});
    EXPECT_EQ(dry.dry_air_flow, moist.dry_air_flow);
    EXPECT_GT(moist.air_flow, dry.air_flow * 1.02);
    // Dalton: the dry part of the manifold pressure stays, apart from the charge being a little hotter.
    EXPECT_GT(moist.manifold_pressure, dry.manifold_pressure * 1.03);
    EXPECT_LT(moist.manifold_pressure, dry.manifold_pressure * 1.08);
}

TEST(OperatingPointIdentities, EqualPartsSideBySide) {
    Compressor one{}, two{};
    two.count = 2;
    one.map.emplace(boost::invented_map(0.75));
    two.map.emplace(boost::invented_map(0.375));
    const OperatingPoint a =
        operating_point(invented_engine(), e85, 250e3, 6500 * rpm, {}, {one, ChargeCooler{0.7}});
    const OperatingPoint b =
        operating_point(invented_engine(), e85, 250e3, 6500 * rpm, {}, {two, ChargeCooler{0.7}});
    EXPECT_NEAR(a.compressor_efficiency, b.compressor_efficiency, 1e-9);
    EXPECT_NEAR(a.corrected_flow, 2.0 * b.corrected_flow, 1e-12);
    EXPECT_NEAR(a.compressor_power, b.compressor_power, 1e-3);
}

// At the end of the exhaust air and fuel leave together, at the pressure of the surroundings and the
// temperature given, half of them through each of two pipes: M = v/√(κ R T) with v = ṁ R T/(p A), κ = 1.34
// and c_p = 1150 J/(kg·K).
TEST(OperatingPointIdentities, MachNumberOfTheExhaust) {
    PlacedPipe exhaust{{0.076, 0.0, 0.0}, PipePlace::exhaust};
    exhaust.count = 2.0;
    exhaust.gas_temperature = 1100.0;
    const OperatingPoint p = operating_point(invented_engine(), gasoline, 250e3, 6500 * rpm, {}, {exhaust});
    const double r = 1150.0 * (1.34 - 1.0) / 1.34;
    const double flow = 0.5 * (p.air_flow + p.fuel_flow);
    const double mach = flow * std::sqrt(r * 1100.0 / 1.34) / (pi / 4.0 * 0.076 * 0.076 * 100e3);
    EXPECT_NEAR(p.loads[0].demand, mach, 1e-12);
    EXPECT_NEAR(p.loads[0].use, mach / 0.4, 1e-12);
}

TEST(OperatingPointIdentities, RailThatStandsFixedLosesToBoost) {
    Injectors follows{4, 1000 * cc_per_minute};
    Injectors fixed = follows;
    fixed.reference = RailReference::surroundings;
    const OperatingPoint p = operating_point(invented_engine(), gasoline, 250e3, 6500 * rpm, {},
                                             {follows, fixed, ChargeCooler{0.8}});
    EXPECT_GT(p.boost, 50e3);
    EXPECT_NEAR(p.loads[1].use / p.loads[0].use, std::sqrt(3e5 / (3e5 - p.boost)), 1e-9);
}

TEST(OperatingPointIdentities, PumpWorksAgainstRailPressure) {
    Pump pump{{{3e5, 4e5, 5e5, 6e5}, {1e-4, 0.9e-4, 0.75e-4, 0.5e-4}}};
    const OperatingPoint p =
        operating_point(invented_engine(), gasoline, 200e3, 6500 * rpm, {}, {pump, ChargeCooler{0.8}});
    EXPECT_LT(p.loads[0].capacity, 1e-4);
    EXPECT_GT(p.loads[0].capacity, 0.75e-4);
    EXPECT_NEAR(p.loads[0].demand, p.fuel_volume_flow * 1.1, 1e-12);
}

TEST(OperatingPointWarnings, ThrottledRedlineAndOverload) {
    const OperatingPoint small =
        operating_point(invented_engine(), gasoline, 40e3, 6500 * rpm, {}, {Clutch{10.0}});
    ASSERT_EQ(small.warnings.size(), 2u);
    EXPECT_EQ(small.warnings[0].reason, Reason::throttled);
    EXPECT_EQ(small.warnings[1].reason, Reason::part_overloaded);
    EXPECT_EQ(small.pressure_ratio, 1.0);
    EXPECT_LT(small.boost, 0.0);
    EXPECT_EQ(small.compressor_power, 0.0);
    Engine engine = invented_engine();
    engine.redline = 6000 * rpm;
    const OperatingPoint fast = operating_point(engine, gasoline, 200e3, 6500 * rpm);
    ASSERT_EQ(fast.warnings.size(), 1u);
    EXPECT_EQ(fast.warnings[0].reason, Reason::above_redline);
}

template <class Error, class Call>
Reason reason_of(Call call) {
    try {
        call();
    } catch (const Error& error) {
        return error.reason();
    }
    throw std::runtime_error("no error");
}

TEST(OperatingPointErrors, WhatCannotBe) {
    const Engine engine = invented_engine();
    const auto point = [&](double power, const Parts& parts) {
        return operating_point(engine, gasoline, power, 6500 * rpm, {}, parts);
    };
    Compressor compressor{};
    compressor.map.emplace(boost::invented_map(0.75));
    EXPECT_EQ(reason_of<NoSolution>([&] {
                  point(600e3, {compressor, ChargeCooler{0.8}});
              }),
              Reason::map_ends_above);
    compressor.map.emplace(boost::invented_map(0.3));
    EXPECT_EQ(reason_of<NoSolution>([&] {
                  point(250e3, {compressor, ChargeCooler{0.8}});
              }),
              Reason::map_ends_right);
    compressor.map.emplace(boost::invented_map(3.0));
    EXPECT_EQ(reason_of<NoSolution>([&] {
                  point(250e3, {compressor, ChargeCooler{0.8}});
              }),
              Reason::map_ends_left);
    EXPECT_EQ(reason_of<NoSolution>([&] {
                  point(500e3, {PlacedPipe{{0.03}, PipePlace::intake}});
              }),
              Reason::pipe_choked);
    EXPECT_EQ(reason_of<NoSolution>([&] {
                  point(300e3, {PlacedPipe{{0.015, 500.0}, PipePlace::charge}});
              }),
              Reason::no_pressure_ratio);
    EXPECT_EQ(reason_of<NoData>([&] { point(300e3, {Pump{{{3e5}, {1e-4}}}}); }), Reason::pump_curve_ends);
    Injectors fixed{4, 1e-5, 3e5, 0.5e5, RailReference::surroundings};
    EXPECT_EQ(reason_of<NoSolution>([&] { point(300e3, {fixed}); }), Reason::no_injection_pressure);
    EXPECT_EQ(reason_of<InvalidArgument>([&] {
                  point(300e3, {compressor, compressor});
              }),
              Reason::part_twice);
    EXPECT_EQ(reason_of<InvalidArgument>([&] {
                  point(300e3, {ChargeCooler{0.5}, ChargeCooler{0.6}});
              }),
              Reason::part_twice);
}

// Without a cooler the charge is as warm as the engine block says it is; a cooler knows better.
TEST(OperatingPointIdentities, TheChargeTemperatureOfTheEngine) {
    Engine engine = invented_engine();
    engine.charge_temperature = 321.0;
    const auto charge = [&](const Parts& parts) {
        return operating_point(engine, gasoline, 250e3, 6500 * rpm, {}, parts).charge_temperature;
    };
    EXPECT_EQ(charge({}), 321.0);
    EXPECT_NEAR(charge({ChargeCooler{1.0}}), Weather{}.temperature, 1e-9);
}

TEST(OperatingPointErrors, ImpossibleNumbers) {
    const Engine engine = invented_engine();
    const double nan = std::nan("");
    EXPECT_THROW(operating_point(engine, gasoline, nan, 600.0), InvalidArgument);
    EXPECT_THROW(operating_point(engine, gasoline, 0.0, 600.0), InvalidArgument);
    EXPECT_THROW(operating_point(engine, gasoline, 1e5, 0.0), InvalidArgument);
    EXPECT_EQ(reason_of<NoData>([&] { operating_point(engine, gasoline, 1e5, 8000 * rpm); }),
              Reason::volumetric_efficiency_ends);
    EXPECT_THROW(operating_point(engine, gasoline, 1e5, 600.0, {nan, 1e5, 0.0}), InvalidArgument);
    EXPECT_THROW(operating_point(engine, gasoline, 1e5, 600.0, {298.0, 0.0, 0.0}), InvalidArgument);
    EXPECT_THROW(operating_point(engine, gasoline, 1e5, 600.0, {}, {Clutch{0.0}}), InvalidArgument);
    EXPECT_THROW(operating_point(engine, gasoline, 1e5, 600.0, {}, {ChargeCooler{1.5}}), InvalidArgument);
    EXPECT_THROW(operating_point(engine, gasoline, 1e5, 600.0, {}, {PlacedPipe{{0.0}}}), InvalidArgument);
    EXPECT_THROW(operating_point(engine, gasoline, 1e5, 600.0, {}, {Injectors{0.5, 1e-5}}), InvalidArgument);
    Engine bad = engine;
    bad.displacement = 0.0;
    EXPECT_THROW(operating_point(bad, gasoline, 1e5, 600.0), InvalidArgument);
    bad = engine;
    bad.volumetric_efficiency = 2.5;
    EXPECT_THROW(operating_point(bad, gasoline, 1e5, 600.0), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::plan
