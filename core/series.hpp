// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <span>

#include "core/error.hpp"

namespace pullsheet {

/// The checks of a series of numbers and of series that belong together.

/// Throws InvalidArgument(name, Reason::lengths_differ, {length, its length}) unless a series has the length
/// of the one it belongs to.
void require_length(const char* name, std::size_t length, std::span<const double> series);

/// Throws NoData(Reason::too_few_points, {points, needed}) for fewer points than needed.
void require_points(std::size_t points, std::size_t needed);

/// Throws InvalidArgument(name, number, allowed) for the first number outside `allowed` (also for NaN).
void require_all(const char* name, std::span<const double> series, Interval allowed);

/// Throws InvalidArgument(name) for a number that is not finite, and InvalidArgument(name,
/// Reason::not_increasing, {row counted from 1}) where the series does not rise strictly.
void require_ascending(const char* name, std::span<const double> series);

}  // namespace pullsheet
