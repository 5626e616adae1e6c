// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <atomic>

/// How much work the solvers of core/plan and core/road have done, seen from outside: the linker leads calls
/// from room to room by here (needs.cmake).
namespace pullsheet::counts {

/// Corrected flows: one each time the chain is solved.
inline std::atomic<int> chains{0};
/// Temperatures after the compressor: one each time the air path is computed.
inline std::atomic<int> air_paths{0};

/// Curves multiplied by a factor: one each time a torque curve is scaled.
inline std::atomic<int> scaled_curves{0};

/// Those since it was asked last.
inline int taken(std::atomic<int>& counter) {
    return counter.exchange(0);
}

}  // namespace pullsheet::counts
