// SPDX-License-Identifier: Apache-2.0
#include "core/error.hpp"

namespace pullsheet {

void refuse(const char* parameter, double value, double low, double high, bool low_open, bool high_open) {
    throw InvalidArgument(parameter, value, {low, high, low_open, high_open});
}

void refuse_fraction(const char* parameter, double value) {
    throw InvalidArgument(parameter, Reason::not_whole, {{value, Quantity::number}});
}

}  // namespace pullsheet
