// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace pullsheet::road {

/// The driven axle or axles.
enum class Drive { front, rear, all };

/// A car and its driver's gear changes. Gears count from 1.
struct Vehicle {
    double mass = 0.0;                      ///< kg, with driver and fuel, above 0
    Drive drive = Drive::rear;              ///< driven axles; all: both axles reach their limit together
    double rolling_radius = 0.0;            ///< m, above 0
    double drag_area = 0.0;                 ///< drag coefficient times frontal area, m², 0 or more
    double rolling_resistance = 0.013;      ///< rolling force / wheel load, 0 … 0.1
    double front_share = 0.55;              ///< share of the weight at rest on the front axle, 0 … 1 (open)
    double wheelbase = 2.6;                 ///< m, above 0
    double centre_of_gravity_height = 0.5;  ///< m, 0 or more
    double grip = 1.0;                      ///< greatest tyre force / wheel load, above 0, at most 5
    std::vector<double> gears;  ///< ratios of gear 1 … n, engine turns for each turn into the final drive
    std::vector<double> final_drives;  ///< one ratio for all gears, or one for each gear
    double shift_time = 0.2;           ///< s, 0 … 5
    double torque_in_shift = 0.0;      ///< share of the torque kept in a shift: 0 interrupted … 1 sustained
    double driveline_efficiency = 0.85;  ///< power at the wheels / crank power, above 0, at most 1
    double engine_inertia = 0.2;         ///< kg·m², with flywheel and clutch, 0 or more
    double wheel_inertia = 1.0;          ///< kg·m², each of four wheels with its tyre and brake, 0 or more
    std::optional<double> rev_limit;  ///< rad/s; without it, and never beyond it, the last point of the curve
    double launch_speed =
        366.51914291880921;  ///< engine speed held by the slipping clutch from rest, rad/s (3500 rpm)
    double rollout = 0.0;  ///< m that the car rolls before the clock starts, of runs from rest only, 0 … 1
    double rise_time_of_torque = 0.0;  ///< s from 10 % to 90 % of the torque when the throttle opens, 0 … 10
};

/// The surroundings of a run.
struct Surroundings {
    double air_density =
        1.225;  ///< kg/m³, above 0; the default is the standard atmosphere at sea level (ISO 2533)
    double headwind = 0.0;  ///< m/s, against the car; negative: from behind
    double slope = 0.0;     ///< rise divided by horizontal distance, uphill positive, -0.5 … 0.5
};

/// How well the figures of a car and of its surroundings are known: standard uncertainties (k = 1), 0 or
/// more.
struct RoadUncertainty {
    double mass = 0.0;                  ///< kg
    double drag_area = 0.0;             ///< m²
    double rolling_resistance = 0.0;    ///< rolling force / wheel load
    double driveline_efficiency = 0.0;  ///< share
    double air_density = 0.0;           ///< kg/m³
    double headwind = 0.0;              ///< m/s
};

/// Checks every figure of a vehicle. Throws InvalidArgument with the field's name; InvalidArgument("gear",
/// gears_not_descending, gear) if a gear is not longer than the one below it.
void check(const Vehicle& vehicle);
/// Checks every figure of the surroundings.
void check(const Surroundings& surroundings);
/// Checks every standard uncertainty: InvalidArgument("standard_uncertainties") unless 0 or more.
void check(const RoadUncertainty& uncertainty);

/// Engine turns for each turn of the wheels in a gear (1 … n).
double overall_ratio(const Vehicle& vehicle, std::size_t gear);

/// Road speed, m/s, at an engine speed, rad/s, in a gear (1 … n) without slip: v = ω r / i.
double speed_in_gear(const Vehicle& vehicle, std::size_t gear, double engine_speed);

/// Mass that the driving force has to accelerate in a gear, kg: m + (4 I_wheel + I_engine i²)/r². Gear 0:
/// clutch open, wheels only. Gillespie, Fundamentals of Vehicle Dynamics (1992), eq. 2-9.
double effective_mass(const Vehicle& vehicle, std::size_t gear);

/// Force against the car at a road speed, N: rolling, slope and air drag, m g (f_r cos α + sin α) + ½ ρ C_d A
/// v², v relative to the air (a wind from behind pushes). `speed` m/s, 0 or more. Gillespie (1992),
/// chapter 4.
double road_load(const Vehicle& vehicle, const Surroundings& surroundings, double speed);

/// Greatest force that the driven tyres can pass to the road while the load moves to the rear axle, N, in
/// closed form: Wong, Theory of Ground Vehicles (2001), section 3.3, with the air drag acting at the height
/// of the centre of gravity; for all-wheel drive the grip times the whole weight. Never more than lifts the
/// front axle.
double traction_limit(const Vehicle& vehicle, const Surroundings& surroundings);

}  // namespace pullsheet::road
