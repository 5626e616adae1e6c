// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "core/plan/boosted_engine.hpp"

/// The torque curve at full load of an engine with a turbine, and what limits it at each speed.
namespace pullsheet::plan {

/// The engine at full load at one speed.
struct CurvePoint {
    double speed;              ///< rad/s
    double manifold_pressure;  ///< Pa
    Held held;
    LimitedBy limited_by{};  ///< where a ceiling or the throttle holds
    bool creeps = false;     ///< the wastegate, fully open, cannot hold the lowest ceiling
    BoostedLoad load;
    double torque_low;   ///< N·m, two standard uncertainties below
    double torque_high;  ///< N·m, two above
};

/// Standard uncertainties of a full-load curve beside those of the match. Common practice.
struct CurveUncertainty {
    double efficiency = 0.02;     ///< relative, of the cycle
    double octane = 1.5;          ///< octane numbers
    double peak_pressure = 0.08;  ///< relative, of one that is assumed
    double part_rating = 0.03;    ///< relative
    MatchUncertainty match{};
};

/// The gas temperature of an engine at one speed over the manifold pressure with the wastegate shut, out of
/// loads at some pressures; torque likewise. Between the pressures a monotone curve over the logarithm of
/// pressure. It refers to the speed of the engine, which must outlive it.
class LoadLine final : public MatchedEngine {
  public:
    /// `lowest` and `highest` manifold pressure, Pa. `near` as for BoostedSpeed::shut: that of the highest
    /// pressure.
    LoadLine(const BoostedSpeed& speed, const BoostedEngine& engine, double lowest, double highest,
             BoostedSpeed::Near near);

    /// The load at a pressure itself, which becomes one of the line.
    BoostedLoad exact(double manifold_pressure);

    Breath breathe(double speed, double manifold_pressure, double exhaust_pressure) const override;
    double natural_filling(double speed) const override;
    double outlet_pressure(const boost::GasStream& gas, double turbine_power) const override;

    /// A state near a pressure, to begin a search with.
    BoostedSpeed::Near near(double manifold_pressure) const;

  private:
    struct Node {
        double log_pressure;
        double gas_temperature;   // K
        double torque_share;      // N·m for each kg/s of air
        double exhaust_pressure;  // Pa
        double half_burned;       // rad
    };
    double at(double manifold_pressure, double Node::*member) const;

    const BoostedSpeed& speed_;
    const BoostedEngine& engine_;
    double best_torque_ = 0.0;
    std::vector<Node> nodes_;  // by pressure
};

/// The points of the curve at `speeds`, rad/s. What cannot be solved at a speed is thrown by it alone.
///
/// The band: the effects of each uncertainty in quadrature (JCGM 100:2008, first order). Those of the turbine
/// are effects on the surplus of its power, which move the pressure that it gives.
CurvePoint full_load(const BoostedEngine& engine, double speed, const CurveUncertainty& uncertainty = {});

}  // namespace pullsheet::plan
