// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet::cycle {

/// One crank angle of a cycle, one cylinder.
struct TracePoint {
    double angle = 0.0;                 ///< rad after top dead centre of the burn
    double volume = 0.0;                ///< m³
    double pressure = 0.0;              ///< Pa
    double unburned_temperature = 0.0;  ///< K
    double burned_temperature = 0.0;    ///< K; not a number before the burn starts
    double burned_share = 0.0;          ///< burned mass / total mass, 0…1
    double work = 0.0;                  ///< done on the piston since the first point, J
    double heat_loss = 0.0;             ///< to the walls since the first point, J
    double knock_integral = 0.0;        ///< since the first point
};

}  // namespace pullsheet::cycle
