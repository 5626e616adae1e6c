// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "core/plan/stage_limit.hpp"

namespace pullsheet::plan {

/// What the shop measured at one engine speed.
struct MeasuredPoint {
    double speed = 0.0;                 ///< rad/s
    double manifold_pressure = 0.0;     ///< Pa, absolute
    double manifold_temperature = 0.0;  ///< K
    double lambda = 0.85;               ///< ratio
    double spark_angle = 0.0;           ///< rad before top dead centre
    double power = 0.0;                 ///< W at the crank
    bool knock_began = true;            ///< at that spark; false: the shop kept a reserve
    /// On the state of the manifold, as it is at the exhaust pressure of the point. Or the air flow, kg/s,
    /// with its moisture, from which it follows.
    std::optional<double> volumetric_efficiency{};
    std::optional<double> air_flow{};
    std::optional<double> half_burned_angle{};  ///< rad after top dead centre
    std::optional<double> gas_temperature{};    ///< K, as a probe before the turbine reads it
};

/// What the shop measured on one stage and fuel on its own rollers: one point or a curve, in any order.
struct MeasuredMap {
    Parts parts{};
    OfferedFuel fuel{};
    std::vector<MeasuredPoint> points{};
    /// The last of the points is where the power of the pull peaked.
    bool has_power_peak = false;
    double power_uncertainty = 0.03;  ///< relative standard uncertainty of power: common practice
};

struct CalibrationOrigin {
    StageBase base;
    std::vector<MeasuredMap> maps;
};

/// The engine of `base` calibrated to what was measured. `base` holds the engine as it is assumed, not one
/// that was calibrated before: with other assumptions it is called again with another base. Without maps the
/// engine of `base`.
///
/// The first map with knock (without any the first) sets octane offset, sensitivity of the calibration fuel
/// and latest burn; each map its own octane offset and efficiency factor over speed, burn duration where the
/// half-burned angle was measured, volumetric efficiency where that or air flow was: measured at its exhaust
/// pressure, it is divided by cycle::filling_factor. The measured lambda and charge temperature hold on that
/// stage and fuel. So the knock line passes each measured point, and the curve is given back.
///
/// - Latest burn: at measured speeds the half-burned angle that the shop ran, linear between; at those of
///   `speeds`, rad/s, outside, the angle at which the measured stage and fuel reach the gas temperature of
///   the nearest measured point, at most CalibratedEngine::latest_half_burned. Where a point ran later, that
///   bound is as late.
/// - Gas temperature: a measured one scales the heat transfer of the exhaust within 0.5 … 2, one factor for
///   all points; what is left on average goes to the probe.
/// - A point where knock did not begin tells an octane offset that is at least as high: it counts where the
///   points with knock would give less, or where there are none.
/// - Another fuel on which knock began: K of the octane index, if its sensitivity differs by 3 or more from
///   that of the first map (least squares over all such points, within −1.5 … 1).
/// - Another fuel without knock: its highest computed peak pressure is the one that the engine bears. Else
///   that is taken as 1.2 times the highest one measured, an assumption.
///
/// A point that cannot be used is left out with a warning; where none of the first map can, what it threw is
/// thrown: what cycle::calibrate throws. A measured spark at which knock began knocks by definition: no
/// warning says so. `warns`: compares each spark with that of best torque, some 18 cycles a point. Without,
/// three cycles a point and a limit of the engine for each speed outside.
CalibratedEngine calibrated(const StageBase& base, std::span<const MeasuredMap> maps,
                            std::span<const double> speeds, bool warns = true);

/// A measured point as the calibrated engine predicts it.
struct GivenBack {
    std::size_t map, point;
    cycle::Cylinder cylinder;             ///< at the speed of the point
    StageLimit limit{};                   ///< of its stage and fuel
    std::optional<Warning> impossible{};  ///< why there is no limit
};

/// Every measured point of `maps` as `base`, calibrated to them, predicts it, map by map: the measured power
/// within some 1e-3 unless knock did not begin there, or parts or stated limits hold the engine below what
/// was measured.
std::vector<GivenBack> given_back(const StageBase& base, std::span<const MeasuredMap> maps);

}  // namespace pullsheet::plan
