// SPDX-License-Identifier: Apache-2.0
#include "core/road/vehicle.hpp"

#include <algorithm>
#include <cmath>

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::road {

namespace {

double cosine_of_slope(const Surroundings& surroundings) {
    return 1.0 / std::sqrt(1.0 + surroundings.slope * surroundings.slope);
}

void require_gear(const Vehicle& vehicle, std::size_t gear) {
    require("gear", static_cast<double>(gear), {1.0, static_cast<double>(vehicle.gears.size())});
}

}  // namespace

void check(const Vehicle& vehicle) {
    require("mass", vehicle.mass, positive);
    require("rolling_radius", vehicle.rolling_radius, positive);
    require("drag_area", vehicle.drag_area, not_negative);
    require("rolling_resistance", vehicle.rolling_resistance, {0.0, 0.1});
    require("front_share", vehicle.front_share, {0.0, 1.0, true, true});
    require("wheelbase", vehicle.wheelbase, positive);
    require("centre_of_gravity_height", vehicle.centre_of_gravity_height, not_negative);
    require("grip", vehicle.grip, {0.0, 5.0, true, false});
    require("shift_time", vehicle.shift_time, {0.0, 5.0});
    require("torque_in_shift", vehicle.torque_in_shift, unit_share);
    require("driveline_efficiency", vehicle.driveline_efficiency, {0.0, 1.0, true, false});
    require("engine_inertia", vehicle.engine_inertia, not_negative);
    require("wheel_inertia", vehicle.wheel_inertia, not_negative);
    if (vehicle.rev_limit) require("rev_limit", *vehicle.rev_limit, positive);
    require("launch_speed", vehicle.launch_speed, positive);
    require("rollout", vehicle.rollout, {0.0, 1.0});
    require("rise_time_of_torque", vehicle.rise_time_of_torque, {0.0, 10.0});
    if (vehicle.gears.empty()) throw InvalidArgument("gear", Reason::too_few_points, {{0.0}, {1.0}});
    for (const double ratio : vehicle.gears) require("gear", ratio, positive);
    const std::size_t drives = vehicle.final_drives.size();
    if (drives != 1 && drives != vehicle.gears.size())
        throw InvalidArgument("final_drive", Reason::lengths_differ,
                              {counted(drives), counted(vehicle.gears.size())});
    for (const double ratio : vehicle.final_drives) require("final_drive", ratio, positive);
    for (std::size_t gear = 2; gear <= vehicle.gears.size(); ++gear)
        if (!(overall_ratio(vehicle, gear) < overall_ratio(vehicle, gear - 1)))
            throw InvalidArgument("gear", Reason::gears_not_descending, {counted(gear)});
}

void check(const Surroundings& surroundings) {
    require("air_density", surroundings.air_density, positive);
    require("headwind", surroundings.headwind, {-100.0, 100.0});
    require("slope", surroundings.slope, {-0.5, 0.5});
}

void check(const RoadUncertainty& uncertainty) {
    for (const double u : {uncertainty.mass, uncertainty.drag_area, uncertainty.rolling_resistance,
                           uncertainty.driveline_efficiency, uncertainty.air_density, uncertainty.headwind})
        require("standard_uncertainties", u, not_negative);
}

double overall_ratio(const Vehicle& vehicle, std::size_t gear) {
    require_gear(vehicle, gear);
    const double final_drive =
        vehicle.final_drives.size() == 1 ? vehicle.final_drives.front() : vehicle.final_drives.at(gear - 1);
    return vehicle.gears[gear - 1] * final_drive;
}

double speed_in_gear(const Vehicle& vehicle, std::size_t gear, double engine_speed) {
    return engine_speed * vehicle.rolling_radius / overall_ratio(vehicle, gear);
}

double effective_mass(const Vehicle& vehicle, std::size_t gear) {
    const double ratio = gear == 0 ? 0.0 : overall_ratio(vehicle, gear);
    return vehicle.mass + (4.0 * vehicle.wheel_inertia + vehicle.engine_inertia * ratio * ratio) /
                              (vehicle.rolling_radius * vehicle.rolling_radius);
}

double road_load(const Vehicle& vehicle, const Surroundings& surroundings, double speed) {
    const double weight = vehicle.mass * standard_gravity;
    const double cosine = cosine_of_slope(surroundings);
    const double air_speed = speed + surroundings.headwind;
    return weight * cosine * (vehicle.rolling_resistance + surroundings.slope) +
           0.5 * surroundings.air_density * vehicle.drag_area * air_speed * std::abs(air_speed);
}

double traction_limit(const Vehicle& vehicle, const Surroundings& surroundings) {
    const double weight = vehicle.mass * standard_gravity * cosine_of_slope(surroundings);
    const double rolling = vehicle.rolling_resistance * weight;
    const double height = vehicle.centre_of_gravity_height / vehicle.wheelbase;
    const double front_load = vehicle.front_share * weight;
    const double grip = vehicle.grip;
    // The rear axle gains, and the front axle loses, height · (F - rolling).
    switch (vehicle.drive) {
        case Drive::front: return grip * (front_load + height * rolling) / (1.0 + grip * height);
        case Drive::rear:
        case Drive::all: break;
    }
    const double lifts_front = height > 0.0 ? front_load / height + rolling : grip * weight;
    if (vehicle.drive == Drive::all) return std::min(grip * weight, lifts_front);
    if (!(grip * height < 1.0)) return lifts_front;
    return std::min(grip * (weight - front_load - height * rolling) / (1.0 - grip * height), lifts_front);
}

}  // namespace pullsheet::road
