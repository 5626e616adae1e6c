// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "core/plan/boosted_engine.hpp"
#include "core/statistics/monotone_curve.hpp"

namespace pullsheet::plan {

/// The gas temperature of an engine at one speed over the manifold pressure with the wastegate shut, out of
/// loads at some pressures; torque likewise. Between the pressures a monotone curve over the logarithm of
/// pressure. It refers to the speed of the engine, which must outlive it.
class LoadLine final : public MatchedEngine {
  public:
    /// `lowest` and `highest` manifold pressure, Pa. `near` as for BoostedSpeed::shut: that of the highest
    /// pressure.
    LoadLine(const BoostedSpeed& speed, const BoostedEngine& engine, double lowest, double highest,
             BoostedSpeed::Near near);

    /// A line with the values of another speed nearby.
    LoadLine(const BoostedSpeed& speed, const BoostedEngine& engine, const LoadLine& nearby)
        : speed_(speed), engine_(engine), best_torque_(nearby.best_torque_), nodes_(nearby.nodes_) {}

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

/// The share of surplus (Match::Shut::surplus_share) over the manifold pressure at one speed: a monotone
/// curve over the logarithm of pressure through fifteen values.
class SurplusCurve {
  public:
    /// From the `lowest` to the `highest` manifold pressure, Pa.
    SurplusCurve(const Match& match, double speed, double lowest, double highest);

    /// The first pressure at which the share plus `more` falls through zero; none where it does not.
    std::optional<double> first_fall(double more = 0.0) const;
    /// Whether the share comes so near to zero before the first fall that it may fall between two values.
    bool dips() const;
    /// Where the share is least: a pressure at which it was computed.
    double least_at() const;
    double least() const;  ///< the share there

  private:
    statistics::CubicPiece piece(std::size_t k) const;
    std::vector<double> logs_, shares_;
};

}  // namespace pullsheet::plan
