// SPDX-License-Identifier: Apache-2.0
#include "core/dyno/roller.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "core/statistics/local_polynomial.hpp"
#include "tests/quantities.hpp"
#include "tests/statistics/pseudo_noise.hpp"

namespace pullsheet::dyno {
namespace {

using tests::none;

constexpr double inertia = 40.0;  // kg·m², invented

struct Log {
    std::vector<double> time;
    std::vector<double> speed;
};

// Samples `speed_at` between two times; spacing uneven by up to half if asked, with noise added to the speed.
template <class F>
Log sampled(F speed_at, double from, double to, double spacing, double noise = 0.0, bool uneven = false) {
    statistics::PseudoNoise next(11);
    Log log;
    for (int i = 0;; ++i) {
        const double t = from + spacing * (i + (uneven ? 0.45 * std::sin(5.1 * i) : 0.0));
        if (t > to) break;
        log.time.push_back(t);
        log.speed.push_back(speed_at(t) + noise * next());
    }
    return log;
}

double rms(const std::vector<double>& errors) {
    double sum = 0.0;
    for (const double e : errors) sum += e * e;
    return std::sqrt(sum / static_cast<double>(errors.size()));
}

// Closed form: constant torque M at the rollers gives ω = ω₀ + M/I·t, so the power is M·ω and the torque at
// the engine M / ratio at every speed.
const auto constant_torque = [](double t) { return 40.0 + 900.0 / inertia * t; };
// Closed form: constant power P gives ω² = ω₀² + 2P/I·t.
const auto constant_power = [](double t) { return std::sqrt(1600.0 + 2.0 * 150e3 / inertia * t); };
// Closed form: braking in proportion to speed gives ω = ω₀·exp(−t/τ) and a loss power I·ω²/τ.
const auto coasting = [](double t) { return 180.0 * std::exp(-t / 25.0); };

TEST(RollerClosedFormIndependent, ConstantTorqueAndPowerAreExact) {
    for (const bool uneven : {false, true}) {
        for (const double spacing : {0.01, 0.1}) {
            const Log torque = sampled(constant_torque, 0.0, 8.0, spacing, 0.0, uneven);
            const RollerPull pull = roller_pull(torque.time, torque.speed, inertia, 3.2);
            EXPECT_TRUE(pull.reading.warnings.empty());
            ASSERT_GT(pull.rows.size(), torque.time.size() * 8 / 10);
            for (const RollerRow& row : pull.rows) {
                EXPECT_NEAR(row.torque, 900.0 / 3.2, 900.0 * 1e-8);
                EXPECT_NEAR(row.power, row.torque * row.engine_speed, row.power * 1e-12);
            }
            const Log power = sampled(constant_power, 0.0, 8.0, spacing, 0.0, uneven);
            for (const RollerRow& row : roller_pull(power.time, power.speed, inertia, 3.2).rows)
                EXPECT_NEAR(row.power, 150e3, 150e3 * 1e-8);
        }
    }
}

// 100 Hz, speed scattered by 0.05 rad/s (half a turn a minute): each row of power within 1.5 %, 0.4 % on
// average over the rows, and the mean of all rows within 0.1 %.
TEST(RollerClosedFormIndependent, NoisyLogs) {
    for (const bool uneven : {false, true}) {
        const Log torque = sampled(constant_torque, 0.0, 8.0, 0.01, 0.05, uneven);
        const RollerPull pull = roller_pull(torque.time, torque.speed, inertia);
        EXPECT_TRUE(pull.reading.warnings.size() <= 1U);  // at most the rows at the very ends
        std::vector<double> errors;
        double sum = 0.0;
        for (const RollerRow& row : pull.rows) {
            errors.push_back(row.torque / 900.0 - 1.0);
            sum += errors.back();
        }
        EXPECT_LT(rms(errors), 0.004);
        EXPECT_LT(std::abs(sum) / static_cast<double>(errors.size()), 0.001);
        EXPECT_LT(std::abs(*std::max_element(errors.begin(), errors.end())), 0.015);
        EXPECT_LT(std::abs(*std::min_element(errors.begin(), errors.end())), 0.015);
        // The scatter that is stated is the one that is there.
        EXPECT_GT(pull.reading.power_scatter, 0.5 * rms(errors));
        EXPECT_LT(pull.reading.power_scatter, 3.0 * rms(errors));

        const Log power = sampled(constant_power, 0.0, 8.0, 0.01, 0.05, uneven);
        errors.clear();
        for (const RollerRow& row : roller_pull(power.time, power.speed, inertia).rows)
            errors.push_back(row.power / 150e3 - 1.0);
        EXPECT_LT(rms(errors), 0.004);
    }
}

// Least squares on an even grid: the slope of a parabola in the middle of rows that scatter by s has the
// variance s²/Σ(t − t₀)². Of ω² the scatter is 2ω s at the fast end. The stated one is that of close rows,
// 0.2 % off here.
TEST(LeastSquaresIdentities, ScatterOfTheSlope) {
    const double spacing = 0.005;
    const Log log = sampled(constant_torque, 0.0, 8.0, spacing, 0.05);
    const double s = statistics::scatter(log.time, log.speed).standard_deviation;
    EXPECT_NEAR(s, 0.05, 0.005);
    const double fast = 40.0 + 900.0 / inertia * 8.0;
    const double mean_slope = (fast * fast - 1600.0) / 8.0;
    const auto expected = [&](double half_width) {
        double sum = 0.0;
        for (double t = spacing; t <= half_width * (1.0 + 1e-9); t += spacing) sum += 2.0 * t * t;
        return 2.0 * fast * s / std::sqrt(sum) / mean_slope;
    };
    const double stated = roller_pull(log.time, log.speed, inertia, 1.0, 2.0).reading.power_scatter;
    EXPECT_NEAR(stated / expected(2.0), 1.0, 0.004);
    // Without a window given, the one that brings the scatter to 0.3 %.
    const LogReading chosen = roller_pull(log.time, log.speed, inertia).reading;
    EXPECT_LT(chosen.half_width, 0.4);
    EXPECT_NEAR(chosen.power_scatter, 0.003, 1e-12);
    EXPECT_NEAR(expected(chosen.half_width), 0.003, 0.05 * 0.003);
}

// A window needs five rows, so two of them on either side of a row without any noise; and is never wider than
// a tenth of the run, which begins and ends at a row.
TEST(RollerIdentities, NarrowestAndWidestWindow) {
    const Log clean = sampled(constant_torque, 0.0, 8.0, 0.1);
    EXPECT_NEAR(roller_pull(clean.time, clean.speed, inertia).reading.half_width, 0.2, 1e-9);
    const Log noisy = sampled(constant_torque, 0.0, 8.0, 0.05, 0.5);
    const double rows = 20.0 * roller_pull(noisy.time, noisy.speed, inertia).reading.half_width / 0.05;
    EXPECT_NEAR(rows, std::round(rows), 1e-6);
    EXPECT_LE(rows, 160.0 + 1e-6);
    EXPECT_GT(rows, 150.0);
}

// A torque that bends: T = 600 + 400·sin(π·t/8) N·m at the rollers over 8 s, its speed integrated in closed
// form. The window must not flatten it: within 0.1 % without noise, the peak of 1000 N·m within 0.5 % with
// noise.
TEST(RollerClosedFormIndependent, BentTorqueCurve) {
    const auto speed = [](double t) {
        const double k = 3.14159265358979323846 / 8.0;
        return 30.0 + (600.0 * t + 400.0 / k * (1.0 - std::cos(k * t))) / inertia;
    };
    for (const double noise : {0.0, 0.05}) {
        const Log log = sampled(speed, 0.0, 8.0, 0.01, noise);
        const RollerPull pull = roller_pull(log.time, log.speed, inertia);
        double highest = 0.0;
        for (const RollerRow& row : pull.rows) highest = std::max(highest, row.torque);
        EXPECT_NEAR(highest, 1000.0, noise > 0.0 ? 10.0 : 1.0);
    }
}

// A speed shown in whole turns a minute, 50 rows a second.
TEST(RollerClosedFormIndependent, CoarseResolution) {
    const double rpm = 3.14159265358979323846 / 30.0;
    Log log = sampled(constant_torque, 0.0, 8.0, 0.02);
    for (double& w : log.speed) w = std::round(w / rpm) * rpm;
    std::vector<double> errors;
    for (const RollerRow& row : roller_pull(log.time, log.speed, inertia).rows)
        errors.push_back(row.torque / 900.0 - 1.0);
    EXPECT_LT(rms(errors), 0.005);
}

TEST(RollerClosedFormIndependent, CoastDown) {
    for (const double noise : {0.0, 0.02}) {
        const Log log = sampled(coasting, 0.0, 40.0, 0.02, noise, true);
        const CoastLoss loss = coast_loss(log.time, log.speed, inertia);
        ASSERT_GT(loss.rows.size(), 1500U);
        std::vector<double> errors;
        for (const CoastRow& row : loss.rows) {
            const double expected = inertia * row.roller_speed * row.roller_speed / 25.0;
            errors.push_back((row.loss_power - expected) / expected);
        }
        EXPECT_LT(rms(errors), noise > 0.0 ? 0.01 : 1e-4);
        EXPECT_GT(loss.rows.front().roller_speed, loss.rows.back().roller_speed);
    }
}

// A whole log as it comes: heading, steady rolling, pull, lift-off and coast-down, empty cells, a doubled
// row, two rows exchanged, a spike.
TEST(RollerLog, DirtyLogIsCleanedAndSaid) {
    const auto speed = [](double t) {
        if (t < 2.0) return 40.0;
        if (t < 10.0) return 40.0 + 22.5 * (t - 2.0);
        return 220.0 * std::exp(-(t - 10.0) / 25.0);
    };
    Log log = sampled(speed, 0.0, 20.0, 0.01, 0.02);
    log.speed[500] += 15.0;
    std::swap(log.time[600], log.time[601]);
    std::swap(log.speed[600], log.speed[601]);
    log.time.insert(log.time.begin() + 700, log.time[700]);
    log.speed.insert(log.speed.begin() + 700, log.speed[700]);
    log.speed[800] = none;
    log.time.insert(log.time.begin(), none);
    log.speed.insert(log.speed.begin(), none);

    const RollerPull pull = roller_pull(log.time, log.speed, inertia);
    std::vector<Reason> said;
    for (const Warning& warning : pull.reading.warnings) said.push_back(warning.reason);
    EXPECT_EQ(said,
              (std::vector<Reason>{Reason::rows_not_numeric, Reason::rows_sorted, Reason::rows_repeated,
                                   Reason::rows_before_run, Reason::rows_after_run, Reason::rows_spikes}));
    EXPECT_EQ(pull.reading.warnings[0].details[0].value, 2.0);
    EXPECT_NEAR(pull.reading.warnings[3].details[0].value, 200.0, 3.0);
    EXPECT_NEAR(pull.reading.warnings[4].details[0].value, 1000.0, 10.0);
    EXPECT_EQ(pull.reading.warnings[5].details[0].value, 1.0);
    for (const RollerRow& row : pull.rows) EXPECT_NEAR(row.torque, 900.0, 900.0 * 0.015);
    EXPECT_LT(pull.rows.front().engine_speed, 48.0);
    EXPECT_GT(pull.rows.back().engine_speed, 212.0);

    // The same log gives the coast-down.
    const CoastLoss loss = coast_loss(log.time, log.speed, inertia);
    for (const CoastRow& row : loss.rows)
        EXPECT_NEAR(row.loss_power, inertia * row.roller_speed * row.roller_speed / 25.0, 1800.0);
    EXPECT_NEAR(loss.rows.front().roller_speed, 220.0, 6.0);
}

TEST(RollerLog, HopelessNoiseIsSaid) {
    const Log log = sampled(constant_torque, 0.0, 8.0, 0.05, 3.0);
    const RollerPull pull = roller_pull(log.time, log.speed, inertia);
    ASSERT_FALSE(pull.reading.warnings.empty());
    EXPECT_EQ(pull.reading.warnings.back().reason, Reason::noisy_log);
    EXPECT_GT(pull.reading.warnings.back().details[0].value, 0.01);
}

TEST(RollerErrors, SayWhy) {
    const Log log = sampled(constant_torque, 0.0, 8.0, 0.1);
    EXPECT_THROW(roller_pull(log.time, log.speed, 0.0), InvalidArgument);
    EXPECT_THROW(roller_pull(log.time, log.speed, none), InvalidArgument);
    EXPECT_THROW(roller_pull(log.time, log.speed, inertia, 0.0), InvalidArgument);
    EXPECT_THROW(roller_pull(log.time, log.speed, inertia, 1.0, 4.0), InvalidArgument);
    EXPECT_THROW(roller_pull(log.time, log.speed, inertia, 1.0, 0.0), InvalidArgument);
    EXPECT_THROW(roller_pull(std::vector{0.0, 1.0}, std::vector{1.0}, inertia), InvalidArgument);
    EXPECT_THROW(roller_pull(std::vector<double>{}, std::vector<double>{}, inertia), NoData);
    EXPECT_THROW(roller_pull(std::vector{0.0, 1.0, 2.0}, std::vector{1.0, 2.0, 3.0}, inertia), NoData);
    const std::vector<double> falling(log.speed.rbegin(), log.speed.rend());
    try {
        roller_pull(log.time, falling, inertia);
        ADD_FAILURE();
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "roller_speeds");
        EXPECT_EQ(error.reason(), Reason::never_rises);
    }
    EXPECT_THROW(coast_loss(log.time, log.speed, inertia), InvalidArgument);
    EXPECT_THROW(roller_pull(log.time, std::vector<double>(log.time.size(), 50.0), inertia), InvalidArgument);
    EXPECT_THROW(coast_loss(log.time, std::vector<double>(log.time.size(), 0.0), inertia), InvalidArgument);
}

// When a log begins tells nothing: one of the end of a day's work reads as one from zero.
TEST(RollerIdentities, ALogMayBeginAtAnyTime) {
    const Log noisy = sampled(constant_power, 0.0, 8.0, 0.05, 0.05);
    Log late = noisy;
    for (double& t : late.time) t += 4096.0;
    const RollerPull pull = roller_pull(noisy.time, noisy.speed, inertia);
    const RollerPull again = roller_pull(late.time, late.speed, inertia);
    EXPECT_NEAR(again.reading.half_width, pull.reading.half_width, 1e-6 * pull.reading.half_width);
    EXPECT_NEAR(again.reading.power_scatter, pull.reading.power_scatter, 1e-6 * pull.reading.power_scatter);
}

}  // namespace
}  // namespace pullsheet::dyno
