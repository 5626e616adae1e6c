// SPDX-License-Identifier: Apache-2.0
#include "core/plan/stage_table.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <exception>
#include <thread>

namespace pullsheet::plan {
namespace {

/// Speeds of the predicted curve as shares of the redline.
constexpr double curve_shares[] = {0.45, 0.6, 0.75, 0.88, 1.0};
/// The curve begins at this share of the speed of full boost.
constexpr double foot_share = 0.6;

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

std::vector<double> curve_speeds(double redline) {
    std::vector<double> speeds;
    for (const double share : curve_shares) speeds.push_back(share * redline);
    return speeds;
}

TableCell stage_on_fuel(const TableBase& table, const Parts& parts, const OfferedFuel& fuel) {
    TableBase base = table;
    static_cast<StageBase&>(base) = for_cell(table, parts, fuel);
    require("redline", base.redline, {0.0, cycle::possible::angular_speed.high, true, false});
    const double full_boost_from =
        base.full_boost_from > 0.0 ? base.full_boost_from : curve_shares[0] * base.redline;
    TableCell cell{};
    // 80 kW for each litre at the redline: where the charge is looked at first.
    InitialGuess guess{base.engine, 0.08e9 * base.engine.displacement};
    guess.engine.lambda = fuel.lambda;
    guess.engine.redline = base.redline;
    StageLimit peak;
    InitialGuess at_peak = guess;
    std::vector<double> looked_at = curve_speeds(base.redline);
    // Where the power of the measured pull peaked is where it is greatest.
    if (const auto& at = base.engine_model.fit.power_peak_speed; at && *at < base.redline)
        looked_at.insert(std::ranges::upper_bound(looked_at, *at), *at);
    for (const double speed : looked_at) {
        if (speed < 0.999 * full_boost_from) continue;
        // The torque changes less from speed to speed than the power.
        guess.power *= speed / (cell.speeds.empty() ? base.redline : cell.speeds.back());
        const StageLimit best = stage_limit(base, guess, parts, fuel, speed);
        cell.speeds.push_back(speed);
        cell.torques.push_back(best.power / speed);
        if (best.limited_by.data_end && !cell.missing) cell.missing = best.limited_by;
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
    static_cast<StageLimit&>(cell) = peak;
    cell.torque = *std::max_element(cell.torques.begin(), cell.torques.end());
    // A limit of knock knocks by definition.
    std::erase_if(cell.warnings, [](const Warning& warning) { return warning.reason == Reason::knocks; });
    cell.basis = basis_of(base, peak, fuel.fuel, cell.power_speed);

    const TableUncertainty& u = base.uncertainty;
    Effects& effects = cell.effects;
    effects[Assumption::efficiency] = u.efficiency * cell.power;
    effects[Assumption::distance] = cell.basis.uncertainty * cell.power;
    if (peak.limited_by.part) {
        effects[Assumption::part_rating] = u.part_rating * cell.power;
    } else {
        effects[Assumption::measured_power] = base.engine_model.power_uncertainty * cell.power;
        const auto half_difference = [&](auto shift) {
            const auto power_with = [&](double sign) {
                StageBase shifted = base;
                shift(shifted, sign);
                InitialGuess near = at_peak;
                near.peak.reset();
                return stage_limit(shifted, near, parts, fuel, cell.power_speed).power;
            };
            return 0.5 * (power_with(1.0) - power_with(-1.0));
        };
        effects[Assumption::octane] = half_difference(
            [&](StageBase& b, double sign) { b.engine_model.cylinder.octane_offset += sign * u.octane; });
        if (cell.limited_by.engine == EngineBound::assumed_peak_pressure)
            effects[Assumption::peak_pressure] = half_difference([&](StageBase& b, double sign) {
                b.engine_model.peak_pressure *= 1.0 + sign * u.assumed_peak_pressure;
            });
        if (!base.engine_model.fit.latest_burn.empty())
            effects[Assumption::latest_half_burned] = half_difference([&](StageBase& b, double sign) {
                for (double& angle : b.engine_model.fit.latest_burn.values)
                    angle = std::max(0.0, angle + sign * u.latest_half_burned);
            });
    }
    const double relative = 2.0 * effects.spread() / cell.power;
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

StageGain stage_gain(const TableCell& before, const TableCell& cell) {
    constexpr double practically_nothing = 0.01;
    const double gain = cell.power - before.power;
    const double uncertainty = cell.effects.spread_of_gain(before.effects);
    using enum StageGain::Verdict;
    const double least = practically_nothing * before.power;
    return {gain, uncertainty,
            gain < -least                 ? loss
            : !(gain > least)             ? none
            : !(gain > 2.0 * uncertainty) ? uncertain
                                          : pays};
}

std::vector<TableCell> stage_table(const TableBase& base, std::span<const Parts> stages,
                                   std::span<const OfferedFuel> fuels) {
    const std::size_t count = stages.size() * fuels.size();
    std::vector<TableCell> cells(count);
    std::vector<std::exception_ptr> errors(count);
    std::atomic<std::size_t> next{0};
    const auto work = [&] {
        for (std::size_t i = next++; i < count; i = next++) {
            try {
                cells[i] = stage_on_fuel(base, stages[i / fuels.size()], fuels[i % fuels.size()]);
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
