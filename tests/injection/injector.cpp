// SPDX-License-Identifier: Apache-2.0
#include "core/injection/injector.hpp"

#include <gtest/gtest.h>

#include <limits>

#include "core/constants.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::injection {
namespace {

using tests::bar;
using tests::cc_per_minute;
using tests::rpm;

// Bernoulli's orifice equation (textbook), evaluated independently.
TEST(OrificeEquationIdentities, FlowAtAnotherPressureAndFluid) {
    EXPECT_NEAR(injector_flow(550, 3.0 * bar, 4.0 * bar), 635.0853, 5e-5);
    // 4 bar over the surroundings of 1.013 bar into a manifold of 2.2 bar.
    EXPECT_NEAR(injector_flow(550, 3.0 * bar, (4.0 + 1.013 - 2.2) * bar), 532.58254, 5e-6);
    const double gasoline = injector_flow(440, 3.0 * bar, 3.0 * bar, 684.0, 745.0);
    EXPECT_NEAR(gasoline, 421.6019, 5e-5);
    EXPECT_NEAR(440 * cc_per_minute * 684.0 * 1e3, 5.016, 5e-4);
    EXPECT_NEAR(gasoline * cc_per_minute * 745.0 * 1e3, 5.234891, 5e-7);
    EXPECT_NEAR(gasoline * 745.0 / (440 * 684.0), 1.0436385, 5e-8);
}

// Pulse of a four-stroke engine with sequential injection, evaluated independently: 0.55 g air a cylinder and
// cycle at lambda 0.88 and an air–fuel ratio of 14.6, injector of 550 cc/min and 745 kg/m³, dead time 0.85
// ms, 6500/min.
TEST(SequentialInjectionIdentities, PulseAndDuty) {
    const double fuel_mass = 0.55e-3 / (0.88 * 14.6);
    const double speed = 6500 * rpm;
    const double fuel_flow = 4 * fuel_mass * speed / (4.0 * pi);
    const double duty = injector_duty(fuel_flow, 4, 550 * cc_per_minute, {}, speed, 0.85e-3);
    EXPECT_NEAR(100 * duty, 38.55821, 5e-6);
    EXPECT_NEAR(duty * 120.0 / 6500 * 1e3, 7.11844, 5e-6);  // ms
    EXPECT_NEAR(injector_duty(fuel_flow, 4, 550 * cc_per_minute, {}) * 120.0 / 6500 * 1e3, 6.26844, 5e-6);
}

// Evaluated independently: 300 kW at 330 g/kWh, four injectors at 85 %, 745 kg/m³: 651.4015 cc/min each.
TEST(SequentialInjectionIdentities, Size) {
    const double fuel_flow = 300e3 * 330e-3 / 3.6e6;
    EXPECT_NEAR(injector_size(fuel_flow, 4, 0.85, {}) / cc_per_minute, 651.4015, 5e-5);
}

TEST(InjectorIdentities, SizeDutyPower) {
    const fuel::Fuel e85{0.85, {}};
    const double fuel_flow = fuel::flow(400e3, e85, 0.3);
    const double size = injector_size(fuel_flow, 5, 0.85, e85);
    EXPECT_NEAR(injector_duty(fuel_flow, 5, size, e85), 0.85, 1e-14);
    EXPECT_NEAR(injector_power(size, 5, 0.85, e85, 0.3), 400e3, 1e-8);
    EXPECT_EQ(injector_flow(550, 3 * bar, 4 * bar), injector_flow(550, 3 * bar, 4 * bar, 700.0, 700.0));
    EXPECT_EQ(injector_duty(fuel_flow, 5, size, e85), injector_duty(fuel_flow, 5, size, e85, 700.0));
}

// 300° to 60° before top dead centre at 6000/min: 240° of 36,000°/s.
TEST(InjectorIdentities, Window) {
    constexpr double degree = pi / 180.0;
    EXPECT_NEAR(injection_window(300 * degree, 60 * degree, 6000 * rpm), 240.0 / 36000.0, 1e-15);
    EXPECT_NEAR(injection_window(60 * degree, -20 * degree, 6000 * rpm), 80.0 / 36000.0, 1e-15);
}

TEST(InjectorErrors, NameTheArgument) {
    const auto error_of = [](auto f) -> std::pair<std::string, Reason> {
        try {
            f();
        } catch (const InvalidArgument& error) {
            return {error.parameter(), error.reason()};
        }
        return {"", Reason::not_finite};
    };
    using Expected = std::pair<std::string, Reason>;
    const double flow = 550 * cc_per_minute;
    EXPECT_EQ(error_of([&] { injector_duty(0.02, 4, flow, {}, std::nullopt, 1e-3); }),
              Expected("speed", Reason::speed_needed));
    EXPECT_EQ(error_of([&] { injector_duty(0.02, 4.5, flow, {}); }), Expected("count", Reason::not_whole));
    EXPECT_EQ(error_of([&] { injector_duty(0.02, 4, flow, {}, 0.0); }),
              Expected("speed", Reason::out_of_range));
    EXPECT_EQ(error_of([&] { injector_duty(0.02, 4, flow, {}, 700.0, 0.85); }),
              Expected("dead_time", Reason::out_of_range));
    EXPECT_EQ(error_of([&] { injector_size(0.02, 4, 85.0, {}); }),
              Expected("largest_duty", Reason::out_of_range));
    EXPECT_EQ(error_of([&] { injector_flow(550, 3 * bar, -1.0); }),
              Expected("fuel_pressure", Reason::out_of_range));
    EXPECT_EQ(error_of([&] { injector_flow(550, 3 * bar, 4 * bar, 0.684, 745.0); }),
              Expected("rated_density", Reason::out_of_range));
    EXPECT_EQ(error_of([&] { injection_window(1.0, 2.0, 600.0); }),
              Expected("closing_angle", Reason::out_of_range));
    EXPECT_EQ(error_of([&] { injection_window(300.0, 60.0, 600.0); }),
              Expected("opening_angle", Reason::out_of_range));
    const double nan = std::numeric_limits<double>::quiet_NaN();
    EXPECT_EQ(error_of([&] { injector_duty(0.02, 4, flow, {}, nan); }),
              Expected("speed", Reason::out_of_range));
}

TEST(InjectorErrors, DutyAboveOneIsGivenWithAWarning) {
    const double duty = injector_duty(0.05, 4, 550 * cc_per_minute, {});
    EXPECT_GT(duty, 1.0);
    const auto warnings = duty_warnings(duty);
    ASSERT_EQ(warnings.size(), 1U);
    EXPECT_EQ(warnings[0].reason, Reason::injector_always_open);
    EXPECT_EQ(warnings[0].details[0].value, duty);
    EXPECT_TRUE(duty_warnings(1.0).empty());
}

// n-heptane, 0.6838 g/cm³ at 20 °C: CRC Handbook of Chemistry and Physics, from memory.
TEST(CrcHandbookPrintedFromMemory, DensityOfTheTestFluid) {
    EXPECT_NEAR(test_fluid_density, 683.8, 0.5);
}

// Common practice, no source: no injector is planned to be open longer than 85 % of the time.
TEST(CommonPractice, HighestDutyOfInjectors) {
    EXPECT_EQ(usual_highest_duty, 0.85);
}

}  // namespace
}  // namespace pullsheet::injection
