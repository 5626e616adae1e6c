// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <ctime>

/// Bounds on time and memory, which are those of a release, in builds that are made to be watched: by
/// sanitizers, by counters for coverage, in a debugger.
namespace pullsheet::tests {

/// Whether this is such a build.
constexpr bool is_watched = PULLSHEET_SLOWED_DOWN > 1;

/// What may take `seconds` in a release, in this build.
constexpr double slowed_down(double seconds) {
    return seconds * PULLSHEET_SLOWED_DOWN;
}

/// How many of `count` points a sweep looks at in this build: a quarter of them where each takes so much
/// longer.
template <class Count>
constexpr Count fewer(Count count) {
    return is_watched ? (count + 3) / 4 : count;
}

/// The least number of answers of a sweep: in a release `count`; where a quarter of the points is looked at,
/// a quarter of it less two standard deviations, which chance may take.
inline double fewest(double count) {
    return is_watched ? count / 4.0 - std::sqrt(count) : count;
}

/// The time of the processor that this process has taken so far, in s (so that a busy machine does not
/// matter).
inline double processor_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

}  // namespace pullsheet::tests
