// SPDX-License-Identifier: Apache-2.0
#include "core/road/torque_curve.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <cstdint>

#include "core/error.hpp"
#include "core/interpolate.hpp"

namespace pullsheet::road {

TorqueCurve::TorqueCurve(std::span<const double> speeds, std::span<const double> torques)
    : speeds_(speeds.begin(), speeds.end()), torques_(torques.begin(), torques.end()) {
    const auto count = [](std::size_t n) { return Detail{static_cast<double>(n), Quantity::count}; };
    if (speeds.size() != torques.size())
        throw InvalidArgument("torques", Reason::lengths_differ,
                              {count(speeds.size()), count(torques.size())});
    if (speeds.size() < 2)
        throw InvalidArgument("speeds", Reason::too_few_points, {count(speeds.size()), count(2)});
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        require("speeds", speeds[i], positive);
        require("torques", torques[i], not_negative);
        if (i > 0 && !(speeds[i] > speeds[i - 1]))
            throw InvalidArgument("speeds", Reason::not_increasing, {count(i + 1)});
    }
    const std::vector<double> slopes = monotone_slopes(speeds_, torques_);
    first_slope_ = slopes.front();
    last_slope_ = slopes.back();
    pieces_.reserve(speeds_.size() - 1);
    for (std::size_t i = 0; i + 1 < speeds_.size(); ++i) {
        const double h = speeds_[i + 1] - speeds_[i];
        const double secant = (torques_[i + 1] - torques_[i]) / h;
        pieces_.push_back({torques_[i], slopes[i], (3.0 * secant - 2.0 * slopes[i] - slopes[i + 1]) / h,
                           (slopes[i] + slopes[i + 1] - 2.0 * secant) / (h * h)});
    }
}

double TorqueCurve::torque(double speed) const {
    if (speed <= speeds_.front()) return torques_.front() + first_slope_ * (speed - speeds_.front());
    if (speed >= speeds_.back()) return torques_.back() + last_slope_ * (speed - speeds_.back());
    const auto above = std::upper_bound(speeds_.begin() + 1, speeds_.end() - 1, speed);
    const auto i = static_cast<std::size_t>(above - speeds_.begin()) - 1;
    const auto& [a, b, c, d] = pieces_[i];
    const double u = speed - speeds_[i];
    return a + u * (b + u * (c + u * d));
}

TorqueCurve TorqueCurve::scaled(double factor) const {
    TorqueCurve curve = *this;
    for (double& torque : curve.torques_) torque *= factor;
    curve.first_slope_ *= factor;
    curve.last_slope_ *= factor;
    for (auto& piece : curve.pieces_)
        for (double& coefficient : piece) coefficient *= factor;
    return curve;
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
    for (std::size_t i = 0; i + 1 < speeds_.size() && speeds_[i] <= up_to; ++i) {
        const double end = std::min(speeds_[i + 1], up_to);
        consider(speeds_[i]);
        consider(end);
        std::uintmax_t iterations = 100;  // a golden section alone takes 60
        const auto inside = ::boost::math::tools::brent_find_minima(
            [&](double speed) { return -speed * torque(speed); }, speeds_[i], end, 40, iterations);
        consider(inside.first);
    }
    return best;
}

}  // namespace pullsheet::road
