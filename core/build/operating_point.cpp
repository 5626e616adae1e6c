// SPDX-License-Identifier: Apache-2.0
#include "core/build/operating_point.hpp"

#include "core/build/chain.hpp"

namespace pullsheet::build {

OperatingPoint operating_point(const Engine& engine, const fuel::Fuel& fuel, double power, double speed,
                               const Weather& weather, const Parts& parts) {
    return Chain(engine, fuel, speed, weather, parts).strict(power);
}

}  // namespace pullsheet::build
