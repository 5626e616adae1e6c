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

namespace {

/// A cell on its way: its limits are known, its band is not yet.
struct Predicted {
    TableCell cell;
    InitialGuess at_peak;  ///< as the search for the greatest power left it

    /// Whether the alternatives of the engine move it.
    bool needs_alternatives() const {
        return !cell.impossible && !cell.limited_by.part && cell.basis.kind != Basis::Kind::measured;
    }
};

Predicted predicted(const TableBase& table, const Parts& parts, const OfferedFuel& fuel) {
    require("redline", table.redline, {0.0, cycle::possible::angular_speed.high, true, false});
    StageBase base = for_cell(table, parts, fuel);
    const double redline = table.redline;
    const double full_boost_from =
        table.full_boost_from > 0.0 ? table.full_boost_from : curve_shares[0] * redline;
    TableCell cell{};
    // 80 kW for each litre at the redline: where the charge is looked at first.
    InitialGuess guess{base.engine, 0.08e9 * base.engine.displacement};
    guess.engine.lambda = fuel.lambda;
    guess.engine.redline = redline;
    StageLimit peak;
    InitialGuess at_peak = guess;
    std::vector<double> looked_at = curve_speeds(redline);
    // Where the power of the measured pull peaked is where it is greatest.
    if (const auto& at = base.engine_model.fit.power_peak_speed; at && *at < redline)
        looked_at.insert(std::ranges::upper_bound(looked_at, *at), *at);
    for (const double speed : looked_at) {
        if (speed < 0.999 * full_boost_from) continue;
        // The torque changes less from speed to speed than the power.
        guess.power *= speed / (cell.speeds.empty() ? redline : cell.speeds.back());
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
    if (cell.speeds.empty()) throw InvalidArgument("full_boost_from", full_boost_from, {0.0, redline});
    if (!(peak.power > 0.0)) {
        if (!cell.missing) throw NoSolution(Reason::no_power);
        cell.impossible = cell.missing->data_end;
        return {std::move(cell), at_peak};
    }
    // Below full boost the torque falls off with the speed.
    cell.speeds.insert(cell.speeds.begin(), foot_share * cell.speeds.front());
    cell.torques.insert(cell.torques.begin(), foot_share * cell.torques.front());
    static_cast<StageLimit&>(cell) = peak;
    cell.torque = *std::max_element(cell.torques.begin(), cell.torques.end());
    // A limit of knock knocks by definition.
    std::erase_if(cell.warnings, [](const Warning& warning) { return warning.reason == Reason::knocks; });
    cell.basis = basis_of(base, peak, fuel.fuel, cell.power_speed);
    return {std::move(cell), at_peak};
}

void put_times(TableCell& cell, const TableBase& base, double relative) {
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

// The band of a cell, and its times with theirs.
void put_band(Predicted& p, const TableBase& base, const Parts& parts, const OfferedFuel& fuel,
              std::span<const Alternative> others) {
    TableCell& cell = p.cell;
    if (cell.impossible) return;
    cell.effects = effects_on({base, parts, fuel, cell, p.at_peak, cell.power_speed, cell.basis}, others,
                              base.uncertainty);
    const double relative = 2.0 * cell.effects.spread() / cell.power;
    cell.power_low = cell.power * (1.0 - relative);
    cell.power_high = cell.power * (1.0 + relative);
    if (base.vehicle) put_times(cell, base, relative);
}

// Calls `work` with 0 … count − 1, side by side on the machine's cores. Of what is thrown the first in that
// order is thrown.
template <class Work>
void side_by_side(std::size_t count, Work work) {
    std::vector<std::exception_ptr> errors(count);
    std::atomic<std::size_t> next{0};
    const auto all = [&] {
        for (std::size_t i = next++; i < count; i = next++) {
            try {
                work(i);
            } catch (...) {
                errors[i] = std::current_exception();
            }
        }
    };
    {
        const std::size_t workers = std::min<std::size_t>({count, std::thread::hardware_concurrency(), 8});
        std::vector<std::jthread> threads;
        for (std::size_t i = 1; i < workers; ++i) threads.emplace_back(all);
        all();
    }
    for (const std::exception_ptr& error : errors)
        if (error) std::rethrow_exception(error);
}

// The engine calibrated with other assumptions, for the speeds at which the cells have their greatest power.
std::vector<Alternative> alternatives_for(const TableBase& base, std::span<const Predicted> cells) {
    std::vector<double> speeds;
    for (const Predicted& p : cells)
        if (p.needs_alternatives()) speeds.push_back(p.cell.power_speed);
    std::ranges::sort(speeds);
    const auto doubled = std::ranges::unique(speeds);
    speeds.erase(doubled.begin(), doubled.end());
    if (speeds.empty()) return {};
    std::vector<Alternative> others = alternatives(base.engine_model, base.uncertainty);
    std::vector<char> counts(others.size());
    side_by_side(others.size(), [&](std::size_t i) {
        counts[i] = recalibrate(others[i], base.engine_model, speeds, base.uncertainty);
    });
    std::vector<Alternative> counting;
    for (std::size_t i = 0; i < others.size(); ++i)
        if (counts[i]) counting.push_back(std::move(others[i]));
    return counting;
}

}  // namespace

TableCell stage_on_fuel(const TableBase& base, const Parts& parts, const OfferedFuel& fuel) {
    Predicted p = predicted(base, parts, fuel);
    put_band(p, base, parts, fuel, alternatives_for(base, {&p, 1}));
    return p.cell;
}

StageGain stage_gain(const TableCell& before, const TableCell& cell) {
    // Common practice: what two pulls and two days on a chassis dynamometer differ by.
    constexpr double practically_nothing = 0.01;
    constexpr double little_more = 0.03;
    const double gain = cell.power - before.power;
    const double uncertainty = cell.effects.spread_of_gain(before.effects);
    using enum StageGain::Verdict;
    const double least = practically_nothing * before.power;
    return {gain, uncertainty,
            gain < -least                          ? loss
            : !(gain > least)                      ? none
            : !(gain > 2.0 * uncertainty)          ? uncertain
            : !(gain > little_more * before.power) ? little
                                                   : pays};
}

std::vector<TableCell> stage_table(const TableBase& base, std::span<const Parts> stages,
                                   std::span<const OfferedFuel> fuels) {
    const std::size_t count = stages.size() * fuels.size();
    const auto stage = [&](std::size_t i) -> const Parts& { return stages[i / fuels.size()]; };
    const auto fuel = [&](std::size_t i) -> const OfferedFuel& { return fuels[i % fuels.size()]; };
    std::vector<Predicted> cells(count, Predicted{{}, {base.engine, 0.0}});
    side_by_side(count, [&](std::size_t i) {
        try {
            cells[i] = predicted(base, stage(i), fuel(i));
        } catch (const NoSolution& none) {
            cells[i].cell.impossible = Warning{none.reason(), none.details()};
        }
    });
    const std::vector<Alternative> others = alternatives_for(base, cells);
    side_by_side(count, [&](std::size_t i) { put_band(cells[i], base, stage(i), fuel(i), others); });
    std::vector<TableCell> table;
    table.reserve(count);
    for (Predicted& p : cells) table.push_back(std::move(p.cell));
    return table;
}

}  // namespace pullsheet::plan
