// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <vector>

#include "core/boost/compressor.hpp"

/// The shaft of a turbocharger: what a wheel gives at a speed where there is no map, and how the shaft
/// gathers speed.
namespace pullsheet::boost {

/// Head coefficient of a radial compressor wheel, c_p·T₁·(Π^((κ−1)/κ) − 1) over half the square of the tip
/// speed. Eriksson & Nielsen, Modeling and Control of Engines and Drivelines, ch. 8 (from memory).
inline constexpr double usual_head_coefficient = 1.05;

/// Pressure ratio that a compressor wheel gives at a speed, where there is no map:
/// (1 + ψ·(ω·D/2)²/(2·c_p·T₁))^(κ/(κ−1)). `wheel_diameter` m > 0, `shaft_speed` rad/s >= 0,
/// `inlet_temperature` K > 0, `head_coefficient` ψ > 0. Throws InvalidArgument. Eriksson & Nielsen, ch. 8.
double wheel_pressure_ratio(double wheel_diameter, double shaft_speed, double inlet_temperature,
                            double head_coefficient = usual_head_coefficient, Gas gas = compressed_air);

/// The inverse: rad/s at which the wheel gives `pressure_ratio` >= 1.
double wheel_speed(double wheel_diameter, double pressure_ratio, double inlet_temperature,
                   double head_coefficient = usual_head_coefficient, Gas gas = compressed_air);

/// Pressure ratio at `speed_factor` times the speed at which it was `pressure_ratio` (>= 1), in the same
/// triangles of velocity: Π^((κ−1)/κ) − 1 goes with the square of the speed, the flow with the speed itself.
/// `speed_factor` >= 0. Throws InvalidArgument. Dixon & Hall 2014, ch. 2.
double pressure_ratio_by_similarity(double pressure_ratio, double speed_factor, Gas gas = compressed_air);

/// A moment of a shaft.
struct ShaftMoment {
    double time;   ///< s
    double speed;  ///< rad/s
};

/// How a shaft is driven.
struct ShaftDrive {
    /// W, what the turbine gives more than the compressor takes up, at a time (s) and a shaft speed (rad/s).
    std::function<double(double, double)> surplus;
    /// Rises through zero where the end is reached, over time (s) and shaft speed (rad/s).
    std::function<double(double, double)> reached;
    double inertia;      ///< kg·m², > 0, both wheels and the shaft
    double start_speed;  ///< rad/s, > 0
    double longest;      ///< s, > 0, after which it is given up
};

/// Moments of a shaft from its start, at time 0, to the one at which the end is reached: J·dω/dt = (P_t −
/// P_c)/ω, integrated as the kinetic energy ½·J·ω² with a Runge–Kutta method of order 5 (Dormand & Prince,
/// Boost.Odeint), 1e-12 of the energy a step; the last moment by TOMS 748 within its step. Where the end is
/// not reached the moments run up to `longest`, the last one at it: compare `reached`. A shaft that comes to
/// rest stays there. At most 20000 steps of seven evaluations. Throws InvalidArgument,
/// NoSolution(integration_failed).
std::vector<ShaftMoment> spin(const ShaftDrive& drive);

}  // namespace pullsheet::boost
