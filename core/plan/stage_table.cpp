// SPDX-License-Identifier: Apache-2.0
#include "core/plan/stage_table.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <limits>
#include <thread>

#include "core/air/moist_air.hpp"
#include "core/cycle/filling.hpp"
#include "core/fuel/octane.hpp"
#include "core/plan/chain.hpp"

namespace pullsheet::plan {
namespace {

/// Speeds of the predicted curve as shares of the redline.
constexpr double curve_shares[] = {0.45, 0.6, 0.75, 0.88, 1.0};
/// Where the torque of the curve's foot stands: this share of the speed of full boost.
constexpr double foot_share = 0.6;

/// The charge temperature and the fuel burned at the knock limit that it allows are taken to agree where the
/// fuel changes by less than this share from one round to the next. The power then errs by some fifth of it.
constexpr double small_change = 1e-3;
constexpr int most_rounds = 30;
/// From this round on Turns go by halves: the secant has had its chance.
constexpr int patient_rounds = 9;
/// K by which the gas may pass its bound where the parts hold the pressure.
constexpr double near_gas = 0.1;
/// Engine strength not stated: this times the peak pressure of the measured point. An assumption.
constexpr double peak_pressure_factor = 1.2;
/// Bound of the slope of Turns.
constexpr double flattest = -0.5;
/// The efficiency by which parts are weighed where the engine gives none.
constexpr double idling = 0.02;

/// The cycle takes no hotter and no colder charge, K.
constexpr double hottest_charge = cycle::possible::manifold_temperature.high;
constexpr double coldest_charge = cycle::possible::manifold_temperature.low;

/// The best that one stage does on one fuel at one speed.
struct Best {
    double power = 0.0;
    Bite bite{};
    double manifold_pressure = 0.0;
    double spark_angle = 0.0;
    double efficiency = 0.0;
    double gas_temperature = 0.0;
    double peak_pressure = 0.0;
    double half_burned_angle = 0.0;
    std::vector<Warning> warnings;
};

// The part that dry air has in the pressure: the cycle knows no water vapour.
double dry_share(const Weather& weather) {
    return air::dry_pressure(weather.temperature, weather.pressure, weather.humidity) / weather.pressure;
}

const EngineStrength* strength_in(const Parts& parts) {
    for (const Part& part : parts)
        if (const auto* strength = std::get_if<EngineStrength>(&part)) return strength;
    return nullptr;
}

// What the engine of a stage may be asked to bear at a speed.
cycle::BoostBounds bounds_at(const TableBase& base, const Parts& parts, double speed) {
    static const EngineStrength none{};
    const EngineStrength* stated = strength_in(parts);
    if (!stated) stated = &none;
    cycle::BoostBounds bounds;
    bounds.latest_half_burned = stated->latest_half_burned.value_or(base.latest_half_burned);
    if (base.calibrated_burn)
        bounds.latest_half_burned = std::min(bounds.latest_half_burned, base.calibrated_burn->at(speed));
    bounds.highest_gas_temperature = stated->max_gas_temperature.value_or(base.gas_temperature);
    bounds.highest_peak_pressure = stated->max_peak_pressure.value_or(base.peak_pressure);
    bounds.highest_manifold_pressure *= dry_share(base.weather);
    return bounds;
}

EngineBound held_by(const cycle::BoostLimit& limit, const Parts& parts) {
    const EngineStrength* stated = strength_in(parts);
    // Where the peak pressure keeps the boost, the fuel would bear more.
    if (limit.pressure_limited_by == cycle::BoostLimited::peak_pressure)
        return stated && stated->max_peak_pressure ? EngineBound::peak_pressure
                                                   : EngineBound::assumed_peak_pressure;
    if (limit.limited_by == cycle::BoostLimited::exhaust_temperature) return EngineBound::exhaust_temperature;
    return EngineBound::knock;
}

// `manifold_pressure`: of dry air.
cycle::CyclePoint cycle_point(const TableBase& base, const OfferedFuel& fuel, double speed,
                              double manifold_pressure, double temperature) {
    cycle::CyclePoint point;
    point.angular_speed = speed;
    point.manifold_pressure = manifold_pressure;
    point.manifold_temperature = temperature;
    point.lambda = fuel.lambda;
    point.ambient_pressure = base.weather.pressure;
    return point;
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

Bite bite_of(const Limits& carried) {
    const std::optional<DataEnd>& end = carried.parts[carried.weakest].data_end;
    return {.part = carried.weakest,
            .held = EngineBound::knock,
            .data_end = end ? std::optional<Warning>(end->why) : std::nullopt};
}

// What is known from the speed before, so that the next one starts near its answer.
struct Guess {
    Engine engine;                   ///< with the efficiency found last
    double power;                    ///< W, found last
    double manifold_pressure = 0.0;  ///< Pa of dry air, where knock began last; 0: not known
    double slope = -1.4;             ///< of Turns where knock limits
    double half_burned = 0.0;        ///< rad, found with it; 0: not known
};

// The parts see the filling that is left beside the exhaust pressure of the cycle. `manifold_pressure`: Pa of
// dry air; 0: not known.
void fill_as_the_cycle(const TableBase& base, Guess& guess, const OfferedFuel& fuel, double speed,
                       double manifold_pressure) {
    double filled = 1.0;
    if (manifold_pressure > 0.0)
        filled = cycle::filling_factor(
            cycle::exhaust_pressure(base.cylinder, cycle_point(base, fuel, speed, manifold_pressure, 300.0)) /
                manifold_pressure,
            base.cylinder.crank.compression_ratio);
    guess.engine.volumetric_efficiency = std::max(0.01, filled) * base.engine.volumetric_efficiency.at(speed);
}

// Turns to the fuel burned, W, from which just as much follows again. From too little follows more, from too
// much less: each turn is drawn on along the secant of the last two, or goes by halves between the two.
class Turns {
  public:
    /// `slope`: what the change over a turn loses for each watt more at its beginning; `steepest`: its bound.
    Turns(double slope, double steepest) : slope_(slope), steepest_(steepest) {}

    double slope() const { return slope_; }

    double next(double burned, double change) {
        if (earlier_burned_ > 0.0 && burned != earlier_burned_)
            slope_ = std::clamp((change - earlier_change_) / (burned - earlier_burned_), steepest_, flattest);
        earlier_burned_ = burned;
        earlier_change_ = change;
        (change > 0.0 ? too_little_ : too_much_) = burned;
        const double drawn_on = burned * std::clamp(1.0 - change / burned / slope_, 0.2, 5.0);
        const bool patient = ++rounds_ < patient_rounds || !(too_much_ < endless);
        return patient && drawn_on > too_little_ && drawn_on < too_much_ ? drawn_on : half();
    }

    /// The next after one from which nothing follows: so much cannot be burned.
    double less(double burned) {
        ++rounds_;
        too_much_ = burned;
        return half();
    }

  private:
    static constexpr double endless = std::numeric_limits<double>::infinity();
    double half() const { return 0.5 * (too_little_ + too_much_); }

    double slope_, steepest_;
    double earlier_burned_ = 0.0, earlier_change_ = 0.0;
    double too_little_ = 0.0, too_much_ = endless;
    int rounds_ = 0;
};

double possible_efficiency(double efficiency) {
    constexpr Interval possible = fuel::possible::efficiency;
    if (!possible.contains(efficiency))
        throw NoSolution(Reason::efficiency_beyond_engines,
                         {{efficiency, Quantity::share}, {possible.high, Quantity::share}});
    return efficiency;
}

// What the parts carry together, if knock lets them; nothing otherwise. What they carry rests on the
// efficiency, and that on the fuel burned. The slope of the turns is -1 where they carry fuel or air, steeper
// where they carry power or torque.
std::optional<Best> parts_bite(const TableBase& base, Guess& guess, const Parts& parts,
                               const OfferedFuel& fuel, double speed) {
    fill_as_the_cycle(base, guess, fuel, speed, guess.manifold_pressure);
    auto carried = hardware(guess.engine, parts, fuel, speed, base.weather);
    if (!carried) return std::nullopt;
    if (!(carried->power > 0.0)) {
        Best nothing_carried;
        nothing_carried.bite = bite_of(*carried);
        return nothing_carried;
    }
    const cycle::BoostBounds bounds = bounds_at(base, parts, speed);
    double burned = carried->power / guess.engine.efficiency;
    Turns turns(-1.0, -20.0);
    for (int round = 0; round < most_rounds; ++round) {
        const auto state =
            chain_at(guess.engine, parts, fuel, burned * guess.engine.efficiency, speed, base.weather);
        if (!state) return std::nullopt;  // something else bites long before
        if (!(state->manifold_pressure < cycle::BoostBounds{}.highest_manifold_pressure)) return std::nullopt;
        if (!(state->charge_temperature <= hottest_charge)) return std::nullopt;
        // Does it knock at the manifold pressure that the parts allow, with the latest burn? One cycle tells.
        // Below what the cycle computes there is no work either.
        const cycle::CyclePoint point =
            cycle_point(base, fuel, speed,
                        std::max(dry_share(base.weather) * state->manifold_pressure,
                                 cycle::possible::manifold_pressure.low),
                        state->charge_temperature);
        const cycle::Cycles cycles(base.cylinder, fuel.fuel);
        const auto latest = cycles.run(cycles.with_half_burned(point, bounds.latest_half_burned));
        if (!(latest.knock_integral < 1.0 && latest.peak_pressure < bounds.highest_peak_pressure))
            return std::nullopt;
        const auto spark = cycle::spark_limit(cycles, point, bounds.highest_peak_pressure);
        if (cycles.gas_temperature_reading(spark.result) > bounds.highest_gas_temperature + near_gas)
            return std::nullopt;
        // With so little air that it turns by no work of its own, parts that carry power or torque have far
        // more to give.
        guess.engine.efficiency = possible_efficiency(std::max(spark.result.efficiency, idling));
        fill_as_the_cycle(base, guess, fuel, speed, point.manifold_pressure);
        carried = hardware(guess.engine, parts, fuel, speed, base.weather);
        const double change = carried->power / guess.engine.efficiency - burned;
        if (std::abs(change) < small_change * burned)
            return Best{spark.result.efficiency > 0.0 ? carried->power : 0.0,
                        bite_of(*carried),
                        state->manifold_pressure,
                        spark.spark_angle,
                        spark.result.efficiency,
                        cycles.gas_temperature_reading(spark.result),
                        spark.result.peak_pressure,
                        spark.result.half_burned_angle,
                        spark.result.warnings};
        burned = turns.next(burned, change);
    }
    return std::nullopt;
}

// The greatest boost that knock allows. It rests on the charge temperature, and that on the fuel burned, the
// power over the efficiency.
Best knock_bites(const TableBase& base, Guess& guess, const Parts& parts, const OfferedFuel& fuel,
                 double speed) {
    const cycle::BoostBounds bounds = bounds_at(base, parts, speed);
    const double dry = dry_share(base.weather);
    const cycle::Cycles cycles(base.cylinder, fuel.fuel);
    cycle::BoostStart begin;
    Best best;
    double burned = guess.power / guess.engine.efficiency, charge_temperature = 0.0;
    Turns turns(guess.slope, -4.0);
    bool agree = false;
    for (int round = 0; round < most_rounds; ++round) {
        fill_as_the_cycle(base, guess, fuel, speed, guess.manifold_pressure);
        const auto state =
            chain_at(guess.engine, parts, fuel, burned * guess.engine.efficiency, speed, base.weather);
        if (!state) {
            burned = turns.less(burned);
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
                {.part = {}, .held = held_by(limit, parts), .data_end = {}},
                limit.manifold_pressure / dry,
                limit.spark_angle,
                limit.result.efficiency,
                cycles.gas_temperature_reading(limit.result),
                limit.result.peak_pressure,
                limit.result.half_burned_angle,
                limit.result.warnings};
        if (!(best.power > 0.0)) return best;  // it turns by no work of its own
        guess.engine.efficiency = possible_efficiency(best.efficiency);
        const double change = best.power / best.efficiency - burned;
        agree = std::abs(change) < small_change * burned;
        if (agree) break;
        burned = turns.next(burned, change);
        guess.slope = turns.slope();
    }
    if (!agree) throw NoSolution(Reason::no_charge_agreement, {{speed, Quantity::angular_speed}});
    if (charge_temperature > hottest_charge)
        throw NoSolution(Reason::charge_too_hot, {{charge_temperature, Quantity::temperature},
                                                  {hottest_charge, Quantity::temperature},
                                                  {speed, Quantity::angular_speed}});
    return best;
}

Best best_at(const TableBase& base, Guess& guess, const Parts& parts, const OfferedFuel& fuel, double speed) {
    auto best = parts_bite(base, guess, parts, fuel, speed);
    if (!best) {
        best = knock_bites(base, guess, parts, fuel, speed);
        // At the efficiency found the parts may carry less after all.
        const auto carried = hardware(guess.engine, parts, fuel, speed, base.weather);
        if (carried && carried->power < best->power)
            if (const auto less = parts_bite(base, guess, parts, fuel, speed)) best = less;
    }
    if (best->power > 0.0) guess.power = best->power;
    return *best;
}

// With the compression ratio of the stage.
TableBase for_stage(const TableBase& base, const Parts& parts) {
    TableBase stage = base;
    if (const EngineStrength* strength = strength_in(parts); strength && strength->compression_ratio)
        stage.cylinder.crank.compression_ratio = *strength->compression_ratio;
    return stage;
}

std::optional<Span> timed(const std::optional<road::Vehicle>& vehicle, const road::TorqueCurve& curve,
                          double relative, const auto& run) {
    if (!vehicle) return std::nullopt;
    try {
        return Span{run(curve), run(curve.scaled(1.0 + relative)), run(curve.scaled(1.0 - relative))};
    } catch (const NoSolution&) {
        return std::nullopt;  // the car does not reach the speed
    }
}

}  // namespace

cycle::Calibration calibrate_table(const TableBase& base, const MeasuredMap& measured,
                                   const OfferedFuel& fuel) {
    cycle::CyclePoint point =
        cycle_point(base, fuel, measured.speed, dry_share(base.weather) * measured.manifold_pressure,
                    measured.manifold_temperature);
    point.lambda = measured.lambda;
    point.spark_angle = measured.spark_angle;
    return cycle::calibrate(base.cylinder, point, fuel.fuel, measured.power);
}

double CalibratedBurn::at(double speed) const {
    const auto next = std::lower_bound(speeds.begin(), speeds.end(), speed);
    if (next == speeds.begin()) return angles.front();
    if (next == speeds.end()) return angles.back();
    const auto i = static_cast<std::size_t>(next - speeds.begin());
    return std::lerp(angles[i - 1], angles[i], (speed - speeds[i - 1]) / (speeds[i] - speeds[i - 1]));
}

cycle::Calibration calibrate(TableBase& base, const MeasuredMap& measured, const Parts& parts,
                             const OfferedFuel& fuel) {
    base.cylinder.calibration_sensitivity = fuel::ron(fuel.fuel) - fuel::mon(fuel.fuel);
    const TableBase of_stage = for_stage(base, parts);
    auto calibration = calibrate_table(of_stage, measured, fuel);
    base.cylinder.octane_offset = calibration.octane_offset;
    base.cylinder.efficiency_factor = calibration.efficiency_factor;
    const double reading = cycle::gas_temperature_reading(base.cylinder, calibration.result);
    base.peak_pressure = peak_pressure_factor * calibration.result.peak_pressure;
    base.gas_temperature = std::max(base.gas_temperature, reading);
    // The measured stage on the measured fuel, no part and no peak pressure holding it.
    TableBase at_reading = for_stage(base, parts);
    at_reading.gas_temperature = reading;
    at_reading.peak_pressure = std::numeric_limits<double>::infinity();
    Parts no_strength = parts;
    std::erase_if(no_strength, [](const Part& part) { return std::holds_alternative<EngineStrength>(part); });
    Guess guess{base.engine, measured.power};
    guess.engine.lambda = fuel.lambda;
    CalibratedBurn burn;
    std::vector<double> speeds{measured.speed};
    for (const double share : curve_shares) speeds.push_back(share * base.redline);
    std::sort(speeds.begin(), speeds.end());
    for (const double speed : speeds) {
        try {
            guess.power = measured.power * speed / measured.speed;
            const double angle =
                speed == measured.speed
                    ? calibration.result.half_burned_angle
                    : knock_bites(at_reading, guess, no_strength, fuel, speed).half_burned_angle;
            burn.speeds.push_back(speed);
            burn.angles.push_back(std::clamp(angle, 0.0, base.latest_half_burned));
        } catch (const NoSolution&) {
            continue;  // what is known at the other speeds serves
        }
    }
    base.calibrated_burn = std::move(burn);
    return calibration;
}

TableCell stage_on_fuel(const TableBase& table, const Parts& parts, const OfferedFuel& fuel,
                        bool calibrated) {
    const TableBase base = for_stage(table, parts);
    require("redline", base.redline, {0.0, cycle::possible::angular_speed.high, true, false});
    const double full_boost_from =
        base.full_boost_from > 0.0 ? base.full_boost_from : curve_shares[0] * base.redline;
    TableCell cell{};
    // 80 kW for each litre at the redline: where the charge is looked at first.
    Guess guess{base.engine, 0.08e9 * base.engine.displacement};
    guess.engine.lambda = fuel.lambda;
    guess.engine.redline = base.redline;
    Best peak;
    Guess at_peak = guess;
    for (const double share : curve_shares) {
        const double speed = share * base.redline;
        if (speed < 0.999 * full_boost_from) continue;
        // The torque changes less from speed to speed than the power.
        guess.power *= speed / (cell.speeds.empty() ? base.redline : cell.speeds.back());
        const Best best = best_at(base, guess, parts, fuel, speed);
        cell.speeds.push_back(speed);
        cell.torques.push_back(best.power / speed);
        if (best.bite.data_end && !cell.missing) cell.missing = best.bite;
        if (best.power > peak.power) {
            peak = best;
            at_peak = guess;
            cell.power_speed = speed;
        }
    }
    if (cell.speeds.empty()) throw InvalidArgument("full_boost_from", full_boost_from, {0.0, base.redline});
    if (!(peak.power > 0.0)) {
        if (!cell.missing) throw NoSolution(Reason::no_power);
        cell.impossible = cell.missing->data_end;
        return cell;
    }
    // Below full boost the torque falls off with the speed.
    cell.speeds.insert(cell.speeds.begin(), foot_share * cell.speeds.front());
    cell.torques.insert(cell.torques.begin(), foot_share * cell.torques.front());
    cell.power = peak.power;
    cell.torque = *std::max_element(cell.torques.begin(), cell.torques.end());
    cell.bite = peak.bite;
    cell.manifold_pressure = peak.manifold_pressure;
    cell.spark_angle = peak.spark_angle;
    cell.gas_temperature = peak.gas_temperature;
    cell.peak_pressure = peak.peak_pressure;
    cell.half_burned_angle = peak.half_burned_angle;
    cell.warnings = peak.warnings;

    // Relative standard uncertainty of the power: what the cycle is trusted with, and what bites.
    const TableUncertainty& u = base.uncertainty;
    double variance = u.efficiency * u.efficiency;
    if (peak.bite.part) {
        variance += u.part_rating * u.part_rating;
    } else {
        variance += calibrated ? u.measured_power * u.measured_power : u.uncalibrated * u.uncalibrated;
        const auto half_difference = [&](auto shift) {
            const auto power_with = [&](double sign) {
                TableBase shifted = base;
                shift(shifted, sign);
                Guess near = at_peak;
                return best_at(shifted, near, parts, fuel, cell.power_speed).power;
            };
            return 0.5 * (power_with(1.0) - power_with(-1.0)) / cell.power;
        };
        const auto add = [&](double effect) { variance += effect * effect; };
        add(half_difference([&](TableBase& b, double sign) { b.cylinder.octane_offset += sign * u.octane; }));
        if (cell.bite.held == EngineBound::assumed_peak_pressure)
            add(half_difference(
                [&](TableBase& b, double sign) { b.peak_pressure *= 1.0 + sign * u.assumed_peak_pressure; }));
        if (base.calibrated_burn)
            add(half_difference([&](TableBase& b, double sign) {
                for (double& angle : b.calibrated_burn->angles)
                    angle = std::max(0.0, angle + sign * u.latest_half_burned);
            }));
    }
    const double relative = 2.0 * std::sqrt(variance);
    cell.power_low = cell.power * (1.0 - relative);
    cell.power_high = cell.power * (1.0 + relative);

    if (base.vehicle) {
        const road::TorqueCurve curve(cell.speeds, cell.torques);
        road::Vehicle vehicle = *base.vehicle;
        vehicle.rev_limit = std::min(vehicle.rev_limit.value_or(base.redline), base.redline);
        cell.time_100_200 = timed(base.vehicle, curve, relative, [&](const road::TorqueCurve& c) {
            return road::speed_run(vehicle, c, 100.0 / 3.6, 200.0 / 3.6, base.road_weather).time;
        });
        cell.time_60_130 = timed(base.vehicle, curve, relative, [&](const road::TorqueCurve& c) {
            return road::speed_run(vehicle, c, 60.0 * 0.44704, 130.0 * 0.44704, base.road_weather).time;
        });
        cell.time_quarter_mile = timed(base.vehicle, curve, relative, [&](const road::TorqueCurve& c) {
            return road::distance_run(vehicle, c, 402.336, base.road_weather).time;
        });
    }
    return cell;
}

std::vector<TableCell> stage_table(const TableBase& base, std::span<const Parts> stages,
                                   std::span<const OfferedFuel> fuels, bool calibrated) {
    const std::size_t count = stages.size() * fuels.size();
    std::vector<TableCell> cells(count);
    std::vector<std::exception_ptr> errors(count);
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (std::size_t i = next++; i < count; i = next++) {
            try {
                cells[i] = stage_on_fuel(base, stages[i / fuels.size()], fuels[i % fuels.size()], calibrated);
            } catch (const NoSolution& none) {
                cells[i].impossible = Warning{none.reason(), none.details()};
            } catch (...) {
                errors[i] = std::current_exception();
            }
        }
    };
    {
        const std::size_t workers = std::min<std::size_t>({count, std::thread::hardware_concurrency(), 8});
        std::vector<std::jthread> threads;
        for (std::size_t i = 1; i < workers; ++i) threads.emplace_back(work);
        work();
    }
    for (const std::exception_ptr& error : errors)
        if (error) std::rethrow_exception(error);
    return cells;
}

}  // namespace pullsheet::plan
