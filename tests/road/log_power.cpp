// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <random>

#include "core/constants.hpp"
#include "core/error.hpp"
#include "core/road/acceleration.hpp"
#include "core/road/log.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::road {
namespace {

using tests::rpm;

/// An invented car.
Vehicle car() {
    Vehicle car;
    car.mass = 1550.0;
    car.drive = Drive::all;
    car.rolling_radius = 0.32;
    car.drag_area = 0.68;
    car.gears = {3.4, 2.1, 1.45, 1.1, 0.9, 0.75};
    car.final_drives = {3.6};
    return car;
}

TorqueCurve curve() {
    std::vector<double> speeds, torques;
    const double points[][2] = {{1500, 250}, {2500, 420}, {3500, 520}, {4500, 530},
                                {5500, 500}, {6500, 430}, {7000, 380}};
    for (const auto& [n, torque] : points) {
        speeds.push_back(n * rpm);
        torques.push_back(torque);
    }
    return {speeds, torques};
}

struct Pull {
    std::vector<double> times, speeds, distances;
};

/// A pull in third gear, logged every `interval` seconds.
Pull pull(const Surroundings& weather, double interval) {
    RunOptions options;
    options.from = 15.0;
    options.first_gear = 3;
    Pull log;
    for (const TraceRow& row : trace(car(), curve(), 44.0, weather, interval, options)) {
        log.times.push_back(row.time);
        log.speeds.push_back(row.speed);
        log.distances.push_back(row.distance);
    }
    return log;
}

// A simulated pull gives back the torque curve when its power is computed from the log.
TEST(LogPowerIdentities, GivesBackTheCurve) {
    for (const double slope : {0.0, 0.015}) {
        const Surroundings weather{1.18, 2.0, slope};
        const Pull log = pull(weather, 0.02);
        LogPowerOptions options;
        options.gear = 3;
        options.half_width = 0.1;
        std::vector<double> heights;
        for (const double x : log.distances) heights.push_back(200.0 + x * std::sin(std::atan(slope)));
        for (const bool with_heights : {false, true}) {
            options.heights = with_heights ? std::span<const double>(heights) : std::span<const double>();
            const std::vector<LogPower> rows = log_power(log.times, log.speeds, car(), weather, options);
            ASSERT_EQ(rows.size(), log.times.size());
            for (std::size_t i = 10; i + 10 < rows.size(); ++i) {
                const double expected = curve().torque(rows[i].engine_speed) * rows[i].engine_speed;
                EXPECT_NEAR(rows[i].crank_power / expected, 1.0, 2e-3) << rows[i].time;
                EXPECT_LT(rows[i].wheel_power, 0.85 * expected);
            }
        }
    }
}

// With scatter on the log the true power lies within twice the standard uncertainty in about 95 of 100 rows,
// and the uncertainty is no larger than it need be.
TEST(LogPowerIdentities, UncertaintyCoversTheTruth) {
    const Surroundings weather{1.18, 0.0, 0.0};
    const Pull clean = pull(weather, 0.05);
    const std::vector<LogPower> truth =
        log_power(clean.times, clean.speeds, car(), weather, {0.25, 3, {}, {}});
    std::mt19937 random(7);
    std::normal_distribution scatter(0.0, 0.05);
    int inside = 0, all = 0;
    double squares = 0.0;
    for (int repeat = 0; repeat < 40; ++repeat) {
        std::vector<double> speeds = clean.speeds;
        for (double& v : speeds) v += scatter(random);
        const std::vector<LogPower> rows = log_power(clean.times, speeds, car(), weather, {0.25, 3, {}, {}});
        for (std::size_t i = 0; i < rows.size(); ++i) {
            const double off = (rows[i].crank_power - truth[i].crank_power) / rows[i].crank_uncertainty;
            squares += off * off;
            inside += std::abs(off) <= 2.0;
            ++all;
        }
    }
    EXPECT_GT(inside, 0.92 * all);
    EXPECT_LT(inside, 0.98 * all);
    EXPECT_NEAR(std::sqrt(squares / all), 1.0, 0.12);
}

// First-order uncertainty against central differences of the power itself.
TEST(LogPowerIdentities, UncertaintyOfTheFigures) {
    const Surroundings weather{1.18, 3.0, 0.01};
    const Pull log = pull(weather, 0.05);
    const std::size_t row = log.times.size() / 2;
    const auto power = [&](const Vehicle& v, const Surroundings& w) {
        return log_power(log.times, log.speeds, v, w, {0.25, 3, {}, {}})[row].crank_power;
    };
    const LogPower base = log_power(log.times, log.speeds, car(), weather, {0.25, 3, {}, {}})[row];
    const RoadUncertainty u{15.0, 0.02, 0.001, 0.02, 0.01, 0.5};
    double variance = std::pow(base.crank_uncertainty, 2);
    const auto add = [&](auto change) {
        Vehicle v1 = car(), v2 = car();
        Surroundings w1 = weather, w2 = weather;
        change(v1, w1, 1.0);
        change(v2, w2, -1.0);
        variance += std::pow(0.5 * (power(v1, w1) - power(v2, w2)), 2);
    };
    add([&](Vehicle& v, Surroundings&, double s) { v.mass += s * u.mass; });
    add([&](Vehicle& v, Surroundings&, double s) { v.drag_area += s * u.drag_area; });
    add([&](Vehicle& v, Surroundings&, double s) { v.rolling_resistance += s * u.rolling_resistance; });
    add([&](Vehicle& v, Surroundings&, double s) { v.driveline_efficiency += s * u.driveline_efficiency; });
    add([&](Vehicle&, Surroundings& w, double s) { w.air_density += s * u.air_density; });
    add([&](Vehicle&, Surroundings& w, double s) { w.headwind += s * u.headwind; });
    const double given =
        log_power(log.times, log.speeds, car(), weather, {0.25, 3, {}, u})[row].crank_uncertainty;
    EXPECT_NEAR(given / std::sqrt(variance), 1.0, 1e-3);
    EXPECT_GT(given, 1.5 * base.crank_uncertainty);
}

TEST(LogPowerIdentities, GearFromTheRevLimitOrNone) {
    const Surroundings weather{};
    const Pull log = pull(weather, 0.05);
    Vehicle c = car();
    std::vector<LogPower> rows = log_power(log.times, log.speeds, c, weather);
    EXPECT_TRUE(std::isnan(rows[20].engine_speed));
    EXPECT_NEAR(rows[20].crank_power, rows[20].wheel_power / c.driveline_efficiency, 1e-9);
    EXPECT_NEAR(rows[20].crank_uncertainty, rows[20].wheel_uncertainty / c.driveline_efficiency,
                1e-9 * rows[20].crank_uncertainty);
    c.rev_limit = 7000.0 * rpm;
    rows = log_power(log.times, log.speeds, c, weather);
    for (const LogPower& row : rows) EXPECT_LE(row.engine_speed, 7000.0 * rpm * (1.0 + 1e-12));
    EXPECT_GT(rows[20].crank_power, rows[20].wheel_power / c.driveline_efficiency);
}

// Faster than the rev limit allows in any gear, it is the last gear.
TEST(LogPowerIdentities, BeyondTheRevLimitIsTheLastGear) {
    Vehicle vehicle = car();
    vehicle.rev_limit = 7000.0 * rpm;
    const double fastest = 7000.0 * rpm * vehicle.rolling_radius / overall_ratio(vehicle, 6);
    std::vector<double> times, speeds;
    for (int i = 0; i < 40; ++i) {
        times.push_back(0.1 * i);
        speeds.push_back(1.05 * fastest + 0.2 * i);
    }
    const double turns = overall_ratio(vehicle, 6) / vehicle.rolling_radius;
    for (const LogPower& row : log_power(times, speeds, vehicle)) {
        EXPECT_GT(row.engine_speed, 7000.0 * rpm);
        EXPECT_NEAR(row.engine_speed, row.speed * turns, 1e-9 * row.engine_speed);
    }
}

TEST(LogPowerErrors, SayWhy) {
    const std::vector<double> times{0, 0.1, 0.2, 0.3}, speeds{10, 10.5, 11, 11.5};
    EXPECT_NO_THROW(log_power(times, speeds, car()));
    EXPECT_THROW(log_power({times.data(), 3}, {speeds.data(), 3}, car()), InvalidArgument);
    EXPECT_THROW(log_power(times, {speeds.data(), 3}, car()), InvalidArgument);
    EXPECT_THROW(log_power(std::vector{0.0, 0.1, 0.1, 0.3}, speeds, car()), InvalidArgument);
    LogPowerOptions options;
    options.gear = 7;
    EXPECT_THROW(log_power(times, speeds, car(), {}, options), InvalidArgument);
    options = {};
    options.half_width = 0.0;
    EXPECT_THROW(log_power(times, speeds, car(), {}, options), InvalidArgument);
    options = {};
    options.uncertainty.mass = -1.0;
    EXPECT_THROW(log_power(times, speeds, car(), {}, options), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::road
