// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "core/error.hpp"

namespace pullsheet::injection {

/// Returns a count that lies in `allowed` and is a whole number; throws InvalidArgument otherwise.
inline double require_whole(const char* parameter, double value, Interval allowed) {
    require(parameter, value, allowed);
    if (value != std::floor(value))
        throw InvalidArgument(parameter, Reason::not_whole, {{value, Quantity::number}});
    return value;
}

}  // namespace pullsheet::injection
