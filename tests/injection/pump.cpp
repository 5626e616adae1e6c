// SPDX-License-Identifier: Apache-2.0
#include "core/injection/pump.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <vector>

#include "core/constants.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::injection {
namespace {

using tests::bar;
using tests::litre_per_hour;
using tests::rpm;

// Kinematics of a plunger pump (textbook), evaluated independently.
TEST(PlungerPumpIdentities, GeometricFlow) {
    EXPECT_NEAR(plunger_flow(0.010, 0.004, 4, 6000 * rpm, 1.0, 0.5) * 60e3, 3.7699112, 5e-8);
    EXPECT_NEAR(plunger_flow(0.010, 0.004, 4, 6000 * rpm, 0.85, 0.5) * 60e3, 3.2044245, 5.1e-8);
    EXPECT_NEAR(plunger_flow(0.010, 0.004, 4, 6000 * rpm, 0.85, 0.5) * 745 * 3600, 143.2378, 5e-5);
    EXPECT_NEAR(plunger_flow(0.008, 0.0035, 3, 5500 * rpm, 1.0, 0.5) * 60e3, 1.4514158, 5e-8);
}

const std::vector<double> pressures{3 * bar, 4 * bar, 5 * bar, 6 * bar, 7 * bar};
const std::vector<double> flows{300 * litre_per_hour, 280 * litre_per_hour, 255 * litre_per_hour,
                                225 * litre_per_hour, 180 * litre_per_hour};
const PumpCurve pump{pressures, flows};

TEST(PumpIdentities, DemandAndPower) {
    const fuel::Fuel e85{0.85, {}};
    EXPECT_NEAR(pump_demand(0.04, e85, 0.1), 1.1 * 0.04 / fuel::density(e85), 1e-18);
    for (std::size_t i = 0; i < pressures.size(); ++i)
        EXPECT_NEAR(pump.flow(pressures[i]) / flows[i], 1.0, 1e-14);
    const double power = pump_power(pump, 5.5 * bar, e85, 0.3);
    EXPECT_NEAR(fuel::volume_flow(fuel::flow(power, e85, 0.3), e85), pump.flow(5.5 * bar), 1e-15);
    EXPECT_NEAR(pump_power(pump, 5.5 * bar, e85, 0.3, 2), 2 * power, 1e-9);
    // A curve read off from high to low pressure is the same curve.
    const std::vector<double> p{pressures.rbegin(), pressures.rend()};
    const std::vector<double> q{flows.rbegin(), flows.rend()};
    EXPECT_EQ(PumpCurve(p, q).flow(5.5 * bar), pump.flow(5.5 * bar));
    // Monotone between the points.
    double last = flows.front();
    for (double pressure = 3.01 * bar; pressure <= 7 * bar; pressure += 0.01 * bar) {
        EXPECT_LT(pump.flow(pressure), last);
        last = pump.flow(pressure);
    }
}

// One rule: known up to the last point, from one point on; below the first the flow there.
TEST(PumpIdentities, OnePointAndBelowTheFirst) {
    const PumpCurve rated{{5 * bar}, {255 * litre_per_hour}};
    EXPECT_EQ(rated.flow(5 * bar), 255 * litre_per_hour);
    EXPECT_EQ(rated.flow(0.0), 255 * litre_per_hour);
    EXPECT_FALSE(rated.knows(5.01 * bar));
    EXPECT_THROW(rated.flow(5.01 * bar), NoData);
    EXPECT_EQ(pump.flow(2 * bar), 300 * litre_per_hour);
    const PumpCurve two{{7 * bar, 3 * bar}, {180 * litre_per_hour, 300 * litre_per_hour}};
    EXPECT_NEAR(two.flow(5 * bar), 240 * litre_per_hour, 1e-15);
}

TEST(PumpErrors, SayWhereTheCurveEnds) {
    try {
        pump_power(pump, 8 * bar, {}, 0.3);
        FAIL();
    } catch (const NoData& error) {
        EXPECT_EQ(error.reason(), Reason::pump_curve_ends);
        ASSERT_EQ(error.details().size(), 2U);
        EXPECT_EQ(error.details()[0].value, 8 * bar);
        EXPECT_EQ(error.details()[1].value, 7 * bar);
        EXPECT_EQ(error.details()[0].quantity, Quantity::pressure_difference);
    }
    const std::vector<double> three{1.0, 2.0, 3.0};
    EXPECT_THROW(PumpCurve(pressures, three), InvalidArgument);
    EXPECT_THROW(PumpCurve(std::span<const double>{}, std::span<const double>{}), NoData);
    const std::vector<double> repeated{1.0, 2.0, 2.0, 3.0};
    EXPECT_THROW(PumpCurve(repeated, repeated), InvalidArgument);
    const std::vector<double> negative{-1.0, 1.0, 2.0, 3.0};
    EXPECT_THROW(PumpCurve(negative, repeated), InvalidArgument);
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const std::vector<double> hole{1.0, nan, 2.0, 3.0};
    EXPECT_THROW(PumpCurve(hole, repeated), InvalidArgument);
    EXPECT_THROW(pump.flow(nan), InvalidArgument);
    EXPECT_THROW(pump_power(pump, 5 * bar, {}, 0.3, 1.5), InvalidArgument);
    EXPECT_THROW(pump_power(pump, 5 * bar, {}, 30, 1), InvalidArgument);
    EXPECT_THROW(pump_demand(0.02, {}, -0.1), InvalidArgument);
    EXPECT_THROW(plunger_flow(0.01, 0.004, 3.5, 600.0, 0.9, 0.5), InvalidArgument);
    EXPECT_THROW(plunger_flow(0.01, 0.004, 3, 600.0, 90.0, 0.5), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::injection
