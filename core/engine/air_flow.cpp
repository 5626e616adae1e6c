// SPDX-License-Identifier: Apache-2.0
#include "core/engine/air_flow.hpp"

#include "core/fuel/stoichiometry.hpp"

namespace pullsheet::engine {

namespace {

/// Volume that a four-stroke engine displaces on the intake stroke in a second, m³/s: one for two turns.
double displaced_flow(double displacement, double speed) {
    return require("displacement", displacement, positive) * require("speed", speed, positive) / (4.0 * pi);
}

double density(double manifold_pressure, double manifold_temperature) {
    require("manifold_pressure", manifold_pressure, possible::manifold_pressure);
    require("manifold_temperature", manifold_temperature, possible::manifold_temperature);
    return manifold_pressure / (dry_air_gas_constant * manifold_temperature);
}

}  // namespace

double air_flow(double displacement, double speed, double manifold_pressure, double manifold_temperature,
                double volumetric_efficiency) {
    require("volumetric_efficiency", volumetric_efficiency, possible::volumetric_efficiency);
    return volumetric_efficiency * displaced_flow(displacement, speed) *
           density(manifold_pressure, manifold_temperature);
}

double volumetric_efficiency(double air_flow, double displacement, double speed, double manifold_pressure,
                             double manifold_temperature) {
    require("air_flow", air_flow, not_negative);
    return air_flow /
           (displaced_flow(displacement, speed) * density(manifold_pressure, manifold_temperature));
}

double manifold_pressure(double air_flow, double displacement, double speed, double manifold_temperature,
                         double volumetric_efficiency) {
    require("air_flow", air_flow, not_negative);
    require("manifold_temperature", manifold_temperature, possible::manifold_temperature);
    require("volumetric_efficiency", volumetric_efficiency, possible::volumetric_efficiency);
    return air_flow * dry_air_gas_constant * manifold_temperature /
           (volumetric_efficiency * displaced_flow(displacement, speed));
}

double air_for_power(double power, const fuel::Fuel& fuel, double lambda, double efficiency) {
    require("lambda", lambda, fuel::possible::lambda);
    return fuel::flow(power, fuel, efficiency) * fuel::air_fuel_ratio(lambda, fuel);
}

double power_from_air(double air_flow, const fuel::Fuel& fuel, double lambda, double efficiency) {
    require("air_flow", air_flow, not_negative);
    require("lambda", lambda, fuel::possible::lambda);
    require("efficiency", efficiency, fuel::possible::efficiency);
    return air_flow / fuel::air_fuel_ratio(lambda, fuel) * efficiency * fuel::heating_value(fuel);
}

}  // namespace pullsheet::engine
