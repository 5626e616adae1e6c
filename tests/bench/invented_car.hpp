// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/constants.hpp"
#include "core/road/torque_curve.hpp"
#include "core/road/vehicle.hpp"

/// INVENTED, for the benchmarks of the road.
namespace pullsheet::bench {

/// A car with seven gears and all-wheel drive.
inline road::Vehicle invented_car(double mass) {
    road::Vehicle car;
    car.mass = mass;
    car.drive = road::Drive::all;
    car.rolling_radius = 0.319;
    car.drag_area = 0.7;
    car.gears = {3.6, 2.3, 1.6, 1.2, 0.95, 0.78, 0.64};
    car.final_drives = {3.9};
    return car;
}

/// A turbo engine's curve with a point every 300 rpm.
inline road::TorqueCurve invented_curve() {
    std::vector<double> speeds, torques;
    for (double n = 1500.0; n <= 7200.0; n += 300.0) {
        speeds.push_back(n * pi / 30.0);
        torques.push_back(n < 4000.0 ? 0.2425 * n : n < 6000.0 ? 970.0 : 5.82e6 / n);
    }
    return {speeds, torques};
}

}  // namespace pullsheet::bench
