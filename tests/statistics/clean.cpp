// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/clean.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "tests/quantities.hpp"
#include "tests/statistics/pseudo_noise.hpp"

namespace pullsheet::statistics {
namespace {

using tests::none;

constexpr Columns columns{"speeds", "values"};

struct Raw {
    std::vector<double> x;
    std::vector<double> y;
};

// An invented pull: speed rises, the value bends gently.
Raw pull(std::size_t rows, double scatter) {
    PseudoNoise noise(7);
    Raw raw;
    for (std::size_t i = 0; i < rows; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(rows - 1);
        raw.x.push_back(2000.0 + 5000.0 * share);
        raw.y.push_back(250.0 + 120.0 * std::sin(3.0 * share) + scatter * noise());
    }
    return raw;
}

TEST(Cleaning, LeavesACleanLogAlone) {
    for (const double scatter : {0.0, 2.0, 20.0}) {
        const Raw raw = pull(2000, scatter);
        const Series series = clean_series(raw.x, raw.y, Log::over_speed, columns);
        EXPECT_TRUE(series.dropped.nothing()) << scatter << ": " << series.dropped.spikes;
        EXPECT_EQ(series.x, raw.x);
        EXPECT_EQ(series.y, raw.y);
        EXPECT_TRUE(warnings(series.dropped).empty());
    }
}

TEST(Cleaning, EmptyCellsHeadingsRepeatsAndDisorder) {
    const std::vector<double> x{none, 1000, 2000, 1500, none, 3000, 3000, 4000, 5000};
    const std::vector<double> y{none, 10, 20, 15, 17, 29, 31, none, 50};
    const Series series = clean_series(x, y, Log::over_speed, columns);
    EXPECT_EQ(series.x, (std::vector<double>{1000, 1500, 2000, 3000, 5000}));
    EXPECT_EQ(series.y, (std::vector<double>{10, 15, 20, 30, 50}));
    EXPECT_EQ(series.dropped.not_numeric, 3U);
    EXPECT_EQ(series.dropped.out_of_order, 1U);
    EXPECT_EQ(series.dropped.repeated, 1U);
    EXPECT_EQ(series.dropped.tail, 0U);
    const auto said = warnings(series.dropped);
    ASSERT_EQ(said.size(), 3U);
    EXPECT_EQ(said[0].reason, Reason::rows_not_numeric);
    EXPECT_EQ(said[0].details[0].value, 3.0);
    EXPECT_EQ(said[1].reason, Reason::rows_sorted);
    EXPECT_EQ(said[2].reason, Reason::rows_repeated);
}

TEST(Cleaning, FallingTailIsCutReversedTableIsSorted) {
    Raw raw = pull(200, 0.0);
    for (int i = 1; i <= 40; ++i) {
        raw.x.push_back(7000.0 - 50.0 * i);
        raw.y.push_back(-30.0);
    }
    const Series cut = clean_series(raw.x, raw.y, Log::over_speed, columns);
    EXPECT_EQ(cut.dropped.tail, 40U);
    EXPECT_EQ(cut.x.size(), 200U);
    EXPECT_EQ(cut.dropped.out_of_order, 0U);

    raw = pull(200, 0.0);
    const Series forward = clean_series(raw.x, raw.y, Log::over_speed, columns);
    std::reverse(raw.x.begin(), raw.x.end());
    std::reverse(raw.y.begin(), raw.y.end());
    const Series reversed = clean_series(raw.x, raw.y, Log::over_speed, columns);
    EXPECT_EQ(reversed.dropped.tail, 0U);
    EXPECT_EQ(reversed.dropped.out_of_order, 199U);
    EXPECT_EQ(reversed.x, forward.x);
    EXPECT_EQ(reversed.y, forward.y);

    // Shuffled throughout: sorted, nothing cut.
    const std::vector<double> x{4000, 1000, 6000, 2000, 5000, 3000};
    const Series sorted = clean_series(x, x, Log::over_speed, columns);
    EXPECT_EQ(sorted.x, (std::vector<double>{1000, 2000, 3000, 4000, 5000, 6000}));
    EXPECT_EQ(sorted.dropped.tail, 0U);
}

TEST(Cleaning, SpikesAreFound) {
    // One and two rows, upward and downward, in quiet and in noisy logs, at an end too.
    for (const double scatter : {0.0, 1.0}) {
        Raw raw = pull(1000, scatter);
        raw.y[0] += 200.0;
        raw.y[300] += 60.0;
        raw.y[500] -= 100.0;
        raw.y[501] -= 90.0;
        raw.y[999] = 0.0;
        const Series series = clean_series(raw.x, raw.y, Log::over_speed, columns);
        EXPECT_EQ(series.dropped.spikes, 5U) << scatter;
        for (const std::size_t i : {0U, 300U, 500U, 501U, 999U})
            EXPECT_FALSE(std::binary_search(series.x.begin(), series.x.end(), raw.x[i])) << i;
    }
}

TEST(Cleaning, RealFeaturesAreNoSpikes) {
    // A corner where the throttle opens, and a speed shown in coarse steps.
    std::vector<double> t, corner, coarse;
    for (int i = 0; i < 500; ++i) {
        t.push_back(0.01 * i);
        corner.push_back(i < 250 ? 50.0 : 50.0 + 0.5 * (i - 250));
        coarse.push_back(std::round(50.0 + 0.137 * i));
    }
    EXPECT_TRUE(clean_series(t, corner, Log::over_time, columns).dropped.nothing());
    EXPECT_TRUE(clean_series(t, coarse, Log::over_time, columns).dropped.nothing());
    // A short table with a single high point is taken as it is.
    const std::vector<double> x{1, 2, 3, 4, 5, 6, 7, 8}, y{1, 1, 1, 9, 1, 1, 1, 1};
    EXPECT_TRUE(clean_series(x, y, Log::over_speed, columns).dropped.nothing());
}

TEST(Cleaning, AShuffledTableIsNoSecondRun) {
    // The last row first, the others in no order: six of twelve steps go back.
    const std::vector<double> t{13, 2, 1, 4, 3, 6, 5, 8, 7, 10, 9, 12, 11};
    const Series cleaned = clean_series(t, t, Log::over_time, columns);
    ASSERT_EQ(cleaned.x.size(), t.size());
    EXPECT_TRUE(std::is_sorted(cleaned.x.begin(), cleaned.x.end()));
}

TEST(Cleaning, ASecondRunInTheSameColumnIsRefused) {
    std::vector<double> t, y;
    for (int run = 0; run < 2; ++run)
        for (int i = 0; i < 100; ++i) {
            t.push_back(0.1 * i);
            y.push_back(i);
        }
    try {
        clean_series(t, y, Log::over_time, {"time", "roller_speed"});
        ADD_FAILURE();
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "time");
        EXPECT_EQ(error.reason(), Reason::series_starts_again);
        EXPECT_EQ(error.details()[0].value, 101.0);
        EXPECT_NEAR(error.details()[1].value, 9.9, 1e-12);
        EXPECT_EQ(error.details()[2].value, 0.0);
    }
    // A few rows out of order are sorted into place, and a reversed log is reversed.
    t.resize(100);
    y.resize(100);
    std::swap(t[40], t[43]);
    std::swap(y[40], y[43]);
    EXPECT_EQ(clean_series(t, y, Log::over_time, columns).dropped.out_of_order, 3U);
    std::reverse(t.begin(), t.end());
    std::reverse(y.begin(), y.end());
    const Series turned = clean_series(t, y, Log::over_time, columns);
    EXPECT_TRUE(std::is_sorted(turned.x.begin(), turned.x.end()));
    EXPECT_TRUE(std::is_sorted(turned.y.begin(), turned.y.end()));
}

TEST(CleaningErrors, SayWhy) {
    EXPECT_THROW(clean_series(std::vector{1.0, 2.0}, std::vector{1.0}, Log::over_speed, columns),
                 InvalidArgument);
    EXPECT_THROW(clean_series(std::vector<double>{}, std::vector<double>{}, Log::over_speed, columns),
                 NoData);
    EXPECT_THROW(
        clean_series(std::vector{none, none, 1.0}, std::vector{1.0, 2.0, 3.0}, Log::over_speed, columns),
        NoData);
    // Every sixth row far off: nothing that could be called a curve with spikes.
    Raw raw = pull(600, 0.0);
    for (std::size_t i = 0; i < 600; i += 6) raw.y[i] += 1000.0;
    try {
        clean_series(raw.x, raw.y, Log::over_speed, columns);
        ADD_FAILURE();
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "values");
        EXPECT_EQ(error.reason(), Reason::too_many_spikes);
        EXPECT_EQ(error.details()[1].value, 600.0);
    }
}

}  // namespace
}  // namespace pullsheet::statistics
