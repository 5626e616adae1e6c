// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "tests/cycle/invented_engine.hpp"

/// A second invented engine, four cylinders of 84 mm × 90 mm with direct injection, at full load.
namespace pullsheet::cycle {

inline Cylinder invented_boosted_engine() {
    Cylinder e;
    e.crank = {0.084, 0.090, 0.148, 9.8};
    e.cylinders = 4;
    e.volumetric_efficiency = 0.98;
    e.burn_duration = 52.0 * degree;
    e.probe_reads_low_by = 0.0;
    return e;
}

/// Exhaust pressure equals manifold pressure.
inline CyclePoint full_load(double speed, double pressure) {
    CyclePoint p;
    p.angular_speed = speed * rpm;
    p.manifold_pressure = pressure;
    p.manifold_temperature = 318.15;
    p.exhaust_pressure = pressure;
    p.ambient_pressure = 100e3;
    p.lambda = 0.85;
    return p;
}

inline fuel::Fuel premium(double ethanol = 0.0) {
    fuel::Fuel f = gasoline(98.0, ethanol);
    f.gasoline.mon = 88.0;
    return f;
}

}  // namespace pullsheet::cycle
