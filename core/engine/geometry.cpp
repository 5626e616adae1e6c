// SPDX-License-Identifier: Apache-2.0
#include "core/engine/geometry.hpp"

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::engine {

namespace {

double disc(double diameter, double height) {
    return 0.25 * pi * diameter * diameter * height;
}

}  // namespace

double displacement(double bore, double stroke, double cylinders) {
    require("bore", bore, positive);
    require("stroke", stroke, positive);
    return disc(bore, stroke) * require_whole("cylinders", cylinders, possible::cylinders);
}

double compression_ratio(double bore, double stroke, double chamber_volume, double gasket_bore,
                         double gasket_thickness, double deck_clearance, double piston_volume) {
    require("bore", bore, positive);
    require("stroke", stroke, positive);
    require("chamber_volume", chamber_volume, not_negative);
    require("gasket_bore", gasket_bore, positive);
    require("gasket_thickness", gasket_thickness, not_negative);
    require("deck_clearance", deck_clearance, finite);
    require("piston_volume", piston_volume, finite);
    const double clearance =
        chamber_volume + disc(gasket_bore, gasket_thickness) + disc(bore, deck_clearance) + piston_volume;
    if (!(clearance > 0.0))
        throw InvalidArgument("piston_volume", Reason::no_clearance_volume, {{clearance, Quantity::volume}});
    return disc(bore, stroke) / clearance + 1.0;
}

double mean_piston_speed(double stroke, double speed) {
    return require("stroke", stroke, positive) * require("speed", speed, not_negative) / pi;
}

double top_piston_acceleration(double stroke, double rod, double speed) {
    require("stroke", stroke, positive);
    const double radius = 0.5 * stroke;
    require("rod_length", rod, {radius, positive.high, true, true});
    require("speed", speed, not_negative);
    return radius * speed * speed * (1.0 + radius / rod);
}

}  // namespace pullsheet::engine
