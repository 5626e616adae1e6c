// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

namespace pullsheet::plan {

/// Price for each watt gained, in the currency of `price`; none where nothing is gained. `power` and
/// `power_before`, W: with the stage, and of what the customer has today.
inline std::optional<double> price_per_gain(double price, double power, double power_before) {
    const double gained = power - power_before;
    if (!(gained > 0.0)) return std::nullopt;
    return price / gained;
}

}  // namespace pullsheet::plan
