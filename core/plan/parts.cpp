// SPDX-License-Identifier: Apache-2.0
#include "core/plan/parts.hpp"

#include "core/error.hpp"

namespace pullsheet::plan {

namespace {

constexpr Interval some_share{0.0, 1.0, true, false};

double count_of(double count) {
    return require_whole("count", count, injection::possible::count);
}

/// One kind of part after another.
struct PartCheck {
    void operator()(const Injectors& p) const {
        count_of(p.count);
        require("rated_flow", p.rated_flow, positive);
        require("rated_pressure", p.rated_pressure, injection::possible::fuel_pressure);
        require("fuel_pressure", p.fuel_pressure, injection::possible::fuel_pressure);
        require("largest_duty", p.max_duty, injection::possible::duty);
        require("dead_time", p.dead_time, injection::possible::dead_time);
        require("rated_density", p.rated_density, injection::possible::fluid_density);
    }
    void operator()(const Pump& p) const {
        count_of(p.count);
        require("fuel_pressure", p.fuel_pressure, injection::possible::fuel_pressure);
        require("margin", p.margin, injection::possible::margin);
    }
    void operator()(const HighPressurePump& p) const {
        require("margin", p.margin, injection::possible::margin);
        // The rest is checked by the formula, at any speed.
        injection::plunger_flow(p.diameter, p.lift, p.lobes, 1.0, p.filling, p.cam_ratio);
    }
    void operator()(const Compressor& p) const {
        count_of(p.count);
        require("compressor_efficiency", p.efficiency, some_share);
        require_if_given("max_corrected_flow", p.max_corrected_flow, positive);
        require_if_given("max_pressure_ratio", p.max_pressure_ratio, {1.0, positive.high, true, true});
        require_if_given("max_shaft_speed", p.max_shaft_speed, positive);
        require_if_given("wheel_diameter", p.wheel_diameter, positive);
        require("reference_temperature", p.reference.temperature, positive);
        require("reference_pressure", p.reference.pressure, positive);
    }
    void operator()(const ChargeCooler& p) const {
        require("effectiveness", p.effectiveness, unit_share);
        require_if_given("coolant_temperature", p.coolant_temperature, positive);
        require("pressure_loss", p.pressure_loss, not_negative);
        require("reference_flow", p.reference_flow, positive);
        require("reference_temperature", p.reference.temperature, positive);
        require("reference_pressure", p.reference.pressure, positive);
        require_if_given("max_charge_temperature", p.max_charge_temperature, positive);
    }
    void operator()(const PlacedPipe& p) const {
        count_of(p.count);
        require("max_mach", p.max_mach, some_share);
        require("gas_temperature", p.gas_temperature, positive);
        boost::pipe_flow_unbounded(0.0, p.geometry, 300.0, 1e5);  // checks the geometry
    }
    void operator()(const Clutch& p) const { require("max_torque", p.max_torque, positive); }
    void operator()(const Gearbox& p) const { require("max_torque", p.max_torque, positive); }
    void operator()(const EngineStrength& p) const {
        require_if_given("max_power", p.max_power, positive);
        require_if_given("max_torque", p.max_torque, positive);
        require_if_given("max_bmep", p.max_bmep, positive);
    }
    // Checked where the exhaust side is put together.
    void operator()(const boost::Turbine&) const {}
    void operator()(const boost::ExhaustSystem&) const {}
    void operator()(const BoostControl&) const {}
};

}  // namespace

void require_possible(const Part& part) {
    std::visit(PartCheck{}, part);
}

}  // namespace pullsheet::plan
