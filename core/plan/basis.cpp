// SPDX-License-Identifier: Apache-2.0
#include "core/plan/basis.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace pullsheet::plan {
namespace {

constexpr double at_same_speed = 0.01;
constexpr double at_same_pressure = 0.02;
constexpr double at_same_ratio = 0.01;
constexpr double far_boost = 1.25;
constexpr double boost_uncertainty = 0.02;
constexpr double speed_uncertainty = 0.03 / (1000.0 * pi / 30.0);
constexpr double ratio_uncertainty = 0.03;

}  // namespace

Basis basis_of(const StageBase& base, const StageLimit& limit, const fuel::Fuel& fuel, double speed) {
    const std::vector<CalibratedPoint>& points = base.engine_model.points;
    Basis basis;
    if (points.empty()) return basis;
    constexpr double far = std::numeric_limits<double>::infinity();
    const double ratio = base.engine_model.cylinder.crank.compression_ratio;
    const double boost = limit.manifold_pressure - base.weather.pressure;
    double slowest = far, fastest = 0.0, highest_boost = 0.0, hottest = 0.0, ratio_distance = far;
    bool measured = false;
    basis.in_fuel = true;
    for (const CalibratedPoint& point : points) {
        slowest = std::min(slowest, point.speed);
        fastest = std::max(fastest, point.speed);
        highest_boost = std::max(highest_boost, point.manifold_pressure - base.weather.pressure);
        hottest = std::max(hottest, point.gas_temperature);
        const double distance = std::abs(ratio - point.compression_ratio);
        ratio_distance = std::min(ratio_distance, distance);
        const bool on_this_fuel = fuel == point.fuel;
        if (on_this_fuel) basis.in_fuel = false;
        measured = measured || (on_this_fuel && distance <= at_same_ratio &&
                                std::abs(speed - point.speed) <= at_same_speed * point.speed &&
                                std::abs(limit.manifold_pressure - point.manifold_pressure) <=
                                    at_same_pressure * point.manifold_pressure);
    }
    const double outside = std::max({0.0, slowest - speed, speed - fastest});
    basis.in_speed = outside > at_same_speed * speed;
    basis.in_boost = boost > far_boost * highest_boost;
    basis.in_compression_ratio = ratio_distance > at_same_ratio;
    basis.hotter_gas = std::max(0.0, limit.gas_temperature - hottest);
    basis.uncertainty = std::hypot(basis.in_boost ? boost_uncertainty : 0.0,
                                   basis.in_speed ? speed_uncertainty * outside : 0.0,
                                   basis.in_compression_ratio ? ratio_uncertainty * ratio_distance : 0.0);
    basis.kind = measured ? Basis::Kind::measured
                 : basis.in_speed || basis.in_boost || basis.in_fuel || basis.in_compression_ratio
                     ? Basis::Kind::extrapolated
                     : Basis::Kind::between;
    return basis;
}

}  // namespace pullsheet::plan
