// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "core/error.hpp"

namespace {

using namespace pullsheet;

constexpr double infinity = std::numeric_limits<double>::infinity();

bool taken(double x, const Interval& allowed) {
    try {
        return require("x", x, allowed) == x;
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "x");
        EXPECT_EQ(error.reason(), Reason::out_of_range);
        EXPECT_TRUE(error.value() == x || (std::isnan(error.value()) && std::isnan(x)));
        EXPECT_EQ(error.allowed().low, allowed.low);
        EXPECT_EQ(error.allowed().high_open, allowed.high_open);
        return false;
    }
}

}  // namespace

// At the ends of every interval, next to them, and where there is no number.
TEST(Require, EndsOfIntervals) {
    const Interval intervals[] = {unit_share,
                                  positive,
                                  not_negative,
                                  pullsheet::finite,
                                  {-2.0, 3.0, true},
                                  {0.5, 0.75, false, true},
                                  {-7.0, -3.0, true, true}};
    for (const Interval& in : intervals) {
        const double above_low = std::nextafter(in.low, infinity);
        const double below_high = std::nextafter(in.high, -infinity);
        EXPECT_EQ(taken(in.low, in), !in.low_open);
        EXPECT_EQ(taken(in.high, in), !in.high_open);
        EXPECT_TRUE(taken(above_low, in));
        EXPECT_TRUE(taken(below_high, in));
        EXPECT_FALSE(in.low > -infinity && taken(std::nextafter(in.low, -infinity), in));
        EXPECT_FALSE(in.high < infinity && taken(std::nextafter(in.high, infinity), in));
        EXPECT_FALSE(taken(std::nan(""), in));
        EXPECT_FALSE(taken(infinity, in));
        EXPECT_FALSE(taken(-infinity, in));
    }
    EXPECT_TRUE(taken(-0.0, not_negative));
    EXPECT_FALSE(taken(-0.0, positive));
}

TEST(Require, WholeNumbers) {
    for (const double x : {0.0, 1.0, 96.0, 0x1p52}) EXPECT_EQ(require_whole("count", x), x);
    for (const double x : {0.5, 1e-300, 95.9999999999999, std::nextafter(3.0, 4.0), 0x1p51 + 0.5}) {
        try {
            require_whole("count", x);
            ADD_FAILURE() << x;
        } catch (const InvalidArgument& error) {
            EXPECT_EQ(error.reason(), Reason::not_whole);
            EXPECT_EQ(error.details().front().value, x);
        }
    }
}
