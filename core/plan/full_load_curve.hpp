// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>

#include "core/plan/load_line.hpp"

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

/// The engine at full load at a speed, rad/s.
///
/// The band: the effects of each uncertainty in quadrature (JCGM 100:2008, first order). Those of the turbine
/// are effects on the surplus of its power, which move the pressure that it gives.
CurvePoint full_load(const BoostedEngine& engine, double speed, const CurveUncertainty& uncertainty = {});

/// The points of a curve one after the other: each search begins where that at the last speed ended. It
/// refers to the engine, which must outlive it.
class FullLoadCurve {
  public:
    explicit FullLoadCurve(const BoostedEngine& engine, const CurveUncertainty& uncertainty = {})
        : engine_(engine), uncertainty_(uncertainty) {}

    /// As full_load.
    CurvePoint at(double speed);

  private:
    friend class FullLoadSearch;
    const BoostedEngine& engine_;
    CurveUncertainty uncertainty_;
    double line_speed_ = 0.0;           // rad/s, at which the line was made
    double limit_ = 0.0;                // Pa, of the engine there
    BoostedSpeed::Near near_{};         // that limit
    std::unique_ptr<BoostedSpeed> at_;  // what the line refers to
    std::optional<LoadLine> line_;
};

}  // namespace pullsheet::plan
