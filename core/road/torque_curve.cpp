// SPDX-License-Identifier: Apache-2.0
#include "core/road/torque_curve.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <cstdint>

#include "core/error.hpp"

namespace pullsheet::road {

TorqueCurve::TorqueCurve(std::span<const double> speeds, std::span<const double> torques)
    : curve_({speeds.begin(), speeds.end()}, {torques.begin(), torques.end()}, "speeds", "torques") {
    for (double speed : speeds) require("speeds", speed, positive);
    for (double torque : torques) require("torques", torque, not_negative);
}

TorqueCurve::Peak TorqueCurve::peak(double up_to) const {
    Peak best{-1.0, 0.0, 0.0};
    const auto consider = [&](double speed) {
        const double value = torque(speed);
        if (value * speed > best.power) {
            best.power = value * speed;
            best.speed = speed;
        }
        // The cubic is monotone between the points, so the greatest torque stands on a point or on the end.
        best.torque = std::max(best.torque, value);
    };
    up_to = std::min(up_to, highest_speed());
    const std::span<const double> points = speeds();
    for (std::size_t i = 0; i + 1 < points.size() && points[i] <= up_to; ++i) {
        const double end = std::min(points[i + 1], up_to);
        consider(points[i]);
        consider(end);
        std::uintmax_t iterations = 100;  // a golden section alone takes 60
        const auto inside = ::boost::math::tools::brent_find_minima(
            [&](double speed) { return -speed * torque(speed); }, points[i], end, 40, iterations);
        consider(inside.first);
    }
    return best;
}

}  // namespace pullsheet::road
