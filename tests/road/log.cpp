// SPDX-License-Identifier: Apache-2.0
#include "core/road/log.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <limits>

#include "core/error.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::road {
namespace {

using tests::kmh;

/// A log of constant acceleration: stands until `set_off`, then v = gain · t.
struct Ramp {
    std::vector<double> times, speeds;
    Ramp(double interval, double set_off, double gain, double top, double offset = 0.0) {
        for (int i = 0;; ++i) {
            times.push_back(offset + i * interval);
            speeds.push_back(std::max(0.0, gain * (times.back() - offset - set_off)));
            if (speeds.back() > top) break;
        }
    }
};

// v = a t: with even acceleration the line between two rows is exact, so are crossings and distances.
TEST(LogClosedFormsIndependent, EvenAcceleration) {
    const Ramp log(0.1, 1.234, 5.0, 60.0, 17.0);
    const LogRun run = log_time(log.times, log.speeds, 100.0 * kmh, 200.0 * kmh);
    EXPECT_NEAR(run.time, 100.0 * kmh / 5.0, 1e-12);
    EXPECT_NEAR(run.start, 17.0 + 1.234 + 100.0 * kmh / 5.0, 1e-12);
    EXPECT_NEAR(run.distance, 0.5 * (300.0 * kmh) * (100.0 * kmh / 5.0), 1e-9);
    EXPECT_TRUE(std::isnan(run.slope));
}

// From rest the true moment of setting off, between two rows, is found again.
TEST(LogClosedFormsIndependent, FromRestWithTriggerAndRollout) {
    const Ramp log(0.1, 1.234, 5.0, 60.0);
    EXPECT_NEAR(log_time(log.times, log.speeds, 0.0, 100.0 * kmh).time, 100.0 * kmh / 5.0, 1e-12);
    LogOptions options;
    options.trigger_speed = 1.0;
    EXPECT_NEAR(log_time(log.times, log.speeds, 0.0, 100.0 * kmh, options).time, (100.0 * kmh - 1.0) / 5.0,
                1e-12);
    // One foot at 5 m/s² takes √(2 · 0.3048/5); the trapezoid of the interval in which the car set off is not
    // exact.
    options = {};
    options.rollout = 0.3048;
    EXPECT_NEAR(log_time(log.times, log.speeds, 0.0, 100.0 * kmh, options).time,
                100.0 * kmh / 5.0 - std::sqrt(2.0 * 0.3048 / 5.0), 0.01);
    const Ramp fine(0.001, 1.234, 5.0, 60.0);
    EXPECT_NEAR(log_time(fine.times, fine.speeds, 0.0, 100.0 * kmh, options).time,
                100.0 * kmh / 5.0 - std::sqrt(2.0 * 0.3048 / 5.0), 1e-6);
}

TEST(LogIdentities, FindsEveryRunAndTheQuickest) {
    const std::vector<double> times{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12};
    const std::vector<double> speeds{5, 15, 25, 35, 25, 5, 20, 35, 8, 12, 8, 28, 38};
    LogOptions options;
    options.max_interval = 2.0;
    const std::vector<LogRun> runs = log_runs(times, speeds, 10.0, 30.0, options);
    ASSERT_EQ(runs.size(), 3u);
    EXPECT_NEAR(runs[0].time, 2.0, 1e-12);
    EXPECT_NEAR(runs[1].start, 5.0 + 1.0 / 3.0, 1e-12);
    EXPECT_NEAR(runs[1].time, 4.0 / 3.0, 1e-12);
    EXPECT_NEAR(runs[2].start, 10.1, 1e-12);  // the last time it rises through 10 m/s
    EXPECT_NEAR(runs[2].time, 1.1, 1e-12);
    EXPECT_NEAR(log_time(times, speeds, 10.0, 30.0, options).time, 1.1, 1e-12);
}

TEST(LogIdentities, RefusesTheSteepRun) {
    const Ramp log(0.1, 0.0, 5.0, 60.0);
    std::vector<double> heights;
    for (std::size_t i = 0; i < log.times.size(); ++i)
        heights.push_back(100.0 - 0.02 * 2.5 * log.times[i] * log.times[i]);
    LogOptions options;
    options.heights = heights;
    EXPECT_NEAR(log_time(log.times, log.speeds, 20.0, 50.0, options).slope, -0.02, 1e-5);
    options.max_slope = 0.021;
    EXPECT_NO_THROW(log_time(log.times, log.speeds, 20.0, 50.0, options));
    options.max_slope = 0.01;
    try {
        log_time(log.times, log.speeds, 20.0, 50.0, options);
        FAIL();
    } catch (const NoData& error) {
        EXPECT_EQ(error.reason(), Reason::slope_over_limit);
        EXPECT_NEAR(error.details()[0].value, -0.02, 1e-5);
        EXPECT_EQ(error.details()[1].value, 0.01);
    }
}

TEST(LogErrors, SayWhy) {
    const std::vector<double> times{0, 0.1, 0.2, 0.3}, speeds{0, 10, 20, 30};
    const auto reason = [](const std::function<void()>& f) {
        try {
            f();
        } catch (const InvalidArgument& error) {
            return error.reason();
        } catch (const NoData& error) {
            return error.reason();
        }
        return Reason::not_finite;
    };
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_EQ(reason([&] { log_time(times, speeds, 10.0, 40.0); }), Reason::no_run_in_log);
    EXPECT_EQ(reason([&] { log_time(times, speeds, 20.0, 10.0); }), Reason::out_of_range);
    EXPECT_EQ(reason([&] { log_time(times, speeds, nan, 10.0); }), Reason::out_of_range);
    EXPECT_EQ(reason([&] { log_time(times, {speeds.data(), 3}, 5.0, 10.0); }), Reason::lengths_differ);
    EXPECT_EQ(reason([&] { log_time({}, {}, 5.0, 10.0); }), Reason::too_few_points);
    EXPECT_EQ(reason([&] {
                  log_time(std::vector{0.0, 0.2, 0.2, 0.3}, speeds, 5.0, 15.0);
              }),
              Reason::not_increasing);
    EXPECT_EQ(reason([&] {
                  log_time(times, std::vector{0.0, nan, 20.0, 30.0}, 5.0, 15.0);
              }),
              Reason::out_of_range);
    LogOptions options;
    options.rollout = 0.3;
    EXPECT_EQ(reason([&] { log_time(times, speeds, 5.0, 15.0, options); }), Reason::out_of_range);
    options = {};
    options.max_interval = 0.05;
    EXPECT_EQ(reason([&] { log_time(times, speeds, 5.0, 15.0, options); }), Reason::log_too_coarse);
    options = {};
    options.heights = speeds;
    options.heights = options.heights.first(2);
    EXPECT_EQ(reason([&] { log_time(times, speeds, 5.0, 15.0, options); }), Reason::lengths_differ);
}

// Of several runs that are all logged too coarsely, the message tells the finest.
TEST(LogErrors, TheFinestOfTheCoarse) {
    const std::vector<double> times{0.0, 0.5, 1.0, 2.0, 2.3, 2.6, 4.0, 4.4, 4.8};
    const std::vector<double> speeds{0.0, 10.0, 20.0, 0.0, 10.0, 20.0, 0.0, 10.0, 20.0};
    LogOptions options;
    options.max_interval = 0.1;
    try {
        log_time(times, speeds, 5.0, 15.0, options);
        FAIL() << "no error";
    } catch (const NoData& error) {
        EXPECT_EQ(error.reason(), Reason::log_too_coarse);
        EXPECT_NEAR(error.details().front().value, 0.3, 1e-12);
    }
}

}  // namespace
}  // namespace pullsheet::road
