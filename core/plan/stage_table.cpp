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
    std::vector<Warning> warnings;
};

// The part that dry air has in the pressure: the cycle knows no water vapour.
double dry_share(const Weather& weather) {
    return air::dry_pressure(weather.temperature, weather.pressure, weather.humidity) / weather.pressure;
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
    return {carried.weakest, end ? std::optional<Warning>(end->why) : std::nullopt};
}

// What is known from the speed before, so that the next one starts near its answer.
struct Guess {
    Engine engine;                   ///< with the efficiency found last
    double power;                    ///< W, found last
    double manifold_pressure = 0.0;  ///< Pa of dry air, where knock began last; 0: not known
    double slope = -1.4;             ///< of Turns where knock limits
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
        if (!(cycles.knock_integral(cycles.with_half_burned(point, base.latest_half_burned)) < 1.0))
            return std::nullopt;
        const auto spark = cycle::spark_limit(cycles, point);
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
                        spark.result.warnings};
        burned = turns.next(burned, change);
    }
    return std::nullopt;
}

// The greatest boost that knock allows. It rests on the charge temperature, and that on the fuel burned, the
// power over the efficiency.
Best knock_bites(const TableBase& base, Guess& guess, const Parts& parts, const OfferedFuel& fuel,
                 double speed) {
    cycle::BoostBounds bounds;
    const double dry = dry_share(base.weather);
    bounds.latest_half_burned = base.latest_half_burned;
    bounds.highest_gas_temperature = 1e4;
    bounds.highest_manifold_pressure *= dry;
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
        const auto limit = cycle::boost_limit(base.cylinder, point, fuel.fuel, bounds);
        guess.manifold_pressure = limit.manifold_pressure;
        best = {limit.result.power,
                {},
                limit.manifold_pressure / dry,
                limit.spark_angle,
                limit.result.efficiency,
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

TableCell stage_on_fuel(const TableBase& base, const Parts& parts, const OfferedFuel& fuel, bool calibrated) {
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
    cell.warnings = peak.warnings;

    // Relative standard uncertainty of the power: what the cycle is trusted with, and what bites.
    const TableUncertainty& u = base.uncertainty;
    double variance = u.efficiency * u.efficiency;
    if (peak.bite.part) {
        variance += u.part_rating * u.part_rating;
    } else {
        variance += calibrated ? u.measured_power * u.measured_power : u.uncalibrated * u.uncalibrated;
        const auto power_with = [&](double octane) {
            TableBase shifted = base;
            shifted.cylinder.octane_offset += octane;
            Guess near = at_peak;
            return best_at(shifted, near, parts, fuel, cell.power_speed).power;
        };
        const double effect = 0.5 * (power_with(u.octane) - power_with(-u.octane)) / cell.power;
        variance += effect * effect;
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
