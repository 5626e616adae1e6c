// SPDX-License-Identifier: Apache-2.0
#include "core/boost/shaft.hpp"

// odeint uses unwrap_reference without including it.
#include <boost/numeric/odeint/util/unwrap_reference.hpp>
//
#include <array>
#include <boost/numeric/odeint/algebra/array_algebra.hpp>
#include <boost/numeric/odeint/stepper/dense_output_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <limits>

#include "core/solve.hpp"

namespace pullsheet::boost {

namespace {

constexpr Interval ratio_of_compression{1.0, std::numeric_limits<double>::infinity(), false, true};

double compression_exponent(Gas gas) {
    return (gas.heat_capacity_ratio - 1.0) / gas.heat_capacity_ratio;
}

/// Π^((κ−1)/κ) − 1.
double temperature_rise_share(double pressure_ratio, Gas gas) {
    return std::expm1(compression_exponent(gas) * std::log(pressure_ratio));
}

double ratio_of_rise(double share, Gas gas) {
    return std::exp(std::log1p(share) / compression_exponent(gas));
}

/// ψ/(2·c_p·T₁) over the square of the tip speed.
double head_per_square(double inlet_temperature, double head_coefficient, Gas gas) {
    require("inlet_temperature", inlet_temperature, positive);
    require("head_coefficient", head_coefficient, positive);
    return head_coefficient / (2.0 * gas.heat_capacity * inlet_temperature);
}

}  // namespace

double wheel_pressure_ratio(double wheel_diameter, double shaft_speed, double inlet_temperature,
                            double head_coefficient, Gas gas) {
    require("wheel_diameter", wheel_diameter, positive);
    const double tip = 0.5 * wheel_diameter * require("shaft_speed", shaft_speed, not_negative);
    return ratio_of_rise(tip * tip * head_per_square(inlet_temperature, head_coefficient, gas), gas);
}

double wheel_speed(double wheel_diameter, double pressure_ratio, double inlet_temperature,
                   double head_coefficient, Gas gas) {
    require("wheel_diameter", wheel_diameter, positive);
    const double rise =
        temperature_rise_share(require("pressure_ratio", pressure_ratio, ratio_of_compression), gas);
    return std::sqrt(rise / head_per_square(inlet_temperature, head_coefficient, gas)) /
           (0.5 * wheel_diameter);
}

double pressure_ratio_by_similarity(double pressure_ratio, double speed_factor, Gas gas) {
    require("speed_factor", speed_factor, not_negative);
    const double rise =
        temperature_rise_share(require("pressure_ratio", pressure_ratio, ratio_of_compression), gas);
    return ratio_of_rise(rise * speed_factor * speed_factor, gas);
}

std::vector<ShaftMoment> spin(const ShaftDrive& drive) {
    require("inertia", drive.inertia, positive);
    require("start_speed", drive.start_speed, positive);
    require("longest", drive.longest, positive);
    namespace odeint = ::boost::numeric::odeint;
    using Energy = std::array<double, 1>;
    using Stepper = odeint::runge_kutta_dopri5<Energy, double, Energy, double, odeint::array_algebra>;
    constexpr double tolerance = 1e-12;
    constexpr int most_steps = 20000;

    const auto speed_of = [&](double energy) {
        return energy <= 0.0 ? 0.0 : std::sqrt(2.0 * energy / drive.inertia);
    };
    const auto gain = [&](const Energy& energy, Energy& rate, double time) {
        rate[0] = drive.surplus(time, speed_of(energy[0]));
        if (energy[0] <= 0.0 && rate[0] < 0.0) rate[0] = 0.0;
    };
    std::vector<ShaftMoment> moments{{0.0, drive.start_speed}};
    if (drive.reached(0.0, drive.start_speed) >= 0.0) return moments;

    const double start = 0.5 * drive.inertia * drive.start_speed * drive.start_speed;
    auto stepper = odeint::make_dense_output(tolerance * start, tolerance, Stepper());
    stepper.initialize(Energy{start}, 0.0, 1e-3 * drive.longest);
    const auto speed_at = [&](double time) {
        Energy energy{};
        stepper.calc_state(time, energy);
        return speed_of(energy[0]);
    };
    for (int step = 0; step < most_steps; ++step) {
        const auto [from, to] = stepper.do_step(gain);
        const double end = std::fmin(to, drive.longest);
        const double speed = speed_at(end);
        if (!std::isfinite(speed)) break;
        if (drive.reached(end, speed) >= 0.0) {
            const double time = root_between([&](double t) { return drive.reached(t, speed_at(t)); }, from,
                                             end, Reason::integration_failed);
            moments.push_back({time, speed_at(time)});
            return moments;
        }
        moments.push_back({end, speed});
        if (to >= drive.longest) return moments;
    }
    throw NoSolution(Reason::integration_failed, {{static_cast<double>(most_steps), Quantity::count}});
}

}  // namespace pullsheet::boost
