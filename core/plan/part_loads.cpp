// SPDX-License-Identifier: Apache-2.0
#include "core/plan/part_loads.hpp"

#include <cmath>
#include <limits>

#include "core/fuel/fuel.hpp"

namespace pullsheet::plan {

namespace {

constexpr double unlimited = std::numeric_limits<double>::infinity();

/// Takes the load that is nearer to its limit.
void take(PartLoad& worst, const std::optional<double>& capacity, double demand, Quantity quantity) {
    if (capacity && demand / *capacity >= worst.use) worst = load_of(demand, *capacity, quantity);
}

/// Pressure over the surroundings that a regulator holds in the rail.
double rail_pressure(double fuel_pressure, RailReference reference, double boost) {
    return reference == RailReference::manifold ? fuel_pressure + boost : fuel_pressure;
}

PartLoad exhaust_load(const PlacedPipe& pipe, const OperatingPoint& point, const Weather& weather) {
    // At the end of the exhaust, where the pressure is that of the surroundings.
    constexpr double exponent =
        (boost::exhaust_gas.heat_capacity_ratio - 1.0) / boost::exhaust_gas.heat_capacity_ratio;
    const boost::PipeGas gas{boost::exhaust_gas.heat_capacity * exponent,
                             boost::exhaust_gas.heat_capacity_ratio};
    const double flow = (point.air_flow + point.fuel_flow) / pipe.count;
    const double mach =
        boost::pipe_flow_unbounded(flow, pipe.geometry, pipe.gas_temperature, weather.pressure, gas).mach;
    return load_of(mach, pipe.max_mach, Quantity::number);
}

/// The load of each kind of part at one operating point.
struct LoadAt {
    const OperatingPoint& point;
    const fuel::Fuel& fuel;
    const Weather& weather;
    std::size_t part;

    PartLoad operator()(const Injectors& p) const {
        const double density = fuel::density(fuel);
        double pressure = p.fuel_pressure;
        if (p.reference == RailReference::surroundings) {
            pressure -= point.boost;
            if (!(pressure > 0.0)) {
                throw NoSolution(Reason::no_injection_pressure,
                                 {{p.fuel_pressure, Quantity::pressure_difference},
                                  {point.boost, Quantity::pressure_difference}});
            }
        }
        const double flow =
            injection::injector_flow(p.rated_flow, p.rated_pressure, pressure, p.rated_density, density);
        const double duty =
            injection::injector_duty(point.fuel_flow, p.count, flow, fuel, point.speed, p.dead_time);
        return load_of(duty, p.max_duty, Quantity::share);
    }
    PartLoad operator()(const Pump& p) const {
        const double pressure = rail_pressure(p.fuel_pressure, p.reference, point.boost);
        const double demand = injection::pump_demand(point.fuel_flow, fuel, p.margin);
        return load_of(demand, p.count * p.curve.flow(pressure), Quantity::volume_flow);
    }
    PartLoad operator()(const HighPressurePump& p) const {
        const double flow =
            injection::plunger_flow(p.diameter, p.lift, p.lobes, point.speed, p.filling, p.cam_ratio);
        return load_of(injection::pump_demand(point.fuel_flow, fuel, p.margin), flow, Quantity::volume_flow);
    }
    PartLoad operator()(const Compressor& p) const {
        PartLoad worst{point.corrected_flow, unlimited, Quantity::mass_flow, 0.0};
        take(worst, p.max_corrected_flow, point.corrected_flow, Quantity::mass_flow);
        take(worst, p.max_pressure_ratio, point.pressure_ratio, Quantity::ratio);
        if (p.max_shaft_speed && point.pressure_ratio > 1.0 && point.shaft_speed > 0.0)
            take(worst, p.max_shaft_speed, point.shaft_speed, Quantity::angular_speed);
        if (!p.map) return worst;
        const boost::MapReading reading = p.map->nearest(point.corrected_flow, point.pressure_ratio);
        take(worst, reading.right_flow, point.corrected_flow, Quantity::mass_flow);
        take(worst, p.map->highest_ratio(), point.pressure_ratio, Quantity::ratio);
        if (reading.left_edge != boost::MapEdge::lowest_speed && reading.surge_margin < 0.0 &&
            worst.use < 1.0) {
            // It needs at least the flow of the surge edge, and gets what the engine takes.
            worst = load_of(reading.left_flow, point.corrected_flow, Quantity::mass_flow);
        }
        return worst;
    }
    PartLoad operator()(const ChargeCooler& p) const {
        const double coolant = coolant_temperature(p, weather);
        const double rise = point.charge_temperature - coolant;
        if (!p.max_charge_temperature) return {rise, unlimited, Quantity::temperature_change, 0.0};
        return load_of(rise, *p.max_charge_temperature - coolant, Quantity::temperature_change);
    }
    PartLoad operator()(const PlacedPipe& p) const {
        return p.place == PipePlace::exhaust ? exhaust_load(p, point, weather) : point.loads[part];
    }
    PartLoad operator()(const Clutch& p) const {
        return load_of(point.torque, p.max_torque, Quantity::torque);
    }
    PartLoad operator()(const Gearbox& p) const {
        return load_of(point.torque, p.max_torque, Quantity::torque);
    }
    PartLoad operator()(const EngineStrength& p) const {
        PartLoad worst{point.power, unlimited, Quantity::power, 0.0};
        take(worst, p.max_power, point.power, Quantity::power);
        take(worst, p.max_torque, point.torque, Quantity::torque);
        take(worst, p.max_bmep, point.bmep, Quantity::pressure);
        return worst;
    }
    PartLoad operator()(const boost::Turbine&) const {
        return load_of(point.compressor_power, point.turbine_power, Quantity::power);
    }
    PartLoad operator()(const boost::ExhaustSystem&) const {
        return {point.outlet_pressure - weather.pressure, unlimited, Quantity::pressure_difference, 0.0};
    }
    PartLoad operator()(const BoostControl& p) const {
        PartLoad worst{point.boost, unlimited, Quantity::pressure_difference, 0.0};
        take(worst, p.max_torque, point.torque, Quantity::torque);
        take(worst, p.max_boost, point.boost, Quantity::pressure_difference);
        return worst;
    }
};

}  // namespace

PartLoad load_of(double demand, double capacity, Quantity quantity) {
    return {demand, capacity, quantity, demand / capacity};
}

double coolant_temperature(const ChargeCooler& cooler, const Weather& weather) {
    return cooler.coolant_temperature.value_or(weather.temperature);
}

bool PartLoads::needs_air(std::size_t part) const {
    const Part& p = parts_[part];
    if (const auto* injectors = std::get_if<Injectors>(&p))
        return injectors->reference == RailReference::surroundings;
    if (const auto* pump = std::get_if<Pump>(&p)) return pump->reference == RailReference::manifold;
    if (const auto* pipe = std::get_if<PlacedPipe>(&p)) return pipe->place != PipePlace::exhaust;
    return std::holds_alternative<Compressor>(p) || std::holds_alternative<ChargeCooler>(p) ||
           std::holds_alternative<boost::Turbine>(p) || std::holds_alternative<boost::ExhaustSystem>(p) ||
           std::holds_alternative<BoostControl>(p);
}

bool PartLoads::limited(std::size_t part) const {
    const Part& p = parts_[part];
    if (const auto* compressor = std::get_if<Compressor>(&p)) {
        return compressor->map || compressor->max_corrected_flow || compressor->max_pressure_ratio ||
               (compressor->wheel_diameter && compressor->max_shaft_speed);
    }
    if (const auto* cooler = std::get_if<ChargeCooler>(&p)) return cooler->max_charge_temperature.has_value();
    if (const auto* strength = std::get_if<EngineStrength>(&p)) {
        return strength->max_power || strength->max_torque || strength->max_bmep;
    }
    if (const auto* control = std::get_if<BoostControl>(&p)) return control->max_boost || control->max_torque;
    return !std::holds_alternative<boost::ExhaustSystem>(p);
}

PartLoad PartLoads::load(std::size_t part, const OperatingPoint& point) const {
    return std::visit(LoadAt{point, fuel_, weather_, part}, parts_[part]);
}

bool PartLoads::by_points(std::size_t part) const {
    const auto* compressor = std::get_if<Compressor>(&parts_[part]);
    return (compressor && compressor->map) || std::holds_alternative<Pump>(parts_[part]);
}

std::optional<Warning> PartLoads::data_end(std::size_t part, const OperatingPoint& point) const {
    if (const auto* pump = std::get_if<Pump>(&parts_[part])) {
        const double pressure = rail_pressure(pump->fuel_pressure, pump->reference, point.boost);
        if (pump->curve.knows(pressure)) return std::nullopt;
        return Warning{Reason::pump_curve_ends,
                       {{pressure, Quantity::pressure_difference},
                        {pump->curve.highest_pressure(), Quantity::pressure_difference}}};
    }
    const auto* compressor = std::get_if<Compressor>(&parts_[part]);
    if (!compressor || !compressor->map) return std::nullopt;
    const boost::MapReading at = compressor->map->nearest(point.corrected_flow, point.pressure_ratio);
    if (!(boost::clearance(at) < 0.0)) return std::nullopt;
    // A limit stated where the map ends is the compressor's own; its points are read off by hand.
    constexpr double reached = 0.995;
    const auto stated = [&](const std::optional<double>& most, double is) {
        return most && is >= reached * *most;
    };
    if (stated(compressor->max_corrected_flow, point.corrected_flow) ||
        stated(compressor->max_pressure_ratio, point.pressure_ratio) ||
        stated(compressor->max_shaft_speed, point.shaft_speed))
        return std::nullopt;
    if (at.ratio_margin < 0.0)
        return Warning{
            Reason::map_ends_above,
            {{compressor->map->highest_ratio(), Quantity::ratio}, {point.pressure_ratio, Quantity::ratio}}};
    if (at.choke_margin < 0.0)
        return Warning{Reason::map_ends_right,
                       {{point.pressure_ratio, Quantity::ratio},
                        {at.right_flow, Quantity::mass_flow},
                        {point.corrected_flow, Quantity::mass_flow}}};
    if (at.left_edge == boost::MapEdge::surge) return std::nullopt;
    return Warning{Reason::map_ends_left,
                   {{point.pressure_ratio, Quantity::ratio},
                    {at.left_flow, Quantity::mass_flow},
                    {point.corrected_flow, Quantity::mass_flow}}};
}

std::optional<double> PartLoads::excess(std::size_t part, const OperatingPoint& point) const {
    return excess(part, point, true);
}

std::optional<double> PartLoads::upper_excess(std::size_t part, const OperatingPoint& point) const {
    return excess(part, point, false);
}

std::optional<double> PartLoads::surge_margin(const OperatingPoint& point) const {
    if (!(point.pressure_ratio > 1.0)) return std::nullopt;
    for (const Part& part : parts_) {
        const auto* compressor = std::get_if<Compressor>(&part);
        if (!compressor || !compressor->map) continue;
        return 1.0 - compressor->map->surge_flow(point.pressure_ratio) / point.corrected_flow;
    }
    return std::nullopt;
}

std::optional<double> PartLoads::excess(std::size_t part, const OperatingPoint& point,
                                        bool with_surge) const {
    if (const auto* pump = std::get_if<Pump>(&parts_[part]);
        pump && !pump->curve.knows(rail_pressure(pump->fuel_pressure, pump->reference, point.boost)))
        return std::nullopt;
    const PartLoad now = load(part, point);
    const auto* compressor = std::get_if<Compressor>(&parts_[part]);
    if (!compressor || !compressor->map) return now.use - 1.0;
    // A compressor's use changes its meaning from edge to edge; how far inside the map the point lies does
    // not.
    const boost::MapReading at = compressor->map->nearest(point.corrected_flow, point.pressure_ratio);
    double outside = with_surge ? -boost::clearance(at) : -std::fmin(at.choke_margin, at.ratio_margin);
    const auto beyond = [&](const std::optional<double>& most, double is) {
        if (most) outside = std::fmax(outside, is / *most - 1.0);
    };
    beyond(compressor->max_corrected_flow, point.corrected_flow);
    beyond(compressor->max_pressure_ratio, point.pressure_ratio);
    if (point.pressure_ratio > 1.0) beyond(compressor->max_shaft_speed, point.shaft_speed);
    return outside;
}

}  // namespace pullsheet::plan
