// SPDX-License-Identifier: Apache-2.0
#include "core/plan/chain.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/air/moist_air.hpp"
#include "core/boost/charge_cooler.hpp"
#include "core/boost/shaft.hpp"
#include "core/boost/turbine.hpp"
#include "core/engine/air_flow.hpp"
#include "core/engine/power.hpp"
#include "core/fuel/stoichiometry.hpp"
#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
constexpr double highest_ratio = 50.0;
constexpr double rounding = 1e-9;

/// Turbulent loss: grows with flow²/density.
double cooler_loss(const ChargeCooler& cooler, double flow, double temperature, double pressure) {
    const double flows = flow / cooler.reference_flow;
    const double densities =
        (pressure / temperature) / (cooler.reference.pressure / cooler.reference.temperature);
    return cooler.pressure_loss * flows * flows / densities;
}

/// Pressure after a loss. At a trial point of an iteration the loss may exceed the pressure: then a remainder
/// is kept, also after many pipes in a row.
double after_loss(double pressure, double loss) {
    constexpr double remainder = 1.0;  // Pa
    return std::fmax(pressure - loss, std::fmax(0.01 * pressure, remainder));
}

void append(std::vector<Warning>& to, const std::vector<Warning>& from) {
    to.insert(to.end(), from.begin(), from.end());
}

}  // namespace

/// The air path from the compressor to the manifold at a trial pressure ratio.
struct Chain::AirPath {
    double efficiency;              ///< of the compressor
    double compressor_temperature;  ///< K
    double temperature;             ///< K, in the manifold
    double compressor_pressure;     ///< Pa, after the compressor
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
      exhaust_side_(parts),
      loads_(parts, fuel, weather) {
    require("displacement", engine.displacement, positive);
    require("efficiency", engine.efficiency, fuel::possible::efficiency);
    require_if_given("charge_temperature", engine.charge_temperature, engine::possible::manifold_temperature);
    require_if_given("redline", engine.redline, positive);
    require("gas_temperature", engine.gas_temperature, positive);
    require("charge_rise_factor", engine.charge_rise_factor, not_negative);
    require("charge_heating", engine.charge_heating, finite);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        require_possible(parts[i]);
        if (const auto* compressor = std::get_if<Compressor>(&parts[i])) {
            if (compressor_ != &no_compressor_) throw InvalidArgument("compressor", Reason::part_twice);
            compressor_ = compressor;
        } else if (const auto* cooler = std::get_if<ChargeCooler>(&parts[i])) {
            if (cooler_) throw InvalidArgument("charge_cooler", Reason::part_twice);
            cooler_ = cooler;
            const double coolant = coolant_temperature(*cooler, weather);
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
        pressure = after_loss(pressure, flow.pressure_loss);
    }
    point.intake_loss = weather_.pressure - pressure;
    return pressure;
}

double Chain::needed_pressure(const OperatingPoint& point, double temperature) const {
    // Water vapour takes up volume too: the dry air that fills the same volume as this moist air.
    const double dry_equivalent = point.air_flow * air_.gas_constant / dry_air_gas_constant;
    // Proportional to temperature: computed at a reference temperature, since a trial temperature may lie
    // outside what the formula accepts.
    constexpr double reference = 300.0;
    return engine::manifold_pressure(dry_equivalent, engine_.displacement, speed_, reference,
                                     point.volumetric_efficiency) *
           temperature / reference;
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
            path.pressure = after_loss(path.pressure, flow.pressure_loss);
            if (!record) continue;
            record->loads[i] = load_of(flow.mach, get<PlacedPipe>(i).max_mach, Quantity::number);
            append(record->warnings, flow.warnings);
        }
    };
    through(hot_);
    if (cooler_) {
        path.pressure =
            after_loss(path.pressure, cooler_loss(*cooler_, point.air_flow, path.temperature, path.pressure));
        path.temperature = boost::charge_temperature(
            path.temperature, coolant_temperature(*cooler_, weather_), cooler_->effectiveness);
    } else if (engine_.charge_temperature) {
        path.temperature = *engine_.charge_temperature;
    }
    const double rise_from = cooler_ ? coolant_temperature(*cooler_, weather_) : weather_.temperature;
    path.temperature +=
        (engine_.charge_rise_factor - 1.0) * (path.temperature - rise_from) + engine_.charge_heating;
    through(charge_);
    return path;
}

double Chain::required_ratio(const OperatingPoint& point) const {
    const double inlet_pressure = weather_.pressure - point.intake_loss;
    // What the engine needs rests on the charge temperature and the losses, and these rest on the ratio: the
    // fixed point of the ratio required at the temperature and the losses of a trial ratio.
    const auto required = [&](double ratio) {
        const AirPath trial = path(point, ratio, false, nullptr);
        return (needed_pressure(point, trial.temperature) + trial.compressor_pressure - trial.pressure) /
               inlet_pressure;
    };
    return fixed_point(required, 1.0, highest_ratio, Reason::no_pressure_ratio,
                       {{point.power, Quantity::power}});
}

void Chain::exhaust(OperatingPoint& point) const {
    const boost::GasStream stream{point.air_flow + point.fuel_flow, engine_.gas_temperature};
    point.exhaust_pressure = point.wastegate_share = point.wastegate_area = point.turbine_power = nothing;
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
    point.wastegate_area = state.expansion.wastegate_area;
    point.turbine_power = exhaust_side_.shut(stream, weather_.pressure, shaft_speed).power;
}

Chain::AirPath Chain::solve_air(OperatingPoint& point, bool refuse) const {
    const double inlet_pressure = intake(point, refuse);
    point.corrected_flow = corrected(point, inlet_pressure);
    point.pressure_ratio = required_ratio(point);
    const AirPath path = this->path(point, point.pressure_ratio, refuse, &point);
    set_air(point, path, refuse);
    return path;
}

double Chain::corrected(const OperatingPoint& point, double inlet_pressure) const {
    return boost::corrected_flow(point.air_flow / compressor_->count, weather_.temperature, inlet_pressure,
                                 reference());
}

boost::Reference Chain::reference() const {
    return compressor_->map ? compressor_->map->reference() : compressor_->reference;
}

void Chain::set_air(OperatingPoint& point, const AirPath& path, bool refuse) const {
    const Compressor& compressor = *compressor_;
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
        double speed = reading.shaft_speed;
        if (point.pressure_ratio < reading.lowest_ratio)
            speed *= compressor.map->speed_below_slowest(point.corrected_flow, point.pressure_ratio);
        point.shaft_speed = boost::speed_from_corrected(speed, weather_.temperature, reference());
        point.surge_margin = reading.surge_margin;
        point.choke_margin = reading.choke_margin;
    }
    if (!compressor.map && compressor.wheel_diameter && point.pressure_ratio > 1.0) {
        point.shaft_speed =
            boost::wheel_speed(*compressor.wheel_diameter, point.pressure_ratio, weather_.temperature);
        if (refuse)
            point.warnings.push_back(
                {Reason::shaft_speed_by_wheel, {{boost::usual_head_coefficient, Quantity::ratio}}});
    }
}

void Chain::solve(OperatingPoint& point, bool refuse) const {
    const AirPath path = solve_air(point, refuse);
    exhaust(point);
    if (const BoostControl* control = exhaust_side_.control();
        refuse && control && control->spring_pressure && point.turbine_power > point.compressor_power &&
        point.boost < *control->spring_pressure * (1.0 - rounding))
        point.warnings.push_back({Reason::boost_below_spring,
                                  {{point.boost, Quantity::pressure_difference},
                                   {*control->spring_pressure, Quantity::pressure_difference}}});
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
        point.loads[i] = loads_.load(i, point);
        if (point.loads[i].use > 1.0 + rounding) {
            point.warnings.push_back(
                {Reason::part_overloaded, {counted(i + 1), {point.loads[i].use, Quantity::share}}});
        }
    }
    return point;
}

void Chain::add_air(OperatingPoint& point) const {
    solve(point, false);
}

OperatingPoint Chain::filled(double manifold_pressure, double filling) const {
    require("manifold_pressure", manifold_pressure, positive);
    require("filling", filling, positive);
    constexpr int most_rounds = 200;
    constexpr int plain_rounds = 40;
    constexpr double reference = 300.0;
    const double air_at_reference =
        filling * volumetric_efficiency_ *
        engine::air_flow(engine_.displacement, speed_, manifold_pressure, reference, 1.0) *
        dry_air_gas_constant / air_.gas_constant;
    OperatingPoint point{};
    point.speed = speed_;
    point.volumetric_efficiency = filling * volumetric_efficiency_;
    // Flow follows from the charge temperature, temperature and pressure ratio from the air path at that flow
    // and ratio: each depends little on the others.
    double temperature = weather_.temperature;
    double ratio = std::fmax(manifold_pressure / weather_.pressure, 1.0);
    for (int round = 0; round < most_rounds; ++round) {
        point.air_flow = air_at_reference * reference / temperature;
        const double inlet_pressure = intake(point, false);
        point.corrected_flow = corrected(point, inlet_pressure);
        const AirPath trial = path(point, ratio, false, nullptr);
        const double next =
            std::clamp((manifold_pressure + trial.compressor_pressure - trial.pressure) / inlet_pressure, 1.0,
                       highest_ratio);
        // A map gives its efficiency to some twelve digits, and has edges between which the steps may swing.
        const double agreed = round < plain_rounds ? 1e-12 : 1e-9;
        const double share = round < plain_rounds ? 1.0 : 0.4;
        const bool same = std::fabs(trial.temperature - temperature) <= agreed * temperature &&
                          std::fabs(next - ratio) <= agreed * ratio;
        temperature += share * (trial.temperature - temperature);
        ratio += share * (next - ratio);
        if (!same) continue;
        if (ratio == highest_ratio) break;
        point.dry_air_flow = point.air_flow / (1.0 + humidity_ratio_);
        point.fuel_flow = point.dry_air_flow / air_fuel_ratio_;
        point.fuel_volume_flow = fuel::volume_flow(point.fuel_flow, fuel_);
        point.pressure_ratio = ratio;
        set_air(point, path(point, ratio, false, &point), false);
        return point;
    }
    throw NoSolution(Reason::no_pressure_ratio, {{manifold_pressure, Quantity::pressure}});
}

}  // namespace pullsheet::plan
