// SPDX-License-Identifier: Apache-2.0
#include "core/plan/boost_response.hpp"

#include <algorithm>
#include <cmath>

#include "core/boost/shaft.hpp"

namespace pullsheet::plan {

namespace {

constexpr double longest = 60.0;  // s
constexpr int steps = 20;         // of the moments, equal in time

/// The engine over the speed of one shaft, the wastegate shut.
struct ShaftCurves {
    statistics::MonotoneCurve surplus;   // W, of one shaft
    statistics::MonotoneCurve torque;    // N·m
    statistics::MonotoneCurve pressure;  // Pa
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
    const boost::ShaftDrive drive{[&](double, double shaft) { return curves.surplus.trial(shaft); },
                                  [&](double, double shaft) { return torque(shaft) - wanted; },
                                  *turbine.inertia, curves.torque.first(), longest};
    std::vector<double> times, shafts;
    for (const boost::ShaftMoment& moment : boost::spin(drive)) {
        times.push_back(moment.time);
        shafts.push_back(moment.speed);
    }
    const auto add = [&](double time, double shaft) {
        response.moments.push_back(
            {time, shaft, curves.pressure.trial(std::fmin(shaft, fastest)), torque(shaft)});
    };
    if (times.size() > 1) {
        const statistics::MonotoneCurve over_time(times, shafts);
        for (int i = 0; i < steps; ++i) {
            const double time = times.back() * i / steps;
            add(time, over_time.trial(time));
        }
    }
    add(times.back(), shafts.back());
    if (response.moments.back().torque < wanted * (1.0 - 1e-6))
        throw NoSolution(Reason::boost_not_reached,
                         {{wanted, Quantity::torque}, {response.moments.back().torque, Quantity::torque}});
    return response;
}

}  // namespace pullsheet::plan
