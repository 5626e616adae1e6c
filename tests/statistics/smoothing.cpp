// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/smoothing.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "tests/quantities.hpp"

namespace pullsheet::statistics {
namespace {

using tests::none;

// Convolution integers for quadratic and cubic smoothing: norm; from the middle outward. In the printed table
// for 25 points the entry 343 is a misprint: the integers must be a parabola, and add up to the norm only
// with 342.
TEST(SavitzkyGolay1964Printed, SmoothingTables) {
    struct Table {
        double norm;
        std::vector<double> outward;
    };
    const std::vector<Table> tables{
        {35, {17, 12, -3}},
        {21, {7, 6, 3, -2}},
        {231, {59, 54, 39, 14, -21}},
        {429, {89, 84, 69, 44, 9, -36}},
        {143, {25, 24, 21, 16, 9, 0, -11}},
        {1105, {167, 162, 147, 122, 87, 42, -13, -78}},
        {5175, {467, 462, 447, 422, 387, 342, 287, 222, 147, 62, -33, -138, -253}},
    };
    for (const auto& [norm, outward] : tables) {
        const std::size_t half = outward.size() - 1;
        const std::size_t window = 2 * half + 1;
        for (const std::size_t order : {2U, 3U}) {
            // An impulse in the middle of a long column comes back as the weights.
            std::vector<double> impulse(4 * half + 1, 0.0);
            impulse[2 * half] = 1.0;
            const std::vector<double> weights =
                smooth(impulse, static_cast<double>(window), static_cast<double>(order)).values;
            for (std::size_t i = 0; i <= half; ++i) {
                EXPECT_NEAR(weights[2 * half + i] * norm, outward[i], 1e-10) << window << " " << i;
                EXPECT_NEAR(weights[2 * half - i] * norm, outward[i], 1e-10) << window << " " << i;
            }
        }
    }
}

// A signal smoothed with its ends taken from the fitted polynomial; computed with an independent library to 7
// digits.
TEST(SavitzkyGolay1964Printed, SignalWithEnds) {
    const std::vector<double> signal{0, 1, 4, 9, 16, 25.5, 36, 49, 64, 81};
    const std::vector<double> expected{0.0,        1.0,        4.0,        8.9571429,  16.1714286,
                                       25.2428571, 36.1714286, 48.9571429, 63.9285714, 81.0428571};
    const Smoothed smoothed = smooth(signal, 5.0, 2.0);
    EXPECT_TRUE(smoothed.warnings.empty());
    ASSERT_EQ(smoothed.values.size(), expected.size());
    for (std::size_t i = 0; i < expected.size(); ++i) EXPECT_NEAR(smoothed.values[i], expected[i], 5.1e-8);
}

TEST(SmoothingIdentities, PolynomialsStay) {
    std::vector<double> cubic;
    for (int i = 0; i < 60; ++i) cubic.push_back(1e3 + i * (2.0 - i * (0.3 - 0.01 * i)));
    for (const double window : {5.0, 11.0, 59.0}) {
        const Smoothed smoothed = smooth(cubic, window, 3.0);
        for (std::size_t i = 0; i < cubic.size(); ++i) EXPECT_NEAR(smoothed.values[i], cubic[i], 1e-9);
    }
}

TEST(SmoothingRawColumns, HeadingGapAndEmptyCells) {
    // A heading, a gap inside, and empty cells at the end.
    std::vector<double> column{none};
    for (int i = 0; i < 20; ++i) column.push_back(i == 7 ? none : i * i);
    column.push_back(none);
    column.push_back(none);
    const Smoothed smoothed = smooth(column, 5.0);
    EXPECT_EQ(smoothed.first_row, 1U);
    ASSERT_EQ(smoothed.values.size(), 20U);
    for (int i = 0; i < 20; ++i) EXPECT_NEAR(smoothed.values[static_cast<std::size_t>(i)], i * i, 1e-10);
    ASSERT_EQ(smoothed.warnings.size(), 2U);
    EXPECT_EQ(smoothed.warnings[0].reason, Reason::rows_not_numeric);
    EXPECT_EQ(smoothed.warnings[0].details[0].value, 3.0);
    EXPECT_EQ(smoothed.warnings[1].reason, Reason::rows_filled);
    EXPECT_EQ(smoothed.warnings[1].details[0].value, 1.0);
}

// Three numbers in a window of five carry a parabola, two do not.
TEST(SmoothingRawColumns, AWindowMustHoldAsManyNumbersAsTheCurveHasTerms) {
    std::vector<double> column;
    for (int i = 0; i < 12; ++i) column.push_back(i == 5 || i == 6 ? none : i * i);
    const Smoothed smoothed = smooth(column, 5.0);
    ASSERT_EQ(smoothed.values.size(), 12U);
    for (int i = 0; i < 12; ++i) EXPECT_NEAR(smoothed.values[static_cast<std::size_t>(i)], i * i, 1e-10);
    column[4] = none;
    EXPECT_THROW(smooth(column, 5.0), NoData);
}

// Each window with a gap in it is a fit of its own: that is done for a log, not for a column that would take
// minutes.
TEST(SmoothingErrors, MoreThanIsFittedAtOnce) {
    std::vector<double> column(20000, 1.0);
    EXPECT_NO_THROW(smooth(column, 2001.0));
    column[10000] = none;
    EXPECT_NO_THROW(smooth(column, 201.0));
    try {
        smooth(column, 10001.0);
        FAIL() << "taken";
    } catch (const InvalidArgument& error) {
        EXPECT_EQ(error.reason(), Reason::smoothing_too_long);
        EXPECT_EQ(error.details()[2].value, 10000.0);
    }
}

TEST(SmoothingErrors, SayWhy) {
    const std::vector<double> ten(10, 1.0);
    for (const double window : {4.0, 4.5, none, -5.0, 3.0 - 1e9})
        EXPECT_THROW(smooth(ten, window), InvalidArgument);
    EXPECT_THROW(smooth(ten, 1.0), InvalidArgument);   // a parabola needs three rows
    EXPECT_THROW(smooth(ten, 11.0), InvalidArgument);  // more than there are
    EXPECT_THROW(smooth(ten, 5.0, 7.0), InvalidArgument);
    EXPECT_THROW(smooth(ten, 5.0, 1.5), InvalidArgument);
    EXPECT_THROW(smooth(ten, 5.0, none), InvalidArgument);
    EXPECT_THROW(smooth(std::vector<double>{}, 5.0), NoData);
    EXPECT_THROW(smooth(std::vector{none, none, none, none}, 3.0), NoData);
    std::vector<double> gap(20, 1.0);
    for (std::size_t i = 5; i < 12; ++i) gap[i] = none;
    EXPECT_THROW(smooth(gap, 5.0), NoData);
}

}  // namespace
}  // namespace pullsheet::statistics
