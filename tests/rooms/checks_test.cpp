// SPDX-License-Identifier: Apache-2.0
// Several checks made together say the same as `require` does one after another.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <random>
#include <string>
#include <vector>

#include "core/checks.hpp"

namespace {

using namespace pullsheet;

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr Interval half_open{-2.0, 3.0, true, false};
constexpr Interval other_half{0.5, 0.75, false, true};
constexpr Check list[] = {{"first", unit_share},
                          {"second", positive},
                          {"third", not_negative},
                          {"fourth", pullsheet::finite},
                          {"fifth", half_open},
                          {"sixth", other_half},
                          {"seventh", {-7.0, -3.0, true, true}}};
constexpr Checks seven(list);
constexpr Checks one({{"alone", half_open}});

/// What is refused, and its value; empty if nothing is.
template <class F>
std::pair<std::string, double> refused(F f) {
    try {
        f();
    } catch (const InvalidArgument& error) {
        EXPECT_EQ(error.reason(), Reason::out_of_range);
        return {error.parameter(), error.value()};
    }
    return {"", 0.0};
}

void expect_same(const std::vector<double>& x) {
    const auto together = refused([&] { seven(x[0], x[1], x[2], x[3], x[4], x[5], x[6]); });
    const auto alone = refused([&] {
        for (std::size_t i = 0; i < x.size(); ++i) require(list[i].parameter, x[i], list[i].allowed);
    });
    EXPECT_EQ(together.first, alone.first);
    if (!std::isnan(alone.second)) {
        EXPECT_EQ(together.second, alone.second);
    }
}

}  // namespace

// At the ends of every interval, next to them, and where there is no number.
TEST(Checks, EndsOfIntervals) {
    const std::vector<double> good{0.5, 1.0, 1.0, 1.0, 1.0, 0.6, -4.0};
    expect_same(good);
    for (std::size_t i = 0; i < good.size(); ++i) {
        const Interval& in = list[i].allowed;
        for (const double end : {in.low, in.high}) {
            for (const double x : {end, std::nextafter(end, infinity), std::nextafter(end, -infinity)}) {
                std::vector<double> values = good;
                values[i] = x;
                expect_same(values);
            }
        }
        for (const double x : {std::nan(""), infinity, -infinity, 0.0, -0.0}) {
            std::vector<double> values = good;
            values[i] = x;
            expect_same(values);
        }
    }
}

TEST(Checks, FirstRefusedIsNamed) {
    std::mt19937 random(1);
    std::uniform_real_distribution<double> number(-8.0, 4.0);
    for (int round = 0; round < 20000; ++round) {
        std::vector<double> values(7);
        for (double& x : values) x = number(random);
        expect_same(values);
    }
}

TEST(Checks, OneAlone) {
    EXPECT_EQ(refused([] { one(3.0); }).first, "");
    EXPECT_EQ(refused([] { one(-2.0); }).first, "alone");
    EXPECT_EQ(refused([] { one(std::nan("")); }).first, "alone");
}

TEST(Checks, WholeNumbers) {
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
