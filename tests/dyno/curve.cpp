// SPDX-License-Identifier: Apache-2.0
#include "core/dyno/curve.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "tests/quantities.hpp"

namespace pullsheet::dyno {
namespace {

using tests::none;

// An invented torque curve: 400 N·m at 4000 1/min, falling as a parabola on both sides.
double torque(double speed) {
    return 400.0 - 1e-5 * (speed - 4000.0) * (speed - 4000.0);
}

struct Columns {
    std::vector<double> speeds;
    std::vector<double> values;
};
Columns rows(double from, double to, double step) {
    Columns columns;
    for (double speed = from; speed <= to; speed += step) {
        columns.speeds.push_back(speed);
        columns.values.push_back(torque(speed));
    }
    return columns;
}

// The closed forms of the parabola; 100 1/min apart the cubic keeps within 0.01 N·m.
TEST(CurveClosedFormIndependent, Parabola) {
    const auto [speeds, values] = rows(1000.0, 7000.0, 100.0);
    const MeasuredCurve curve(speeds, values);
    EXPECT_TRUE(curve.warnings().empty());
    for (const double speed : {1000.0, 1234.0, 3970.0, 4555.0, 6999.0, 7000.0})
        EXPECT_NEAR(curve.at(speed), torque(speed), 0.05);
    const CurvePoint peak = curve.peak();
    EXPECT_EQ(peak.speed, 4000.0);
    EXPECT_EQ(peak.value, 400.0);
    EXPECT_EQ(curve.at(peak.speed), peak.value);
    // Mean of 400 − 1e-5·(n − 4000)² from 3000 to 6000: 400 − 1e-5·(1e9 + 8e9)/3/3000.
    EXPECT_NEAR(curve.mean(3000.0, 6000.0), 400.0 - 1e-5 * 9e9 / 3.0 / 3000.0, 0.01);
    // 90 % of 400 is held for |n − 4000| ≤ √(40/1e-5) = 2000.
    const Band band = curve.band(0.9);
    EXPECT_NEAR(band.from, 2000.0, 1e-6);
    EXPECT_NEAR(band.to, 6000.0, 1e-6);
    EXPECT_NEAR(band.width, 4000.0, 1e-6);
    EXPECT_TRUE(band.warnings.empty());
    const Band narrow = curve.band(0.99);
    EXPECT_NEAR(narrow.from, 4000.0 - std::sqrt(4.0 / 1e-5), 0.5);
    EXPECT_NEAR(narrow.to, 4000.0 + std::sqrt(4.0 / 1e-5), 0.5);
    EXPECT_NEAR(curve.at(narrow.from), 396.0, 1e-9);
    EXPECT_NEAR(curve.at(narrow.to), 396.0, 1e-9);
    const Band top = curve.band(1.0);
    EXPECT_NEAR(top.width, 0.0, 1e-6);
}

TEST(CurveIdentities, ResampleAndMean) {
    const auto [speeds, values] = rows(1000.0, 7000.0, 100.0);
    const MeasuredCurve curve(speeds, values);
    const Resampled inside = curve.resample(1500.0, 6500.0, 250.0);
    ASSERT_EQ(inside.rows.size(), 21U);
    EXPECT_TRUE(inside.warnings.empty());
    for (const ResampledRow& row : inside.rows) EXPECT_NEAR(*row.value, curve.at(row.speed), 1e-12);
    // Beyond what was measured rows stay empty, and that is said.
    const Resampled wide = curve.resample(500.0, 7500.0, 500.0);
    ASSERT_EQ(wide.rows.size(), 15U);
    EXPECT_FALSE(wide.rows.front().value.has_value());
    EXPECT_TRUE(wide.rows[1].value.has_value());
    EXPECT_TRUE(wide.rows[13].value.has_value());
    EXPECT_FALSE(wide.rows.back().value.has_value());
    ASSERT_EQ(wide.warnings.size(), 1U);
    EXPECT_EQ(wide.warnings[0].reason, Reason::rows_outside_curve);
    EXPECT_EQ(wide.warnings[0].details[0].value, 2.0);
    // The last row is not lost to rounding.
    const MeasuredCurve small(std::vector{0.0, 0.5, 1.0}, std::vector{0.0, 1.0, 2.0});
    EXPECT_EQ(small.resample(0.0, 1.0, 0.1).rows.size(), 11U);
    EXPECT_TRUE(small.resample(0.0, 1.0, 0.1).rows.back().value.has_value());
    EXPECT_NEAR(small.mean(0.0, 1.0), 1.0, 1e-14);
    // The mean over two parts is the mean of the whole.
    const double parts = curve.mean(1000.0, 2345.0) * 1345.0 + curve.mean(2345.0, 7000.0) * 4655.0;
    EXPECT_NEAR(parts / 6000.0, curve.mean(1000.0, 7000.0), 1e-9);
}

TEST(CurveRawColumns, CleanedAndSaid) {
    auto [speeds, values] = rows(1000.0, 7000.0, 50.0);
    for (int i = 1; i <= 20; ++i) {  // lift-off
        speeds.push_back(7000.0 - 100.0 * i);
        values.push_back(-40.0);
    }
    values[30] += 300.0;
    speeds.insert(speeds.begin(), none);
    values.insert(values.begin(), none);
    const MeasuredCurve curve(speeds, values);
    ASSERT_EQ(curve.warnings().size(), 3U);
    EXPECT_EQ(curve.warnings()[0].reason, Reason::rows_not_numeric);
    EXPECT_EQ(curve.warnings()[1].reason, Reason::rows_after_run);
    EXPECT_EQ(curve.warnings()[1].details[0].value, 20.0);
    EXPECT_EQ(curve.warnings()[2].reason, Reason::rows_spikes);
    EXPECT_NEAR(curve.peak().value, 400.0, 1e-12);
    EXPECT_NEAR(curve.at(2500.0), torque(2500.0), 0.2);
}

TEST(CurveBand, EndsAndInterruptions) {
    const std::vector<double> speeds{1000, 2000, 3000, 4000, 5000, 6000, 7000};
    const Band open = MeasuredCurve(speeds, std::vector<double>{100, 390, 400, 398, 395, 390, 385}).band();
    ASSERT_EQ(open.warnings.size(), 1U);
    EXPECT_EQ(open.warnings[0].reason, Reason::band_reaches_end);
    EXPECT_EQ(open.warnings[0].details[0].value, 7000.0);
    EXPECT_EQ(open.to, 7000.0);
    EXPECT_GT(open.from, 1000.0);
    const Band dip = MeasuredCurve(speeds, std::vector<double>{100, 380, 300, 390, 400, 390, 100}).band();
    ASSERT_EQ(dip.warnings.size(), 1U);
    EXPECT_EQ(dip.warnings[0].reason, Reason::band_interrupted);
    EXPECT_EQ(dip.warnings[0].details[0].value, 1.0);
    EXPECT_GT(dip.from, 3000.0);
    EXPECT_LT(dip.to, 7000.0);
}

TEST(CurveErrors, SayWhy) {
    const auto [speeds, values] = rows(1000.0, 7000.0, 100.0);
    const MeasuredCurve curve(speeds, values);
    EXPECT_THROW(curve.at(999.0), InvalidArgument);
    EXPECT_THROW(curve.at(none), InvalidArgument);
    EXPECT_THROW(curve.mean(2000.0, 2000.0), InvalidArgument);
    EXPECT_THROW(curve.mean(500.0, 2000.0), InvalidArgument);
    EXPECT_THROW(curve.mean(2000.0, 7001.0), InvalidArgument);
    EXPECT_THROW(curve.resample(2000.0, 3000.0, 0.0), InvalidArgument);
    EXPECT_THROW(curve.resample(2000.0, 3000.0, none), InvalidArgument);
    EXPECT_THROW(curve.resample(3000.0, 2000.0, 100.0), InvalidArgument);
    EXPECT_THROW(curve.resample(8000.0, 9000.0, 100.0), InvalidArgument);
    EXPECT_THROW(curve.resample(100.0, 900.0, 100.0), InvalidArgument);
    EXPECT_THROW(curve.resample(1000.0, 7000.0, 1e-6), InvalidArgument);
    EXPECT_THROW(curve.band(0.0), InvalidArgument);
    EXPECT_THROW(curve.band(90.0), InvalidArgument);
    EXPECT_THROW(MeasuredCurve(speeds, std::vector<double>(speeds.size(), -1.0)).band(), InvalidArgument);
    EXPECT_THROW(MeasuredCurve(std::vector{1.0}, std::vector{1.0}), NoData);
    EXPECT_THROW(MeasuredCurve(std::vector{1.0, none}, std::vector{1.0, 2.0}), NoData);
    try {
        MeasuredCurve(speeds, std::vector{1.0}, "torques");
        ADD_FAILURE();
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "torques");
    }
}

}  // namespace
}  // namespace pullsheet::dyno
