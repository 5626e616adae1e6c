// SPDX-License-Identifier: Apache-2.0
#include "core/plan/chain.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/air/moist_air.hpp"
#include "core/boost/charge_cooler.hpp"
#include "core/boost/turbine.hpp"
#include "core/engine/air_flow.hpp"
#include "core/engine/power.hpp"
#include "core/fuel/stoichiometry.hpp"
#include "core/injection/pump.hpp"
#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

constexpr double unlimited = std::numeric_limits<double>::infinity();
constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr double highest_ratio = 50.0;
constexpr double rounding = 1e-9;
constexpr Interval some_share{0.0, 1.0, true, false};

void require_if(const char* parameter, const std::optional<double>& value, Interval allowed) {
    if (value) require(parameter, *value, allowed);
}

double count_of(double count) {
    return require_whole("count", count, injection::possible::count);
}

/// Checks the numbers of a part that its formulas do not check themselves.
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
        require_if("max_corrected_flow", p.max_corrected_flow, positive);
        require_if("max_pressure_ratio", p.max_pressure_ratio, {1.0, unlimited, true, true});
        require_if("max_shaft_speed", p.max_shaft_speed, positive);
        require("reference_temperature", p.reference.temperature, positive);
        require("reference_pressure", p.reference.pressure, positive);
    }
    void operator()(const ChargeCooler& p) const {
        require("effectiveness", p.effectiveness, unit_share);
        require_if("coolant_temperature", p.coolant_temperature, positive);
        require("pressure_loss", p.pressure_loss, not_negative);
        require("reference_flow", p.reference_flow, positive);
        require("reference_temperature", p.reference.temperature, positive);
        require("reference_pressure", p.reference.pressure, positive);
        require_if("max_charge_temperature", p.max_charge_temperature, positive);
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
        require_if("max_power", p.max_power, positive);
        require_if("max_torque", p.max_torque, positive);
        require_if("max_bmep", p.max_bmep, positive);
    }
    // Checked where the exhaust side is put together.
    void operator()(const boost::Turbine&) const {}
    void operator()(const boost::ExhaustSystem&) const {}
    void operator()(const BoostControl&) const {}
};

PartLoad load_of(double demand, double capacity, Quantity quantity) {
    return {demand, capacity, quantity, demand / capacity};
}

/// Takes the load that is nearer to its limit.
void take(PartLoad& worst, const std::optional<double>& capacity, double demand, Quantity quantity) {
    if (capacity && demand / *capacity >= worst.use) worst = load_of(demand, *capacity, quantity);
}

/// Pressure over the surroundings that a regulator holds in the rail.
double rail_pressure(double fuel_pressure, RailReference reference, double boost) {
    return reference == RailReference::manifold ? fuel_pressure + boost : fuel_pressure;
}

double temperature_of_coolant(const ChargeCooler& cooler, const Weather& weather) {
    return cooler.coolant_temperature.value_or(weather.temperature);
}

/// Turbulent loss: grows with flow²/density.
double cooler_loss(const ChargeCooler& cooler, double flow, double temperature, double pressure) {
    const double flows = flow / cooler.reference_flow;
    const double densities =
        (pressure / temperature) / (cooler.reference.pressure / cooler.reference.temperature);
    return cooler.pressure_loss * flows * flows / densities;
}

/// On the way of an iteration a loss may exceed the pressure; then a remainder is left, that of many pipes in
/// a row included.
double less(double pressure, double loss) {
    constexpr double remainder = 1.0;  // Pa
    return std::fmax(pressure - loss, std::fmax(0.01 * pressure, remainder));
}

void append(std::vector<Warning>& to, const std::vector<Warning>& from) {
    to.insert(to.end(), from.begin(), from.end());
}

}  // namespace

/// What the air meets behind the compressor at a trial pressure ratio.
struct Chain::AirPath {
    double efficiency;              ///< of the compressor
    double compressor_temperature;  ///< K
    double temperature;             ///< K, in the manifold
    double compressor_pressure;     ///< Pa, behind the compressor
    double pressure;                ///< Pa, delivered to the manifold
};

Chain::Chain(const Engine& engine, const fuel::Fuel& fuel, double speed, const Weather& weather,
             const Parts& parts)
    : engine_(engine),
      fuel_(fuel),
      weather_(weather),
      parts_(parts),
      speed_(require("speed", speed, positive)),
      volumetric_efficiency_(require("volumetric_efficiency", engine.volumetric_efficiency.at(speed),
                                     engine::possible::volumetric_efficiency)),
      air_fuel_ratio_(fuel::air_fuel_ratio(require("lambda", engine.lambda, fuel::possible::lambda), fuel)),
      humidity_ratio_(air::humidity_ratio(weather.temperature, weather.pressure, weather.humidity)),
      air_{air::gas_constant(weather.temperature, weather.pressure, weather.humidity),
           air_heat_capacity_ratio},
      exhaust_side_(parts) {
    require("displacement", engine.displacement, positive);
    require("efficiency", engine.efficiency, fuel::possible::efficiency);
    require_if("charge_temperature", engine.charge_temperature, engine::possible::manifold_temperature);
    require_if("redline", engine.redline, positive);
    require("gas_temperature", engine.gas_temperature, positive);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        std::visit(PartCheck{}, parts[i]);
        if (const auto* compressor = std::get_if<Compressor>(&parts[i])) {
            if (compressor_ != &no_compressor_) throw InvalidArgument("compressor", Reason::part_twice);
            compressor_ = compressor;
        } else if (const auto* cooler = std::get_if<ChargeCooler>(&parts[i])) {
            if (cooler_) throw InvalidArgument("charge_cooler", Reason::part_twice);
            cooler_ = cooler;
            const double coolant = temperature_of_coolant(*cooler, weather);
            if (const auto allowed = cooler->max_charge_temperature; allowed && !(*allowed > coolant))
                throw InvalidArgument("charge_cooler", Reason::charge_below_coolant,
                                      {{*allowed, Quantity::temperature}, {coolant, Quantity::temperature}});
        } else if (const auto* pipe = std::get_if<PlacedPipe>(&parts[i])) {
            switch (pipe->place) {
                case PipePlace::intake: intake_.push_back(i); break;
                case PipePlace::hot: hot_.push_back(i); break;
                case PipePlace::charge: charge_.push_back(i); break;
                case PipePlace::exhaust: break;
            }
            if (pipe->place != PipePlace::exhaust) path_end_ = i + 1;
        }
    }
}

bool Chain::needs_air(std::size_t part) const {
    const Part& p = parts_[part];
    if (const auto* injectors = std::get_if<Injectors>(&p))
        return injectors->reference == RailReference::surroundings;
    if (const auto* pump = std::get_if<Pump>(&p)) return pump->reference == RailReference::manifold;
    if (const auto* pipe = std::get_if<PlacedPipe>(&p)) return pipe->place != PipePlace::exhaust;
    return std::holds_alternative<Compressor>(p) || std::holds_alternative<ChargeCooler>(p) ||
           std::holds_alternative<boost::Turbine>(p) || std::holds_alternative<boost::ExhaustSystem>(p) ||
           std::holds_alternative<BoostControl>(p);
}

bool Chain::in_intake(std::size_t part) const {
    const auto* pipe = std::get_if<PlacedPipe>(&parts_[part]);
    return pipe && pipe->place == PipePlace::intake;
}

bool Chain::limited(std::size_t part) const {
    const Part& p = parts_[part];
    if (const auto* compressor = std::get_if<Compressor>(&p)) {
        return compressor->map || compressor->max_corrected_flow || compressor->max_pressure_ratio;
    }
    if (const auto* cooler = std::get_if<ChargeCooler>(&p)) return cooler->max_charge_temperature.has_value();
    if (const auto* strength = std::get_if<EngineStrength>(&p)) {
        return strength->max_power || strength->max_torque || strength->max_bmep;
    }
    if (const auto* control = std::get_if<BoostControl>(&p)) return control->max_boost || control->max_torque;
    return !std::holds_alternative<boost::ExhaustSystem>(p);
}

OperatingPoint Chain::fuel_side(double power) const {
    require("power", power, positive);
    OperatingPoint point{};
    point.power = power;
    point.speed = speed_;
    point.torque = engine::torque(power, speed_);
    point.bmep = engine::bmep(point.torque, engine_.displacement);
    point.fuel_flow = fuel::flow(power, fuel_, engine_.efficiency);
    point.fuel_volume_flow = fuel::volume_flow(point.fuel_flow, fuel_);
    point.dry_air_flow = point.fuel_flow * air_fuel_ratio_;
    point.air_flow = point.dry_air_flow * (1.0 + humidity_ratio_);
    point.volumetric_efficiency = volumetric_efficiency_;
    return point;
}

PartLoad Chain::exhaust_load(const PlacedPipe& pipe, const OperatingPoint& point) const {
    // The pressure behind the turbine is not followed: the end of the exhaust is the surroundings.
    constexpr double exponent =
        (boost::exhaust_gas.heat_capacity_ratio - 1.0) / boost::exhaust_gas.heat_capacity_ratio;
    const boost::PipeGas gas{boost::exhaust_gas.heat_capacity * exponent,
                             boost::exhaust_gas.heat_capacity_ratio};
    const double flow = (point.air_flow + point.fuel_flow) / pipe.count;
    const double mach =
        boost::pipe_flow_unbounded(flow, pipe.geometry, pipe.gas_temperature, weather_.pressure, gas).mach;
    return load_of(mach, pipe.max_mach, Quantity::number);
}

boost::PipeFlow Chain::flow_in(std::size_t part, double flow, double temperature, double pressure,
                               bool refuse) const {
    const PlacedPipe& pipe = get<PlacedPipe>(part);
    const double each = flow / pipe.count;
    return refuse ? boost::pipe_flow(each, pipe.geometry, temperature, pressure, air_)
                  : boost::pipe_flow_unbounded(each, pipe.geometry, temperature, pressure, air_);
}

double Chain::intake(OperatingPoint& point, bool refuse) const {
    if (point.loads.size() < path_end_) point.loads.resize(path_end_);
    double pressure = weather_.pressure;
    for (std::size_t i : intake_) {
        const boost::PipeFlow flow = flow_in(i, point.air_flow, weather_.temperature, pressure, refuse);
        point.loads[i] = load_of(flow.mach, get<PlacedPipe>(i).max_mach, Quantity::number);
        append(point.warnings, flow.warnings);
        pressure = less(pressure, flow.pressure_loss);
    }
    point.intake_loss = weather_.pressure - pressure;
    return pressure;
}

double Chain::needed_pressure(const OperatingPoint& point, double temperature) const {
    // Water vapour takes its room too: moist air of this gas constant fills as much as this much dry air.
    const double dry_equivalent = point.air_flow * air_.gas_constant / dry_air_gas_constant;
    // Proportional to temperature, and a trial temperature may lie outside what the formula accepts.
    constexpr double any = 300.0;
    return engine::manifold_pressure(dry_equivalent, engine_.displacement, speed_, any,
                                     volumetric_efficiency_) *
           temperature / any;
}

Chain::AirPath Chain::path(const OperatingPoint& point, double ratio, bool refuse,
                           OperatingPoint* record) const {
    AirPath path{};
    path.efficiency = compressor_->efficiency;
    if (compressor_->map && ratio > 1.0) {
        const boost::MapReading reading = refuse ? compressor_->map->at(point.corrected_flow, ratio)
                                                 : compressor_->map->nearest(point.corrected_flow, ratio);
        path.efficiency = reading.efficiency;
        if (record) append(record->warnings, reading.warnings);
    }
    path.compressor_temperature = boost::compressor_temperature(weather_.temperature, ratio, path.efficiency);
    path.temperature = path.compressor_temperature;
    path.compressor_pressure = ratio * (weather_.pressure - point.intake_loss);
    path.pressure = path.compressor_pressure;
    const auto through = [&](const std::vector<std::size_t>& pipes) {
        for (std::size_t i : pipes) {
            const boost::PipeFlow flow = flow_in(i, point.air_flow, path.temperature, path.pressure, refuse);
            path.pressure = less(path.pressure, flow.pressure_loss);
            if (!record) continue;
            record->loads[i] = load_of(flow.mach, get<PlacedPipe>(i).max_mach, Quantity::number);
            append(record->warnings, flow.warnings);
        }
    };
    through(hot_);
    if (cooler_) {
        path.pressure =
            less(path.pressure, cooler_loss(*cooler_, point.air_flow, path.temperature, path.pressure));
        path.temperature = boost::charge_temperature(
            path.temperature, temperature_of_coolant(*cooler_, weather_), cooler_->effectiveness);
    } else if (engine_.charge_temperature) {
        path.temperature = *engine_.charge_temperature;
    }
    through(charge_);
    return path;
}

double Chain::ratio_that_feeds(const OperatingPoint& point) const {
    const double inlet_pressure = weather_.pressure - point.intake_loss;
    // The ratio that would meet what the engine needs with the temperature and the losses of the trial ratio.
    const auto next = [&](double ratio) {
        const AirPath trial = path(point, ratio, false, nullptr);
        return (needed_pressure(point, trial.temperature) + trial.compressor_pressure - trial.pressure) /
               inlet_pressure;
    };
    double ratio = 1.0;
    double gap = next(ratio) - ratio;
    if (gap <= 0.0) return 1.0;
    // Steffensen's secant on the fixed point converges in a few steps; where it wanders off, bracketing takes
    // over.
    double previous = ratio;
    double previous_gap = gap;
    ratio += gap;
    for (int i = 0; i < 30 && ratio > 1.0 && ratio < highest_ratio; ++i) {
        gap = next(ratio) - ratio;
        if (std::fabs(gap) <= 1e-11 * ratio) return ratio + gap;
        const double slope = (gap - previous_gap) / (ratio - previous);
        if (!(slope < 0.0)) break;
        previous = ratio;
        previous_gap = gap;
        ratio -= gap / slope;
        if (std::fabs(ratio - previous) <= 1e-13 * ratio) return ratio;
    }
    return root_between([&](double trial) { return next(trial) - trial; }, 1.0, highest_ratio,
                        Reason::no_pressure_ratio, {{point.power, Quantity::power}});
}

void Chain::exhaust(OperatingPoint& point) const {
    const boost::GasStream stream{point.air_flow + point.fuel_flow, engine_.gas_temperature};
    point.exhaust_pressure = point.wastegate_share = point.turbine_power = nothing;
    if (!exhaust_side_.turbine()) {
        point.outlet_pressure = exhaust_side_.outlet_pressure(stream, weather_.pressure, 0.0);
        return;
    }
    std::optional<double> shaft_speed;
    if (point.shaft_speed > 0.0) shaft_speed = point.shaft_speed;
    const ExhaustSide::State state =
        exhaust_side_.state(stream, weather_.pressure, point.compressor_power, shaft_speed);
    point.exhaust_pressure = state.expansion.inlet_pressure;
    point.outlet_pressure = state.expansion.outlet_pressure;
    point.wastegate_share = state.expansion.wastegate_share;
    point.turbine_power = exhaust_side_.shut(stream, weather_.pressure, shaft_speed).power;
}

void Chain::solve(OperatingPoint& point, bool refuse) const {
    const double inlet_pressure = intake(point, refuse);
    const Compressor& compressor = *compressor_;
    const boost::Reference reference = compressor.map ? compressor.map->reference() : compressor.reference;
    const double each = point.air_flow / compressor.count;
    point.corrected_flow = boost::corrected_flow(each, weather_.temperature, inlet_pressure, reference);
    point.pressure_ratio = ratio_that_feeds(point);
    const AirPath path = this->path(point, point.pressure_ratio, refuse, &point);
    point.compressor_efficiency = path.efficiency;
    point.compressor_temperature = path.compressor_temperature;
    point.compressor_power =
        boost::compressor_power(point.air_flow, weather_.temperature, point.pressure_ratio, path.efficiency);
    point.charge_temperature = path.temperature;
    point.charge_loss = path.compressor_pressure - path.pressure;
    point.manifold_pressure = needed_pressure(point, path.temperature);
    point.boost = point.manifold_pressure - weather_.pressure;
    point.shaft_speed = point.surge_margin = point.choke_margin = nothing;
    if (compressor.map && point.pressure_ratio > 1.0) {
        const boost::MapReading reading = compressor.map->nearest(point.corrected_flow, point.pressure_ratio);
        point.shaft_speed = boost::speed_from_corrected(reading.shaft_speed, weather_.temperature, reference);
        point.surge_margin = reading.surge_margin;
        point.choke_margin = reading.choke_margin;
    }
    exhaust(point);
    if (refuse && exhaust_side_.turbine()) {
        if (!exhaust_side_.system())
            point.warnings.push_back(
                {Reason::no_exhaust_system, {{point.outlet_pressure, Quantity::pressure}}});
        append(point.warnings, boost::expansion_warnings(point.exhaust_pressure / point.outlet_pressure));
    }
    if (refuse && point.pressure_ratio == 1.0 && point.manifold_pressure < path.pressure * (1.0 - rounding)) {
        point.warnings.push_back(
            {Reason::throttled,
             {{point.manifold_pressure, Quantity::pressure}, {path.pressure, Quantity::pressure}}});
    }
}

OperatingPoint Chain::strict(double power) const {
    OperatingPoint point = fuel_side(power);
    if (engine_.redline && speed_ > *engine_.redline) {
        point.warnings.push_back(
            {Reason::above_redline,
             {{speed_, Quantity::angular_speed}, {*engine_.redline, Quantity::angular_speed}}});
    }
    point.loads.resize(parts_.size());
    solve(point, true);
    for (std::size_t i = 0; i < parts_.size(); ++i) {
        point.loads[i] = load(i, point);
        if (point.loads[i].use > 1.0 + rounding) {
            point.warnings.push_back(
                {Reason::part_overloaded,
                 {{static_cast<double>(i + 1), Quantity::count}, {point.loads[i].use, Quantity::share}}});
        }
    }
    return point;
}

void Chain::add_air(OperatingPoint& point) const {
    solve(point, false);
}

void Chain::add_intake(OperatingPoint& point) const {
    intake(point, false);
}

boost::MapReading Chain::reading(const OperatingPoint& point) const {
    return compressor_->map->nearest(point.corrected_flow, point.pressure_ratio);
}

PartLoad Chain::load(std::size_t part, const OperatingPoint& point) const {
    struct Load {
        const Chain& chain;
        std::size_t part;
        const OperatingPoint& point;

        PartLoad operator()(const Injectors& p) const {
            const double density = fuel::density(chain.fuel_);
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
            const double duty = injection::injector_duty(point.fuel_flow, p.count, flow, chain.fuel_,
                                                         point.speed, p.dead_time);
            return load_of(duty, p.max_duty, Quantity::share);
        }
        PartLoad operator()(const Pump& p) const {
            const double pressure = rail_pressure(p.fuel_pressure, p.reference, point.boost);
            const double demand = injection::pump_demand(point.fuel_flow, chain.fuel_, p.margin);
            return load_of(demand, p.count * p.curve.flow(pressure), Quantity::volume_flow);
        }
        PartLoad operator()(const HighPressurePump& p) const {
            const double flow =
                injection::plunger_flow(p.diameter, p.lift, p.lobes, point.speed, p.filling, p.cam_ratio);
            return load_of(injection::pump_demand(point.fuel_flow, chain.fuel_, p.margin), flow,
                           Quantity::volume_flow);
        }
        PartLoad operator()(const Compressor& p) const {
            PartLoad worst{point.corrected_flow, unlimited, Quantity::mass_flow, 0.0};
            take(worst, p.max_corrected_flow, point.corrected_flow, Quantity::mass_flow);
            take(worst, p.max_pressure_ratio, point.pressure_ratio, Quantity::ratio);
            if (!p.map) return worst;
            const boost::MapReading reading = chain.reading(point);
            take(worst, reading.right_flow, point.corrected_flow, Quantity::mass_flow);
            take(worst, p.map->highest_ratio(), point.pressure_ratio, Quantity::ratio);
            if (p.max_shaft_speed && point.pressure_ratio > 1.0) {
                take(worst, p.max_shaft_speed, point.shaft_speed, Quantity::angular_speed);
            }
            if (reading.left_edge != boost::MapEdge::lowest_speed && reading.surge_margin < 0.0 &&
                worst.use < 1.0) {
                // It needs at least the flow of the surge edge, and gets what the engine takes.
                worst = load_of(reading.left_flow, point.corrected_flow, Quantity::mass_flow);
            }
            return worst;
        }
        PartLoad operator()(const ChargeCooler& p) const {
            const double coolant = temperature_of_coolant(p, chain.weather_);
            const double rise = point.charge_temperature - coolant;
            if (!p.max_charge_temperature) return {rise, unlimited, Quantity::temperature_change, 0.0};
            return load_of(rise, *p.max_charge_temperature - coolant, Quantity::temperature_change);
        }
        PartLoad operator()(const PlacedPipe& p) const {
            return p.place == PipePlace::exhaust ? chain.exhaust_load(p, point) : point.loads[part];
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
            return {point.outlet_pressure - chain.weather_.pressure, unlimited, Quantity::pressure_difference,
                    0.0};
        }
        PartLoad operator()(const BoostControl& p) const {
            PartLoad worst{point.boost, unlimited, Quantity::pressure_difference, 0.0};
            take(worst, p.max_torque, point.torque, Quantity::torque);
            take(worst, p.max_boost, point.boost, Quantity::pressure_difference);
            return worst;
        }
    };
    return std::visit(Load{*this, part, point}, parts_[part]);
}

bool Chain::by_points(std::size_t part) const {
    const auto* compressor = std::get_if<Compressor>(&parts_[part]);
    return (compressor && compressor->map) || std::holds_alternative<Pump>(parts_[part]);
}

std::optional<Warning> Chain::data_end(std::size_t part, const OperatingPoint& point) const {
    if (const auto* pump = std::get_if<Pump>(&parts_[part])) {
        const double pressure = rail_pressure(pump->fuel_pressure, pump->reference, point.boost);
        if (pump->curve.knows(pressure)) return std::nullopt;
        return Warning{Reason::pump_curve_ends,
                       {{pressure, Quantity::pressure_difference},
                        {pump->curve.highest_pressure(), Quantity::pressure_difference}}};
    }
    const auto* compressor = std::get_if<Compressor>(&parts_[part]);
    if (!compressor || !compressor->map) return std::nullopt;
    const boost::MapReading at = reading(point);
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

std::optional<double> Chain::excess(std::size_t part, const OperatingPoint& point) const {
    if (const auto* pump = std::get_if<Pump>(&parts_[part]);
        pump && !pump->curve.knows(rail_pressure(pump->fuel_pressure, pump->reference, point.boost)))
        return std::nullopt;
    const PartLoad now = load(part, point);
    const auto* compressor = std::get_if<Compressor>(&parts_[part]);
    if (!compressor || !compressor->map) return now.use - 1.0;
    // A compressor's use changes its meaning from edge to edge; how far inside the map the point lies does
    // not.
    double outside = -boost::clearance(reading(point));
    const auto beyond = [&](const std::optional<double>& most, double is) {
        if (most) outside = std::fmax(outside, is / *most - 1.0);
    };
    beyond(compressor->max_corrected_flow, point.corrected_flow);
    beyond(compressor->max_pressure_ratio, point.pressure_ratio);
    if (point.pressure_ratio > 1.0) beyond(compressor->max_shaft_speed, point.shaft_speed);
    return outside;
}

}  // namespace pullsheet::plan
