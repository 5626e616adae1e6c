// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/plan/full_load_curve.hpp"

namespace pullsheet::plan {

/// How boost and torque build up at a constant engine speed after the throttle is opened.
struct BoostResponse {
    CurvePoint full_load;  ///< what is reached in the end
    std::vector<SpoolMoment>
        moments;  ///< from the opened throttle to the share of torque, 20 equal steps of shaft speed
};

/// The throttle is opened at `speed`, rad/s; the shaft turns as in balance at `start_pressure`, Pa, with the
/// wastegate shut, or as where the compressor just begins to compress. Then J·dω/dt = (P_t − P_c)/ω with the
/// wastegate shut, until the torque is `share` of that at full load; manifold and pipes fill at once. Power
/// and torque over shaft speed are monotone curves through 24 balances of pressures and flows.
///
/// Throws InvalidArgument(inertia) with Reason::inertia_needed, InvalidArgument(wheel_diameter) with
/// Reason::shaft_speed_unknown, NoSolution(boost_not_reached) (details: torque wanted, highest torque) where
/// it takes more than a minute, and as full_load does.
BoostResponse boost_response(const BoostedEngine& engine, double speed, double start_pressure, double share);

}  // namespace pullsheet::plan
