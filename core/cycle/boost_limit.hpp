// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <limits>

#include "core/cycle/knock.hpp"

/// The full load of an engine at one speed: the boost and the spark of greatest torque that knock, peak
/// pressure, gas temperature and the latest half-burned angle allow.
namespace pullsheet::cycle {

/// What holds the boost back.
enum class BoostLimited { knock, peak_pressure, exhaust_temperature, manifold_pressure };

/// How far boost may go.
struct BoostBounds {
    double latest_half_burned = 35.0 * pi / 180.0;  ///< rad after top dead centre, 0 … 50°; beyond 40° torque
                                                    ///< gains nothing, so no later burn is looked for
    double lowest_manifold_pressure = 50e3;                                  ///< Pa
    double highest_manifold_pressure = 600e3;                                ///< Pa
    double highest_peak_pressure = std::numeric_limits<double>::infinity();  ///< Pa
    double highest_gas_temperature = 1323.15;  ///< K, as a probe before the turbine reads it
};

struct BoostLimit {
    double manifold_pressure;  ///< Pa, absolute
    double spark_angle;        ///< rad before top dead centre
    BoostLimited limited_by;   ///< exhaust_temperature where it keeps the burn earlier than the latest angle
    BoostLimited pressure_limited_by;  ///< knock, peak_pressure or manifold_pressure: what keeps the boost
    CycleResult result;                ///< the cycle there
};

/// The operating point at a manifold pressure, Pa, with gas of a temperature, K, before the turbine: charge
/// temperature and exhaust pressure may follow from both. The spark is not used.
using PointAt = std::function<CyclePoint(double manifold_pressure, double gas_temperature)>;

/// Where the search begins: a place near the answer saves cycles.
struct BoostStart {
    double manifold_pressure = 0.0;          ///< Pa; 0: not known
    double half_burned = 30.0 * pi / 180.0;  ///< rad after top dead centre
    double gas_temperature = 1273.15;        ///< K
    double coarser = 1.0;                    ///< than usual may the end be, by this factor
};

/// The greatest torque over manifold pressure and half-burned angle under all bounds: knock integral at most
/// 1, peak pressure, half-burned angle, gas temperature. Along the line of knock (or peak pressure) torque
/// rises with a later burn, so it is the latest burn allowed, on the lower pressure of knock and peak. A
/// bound on the gas temperature moves the spark before it refuses. Both unknowns together by Broyden's method
/// (Broyden, Mathematics of Computation 19 (1965) 577); where that does not settle, by bisection on the angle
/// outside and on the logarithm of pressure inside. Ends at 4e-5 of the knock integral and 0.03 K. If no
/// bound is active up to the highest pressure, the spark is that of spark_limit there.
///
/// Throws NoSolution(knocks_at_any_pressure) if it knocks at the lowest pressure even with the latest burn,
/// NoSolution(bound_broken_at_any_pressure) if the peak pressure is passed there, NoSolution(too_hot) if the
/// gas temperature asks for a burn earlier than that of best torque; NoSolution(no_boost_limit) if the
/// bisection does not settle. Four to eight cycles as a rule, at most 900.
BoostLimit boost_limit(const Cycles& cycles, const PointAt& at, const BoostBounds& bounds = {},
                       const BoostStart& start = {});
/// The same where charge temperature and exhaust pressure rule do not change with the boost: `point` at other
/// manifold pressures. The search begins at `point.manifold_pressure`, if that is above 0.
BoostLimit boost_limit(const Cycles& cycles, const CyclePoint& point, const BoostBounds& bounds = {});
BoostLimit boost_limit(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                       const BoostBounds& bounds = {});

}  // namespace pullsheet::cycle
