// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/cycle/cycle.hpp"
#include "tests/quantities.hpp"

/// An engine, an operating point and fuels that are invented, for tests and benchmarks of the cycle.
namespace pullsheet::cycle {

using tests::degree;
using tests::rpm;

/// Five cylinders, 2.48 litres, compression ratio 10.5.
inline Cylinder invented_engine() {
    Cylinder e;
    e.crank = {0.0825, 0.0928, 0.144, 10.5};
    e.cylinders = 5;
    return e;
}

inline CyclePoint boosted_point() {
    CyclePoint p;
    p.angular_speed = 5000.0 * rpm;
    p.manifold_pressure = 220e3;
    p.manifold_temperature = 318.15;
    p.lambda = 0.82;
    p.spark_angle = 10.0 * degree;
    return p;
}

inline fuel::Fuel gasoline(double ron, double ethanol = 0.0) {
    fuel::Fuel f;
    f.gasoline.ron = ron;
    f.ethanol_share = ethanol;
    return f;
}

}  // namespace pullsheet::cycle
