// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/boost/compressor_map.hpp"
#include "core/constants.hpp"

namespace pullsheet::boost {

/// A compressor map made up for tests and examples: INVENTED, no compressor has these figures. Reference 25
/// °C and 100 kPa. `scale` multiplies the flows.
inline std::vector<MapPoint> invented_map(double scale = 1.0) {
    constexpr double rpm = pi / 30.0;
    const std::vector<MapPoint> points = {
        {60e3 * rpm, 0.080, 1.330, 0.640},  {60e3 * rpm, 0.140, 1.325, 0.710},
        {60e3 * rpm, 0.200, 1.290, 0.730},  {60e3 * rpm, 0.260, 1.210, 0.690},
        {60e3 * rpm, 0.310, 1.080, 0.520},  {80e3 * rpm, 0.130, 1.640, 0.650},
        {80e3 * rpm, 0.200, 1.645, 0.720},  {80e3 * rpm, 0.280, 1.590, 0.755},
        {80e3 * rpm, 0.360, 1.450, 0.705},  {80e3 * rpm, 0.420, 1.210, 0.530},
        {100e3 * rpm, 0.200, 2.080, 0.660}, {100e3 * rpm, 0.280, 2.090, 0.725},
        {100e3 * rpm, 0.370, 2.010, 0.765}, {100e3 * rpm, 0.460, 1.800, 0.715},
        {100e3 * rpm, 0.520, 1.430, 0.540}, {120e3 * rpm, 0.290, 2.640, 0.660},
        {120e3 * rpm, 0.380, 2.650, 0.725}, {120e3 * rpm, 0.470, 2.550, 0.760},
        {120e3 * rpm, 0.560, 2.270, 0.710}, {120e3 * rpm, 0.610, 1.750, 0.540},
        {135e3 * rpm, 0.370, 3.160, 0.650}, {135e3 * rpm, 0.460, 3.160, 0.710},
        {135e3 * rpm, 0.550, 3.030, 0.740}, {135e3 * rpm, 0.630, 2.680, 0.690},
        {135e3 * rpm, 0.670, 2.050, 0.530}, {150e3 * rpm, 0.460, 3.760, 0.620},
        {150e3 * rpm, 0.540, 3.740, 0.670}, {150e3 * rpm, 0.620, 3.570, 0.695},
        {150e3 * rpm, 0.685, 3.140, 0.650}, {150e3 * rpm, 0.715, 2.400, 0.500},
    };
    std::vector<MapPoint> scaled = points;
    for (MapPoint& p : scaled) p.corrected_flow *= scale;
    return scaled;
}

}  // namespace pullsheet::boost
