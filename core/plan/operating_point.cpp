// SPDX-License-Identifier: Apache-2.0
#include "core/plan/operating_point.hpp"

#include "core/plan/chain.hpp"

namespace pullsheet::plan {

OperatingPoint operating_point(const Engine& engine, const fuel::Fuel& fuel, double power, double speed,
                               const Weather& weather, const Parts& parts) {
    return Chain(engine, fuel, speed, weather, parts).strict(power);
}

}  // namespace pullsheet::plan
