// SPDX-License-Identifier: Apache-2.0
#include "core/plan/boost_response.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>

#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

constexpr double longest = 60.0;  // s
constexpr int steps = 20;         // of the moments, equal in shaft speed

/// The engine over the speed of one shaft, the wastegate shut.
struct ShaftCurves {
    statistics::MonotoneCurve surplus;   // W, of one shaft
    statistics::MonotoneCurve torque;    // N·m
    statistics::MonotoneCurve pressure;  // Pa
};

/// The time in which a surplus of power over shaft speed accelerates the shaft: ∫ J·ω/P dω, by Gauss's method
/// with 15 points in each piece of the curve.
class SpinTime {
  public:
    SpinTime(const statistics::MonotoneCurve& surplus, double inertia)
        : surplus_(surplus), inertia_(inertia) {}

    /// s; none where there is no surplus on the way.
    std::optional<double> between(double from, double to) const {
        double time = 0.0;
        double left = from;
        while (left < to) {
            const auto next = std::ranges::upper_bound(surplus_.x(), left);
            const double right = next == surplus_.x().end() ? to : std::fmin(*next, to);
            if (!(surplus_.trial(left) > 0.0) || !(surplus_.trial(right) > 0.0)) return std::nullopt;
            time += ::boost::math::quadrature::gauss<double, 15>::integrate(
                [&](double shaft) { return inertia_ * shaft / surplus_.trial(shaft); }, left, right);
            left = right;
        }
        return time;
    }

  private:
    const statistics::MonotoneCurve& surplus_;
    double inertia_;
};

ShaftCurves shaft_curves(const Match& match, const boost::Turbine& turbine, double speed, double low,
                         double high) {
    constexpr int nodes = 24;
    std::vector<double> shafts, surplus, torques, pressures;
    for (int i = 0; i < nodes; ++i) {
        // Closer at both ends: there the balance of powers changes fastest.
        const double x = 0.5 - 0.5 * std::cos(pi * i / (nodes - 1.0));
        const double pressure = low * std::pow(high / low, x);
        const Match::Shut at = match.shut(speed, pressure);
        if (!at.breath.shaft_speed) throw InvalidArgument("wheel_diameter", Reason::shaft_speed_unknown);
        if (!shafts.empty() && !(*at.breath.shaft_speed > shafts.back())) continue;
        shafts.push_back(*at.breath.shaft_speed);
        surplus.push_back(at.surplus() / turbine.count);
        torques.push_back(at.breath.torque);
        pressures.push_back(pressure);
    }
    return {{shafts, surplus}, {shafts, torques}, {shafts, pressures}};
}

}  // namespace

BoostResponse boost_response(const BoostedEngine& engine, double speed, double start_pressure, double share) {
    require("start_pressure", start_pressure, positive);
    require("share", share, {0.0, 1.0, true, false});
    const boost::Turbine& turbine = engine.turbine();
    if (!turbine.inertia) throw InvalidArgument("inertia", Reason::inertia_needed);
    BoostResponse response{full_load(engine, speed), {}};
    const double target = response.full_load.manifold_pressure;
    const double wanted = share * response.full_load.load.cycle.torque;
    const BoostedSpeed at(engine, speed);
    constexpr double begins = 1.002;  // of the natural filling: the compressor has something to do
    const double low = std::clamp(start_pressure, begins * at.natural_filling(),
                                  std::fmax(begins * at.natural_filling(), target));
    if (!(target > 1.001 * low)) {
        // Nothing has to build up.
        response.moments.push_back(
            {0.0, response.full_load.load.point.shaft_speed, target, response.full_load.load.cycle.torque});
        return response;
    }
    const LoadLine line(at, engine, at.natural_filling(), target,
                        {response.full_load.load.cycle.half_burned_angle,
                         response.full_load.load.cycle.gas_temperature, 0.0});
    const ShaftCurves curves = shaft_curves(Match(line, turbine), turbine, speed, low, target);
    const double fastest = curves.torque.last();
    // Beyond the pressure that is held the torque is that of full load.
    const auto torque = [&](double shaft) {
        return curves.torque.trial(std::fmin(shaft, fastest)) +
               (shaft >= fastest ? response.full_load.load.cycle.torque - curves.torque.y().back() : 0.0);
    };
    const double slowest = curves.torque.first();
    const double end = torque(slowest) >= wanted ? slowest
                       : curves.torque.y().back() < wanted
                           ? fastest
                           : root_between([&](double shaft) { return torque(shaft) - wanted; }, slowest,
                                          fastest, Reason::boost_not_reached);
    const SpinTime spin_time(curves.surplus, *turbine.inertia);
    for (int i = 0; i <= steps; ++i) {
        const double shaft = std::lerp(slowest, end, i / double{steps});
        const auto time = spin_time.between(slowest, shaft);
        if (!time || *time > longest)
            throw NoSolution(Reason::boost_not_reached,
                             {{wanted, Quantity::torque},
                              {response.moments.empty() ? torque(slowest) : response.moments.back().torque,
                               Quantity::torque}});
        response.moments.push_back({*time, shaft, curves.pressure.trial(shaft), torque(shaft)});
    }
    return response;
}

}  // namespace pullsheet::plan
