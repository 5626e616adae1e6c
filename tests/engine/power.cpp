// SPDX-License-Identifier: Apache-2.0
#include "core/engine/power.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "core/constants.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::engine {
namespace {

using tests::rpm;

constexpr double horsepower = 550.0 * 0.3048 * 0.45359237 * standard_gravity;  // 550 ft·lbf/s
constexpr double metric_horsepower = 75.0 * standard_gravity;                  // 75 kgf·m/s
constexpr double pound_foot = 0.3048 * 0.45359237 * standard_gravity;

// Exact definitions of the units: NIST SP 811, appendix B; BIPM SI Brochure.
TEST(NistSp811Identities, PowerFromTorqueAndSpeed) {
    EXPECT_NEAR(power(350.0, 5500 * rpm) / 201585.529, 1.0, 0.5e-3 / 201585.529);
    EXPECT_NEAR(power(350.0, 5500 * rpm) / metric_horsepower, 274.080042, 5e-7);
    EXPECT_NEAR(power(350.0, 5500 * rpm) / horsepower, 270.330647, 5e-7);
    EXPECT_NEAR(power(250.0 * pound_foot, 6000 * rpm) / horsepower, 285.599332, 5e-7);
    EXPECT_NEAR(power(250.0 * pound_foot, 6000 * rpm), 212971.385, 5e-4);
    // The constants K of P = T·n/K.
    EXPECT_NEAR(horsepower / (pound_foot * rpm) / 5252.1131220325, 1.0, 1e-13);
    EXPECT_NEAR(1e3 / power(1.0, rpm) / 9549.2965855137, 1.0, 1e-13);
    EXPECT_NEAR(metric_horsepower / power(1.0, rpm) / 7023.4957020246, 1.0, 1e-13);
}

// Heywood (1988), equation 2.19: mep = 2π·n·T/V, evaluated independently.
TEST(Heywood1988Identities, BrakeMeanEffectivePressure) {
    EXPECT_NEAR(bmep(320.0, 1.984e-3) * 1e-5, 20.26834, 5e-6);
    EXPECT_NEAR(bmep(60.0, 0.5e-3, 2) * 1e-5, 7.5398224, 5e-8);
}

// A published worked example of a four-cylinder engine, 110 × 130 mm, 36 kW at 2250/min with 10.5 kg/h of
// fuel of 42 MJ/kg: efficiency 0.294, 3.885 bar; recomputed 0.293878 and 3.885283 bar.
TEST(WorkedExamplePrinted, EfficiencyAndMeanPressure) {
    fuel::Fuel diesel;
    diesel.gasoline.heating_value = 42e6;
    EXPECT_NEAR(efficiency(10.5 / 3600, 36e3, diesel), 0.293878, 5e-7);
    const double volume = 4 * pi / 4 * 0.110 * 0.110 * 0.130;
    EXPECT_NEAR(bmep(torque(36e3, 2250 * rpm), volume) * 1e-5, 3.885283, 5e-7);
}

// Heywood (1988), equations 2.22 and 2.23, evaluated independently: 250 g/kWh at 44 MJ/kg is 0.32727273.
TEST(Heywood1988Identities, SpecificConsumption) {
    constexpr double gram_per_kilowatt_hour = 1e-3 / 3.6e6;
    fuel::Fuel gasoline;
    gasoline.gasoline.heating_value = 44e6;
    EXPECT_NEAR(efficiency(250 * gram_per_kilowatt_hour * 100e3, 100e3, gasoline), 0.32727273, 5e-9);
    EXPECT_NEAR(bsfc(0.5 * 0.45359237 / 3600, horsepower) / gram_per_kilowatt_hour, 304.13869, 5e-6);
}

TEST(PowerIdentities, EachIsTheInverse) {
    EXPECT_NEAR(torque(power(350.0, 500.0), 500.0), 350.0, 1e-12);
    EXPECT_NEAR(speed(power(350.0, 500.0), 350.0), 500.0, 1e-12);
    EXPECT_NEAR(speed(power(-50.0, 500.0), -50.0), 500.0, 1e-12);
    EXPECT_EQ(power(350.0, 0.0), 0.0);
    EXPECT_NEAR(fuel::flow(300e3, {}, efficiency(0.02, 300e3, {})), 0.02, 1e-15);
}

TEST(PowerErrors, NameTheArgument) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_THROW(power(nan, 1.0), InvalidArgument);
    EXPECT_THROW(power(1.0, -1.0), InvalidArgument);
    EXPECT_THROW(torque(1.0, 0.0), InvalidArgument);
    EXPECT_THROW(speed(1.0, 0.0), InvalidArgument);
    EXPECT_THROW(speed(1.0, -1.0), InvalidArgument);
    EXPECT_THROW(speed(-1.0, 1.0), InvalidArgument);
    EXPECT_THROW(bmep(300.0, 0.0), InvalidArgument);
    EXPECT_THROW(bsfc(0.01, 0.0), InvalidArgument);
    EXPECT_THROW(efficiency(0.001, 100e3, {}), InvalidArgument);  // more power than the fuel has
    try {
        bmep(300.0, 2e-3, 3.0);
        FAIL();
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "strokes");
        EXPECT_EQ(error.reason(), Reason::neither_two_nor_four);
    }
}

}  // namespace
}  // namespace pullsheet::engine
