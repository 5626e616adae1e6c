// SPDX-License-Identifier: Apache-2.0
#include "core/boost/compressor.hpp"

#include <cmath>

#include "core/error.hpp"

namespace pullsheet::boost {

namespace {

constexpr Interval efficiencies{0.0, 1.0, true, false};
constexpr Interval compressing{1.0, std::numeric_limits<double>::infinity(), false, true};
constexpr Interval really_compressing{1.0, std::numeric_limits<double>::infinity(), true, true};

/// Isentropic temperature rise divided by inlet temperature: Π^((κ−1)/κ) − 1.
double isentropic_rise(double pressure_ratio, Gas gas) {
    return std::expm1(std::log(pressure_ratio) * (gas.heat_capacity_ratio - 1.0) / gas.heat_capacity_ratio);
}

void require_reference(Reference reference) {
    require("reference_temperature", reference.temperature, positive);
    require("reference_pressure", reference.pressure, positive);
}

}  // namespace

double pressure_ratio(double boost, double ambient_pressure, double intake_loss, double charge_loss) {
    require("ambient_pressure", ambient_pressure, positive);
    require("boost", boost, {-ambient_pressure, std::numeric_limits<double>::infinity(), true, true});
    require("intake_loss", intake_loss, {0.0, ambient_pressure, false, true});
    require("charge_loss", charge_loss, not_negative);
    return (ambient_pressure + boost + charge_loss) / (ambient_pressure - intake_loss);
}

double compressor_temperature(double inlet_temperature, double pressure_ratio, double efficiency, Gas gas) {
    require("inlet_temperature", inlet_temperature, positive);
    require("pressure_ratio", pressure_ratio, compressing);
    require("compressor_efficiency", efficiency, efficiencies);
    return inlet_temperature * (1.0 + isentropic_rise(pressure_ratio, gas) / efficiency);
}

double compressor_efficiency(double inlet_temperature, double outlet_temperature, double pressure_ratio,
                             Gas gas) {
    require("inlet_temperature", inlet_temperature, positive);
    require("outlet_temperature", outlet_temperature, positive);
    require("pressure_ratio", pressure_ratio, really_compressing);
    const double isentropic = isentropic_rise(pressure_ratio, gas);
    const double coldest = inlet_temperature * (1.0 + isentropic);
    // Equal up to rounding is the loss-free compressor itself.
    if (outlet_temperature < coldest * (1.0 - 1e-12)) {
        throw InvalidArgument(
            "outlet_temperature", Reason::colder_than_isentropic,
            {{outlet_temperature, Quantity::temperature}, {coldest, Quantity::temperature}});
    }
    return std::fmin(1.0, isentropic / (outlet_temperature / inlet_temperature - 1.0));
}

double compressor_power(double air_flow, double inlet_temperature, double pressure_ratio, double efficiency,
                        Gas gas) {
    require("air_flow", air_flow, not_negative);
    const double outlet_temperature =
        compressor_temperature(inlet_temperature, pressure_ratio, efficiency, gas);
    return air_flow * gas.heat_capacity * (outlet_temperature - inlet_temperature);
}

double corrected_flow(double air_flow, double inlet_temperature, double inlet_pressure, Reference reference) {
    require("air_flow", air_flow, not_negative);
    require("inlet_temperature", inlet_temperature, positive);
    require("inlet_pressure", inlet_pressure, positive);
    require_reference(reference);
    return air_flow * std::sqrt(inlet_temperature / reference.temperature) /
           (inlet_pressure / reference.pressure);
}

double corrected_speed(double shaft_speed, double inlet_temperature, Reference reference) {
    require("shaft_speed", shaft_speed, not_negative);
    require("inlet_temperature", inlet_temperature, positive);
    require_reference(reference);
    return shaft_speed / std::sqrt(inlet_temperature / reference.temperature);
}

double speed_from_corrected(double corrected_speed, double inlet_temperature, Reference reference) {
    require("corrected_speed", corrected_speed, not_negative);
    require("inlet_temperature", inlet_temperature, positive);
    require_reference(reference);
    return corrected_speed * std::sqrt(inlet_temperature / reference.temperature);
}

}  // namespace pullsheet::boost
