// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "core/plan/stage_limit.hpp"

namespace pullsheet::plan {

/// What the shop measured on one stage and fuel on its own rollers: the anchor of all that is predicted.
struct MeasuredMap {
    double speed = 0.0;                 ///< rad/s
    double manifold_pressure = 0.0;     ///< Pa, absolute
    double manifold_temperature = 0.0;  ///< K
    double lambda = 0.85;               ///< ratio
    double spark_angle = 0.0;           ///< rad before top dead centre at which knock began
    double power = 0.0;                 ///< W at the crank
    double power_uncertainty = 0.03;    ///< relative standard uncertainty of that power: common practice
};

/// The engine of `base` calibrated to a map measured with the parts of a stage on a fuel: octane offset,
/// efficiency factor and the sensitivity of that fuel. The peak pressure that it bears is taken as 1.2 times
/// that of the measured point; the gas temperature not below that of the measured point; the latest
/// half-burned angle over engine speed is that of the measured stage and fuel at the gas temperature of the
/// measured point, at most the one assumed, for the measured speed and for `speeds`, rad/s. A measured spark
/// at which knock began knocks by definition: no warning says so. Throws what cycle::calibrate throws.
CalibratedEngine calibrated(const StageBase& base, const MeasuredMap& measured, const Parts& parts,
                            const OfferedFuel& fuel, std::span<const double> speeds);

}  // namespace pullsheet::plan
