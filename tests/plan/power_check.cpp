// SPDX-License-Identifier: Apache-2.0
#include "core/plan/power_check.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <tuple>
#include <utility>
#include <vector>

#include "core/constants.hpp"
#include "core/engine/air_flow.hpp"
#include "core/error.hpp"
#include "core/fuel/fuel.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::plan {
namespace {

using tests::rpm;

/// An invented car, engine and day, and what each measurement would say of an engine of `power` W.
struct Day {
    PowerAssumptions assumptions;
    double factor = 1.0;
    double power = 0.0;

    explicit Day(double scale) : factor(scale) {
        road::Vehicle car;
        car.mass = 1550.0;
        car.drive = road::Drive::all;
        car.rolling_radius = 0.32;
        car.drag_area = 0.68;
        car.gears = {3.4, 2.1, 1.45, 1.1, 0.9, 0.75};
        car.final_drives = {3.6};
        std::vector<double> speeds, torques;
        const double points[][2] = {{1500, 250}, {2500, 420}, {3500, 520}, {4500, 530},
                                    {5500, 500}, {6500, 430}, {7000, 380}};
        for (const auto& [n, torque] : points) {
            speeds.push_back(n * rpm);
            torques.push_back(torque);
        }
        assumptions.vehicle = car;
        assumptions.curve = road::TorqueCurve(speeds, torques);
        assumptions.weather = {1.19, 0.0, 0.0};
        assumptions.road_uncertainty = usual_uncertainty(car, assumptions.weather);
        assumptions.fuel.ethanol_share = 0.1;
        assumptions.injectors = 4;
        assumptions.injector_flow = {1000e-6 / 60.0, 20e-6 / 60.0};
        assumptions.injector_speed = 6000.0 * rpm;
        assumptions.dead_time = 0.001;
        power = curve().peak(7000.0 * rpm).power;
    }
    road::TorqueCurve curve() const { return assumptions.curve->scaled(factor); }

    PowerEvidence evidence() const {
        const PowerAssumptions& a = assumptions;
        PowerEvidence e;
        e.rollers = {power, 0.02 * power};
        const double air = engine::air_for_power(power, a.fuel, a.lambda.value, a.efficiency.value);
        e.air_flow = {air, 0.02 * air};
        const double volume = fuel::volume_flow(fuel::flow(power, a.fuel, a.efficiency.value), a.fuel);
        e.injector_duty = {volume / (4.0 * a.injector_flow.value) + 0.001 * (6000.0 / 60.0) / 2.0, 0.01};
        e.road_time = {road::speed_run(*a.vehicle, curve(), e.from, e.to, a.weather).time, 0.05};
        e.trap_speed = {road::distance_run(*a.vehicle, curve(), e.distance, a.weather).trap_speed, 0.2};
        return e;
    }
};

// Evidence made from one power must come back as that power from every measurement, and agree.
TEST(PowerCheckIdentities, OneTruthFiveWitnesses) {
    for (const double factor : {0.8, 1.3}) {
        const Day day(factor);
        const PowerCheck check = power_check(day.evidence(), day.assumptions);
        ASSERT_EQ(check.measurements.size(), 5u);
        for (const PowerMeasurement& measurement : check.measurements) {
            EXPECT_NEAR(measurement.power / day.power, 1.0, 1e-6) << static_cast<int>(measurement.evidence);
            EXPECT_GT(measurement.uncertainty, 0.005 * day.power);
            EXPECT_LT(measurement.uncertainty, 0.10 * day.power);
        }
        EXPECT_NEAR(check.agreement.mean / day.power, 1.0, 1e-6);
        EXPECT_TRUE(check.agreement.agrees);
        EXPECT_LT(check.agreement.uncertainty, check.measurements[0].uncertainty);
        for (const statistics::Comparison& measurement : check.agreement.comparisons)
            EXPECT_TRUE(measurement.agrees);
    }
}

// Where a little more power makes another shift worth while the trap speed jumps. A reading inside the jump
// is the power at the jump, as uncertain as that of a reading well above it but for what the reading itself
// adds.
TEST(PowerCheckIdentities, ATrapSpeedInsideAJump) {
    const auto slow_shifting = [](double factor) {
        Day day(factor);
        day.assumptions.vehicle->shift_time = 0.6;
        return day;
    };
    const auto trap_speed = [&](double factor) { return slow_shifting(factor).evidence().trap_speed->value; };
    double jump = 0.0, below = 0.0, above = 0.0;
    for (double factor = 0.7; factor < 1.6; factor += 0.005) {
        const double less = trap_speed(factor), more = trap_speed(factor + 0.005);
        if (!(more - less > above - below)) continue;
        jump = factor;
        below = less;
        above = more;
    }
    ASSERT_GT(above / below, 1.01);
    const auto check = [&](double speed) {
        const Day day = slow_shifting(jump);
        PowerEvidence evidence = day.evidence();
        evidence.trap_speed->value = speed;
        return power_check(evidence, day.assumptions).measurements[4];
    };
    const PowerMeasurement beyond = check(trap_speed(jump + 0.1));
    EXPECT_NEAR(beyond.power / Day(jump + 0.1).power, 1.0, 1e-6);
    for (const double share : {0.2, 0.5, 0.8}) {
        const PowerMeasurement inside = check(below + share * (above - below));
        EXPECT_NEAR(inside.power / Day(jump + 0.0025).power, 1.0, 0.004);
        EXPECT_NEAR(inside.uncertainty / inside.power, beyond.uncertainty / beyond.power, 0.003) << share;
    }
}

// Rollers that read a fifth too much stand out against the others.
TEST(PowerCheckIdentities, FlatteringRollersStandOut) {
    const Day day(1.0);
    PowerEvidence evidence = day.evidence();
    evidence.rollers->value *= 1.2;
    evidence.rollers->uncertainty *= 1.2;
    const PowerCheck check = power_check(evidence, day.assumptions);
    EXPECT_FALSE(check.agreement.agrees);
    EXPECT_EQ(check.agreement.farthest, 0u);
    EXPECT_FALSE(check.agreement.comparisons[0].agrees);
    EXPECT_NEAR(check.agreement.comparisons[0].others / day.power, 1.0, 1e-6);
}

// Air flow and injector duty lean on the same efficiency: the two together are not worth two independent
// measurements, and their mean stays between them.
TEST(PowerCheckIdentities, SharedEfficiencyCountsOnce) {
    Day day(1.0);
    PowerEvidence evidence = day.evidence();
    evidence.rollers.reset();
    evidence.road_time.reset();
    evidence.trap_speed.reset();
    evidence.air_flow->value *= 1.03;
    const PowerCheck check = power_check(evidence, day.assumptions);
    ASSERT_EQ(check.measurements.size(), 2u);
    EXPECT_GT(check.agreement.uncertainty / check.agreement.mean, 0.05);  // 5 % of the efficiency remain
    EXPECT_GT(check.agreement.mean, std::min(check.measurements[0].power, check.measurements[1].power));
    EXPECT_LT(check.agreement.mean, std::max(check.measurements[0].power, check.measurements[1].power));
}

// What common practice trusts figures with that nobody measured: no source.
TEST(CommonPractice, SharesThatNobodyMeasured) {
    road::Vehicle car;
    car.mass = 1600.0;
    car.drag_area = 0.7;
    car.rolling_resistance = 0.012;
    const road::RoadUncertainty u = usual_uncertainty(car, {1.2, 3.0, 0.0});
    EXPECT_NEAR(u.mass, 16.0, 1e-12);
    EXPECT_NEAR(u.drag_area, 0.035, 1e-15);
    EXPECT_NEAR(u.rolling_resistance, 0.0018, 1e-15);
    EXPECT_EQ(u.driveline_efficiency, 0.03);
    EXPECT_NEAR(u.air_density, 0.006, 1e-15);
    EXPECT_EQ(u.headwind, 1.0);
}

// Air and fuel: P = ṁ_air η H/(λ L) and P = n V̇ (duty − dead share) ρ H η, so relative variances add up (JCGM
// 100:2008, 5.1.6). The efficiency is in both: of two values with variances a² and b² of their own and s² in
// common the weighted mean has s² + 1/(1/a² + 1/b²).
// What is timed where nobody says otherwise: 100 to 200 km/h, and the quarter mile of 1320 ft.
TEST(CommonPractice, SpeedsAndDistanceOfTheRoad) {
    const PowerEvidence evidence;
    EXPECT_NEAR(evidence.from, 100.0 * tests::kmh, 1e-12);
    EXPECT_NEAR(evidence.to, 200.0 * tests::kmh, 1e-12);
    EXPECT_NEAR(evidence.distance, 1320.0 * 0.3048, 1e-9);
}

TEST(Jcgm100, AirFlowAndInjectorDuty) {
    const Day day(1.0);
    PowerEvidence evidence = day.evidence();
    evidence.rollers.reset();
    evidence.road_time.reset();
    evidence.trap_speed.reset();
    const PowerCheck check = power_check(evidence, day.assumptions);
    ASSERT_EQ(check.measurements.size(), 2u);
    const double shared = 0.015 / 0.30;
    const double air = std::hypot(0.02, 0.01 / 0.85);
    const double flowing = evidence.injector_duty->value - 0.001 * (6000.0 / 60.0) / 2.0;
    const double duty = std::hypot(0.02, 0.01 / flowing);
    const auto relative = [&](std::size_t i) {
        return check.measurements[i].uncertainty / check.measurements[i].power;
    };
    EXPECT_NEAR(relative(0) / std::hypot(air, shared), 1.0, 1e-4);
    EXPECT_NEAR(relative(1) / std::hypot(duty, shared), 1.0, 1e-6);
    EXPECT_NEAR(check.agreement.uncertainty / check.agreement.mean /
                    std::sqrt(shared * shared + 1.0 / (1.0 / (air * air) + 1.0 / (duty * duty))),
                1.0, 1e-4);
}

// A car without losses under a constant force F = m (v₂ − v₁)/t; over a distance the mean speed in the trap
// grows with √(F/m). Small losses take their mean share of the force: rolling m g f, drag ½ρ A (v₂³ − v₁³)/(3
// (v₂ − v₁)). The uncertainties follow by JCGM 100:2008, 5.1.
TEST(Jcgm100, RoadTimeAndTrapSpeed) {
    PowerAssumptions a;
    a.vehicle.emplace();
    a.vehicle->mass = 1500.0;
    a.vehicle->drive = road::Drive::all;
    a.vehicle->rolling_radius = 1.0;
    a.vehicle->drag_area = 0.0;
    a.vehicle->rolling_resistance = 0.0;
    a.vehicle->grip = 5.0;
    a.vehicle->gears = {1.0};
    a.vehicle->final_drives = {1.0};
    a.vehicle->driveline_efficiency = 0.9;
    a.vehicle->engine_inertia = 0.0;
    a.vehicle->wheel_inertia = 0.0;
    a.vehicle->launch_speed = 1e-3;
    const std::vector<double> speeds{1e-3, 80.0}, torques{3000.0, 3000.0};
    a.curve.emplace(speeds, torques);
    a.weather = {1.2, 0.0, 0.0};
    PowerEvidence evidence;
    const double force = 6000.0, mass = 1500.0;
    const double gained = evidence.to - evidence.from;
    evidence.road_time = {mass * gained / force, 0.05};
    // t(x) = √(2x m/F), and the trap is the last 66 ft.
    const double trap = 20.1168;
    evidence.trap_speed = {trap / (std::sqrt(2.0 * mass / force) *
                                   (std::sqrt(evidence.distance) - std::sqrt(evidence.distance - trap))),
                           0.3};
    const auto uncertainties = [&] {
        const PowerCheck check = power_check(evidence, a);
        for (const PowerMeasurement& measurement : check.measurements)
            EXPECT_NEAR(measurement.power / (force / 0.9 * 80.0), 1.0, 1e-6);
        return std::pair(check.measurements[0].uncertainty / check.measurements[0].power,
                         check.measurements[1].uncertainty / check.measurements[1].power);
    };
    const double time = 0.05 / evidence.road_time->value;
    const double speed = 2.0 * 0.3 / evidence.trap_speed->value;
    auto [by_time, by_speed] = uncertainties();
    EXPECT_NEAR(by_time / time, 1.0, 1e-3);
    EXPECT_NEAR(by_speed / speed, 1.0, 1e-3);
    a.road_uncertainty.mass = 30.0;
    a.road_uncertainty.driveline_efficiency = 0.018;
    std::tie(by_time, by_speed) = uncertainties();
    EXPECT_NEAR(by_time / std::hypot(time, 0.02, 0.02), 1.0, 1e-3);
    EXPECT_NEAR(by_speed / std::hypot(speed, 0.02, 0.02), 1.0, 1e-3);
}

TEST(PowerCheckErrors, SayWhy) {
    const Day day(1.0);
    PowerEvidence evidence;
    evidence.rollers = Reading{300e3, 5e3};
    EXPECT_THROW(power_check(evidence, day.assumptions), NoData);
    evidence.road_time = Reading{8.0, 0.1};
    PowerAssumptions none = day.assumptions;
    none.curve.reset();
    try {
        power_check(evidence, none);
        FAIL();
    } catch (const NoData& error) {
        EXPECT_EQ(error.reason(), Reason::evidence_needs_vehicle);
    }
    evidence.rollers->uncertainty = 0.0;
    EXPECT_THROW(power_check(evidence, day.assumptions), InvalidArgument);
    evidence.rollers = Reading{-1.0, 5e3};
    EXPECT_THROW(power_check(evidence, day.assumptions), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::plan
