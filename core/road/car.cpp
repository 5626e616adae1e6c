// SPDX-License-Identifier: Apache-2.0
#include "core/road/car.hpp"

#include <algorithm>

#include "core/error.hpp"

namespace pullsheet::road {

Car::Car(const Vehicle& vehicle, const TorqueCurve& curve, const Surroundings& surroundings)
    : curve_(curve), limit_(traction_limit(vehicle, surroundings)) {
    const double radius = vehicle.rolling_radius;
    surroundings_ = surroundings;
    drag_ = 0.5 * surroundings.air_density * vehicle.drag_area;
    constant_load_ = road_load(vehicle, surroundings, -surroundings.headwind);
    inverse_open_mass_ = 1.0 / effective_mass(vehicle, 0);
    const double free_wheels = vehicle.drive == Drive::all ? 0.0 : 2.0;
    inverse_grip_mass_ = 1.0 / (vehicle.mass + free_wheels * vehicle.wheel_inertia / (radius * radius));
    const double lowest = curve.lowest_speed();
    rev_limit_ = curve.highest_speed();
    if (vehicle.rev_limit) {
        require("rev_limit", *vehicle.rev_limit, {lowest, positive.high, true, true});
        rev_limit_ = std::min(rev_limit_, *vehicle.rev_limit);
    }
    launch_speed_ = std::max(lowest, vehicle.launch_speed);
    require("launch_speed", launch_speed_, {0.0, rev_limit_, true, true});
    for (std::size_t gear = 1; gear <= vehicle.gears.size(); ++gear) {
        const double ratio = overall_ratio(vehicle, gear);
        gears_.push_back({ratio / radius, vehicle.driveline_efficiency * ratio / radius,
                          1.0 / effective_mass(vehicle, gear), speed_in_gear(vehicle, gear, rev_limit_),
                          speed_in_gear(vehicle, gear, lowest)});
    }
    time_constant_ = vehicle.rise_time_of_torque / std::log(9.0);
    shift_time_ = vehicle.shift_time;
    torque_in_shift_ = vehicle.torque_in_shift;
}

}  // namespace pullsheet::road
