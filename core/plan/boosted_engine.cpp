// SPDX-License-Identifier: Apache-2.0
#include "core/plan/boosted_engine.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/cycle/filling.hpp"
#include "core/engine/power.hpp"
#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

constexpr double degree = pi / 180.0;
constexpr double hottest_in_cycle = cycle::possible::manifold_temperature.high;  // K that the cycle takes
constexpr double coldest_in_cycle = cycle::possible::manifold_temperature.low;
constexpr double least_filling = 0.01;
// The search for the spark at a manifold pressure.
constexpr double earliest_half_burned = -5.0 * degree;
constexpr double maybe_too_early = 20.0 * degree;  // a burn as early as this may be earlier than best torque
constexpr double beside = 2.0 * degree;
constexpr double knock_by_angle = -0.062 / degree;  // usual, of the logarithm of the knock integral
constexpr double peak_weight = 1.5;                 // of the logarithm of the peak pressure beside it
constexpr double longest_step = 12.0 * degree;
constexpr int most_cycles = 30;

Engine engine_at(const StageBase& base, const OfferedFuel& fuel, double speed) {
    Engine engine = base.engine;
    fill_as_the_cycle(base, engine, fuel, speed, 0.0);
    return engine;
}

}  // namespace

BoostedEngine::BoostedEngine(const StageBase& base, const Parts& parts, const OfferedFuel& fuel)
    : base_(for_cell(base, parts, fuel)),
      parts_(parts),
      fuel_(fuel),
      exhaust_side_(parts),
      dry_(dry_share(base.weather)) {
    if (!exhaust_side_.turbine()) throw InvalidArgument("turbine", Reason::turbine_missing);
}

BoostedLoad BoostedEngine::load(double speed, double manifold_pressure, double exhaust_pressure) const {
    const BoostedSpeed at(*this, speed);
    const OperatingPoint air = at.against(manifold_pressure, exhaust_pressure);
    const cycle::Cylinder cylinder = base_.engine_model.cylinder_at(speed);
    const cycle::Cycles cycles(cylinder, fuel_.fuel);
    cycle::CyclePoint point =
        cycle_point(base_, fuel_, speed, dry_ * manifold_pressure,
                    std::clamp(air.charge_temperature, coldest_in_cycle, hottest_in_cycle));
    point.exhaust_pressure = exhaust_pressure;
    std::optional<cycle::SparkLimit> spark;
    try {
        spark = cycle::spark_limit(cycles, point, at.bounds().highest_peak_pressure);
    } catch (const NoSolution& error) {
        if (error.reason() != Reason::knocks_at_any_spark) throw;
    }
    if (!spark || spark->result.half_burned_angle > at.bounds().latest_half_burned) {
        const cycle::CyclePoint latest = cycles.with_half_burned(point, at.bounds().latest_half_burned);
        spark = {latest.spark_angle, cycle::SparkLimited::knock, cycles.run(latest)};
    }
    BoostedLoad load{air, spark->result, spark->spark_angle, {}};
    load.expansion.inlet_pressure = exhaust_pressure;
    load.point.torque = load.cycle.torque;
    load.point.power = load.cycle.power;
    load.point.bmep = engine::bmep(load.cycle.torque, base_.engine.displacement);
    return load;
}

Breath BoostedEngine::breathe(double speed, double manifold_pressure, double exhaust_pressure) const {
    const BoostedLoad at = load(speed, manifold_pressure, exhaust_pressure);
    return BoostedSpeed(*this, speed).breath(at.point, at.cycle.gas_temperature);
}

double BoostedEngine::natural_filling(double speed) const {
    return BoostedSpeed(*this, speed).natural_filling();
}

double BoostedEngine::outlet_pressure(const boost::GasStream& gas, double turbine_power) const {
    return exhaust_side_.outlet_pressure(gas, base_.weather.pressure, turbine_power);
}

BoostedSpeed::BoostedSpeed(const BoostedEngine& engine, double speed)
    : engine_(engine),
      speed_(speed),
      engine_at_speed_(engine_at(engine.base_, engine.fuel_, speed)),
      chain_(engine_at_speed_, engine.fuel_.fuel, speed, engine.base_.weather, engine.parts_),
      bounds_(boost_bounds(engine.base_, engine.parts_, speed)),
      cylinder_(engine.base_.engine_model.cylinder_at(speed)),
      cycles_(cylinder_, engine.fuel_.fuel),
      exhaust_gas_(cycle::mix(engine.fuel_.fuel, engine_at_speed_.lambda, 0.0).residual) {
    // The flow that just passes without help from the compressor.
    constexpr int most_rounds = 30;
    const double ambient = engine.base_.weather.pressure;
    double pressure = ambient;
    for (int round = 0; round < most_rounds; ++round) {
        const OperatingPoint air = chain_.filled(pressure, 1.0);
        const double delivered = std::fmax(ambient - air.intake_loss - air.charge_loss, 0.2 * ambient);
        const bool same = std::fabs(delivered - pressure) < 1e-7 * pressure;
        pressure = same ? delivered : 0.5 * (pressure + delivered);
        if (same) break;
    }
    natural_filling_ = pressure;
}

double BoostedSpeed::filling(double manifold_pressure, double exhaust_pressure) const {
    // The cycle knows dry air only.
    return std::fmax(cycle::filling_factor(exhaust_pressure / (engine_.dry_ * manifold_pressure),
                                           cylinder_.crank.compression_ratio),
                     least_filling);
}

OperatingPoint BoostedSpeed::against(double manifold_pressure, double exhaust_pressure) const {
    OperatingPoint point = chain_.filled(manifold_pressure, filling(manifold_pressure, exhaust_pressure));
    point.exhaust_pressure = exhaust_pressure;
    point.surge_margin =
        chain_.loads().surge_margin(point).value_or(std::numeric_limits<double>::quiet_NaN());
    return point;
}

Breath BoostedSpeed::breath(const OperatingPoint& point, double gas_temperature) const {
    const double heat_capacity = exhaust_gas_.heat_capacity(gas_temperature);
    Breath breath{};
    breath.gas = {point.air_flow + point.fuel_flow,
                  gas_temperature,
                  {heat_capacity / (heat_capacity - exhaust_gas_.gas_constant), heat_capacity}};
    breath.air_flow = point.air_flow;
    breath.torque = point.torque;
    breath.pressure_ratio = point.pressure_ratio;
    breath.compressor_efficiency = point.compressor_efficiency;
    breath.compressor_power = point.compressor_power;
    if (point.shaft_speed > 0.0) breath.shaft_speed = point.shaft_speed;
    if (!std::isnan(point.surge_margin)) breath.surge_margin = point.surge_margin;
    return breath;
}

BoostedSpeed::AirPath BoostedSpeed::air_path(double manifold_pressure, double gas_temperature,
                                             bool governing) const {
    const double ambient = engine_.base_.weather.pressure;
    AirPath path{};
    const auto before_turbine = [&](double felt) {
        path.point = against(manifold_pressure, felt);
        const Breath seen = breath(path.point, gas_temperature);
        path.expansion = governing ? engine_.exhaust_side_
                                         .state(seen.gas, ambient, seen.compressor_power, seen.shaft_speed)
                                         .expansion
                                   : engine_.exhaust_side_.shut(seen.gas, ambient, seen.shaft_speed);
        return path.expansion.inlet_pressure;
    };
    constexpr double highest = 100.0;  // of the pressure of the surroundings
    const double balanced = fixed_point(before_turbine, ambient, highest * ambient,
                                        Reason::no_pressure_balance, {{speed_, Quantity::angular_speed}});
    before_turbine(balanced);
    return path;
}

/// The burn of best torque at a fixed air path, by parabolas through three cycles.
template <class Run>
double BoostedSpeed::best_torque(Run run, Near& near) const {
    constexpr double usual = 9.0 * degree;
    constexpr double latest = 42.0 * degree;
    constexpr int most_rounds = 8;
    double step = 4.0 * degree;
    double middle = near.best_torque != 0.0 ? near.best_torque : usual;
    for (int round = 0; round < most_rounds; ++round) {
        const double before = run(middle - step).torque;
        const double at = run(middle).torque;
        const double after = run(middle + step).torque;
        const double bend = before - 2.0 * at + after;
        const double shift =
            bend < 0.0 ? 0.5 * step * (before - after) / bend : (after > before ? step : -step);
        middle =
            std::clamp(middle + std::clamp(shift, -2.0 * step, 2.0 * step), earliest_half_burned, latest);
        if (std::fabs(shift) < 0.25 * step) break;
        if (std::fabs(shift) < step) step = std::fmax(0.5 * step, 2.0 * degree);
    }
    near.best_torque = middle;
    return middle;
}

template <class Path>
BoostedLoad BoostedSpeed::settle(double manifold_pressure, Near& near, const Tolerance& tolerance,
                                 Path path) const {
    const double latest = bounds_.latest_half_burned;
    double angle = std::clamp(near.half_burned, std::min(earliest_half_burned, latest), latest);
    double gas = near.gas_temperature;
    AirPath air{};
    cycle::CyclePoint point{};
    const auto feed = [&] {
        air = path(gas);
        point = cycle_point(engine_.base_, engine_.fuel_, speed_, engine_.dry_ * manifold_pressure,
                            std::clamp(air.point.charge_temperature, coldest_in_cycle, hottest_in_cycle));
        point.exhaust_pressure = air.expansion.inlet_pressure;
    };
    const auto run_at = [&](double half_burned) {
        return cycles_.run(cycles_.with_half_burned(point, half_burned));
    };
    const auto over = [&](const cycle::CycleResult& result) {
        return std::fmax(std::log(result.knock_integral),
                         peak_weight * std::log(result.peak_pressure / bounds_.highest_peak_pressure));
    };
    cycle::CycleResult now{};
    double slope = knock_by_angle, last_angle = 0.0, last_over = 0.0;
    bool best = false;  // the spark is that of best torque
    for (int i = 0;; ++i) {
        if (i == most_cycles)
            throw NoSolution(Reason::no_boost_limit, {{manifold_pressure, Quantity::pressure},
                                                      {manifold_pressure, Quantity::pressure}});
        feed();
        now = run_at(angle);
        const double change = now.gas_temperature - gas;
        gas = now.gas_temperature;
        const double o = over(now);
        const bool gas_agrees = std::fabs(change) <= tolerance.gas;
        if (best) {
            // Where that burn knocks after all, knock limits it.
            if (o <= tolerance.knock && gas_agrees) break;
            if (o <= tolerance.knock) continue;
            best = false;
        } else if (std::fabs(o) <= tolerance.knock || (o > 0.0 && angle >= latest) ||
                   (o < 0.0 && angle <= earliest_half_burned)) {
            if (o > 0.0 && angle >= latest) {
                if (gas_agrees) break;
                continue;
            }
            if (angle < maybe_too_early && run_at(std::fmin(angle + beside, latest)).torque > now.torque) {
                angle = std::fmin(best_torque(run_at, near), latest);
                best = true;
                continue;
            }
            if (gas_agrees) break;
        }
        if (i > 0 && angle != last_angle) {
            const double secant = (o - last_over) / (angle - last_angle);
            if (secant < 0.2 * knock_by_angle && secant > 4.0 * knock_by_angle) slope = secant;
        }
        last_angle = angle;
        last_over = o;
        angle = std::clamp(angle + std::clamp(-o / slope, -longest_step, longest_step),
                           std::min(earliest_half_burned, latest), latest);
    }
    near.half_burned = angle;
    near.gas_temperature = gas;
    BoostedLoad load{air.point, now, cycles_.with_half_burned(point, angle).spark_angle, air.expansion};
    load.point.torque = now.torque;
    load.point.power = now.power;
    load.point.bmep = engine::bmep(now.torque, engine_.base_.engine.displacement);
    return load;
}

BoostedLoad BoostedSpeed::shut(double manifold_pressure, Near& near) const {
    return settle(manifold_pressure, near, exact,
                  [&](double gas) { return air_path(manifold_pressure, gas, false); });
}

BoostedLoad BoostedSpeed::shut_nearly(double manifold_pressure, Near& near) const {
    return settle(manifold_pressure, near, nearly,
                  [&](double gas) { return air_path(manifold_pressure, gas, false); });
}

BoostedLoad BoostedSpeed::governed(double manifold_pressure, Near& near) const {
    return settle(manifold_pressure, near, exact,
                  [&](double gas) { return air_path(manifold_pressure, gas, true); });
}

BoostedLoad BoostedSpeed::opposed(double manifold_pressure, double exhaust_pressure, Near& near) const {
    return settle(manifold_pressure, near, exact, [&](double) {
        AirPath path{against(manifold_pressure, exhaust_pressure), {}};
        path.expansion.inlet_pressure = exhaust_pressure;
        return path;
    });
}

BoostedSpeed::EngineLimit BoostedSpeed::engine_limit(Near& near, double begin_pressure) const {
    const double dry = engine_.dry_;
    cycle::BoostStart start;
    start.manifold_pressure = dry * begin_pressure;
    start.half_burned = near.half_burned;
    start.gas_temperature = near.gas_temperature;
    const cycle::BoostLimit limit = cycle::boost_limit(
        cycles_,
        [&](double pressure, double gas_temperature) {
            const AirPath path = air_path(pressure / dry, gas_temperature, true);
            cycle::CyclePoint point =
                cycle_point(engine_.base_, engine_.fuel_, speed_, pressure,
                            std::clamp(path.point.charge_temperature, coldest_in_cycle, hottest_in_cycle));
            point.exhaust_pressure = path.expansion.inlet_pressure;
            return point;
        },
        bounds_, start);
    near.half_burned = limit.result.half_burned_angle;
    near.gas_temperature = limit.result.gas_temperature;
    return {limit.manifold_pressure / dry, engine_bound(engine_.base_, limit, engine_.parts_),
            limit.result.torque};
}

CalibratedEngine calibrated_with_turbine(const StageBase& base, std::span<const MeasuredMap> maps,
                                         std::span<const double> speeds) {
    const auto has_turbine = [](const MeasuredMap& map) {
        return std::ranges::any_of(
            map.parts, [](const Part& part) { return std::holds_alternative<boost::Turbine>(part); });
    };
    const auto with = std::ranges::find_if(maps, has_turbine);
    if (with == maps.end() || with->points.empty()) return calibrated(base, maps, speeds);
    const MeasuredPoint& greatest = *std::ranges::max_element(with->points, {}, &MeasuredPoint::power);
    const double ambient = base.weather.pressure;
    const double boost = dry_share(base.weather) * greatest.manifold_pressure - ambient;
    if (!(boost > 0.0)) return calibrated(base, maps, speeds);
    // The gas temperature there depends on the calibration, which depends little on the pressure.
    constexpr int rounds = 3;
    StageBase assumed = base;
    CalibratedEngine engine = calibrated(base, maps, speeds, false);
    for (int round = 0; round < rounds; ++round) {
        StageBase trial = base;
        trial.engine_model = engine;
        const BoostedEngine boosted(trial, with->parts, with->fuel);
        const BoostedSpeed at(boosted, greatest.speed);
        BoostedSpeed::Near near;
        const BoostedLoad load = at.governed(greatest.manifold_pressure, near);
        assumed.engine_model.cylinder.back_pressure_loss = 0.0;
        assumed.engine_model.cylinder.back_pressure_per_boost =
            std::clamp((load.expansion.inlet_pressure - ambient) / boost, 0.0, 5.0);
        engine = calibrated(assumed, maps, speeds, round + 1 == rounds);
    }
    return engine;
}

}  // namespace pullsheet::plan
