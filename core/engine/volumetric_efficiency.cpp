// SPDX-License-Identifier: Apache-2.0
#include "core/engine/volumetric_efficiency.hpp"

#include <utility>

#include "core/engine/air_flow.hpp"
#include "core/error.hpp"

namespace pullsheet::engine {

VolumetricEfficiency::VolumetricEfficiency(std::vector<double> speeds, std::vector<double> values)
    : curve_(std::in_place, std::move(speeds), std::move(values), "speeds", "volumetric_efficiency") {
    for (double value : curve_->y()) require("volumetric_efficiency", value, possible::volumetric_efficiency);
}

double VolumetricEfficiency::at(double speed) const {
    if (!curve_) return value_;
    // A speed that comes from a share of another may miss the end by rounding.
    constexpr double rounding = 1e-9;
    const double first = curve_->first(), last = curve_->last();
    if (!(speed >= first * (1.0 - rounding) && speed <= last * (1.0 + rounding)))
        throw NoData(Reason::volumetric_efficiency_ends, {{speed, Quantity::angular_speed},
                                                          {first, Quantity::angular_speed},
                                                          {last, Quantity::angular_speed}});
    return curve_->trial(speed);
}

}  // namespace pullsheet::engine
