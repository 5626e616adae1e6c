// SPDX-License-Identifier: Apache-2.0
#include "core/engine/slider_crank.hpp"

#include <gtest/gtest.h>

#include <boost/math/quadrature/gauss_kronrod.hpp>

namespace pullsheet::engine {
namespace {

constexpr SliderCrank crank{0.086, 0.086, 0.1435, 10.5};
constexpr double speed = 6000.0 * pi / 30.0;

// Heywood (1988), section 2.2, equations 2.4 … 2.11, evaluated independently: bore and stroke 86 mm, rod
// 143.5 mm.
TEST(HeywoodSection22Identities, SliderCrank) {
    struct Row {
        double degrees, position_mm, volume_cm3, speed_ratio, acceleration;
    };
    const double mean_speed = crank.stroke * speed / pi;
    for (const Row& row : {Row{0, 0.000000, 52.584970, 0.00000000, 22062.521},
                           Row{10, 0.847664, 57.508883, 0.35336811, 21517.746},
                           Row{30, 7.380676, 95.457879, 0.99154045, 17362.449},
                           Row{60, 26.416090, 206.030883, 1.57139505, 5949.317},
                           Row{90, 49.594010, 340.666896, 1.57079633, -5331.804},
                           Row{120, 69.416090, 455.809490, 1.14930399, -11026.403},
                           Row{180, 86.000000, 552.142184, 0.00000000, -11888.919}}) {
        const double angle = row.degrees * pi / 180.0;
        EXPECT_NEAR(crank.position(angle) * 1e3, row.position_mm, 5e-7);
        EXPECT_NEAR(crank.volume(angle) * 1e6, row.volume_cm3, 5e-7);
        EXPECT_NEAR(piston_speed(crank, angle, speed) / mean_speed, row.speed_ratio, 5e-9);
        EXPECT_NEAR(piston_acceleration(crank, angle, speed), row.acceleration, 5e-4);
    }
    const double fastest = 74.54354 * pi / 180.0;
    EXPECT_NEAR(piston_speed(crank, fastest, speed) / mean_speed, 1.64027274, 5e-9);
}

TEST(SliderCrankIdentities, VolumesAndDerivatives) {
    EXPECT_NEAR(crank.volume(pi) / crank.volume(0.0), 10.5, 1e-12);
    using boost::math::quadrature::gauss_kronrod;
    const auto slope = [](double a) { return crank.position_slope(a); };
    const auto curvature = [](double a) { return crank.position_curvature(a); };
    const auto volume_slope = [](double a) { return crank.volume_slope(a); };
    for (const double angle : {0.3, 1.0, 2.5, 4.0, 6.0}) {
        EXPECT_NEAR((gauss_kronrod<double, 31>::integrate(slope, 0.0, angle)), crank.position(angle), 1e-13);
        EXPECT_NEAR((gauss_kronrod<double, 31>::integrate(curvature, 0.0, angle)), slope(angle), 1e-13);
        EXPECT_NEAR((gauss_kronrod<double, 31>::integrate(volume_slope, 0.0, angle)),
                    crank.volume(angle) - crank.volume(0.0), 1e-15);
    }
}

TEST(SliderCrankErrors, NameTheField) {
    const auto field = [](SliderCrank c) -> std::string {
        try {
            c.require_possible();
        } catch (const InvalidArgument& error) {
            return error.parameter();
        }
        return "";
    };
    EXPECT_EQ(field(crank), "");
    EXPECT_EQ(field({0.0, 0.086, 0.1435, 10.5}), "bore");
    EXPECT_EQ(field({0.086, 0.086, 0.043, 10.5}), "rod_length");
    EXPECT_EQ(field({0.086, 0.086, 0.1435, 1.0}), "compression_ratio");
}

}  // namespace
}  // namespace pullsheet::engine
