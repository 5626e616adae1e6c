// SPDX-License-Identifier: Apache-2.0
#include "core/plan/stage_limit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/air/moist_air.hpp"
#include "core/cycle/filling.hpp"
#include "core/plan/chain.hpp"
#include "core/plan/full_load_curve.hpp"

namespace pullsheet::plan {
namespace {

/// The iteration ends where the fuel burned changes by less than this share.
constexpr double tolerance = 1e-3;
constexpr int most_iterations = 30;
/// K by which the gas may pass its bound where the parts hold the pressure.
constexpr double near_gas = 0.1;
/// The efficiency assumed of an engine that gives no work.
constexpr double idling = 0.02;

/// The cycle takes no hotter and no colder charge, K.
constexpr double hottest_charge = cycle::possible::manifold_temperature.high;
constexpr double coldest_charge = cycle::possible::manifold_temperature.low;

template <class Kind>
const Kind* part_in(const Parts& parts) {
    for (const Part& part : parts)
        if (const auto* found = std::get_if<Kind>(&part)) return found;
    return nullptr;
}

template <class Kind>
std::optional<std::size_t> place_of(const Parts& parts) {
    for (std::size_t i = 0; i < parts.size(); ++i)
        if (std::holds_alternative<Kind>(parts[i])) return i;
    return std::nullopt;
}

// The smallest limit of the parts; nothing where no part states one.
std::optional<Limits> hardware(const Engine& engine, const Parts& parts, const OfferedFuel& fuel,
                               double speed, const Weather& weather) {
    try {
        return limits(engine, parts, fuel.fuel, speed, weather);
    } catch (const NoData& failure) {
        if (failure.reason() == Reason::no_limit) return std::nullopt;
        throw;
    }
}

// The state of the charge at a power; nothing where it is more than the air path feeds at any boost.
std::optional<OperatingPoint> chain_at(const Engine& engine, const Parts& parts, const OfferedFuel& fuel,
                                       double power, double speed, const Weather& weather) {
    Chain chain(engine, fuel.fuel, speed, weather, parts);
    OperatingPoint point = chain.fuel_side(power);
    try {
        chain.add_air(point);
    } catch (const NoSolution&) {
        return std::nullopt;
    }
    if (!(point.charge_temperature >= coldest_charge))
        throw NoSolution(Reason::charge_too_cold, {{point.charge_temperature, Quantity::temperature},
                                                   {coldest_charge, Quantity::temperature},
                                                   {speed, Quantity::angular_speed}});
    return point;
}

LimitedBy limit_of(const Limits& carried) {
    const std::optional<DataEnd>& end = carried.parts[carried.weakest].data_end;
    return {.part = carried.weakest,
            .engine = EngineBound::knock,
            .data_end = end ? std::optional<Warning>(end->why) : std::nullopt};
}

/// Fixed-point iteration on the fuel burned, W: from x follows g(x), and g(x) = x is sought. g falls. Each
/// step is that of the secant through the last two; the bracket of x with g(x) > x and with g(x) < x is
/// bisected where the secant leaves it or has had its steps.
class FuelIteration {
  public:
    /// `slope` of g(x) − x where the iteration begins, and its steepest, both below 0.
    FuelIteration(double slope, double steepest) : slope_(slope), steepest_(steepest) {}

    double slope() const { return slope_; }

    /// The next x after one with g(x) − x = `residual`.
    double next(double x, double residual) {
        if (previous_ > 0.0 && x != previous_)
            slope_ = std::clamp((residual - previous_residual_) / (x - previous_), steepest_, least_steep);
        previous_ = x;
        previous_residual_ = residual;
        (residual > 0.0 ? low_ : high_) = x;
        const double secant = x * std::clamp(1.0 - residual / x / slope_, 0.2, 5.0);
        const bool by_secant = ++iterations_ < most_secant_steps || !(high_ < unbounded);
        return by_secant && secant > low_ && secant < high_ ? secant : middle();
    }

    /// The next x after one that is not feasible: so much fuel cannot be burned.
    double next_below(double x) {
        ++iterations_;
        high_ = x;
        return middle();
    }

  private:
    static constexpr double unbounded = std::numeric_limits<double>::infinity();
    static constexpr int most_secant_steps = 9;
    static constexpr double least_steep = -0.5;
    double middle() const { return 0.5 * (low_ + high_); }

    double slope_, steepest_;
    double previous_ = 0.0, previous_residual_ = 0.0;
    double low_ = 0.0, high_ = unbounded;
    int iterations_ = 0;
};

double possible_efficiency(double efficiency) {
    constexpr Interval possible = fuel::possible::efficiency;
    if (!possible.contains(efficiency))
        throw NoSolution(Reason::efficiency_beyond_engines,
                         {{efficiency, Quantity::share}, {possible.high, Quantity::share}});
    return efficiency;
}

// The limit of the parts together, if the engine bears that; nothing if not. What they carry depends on the
// efficiency, and that on the fuel burned. The slope of the iteration is −1 where fuel or air is the limit,
// steeper where power or torque is.
std::optional<StageLimit> limit_by_parts(const StageBase& base, InitialGuess& guess, const Parts& parts,
                                         const OfferedFuel& fuel, double speed) {
    fill_as_the_cycle(base, guess.engine, fuel, speed, guess.manifold_pressure);
    auto carried = hardware(guess.engine, parts, fuel, speed, base.weather);
    if (!carried) return std::nullopt;
    if (!(carried->power > 0.0)) {
        StageLimit nothing_carried;
        nothing_carried.limited_by = limit_of(*carried);
        return nothing_carried;
    }
    const cycle::BoostBounds bounds = boost_bounds(base, parts, speed);
    const cycle::Cylinder cylinder = base.engine_model.cylinder_at(speed);
    double burned = carried->power / guess.engine.efficiency;
    FuelIteration iteration(-1.0, -20.0);
    for (int i = 0; i < most_iterations; ++i) {
        const auto state =
            chain_at(guess.engine, parts, fuel, burned * guess.engine.efficiency, speed, base.weather);
        if (!state) return std::nullopt;  // another limit is reached long before
        if (!(state->manifold_pressure < cycle::BoostBounds{}.highest_manifold_pressure)) return std::nullopt;
        if (!(state->charge_temperature <= hottest_charge)) return std::nullopt;
        // Does it knock at the manifold pressure that the parts allow, with the latest burn? One cycle tells.
        // Below what the cycle computes there is no work either.
        const cycle::CyclePoint point =
            cycle_point(base, fuel, speed,
                        std::max(dry_share(base.weather) * state->manifold_pressure,
                                 cycle::possible::manifold_pressure.low),
                        state->charge_temperature);
        const cycle::Cycles cycles(cylinder, fuel.fuel);
        const auto latest = cycles.run(cycles.with_half_burned(point, bounds.latest_half_burned));
        if (!(latest.knock_integral < 1.0 && latest.peak_pressure < bounds.highest_peak_pressure))
            return std::nullopt;
        const auto spark = cycle::spark_limit(cycles, point, bounds.highest_peak_pressure);
        if (cycles.gas_temperature_reading(spark.result) > bounds.highest_gas_temperature + near_gas)
            return std::nullopt;
        // With so little air that the engine does not turn by itself, parts that carry power or torque are
        // far from their limit.
        guess.engine.efficiency = possible_efficiency(std::max(spark.result.efficiency, idling));
        fill_as_the_cycle(base, guess.engine, fuel, speed, point.manifold_pressure);
        carried = hardware(guess.engine, parts, fuel, speed, base.weather);
        const double residual = carried->power / guess.engine.efficiency - burned;
        if (std::abs(residual) < tolerance * burned)
            return StageLimit{spark.result.efficiency > 0.0 ? carried->power : 0.0,
                              limit_of(*carried),
                              state->manifold_pressure,
                              spark.spark_angle,
                              spark.result.efficiency,
                              cycles.gas_temperature_reading(spark.result),
                              spark.result.peak_pressure,
                              spark.result.half_burned_angle,
                              spark.result.warnings};
        burned = iteration.next(burned, residual);
    }
    return std::nullopt;
}

}  // namespace

cycle::BoostBounds boost_bounds(const StageBase& base, const Parts& parts, double speed) {
    static const EngineStrength none{};
    const EngineStrength* stated = part_in<EngineStrength>(parts);
    if (!stated) stated = &none;
    cycle::BoostBounds bounds;
    bounds.latest_half_burned = stated->latest_half_burned.value_or(base.engine_model.latest_half_burned);
    const SpeedFit& fit = base.engine_model.fit;
    bounds.latest_half_burned =
        std::min(bounds.latest_half_burned, fit.latest_burn.at(speed, bounds.latest_half_burned));
    const auto* turbine = part_in<boost::Turbine>(parts);
    const std::optional<double> gas = turbine ? turbine->max_gas_temperature : std::nullopt;
    bounds.highest_gas_temperature =
        std::min(stated->max_gas_temperature.value_or(gas.value_or(base.engine_model.gas_temperature)),
                 gas.value_or(std::numeric_limits<double>::infinity()));
    bounds.highest_peak_pressure =
        stated->max_peak_pressure.value_or(fit.peak_pressure.at(speed, base.engine_model.peak_pressure));
    bounds.highest_manifold_pressure *= dry_share(base.weather);
    return bounds;
}

EngineBound engine_bound(const StageBase& base, const cycle::BoostLimit& limit, const Parts& parts) {
    const EngineStrength* stated = part_in<EngineStrength>(parts);
    // Where the peak pressure keeps the boost, the fuel would bear more.
    if (limit.pressure_limited_by == cycle::BoostLimited::peak_pressure)
        return (stated && stated->max_peak_pressure) || base.engine_model.peak_pressure_measured
                   ? EngineBound::peak_pressure
                   : EngineBound::assumed_peak_pressure;
    if (limit.limited_by == cycle::BoostLimited::exhaust_temperature) return EngineBound::exhaust_temperature;
    return EngineBound::knock;
}

double dry_share(const Weather& weather) {
    return air::dry_pressure(weather.temperature, weather.pressure, weather.humidity) / weather.pressure;
}

StageBase for_cell(const StageBase& base, const Parts& parts, const OfferedFuel& fuel) {
    StageBase cell = base;
    cell.engine_model = for_cell(base.engine_model, parts, fuel);
    if (const EngineStrength* strength = part_in<EngineStrength>(parts);
        strength && strength->compression_ratio)
        cell.engine_model.cylinder.crank.compression_ratio = *strength->compression_ratio;
    return cell;
}

cycle::CyclePoint cycle_point(const StageBase& base, const OfferedFuel& fuel, double speed,
                              double manifold_pressure, double manifold_temperature) {
    cycle::CyclePoint point;
    point.angular_speed = speed;
    point.manifold_pressure = manifold_pressure;
    point.manifold_temperature = manifold_temperature;
    point.lambda = base.engine_model.fit.lambda.at(speed, fuel.lambda);
    point.ambient_pressure = base.weather.pressure;
    return point;
}

void fill_as_the_cycle(const StageBase& base, Engine& engine, const OfferedFuel& fuel, double speed,
                       double manifold_pressure) {
    const SpeedFit& fit = base.engine_model.fit;
    double filled = 1.0;
    if (manifold_pressure > 0.0)
        filled = cycle::filling_factor(
            cycle::exhaust_pressure(base.engine_model.cylinder,
                                    cycle_point(base, fuel, speed, manifold_pressure, 300.0)) /
                manifold_pressure,
            base.engine_model.cylinder.crank.compression_ratio);
    engine.volumetric_efficiency = std::max(0.01, filled) * base.engine.volumetric_efficiency.at(speed) *
                                   fit.volumetric_efficiency.at(speed, 1.0);
    engine.lambda = fit.lambda.at(speed, fuel.lambda);
    engine.charge_rise_factor = fit.charge_rise_factor.at(speed, 1.0);
    engine.charge_heating = fit.charge_heating.at(speed, 0.0);
}

namespace {

StageLimit limit_from(const BoostedEngine& engine, const BoostedLoad& load, LimitedBy limited_by) {
    const cycle::CycleResult& cycle = load.cycle;
    return {std::max(cycle.power, 0.0),
            std::move(limited_by),
            load.point.manifold_pressure,
            load.spark_angle,
            cycle.efficiency,
            cycle::gas_temperature_reading(engine.base().engine_model.cylinder, cycle),
            cycle.peak_pressure,
            cycle.half_burned_angle,
            cycle.warnings};
}

void remember(InitialGuess& guess, const StageBase& base, const StageLimit& limit) {
    guess.manifold_pressure = dry_share(base.weather) * limit.manifold_pressure;
    guess.half_burned = limit.half_burned_angle;
    if (!(limit.power > 0.0)) return;
    guess.power = limit.power;
    guess.engine.efficiency = possible_efficiency(limit.efficiency);
}

// With a turbine the pressure before it, the charge and the cycle are found together.
StageLimit limit_with_turbine(const StageBase& base, InitialGuess& guess, const Parts& parts,
                              const OfferedFuel& fuel, double speed) {
    const BoostedEngine engine(base, parts, fuel);
    const BoostedSpeed at(engine, speed);
    BoostedSpeed::Near near;
    if (guess.half_burned > 0.0) near.half_burned = guess.half_burned;
    const auto limit = at.engine_limit(near, guess.manifold_pressure / dry_share(base.weather));
    const StageLimit found =
        limit_from(engine, at.governed(limit.manifold_pressure, near), {{}, limit.bound, {}});
    remember(guess, base, found);
    return found;
}

// What the turbine does not give is a limit of the turbine, what the compressor does not stand one of the
// compressor.
StageLimit full_load_limit(const StageBase& base, InitialGuess& guess, const Parts& parts,
                           const OfferedFuel& fuel, double speed) {
    const BoostedEngine engine(base, parts, fuel);
    const CurvePoint point = full_load(engine, speed);
    LimitedBy limited_by = point.limited_by;
    if (point.held == Held::turbine || point.held == Held::wastegate)
        limited_by = {place_of<boost::Turbine>(parts), EngineBound::knock, {}};
    else if (point.held == Held::surge)
        limited_by = {place_of<Compressor>(parts), EngineBound::knock, {}};
    const StageLimit found = limit_from(engine, point.load, std::move(limited_by));
    remember(guess, base, found);
    return found;
}

}  // namespace

StageLimit limit_by_engine(const StageBase& base, InitialGuess& guess, const Parts& parts,
                           const OfferedFuel& fuel, double speed) {
    if (part_in<boost::Turbine>(parts)) return limit_with_turbine(base, guess, parts, fuel, speed);
    const cycle::BoostBounds bounds = boost_bounds(base, parts, speed);
    const double dry = dry_share(base.weather);
    const cycle::Cylinder cylinder = base.engine_model.cylinder_at(speed);
    const cycle::Cycles cycles(cylinder, fuel.fuel);
    constexpr double coarse_tolerance = 4e-3, coarser_limit = 10.0;
    cycle::BoostStart begin;
    if (guess.coarse) begin.coarser = coarser_limit;
    StageLimit best;
    double burned = guess.power / guess.engine.efficiency, charge_temperature = 0.0;
    FuelIteration iteration(guess.slope, -4.0);
    bool agree = false;
    for (int i = 0; i < most_iterations; ++i) {
        fill_as_the_cycle(base, guess.engine, fuel, speed, guess.manifold_pressure);
        const auto state =
            chain_at(guess.engine, parts, fuel, burned * guess.engine.efficiency, speed, base.weather);
        if (!state) {
            burned = iteration.next_below(burned);
            continue;
        }
        charge_temperature = state->charge_temperature;
        const cycle::CyclePoint point = cycle_point(base, fuel, speed, guess.manifold_pressure,
                                                    std::min(charge_temperature, hottest_charge));
        begin.manifold_pressure = guess.manifold_pressure;
        if (guess.half_burned > 0.0) begin.half_burned = guess.half_burned;
        const auto limit = cycle::boost_limit(
            cycles,
            [&](double pressure, double) {
                cycle::CyclePoint at = point;
                at.manifold_pressure = pressure;
                return at;
            },
            bounds, begin);
        guess.manifold_pressure = limit.manifold_pressure;
        guess.half_burned = limit.result.half_burned_angle;
        best = {limit.result.power,
                {.part = {}, .engine = engine_bound(base, limit, parts), .data_end = {}},
                limit.manifold_pressure / dry,
                limit.spark_angle,
                limit.result.efficiency,
                cycles.gas_temperature_reading(limit.result),
                limit.result.peak_pressure,
                limit.result.half_burned_angle,
                limit.result.warnings};
        if (!(best.power > 0.0)) return best;  // the engine does not turn by itself
        guess.engine.efficiency = possible_efficiency(best.efficiency);
        const double residual = best.power / best.efficiency - burned;
        agree = std::abs(residual) < (guess.coarse ? coarse_tolerance : tolerance) * burned;
        if (agree) break;
        burned = iteration.next(burned, residual);
        guess.slope = iteration.slope();
    }
    if (!agree) throw NoSolution(Reason::no_charge_agreement, {{speed, Quantity::angular_speed}});
    if (charge_temperature > hottest_charge)
        throw NoSolution(Reason::charge_too_hot, {{charge_temperature, Quantity::temperature},
                                                  {hottest_charge, Quantity::temperature},
                                                  {speed, Quantity::angular_speed}});
    return best;
}

namespace {

StageLimit limit_at(const StageBase& base, InitialGuess& guess, const Parts& parts, const OfferedFuel& fuel,
                    double speed) {
    if (part_in<boost::Turbine>(parts)) return full_load_limit(base, guess, parts, fuel, speed);
    auto best = limit_by_parts(base, guess, parts, fuel, speed);
    if (!best) {
        best = limit_by_engine(base, guess, parts, fuel, speed);
        // At the efficiency found the parts may carry less after all.
        const auto carried = hardware(guess.engine, parts, fuel, speed, base.weather);
        if (carried && carried->power < best->power)
            if (const auto less = limit_by_parts(base, guess, parts, fuel, speed)) best = less;
    }
    if (best->power > 0.0) guess.power = best->power;
    return *best;
}

}  // namespace

StageLimit stage_limit(const StageBase& base, InitialGuess& guess, const Parts& parts,
                       const OfferedFuel& fuel, double speed) {
    StageLimit limit = limit_at(base, guess, parts, fuel, speed);
    const std::optional<double>& peak_speed = base.engine_model.fit.power_peak_speed;
    if (!peak_speed || speed < *peak_speed) return limit;
    if (speed == *peak_speed) {
        guess.peak = limit.power;
        return limit;
    }
    if (!guess.peak) {
        InitialGuess there = guess;
        there.power *= *peak_speed / speed;
        guess.peak = limit_at(base, there, parts, fuel, *peak_speed).power;
    }
    if (!(limit.power > *guess.peak)) return limit;
    limit.power = *guess.peak;
    limit.limited_by = {.part = {}, .engine = EngineBound::measured_power_peak, .data_end = {}};
    return limit;
}

}  // namespace pullsheet::plan
