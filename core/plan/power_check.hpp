// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "core/fuel/fuel.hpp"
#include "core/road/acceleration.hpp"
#include "core/statistics/agreement.hpp"

namespace pullsheet::plan {

/// A value with its standard uncertainty (k = 1).
struct Reading {
    double value = 0.0;
    double uncertainty = 0.0;
};

/// The kinds of evidence for the power of an engine.
enum class Evidence { rollers, air_flow, injector_duty, road_time, trap_speed };

/// What was measured; at least two of them, under the same conditions and without correction to a standard.
/// A reading's own uncertainty is 0 or more.
struct PowerEvidence {
    std::optional<Reading> rollers;        ///< greatest crank power by the rollers, W
    std::optional<Reading> air_flow;       ///< at the greatest power, kg/s of dry air
    std::optional<Reading> injector_duty;  ///< at the greatest power, 0 … 1
    std::optional<Reading> road_time;      ///< s from `from` to `to`
    std::optional<Reading> trap_speed;  ///< m/s at the end of `distance` from rest, mean over the last 66 ft
    double from = 100.0 / 3.6;          ///< m/s
    double to = 200.0 / 3.6;            ///< m/s
    double distance = 402.336;          ///< m
};

/// What turns the evidence into power. The uncertainties are those of common practice where nothing better is
/// known.
struct PowerAssumptions {
    fuel::Fuel fuel{};
    Reading efficiency{0.30, 0.015};  ///< brake power / (fuel flow × lower heating value)
    Reading lambda{0.85, 0.01};
    double injectors = 0.0;                  ///< number of injectors, for injector_duty
    Reading injector_flow{};                 ///< of one injector held open at the pressure of the pull, m³/s
    double injector_speed = 0.0;             ///< engine speed at the duty, rad/s; needed with a dead time
    double dead_time = 0.0;                  ///< s
    std::optional<road::Vehicle> vehicle{};  ///< for road_time and trap_speed
    std::optional<road::TorqueCurve>
        curve{};  ///< shape of the torque curve, its height does not matter; likewise
    road::Surroundings weather{};
    road::RoadUncertainty road_uncertainty{};  ///< of the car and its surroundings
};

/// The share of the mass of the car, and so on, by which common practice trusts figures that nobody measured:
/// mass 1 %, drag area 5 %, rolling resistance 15 %, driveline efficiency 0.03, air density 0.5 %, wind 1
/// m/s.
road::RoadUncertainty usual_uncertainty(const road::Vehicle& vehicle, const road::Surroundings& weather);

/// One piece of evidence turned into crank power.
struct PowerMeasurement {
    Evidence evidence;
    double power;        ///< greatest crank power, W
    double uncertainty;  ///< standard uncertainty, W
};

/// All of them in one statement.
struct PowerCheck {
    std::vector<PowerMeasurement> measurements;  ///< in the order of Evidence
    /// Weighted mean in W, chi-squared and who stands out, weighed by relative deviations. What two
    /// measurements share (the efficiency; the mass, the drag …) makes them lean the same way: it is counted
    /// as their common error, so that two of a kind do not outvote a third.
    statistics::Agreement agreement;
};

/// Turns each piece of evidence into the greatest crank power, W, with its standard uncertainty and asks
/// whether they agree at `confidence`. Air flow: engine::power_from_air. Injector duty:
/// injection::injector_power of the duty less the share of the dead time. Road time and trap speed:
/// road::power_for_time and road::power_for_trap_speed. Uncertainty by GUM (JCGM 100:2008), first order with
/// half the change over ± one standard uncertainty (5.1.3), covariances from the inputs in common (5.2.2).
/// Throws InvalidArgument with the name of the figure; NoData(too_few_points) below two values;
/// NoData(evidence_needs_vehicle) if road evidence comes without vehicle and curve; and what the functions
/// named above throw.
PowerCheck power_check(const PowerEvidence& evidence, const PowerAssumptions& assumptions,
                       double confidence = 0.95);

}  // namespace pullsheet::plan
