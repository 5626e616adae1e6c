// SPDX-License-Identifier: Apache-2.0
#include "core/road/vehicle.hpp"

#include <gtest/gtest.h>

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <functional>
#include <limits>

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::road {
namespace {

using ::boost::math::quadrature::gauss_kronrod;

Vehicle plain_car() {
    Vehicle car;
    car.mass = 1500.0;
    car.rolling_radius = 0.31;
    car.drag_area = 0.62;
    car.gears = {3.0, 2.0, 1.0};
    car.final_drives = {4.0};
    return car;
}

// Gillespie, Fundamentals of Vehicle Dynamics (1992), eq. 2-9 with 1500 kg, four wheels of 1 kg·m², engine
// 0.25 kg·m², ratio 12, radius 0.31 m; computed with an independent library.
TEST(Gillespie1992Identities, EffectiveMass) {
    Vehicle car = plain_car();
    car.engine_inertia = 0.25;
    EXPECT_NEAR(effective_mass(car, 1), 1916.23309, 0.5e-5);
}

// Gillespie (1992), eq. 2-10, and Wong, Theory of Ground Vehicles: mass factor 1.04 + 0.0025 i². Inertias
// that stand for these coefficients must give the factors.
TEST(Gillespie1992Identities, MassFactorOfTheOverallRatio) {
    Vehicle car = plain_car();
    const double r2 = car.rolling_radius * car.rolling_radius;
    car.wheel_inertia = 0.04 * car.mass * r2 / 4.0;
    car.engine_inertia = 0.0025 * car.mass * r2;
    car.gears = {14.0, 3.454 * 3.777, 10.0, 4.0};
    car.final_drives = {1.0};
    EXPECT_NEAR(effective_mass(car, 1) / car.mass, 1.5300, 1e-9);
    EXPECT_NEAR(effective_mass(car, 2) / car.mass, 1.4654795, 0.5e-7);
    EXPECT_NEAR(effective_mass(car, 3) / car.mass, 1.2900, 1e-9);
    EXPECT_NEAR(effective_mass(car, 4) / car.mass, 1.0800, 1e-9);
    EXPECT_NEAR(effective_mass(car, 0) / car.mass, 1.0400, 1e-9);
}

// Wong, Theory of Ground Vehicles, section 3.3 (rolling resistance 0): grip 1.0, wheelbase 2.6 m, height 0.52
// m, half the weight on each axle.
TEST(Wong2001Identities, TractionLimit) {
    Vehicle car = plain_car();
    car.rolling_resistance = 0.0;
    car.front_share = 0.5;
    car.centre_of_gravity_height = 0.52;
    const double weight = car.mass * standard_gravity;
    car.drive = Drive::rear;
    EXPECT_NEAR(traction_limit(car, {}) / weight, 0.6250000, 0.5e-7);
    car.drive = Drive::front;
    EXPECT_NEAR(traction_limit(car, {}) / weight, 0.4166667, 0.5e-7);
    car.drive = Drive::all;
    EXPECT_NEAR(traction_limit(car, {}) / weight, 1.0, 1e-12);
}

// The closed form against the balance it comes from: axle load = static load ± (F - rolling) h/L (Wong 2001,
// eq. 3.8).
TEST(VehicleIdentities, TractionLimitBalancesTheAxleLoad) {
    for (const double slope : {-0.1, 0.0, 0.2}) {
        Vehicle car = plain_car();
        car.grip = 1.2;
        const Surroundings weather{1.2, 0.0, slope};
        const double weight = car.mass * standard_gravity / std::sqrt(1.0 + slope * slope);
        const double shift = car.centre_of_gravity_height / car.wheelbase;
        car.drive = Drive::rear;
        double force = traction_limit(car, weather);
        EXPECT_NEAR(force, car.grip * (0.45 * weight + shift * (force - car.rolling_resistance * weight)),
                    1e-8);
        car.drive = Drive::front;
        force = traction_limit(car, weather);
        EXPECT_NEAR(force, car.grip * (0.55 * weight - shift * (force - car.rolling_resistance * weight)),
                    1e-8);
    }
}

// With much grip, a short wheelbase and a high centre of gravity the front axle lifts before the tyres slip.
TEST(VehicleIdentities, TractionNeverLiftsTheFrontAxle) {
    Vehicle car = plain_car();
    car.wheelbase = 1.4;
    car.centre_of_gravity_height = 0.6;
    car.grip = 3.0;
    car.rolling_resistance = 0.0;
    const double weight = car.mass * standard_gravity;
    for (const Drive drive : {Drive::rear, Drive::all}) {
        car.drive = drive;
        EXPECT_NEAR(traction_limit(car, {}), 0.55 * weight * 1.4 / 0.6, 1e-8);
    }
}

// v = 2 π r n/(60 i): radius 0.3125 m, 6500 rpm, 1.285 × 3.64; computed with an independent library.
TEST(SpeedInGearIdentities, OfTheSlipFreeWheel) {
    Vehicle car = plain_car();
    car.rolling_radius = 0.3125;
    car.gears = {1.285};
    car.final_drives = {3.64};
    EXPECT_NEAR(speed_in_gear(car, 1, 6500.0 * pi / 30.0) * 3.6, 163.7155705, 0.5e-7);
}

// Gillespie (1992), chapter 4: R = W (f_r cos α + sin α) + ½ ρ C_d A v². 6 % slope: sin(atan 0.06) =
// 0.059892291.
TEST(Gillespie1992Identities, RoadLoad) {
    Vehicle car = plain_car();
    const double weight = car.mass * standard_gravity;
    EXPECT_NEAR(road_load(car, {1.2, 0.0, 0.0}, 30.0), 0.013 * weight + 0.372 * 900.0, 1e-9);
    EXPECT_NEAR(road_load(car, {1.2, -5.0, 0.0}, 30.0), 0.013 * weight + 0.372 * 625.0, 1e-9);
    EXPECT_NEAR(road_load(car, {1.2, -10.0, 0.0}, 5.0), 0.013 * weight - 0.372 * 25.0, 1e-9);
    car.rolling_resistance = 0.0;
    EXPECT_NEAR(road_load(car, {1.2, 0.0, 0.06}, 0.0) / weight, 0.059892291, 0.5e-9);
}

// Coast-down by F = a + c v², a = 200 N, c = 0.40 kg/m, 1500 kg, 120 → 60 km/h: t = 56.919322341 s,
// x = 1365.44718820 m (closed form, computed with an independent library).
TEST(CoastDownIndependent, ClosedForm) {
    Vehicle car = plain_car();
    car.rolling_resistance = 200.0 / (car.mass * standard_gravity);
    car.drag_area = 0.8;
    const Surroundings weather{1.0, 0.0, 0.0};
    const auto slowness = [&](double v) { return car.mass / road_load(car, weather, v); };
    const auto way = [&](double v) { return v * slowness(v); };
    const double t = gauss_kronrod<double, 31>::integrate(slowness, 60.0 / 3.6, 120.0 / 3.6, 10, 1e-13);
    const double x = gauss_kronrod<double, 31>::integrate(way, 60.0 / 3.6, 120.0 / 3.6, 10, 1e-13);
    EXPECT_NEAR(t, 56.919322341, 0.5e-9 * 100);
    EXPECT_NEAR(x, 1365.44718820, 0.5e-8 * 100);
}

TEST(VehicleErrors, NamesTheFigureThatIsWrong) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const auto wrong = [](const std::function<void(Vehicle&)>& change) -> std::string {
        Vehicle car = plain_car();
        change(car);
        try {
            check(car);
        } catch (const InvalidArgument& error) {
            return error.parameter();
        }
        return "";
    };
    EXPECT_EQ(wrong([](Vehicle&) {}), "");
    EXPECT_EQ(wrong([](Vehicle& c) { c.mass = 0.0; }), "mass");
    EXPECT_EQ(wrong([&](Vehicle& c) { c.mass = nan; }), "mass");
    EXPECT_EQ(wrong([](Vehicle& c) { c.rolling_radius = -1.0; }), "rolling_radius");
    EXPECT_EQ(wrong([&](Vehicle& c) { c.drag_area = nan; }), "drag_area");
    EXPECT_EQ(wrong([](Vehicle& c) { c.rolling_resistance = 13.0; }), "rolling_resistance");
    EXPECT_EQ(wrong([](Vehicle& c) { c.front_share = 55.0; }), "front_share");
    EXPECT_EQ(wrong([](Vehicle& c) { c.wheelbase = 0.0; }), "wheelbase");
    EXPECT_EQ(wrong([](Vehicle& c) { c.centre_of_gravity_height = -0.1; }), "centre_of_gravity_height");
    EXPECT_EQ(wrong([](Vehicle& c) { c.grip = 0.0; }), "grip");
    EXPECT_EQ(wrong([](Vehicle& c) { c.shift_time = -0.1; }), "shift_time");
    EXPECT_EQ(wrong([](Vehicle& c) { c.torque_in_shift = 1.1; }), "torque_in_shift");
    EXPECT_EQ(wrong([](Vehicle& c) { c.driveline_efficiency = 85.0; }), "driveline_efficiency");
    EXPECT_EQ(wrong([](Vehicle& c) { c.engine_inertia = -0.1; }), "engine_inertia");
    EXPECT_EQ(wrong([](Vehicle& c) { c.wheel_inertia = -0.1; }), "wheel_inertia");
    EXPECT_EQ(wrong([&](Vehicle& c) { c.rev_limit = nan; }), "rev_limit");
    EXPECT_EQ(wrong([](Vehicle& c) { c.launch_speed = 0.0; }), "launch_speed");
    EXPECT_EQ(wrong([](Vehicle& c) { c.rise_time_of_torque = -1.0; }), "rise_time_of_torque");
    EXPECT_EQ(wrong([](Vehicle& c) { c.gears = {}; }), "gear");
    EXPECT_EQ(wrong([](Vehicle& c) { c.gears = {2.0, 3.0}; }), "gear");
    EXPECT_EQ(wrong([](Vehicle& c) { c.gears = {3.0, 2.0, 2.0}; }), "gear");
    EXPECT_EQ(wrong([](Vehicle& c) { c.final_drives = {}; }), "final_drive");
    EXPECT_EQ(wrong([](Vehicle& c) { c.final_drives = {4.0, 4.0}; }), "final_drive");
    EXPECT_EQ(wrong([](Vehicle& c) { c.final_drives = {4.0, 4.0, 3.0}; }), "");
    EXPECT_EQ(wrong([](Vehicle& c) { c.final_drives = {4.0, 4.0, 0.0}; }), "final_drive");
    EXPECT_THROW(check(Surroundings{0.0, 0.0, 0.0}), InvalidArgument);
    EXPECT_THROW(check(Surroundings{1.2, nan, 0.0}), InvalidArgument);
    EXPECT_THROW(check(Surroundings{1.2, 0.0, 6.0}), InvalidArgument);
    EXPECT_THROW(overall_ratio(plain_car(), 0), InvalidArgument);
    EXPECT_THROW(overall_ratio(plain_car(), 4), InvalidArgument);
}

}  // namespace
}  // namespace pullsheet::road
