// SPDX-License-Identifier: Apache-2.0
#include "core/plan/full_load_curve.hpp"

#include <algorithm>
#include <cmath>

#include "core/solve.hpp"
#include "core/statistics/monotone_curve.hpp"

namespace pullsheet::plan {

namespace {

constexpr std::size_t line_nodes = 4;

/// How far a part is beyond its limit at a load; a part that does not work there at all is far beyond.
double beyond_limit(const BoostedSpeed& at, std::size_t part, const BoostedLoad& load) {
    constexpr double far = 1e3;
    try {
        return at.loads().upper_excess(part, load.point).value_or(far);
    } catch (const NoSolution&) {
        return far;
    }
}

/// The ceilings that the parts set up to a load, and where the data of a part end there.
struct PartCeilings {
    std::vector<Ceiling> ceilings;
    std::vector<std::optional<Warning>> data_ends;  // of each part
};

PartCeilings part_ceilings(const BoostedSpeed& at, const Parts& parts, const BoostedLoad& top,
                           double top_pressure, const BoostedSpeed::Near& near_top) {
    constexpr double exceeded = 1e-6;
    constexpr double precise = 1e-5;  // of the pressure
    constexpr double beyond = 1.0 + 1e-4;
    PartCeilings found{{}, std::vector<std::optional<Warning>>(parts.size())};
    const double low = std::fmax(0.25 * at.natural_filling(), 1.5 * cycle::possible::manifold_pressure.low);
    for (std::size_t part = 0; part < parts.size(); ++part) {
        if (std::holds_alternative<boost::Turbine>(parts[part]) || !at.loads().limited(part)) continue;
        const double excess = beyond_limit(at, part, top);
        if (!(excess > exceeded)) continue;
        BoostedSpeed::Near near = near_top;
        const auto over = [&](double pressure) {
            return beyond_limit(at, part, at.governed(pressure, near));
        };
        // Most loads grow about as the pressure does.
        const double guess = std::fmax(top_pressure / (1.0 + std::fmin(excess, 1.0)), low);
        const double pressure = rising_root(
            over, {guess, 1.0 / top_pressure, low, top_pressure, 0.3 * top_pressure, precise * top_pressure},
            Reason::no_pressure_balance, {{at.speed(), Quantity::angular_speed}});
        if (!(pressure > low)) throw NoSolution(Reason::no_power);
        found.ceilings.push_back({pressure, part});
        found.data_ends[part] = at.loads().data_end(part, at.governed(beyond * pressure, near).point);
    }
    return found;
}

void require_charge(const BoostedLoad& load) {
    constexpr Interval possible = cycle::possible::manifold_temperature;
    const double temperature = load.point.charge_temperature;
    if (possible.contains(temperature)) return;
    const bool hot = temperature > possible.high;
    throw NoSolution(hot ? Reason::charge_too_hot : Reason::charge_too_cold,
                     {{temperature, Quantity::temperature},
                      {hot ? possible.high : possible.low, Quantity::temperature},
                      {load.point.speed, Quantity::angular_speed}});
}

}  // namespace

LoadLine::LoadLine(const BoostedSpeed& speed, const BoostedEngine& engine, double lowest, double highest,
                   BoostedSpeed::Near near)
    : speed_(speed), engine_(engine) {
    for (std::size_t i = line_nodes; i-- > 0;) {
        const double share = static_cast<double>(i) / static_cast<double>(line_nodes - 1);
        const double pressure = lowest * std::pow(highest / lowest, share);
        best_torque_ = near.best_torque;
        const BoostedLoad load = speed.shut(pressure, near);
        nodes_.insert(nodes_.begin(), Node{std::log(pressure), load.cycle.gas_temperature,
                                           load.cycle.torque / load.point.air_flow,
                                           load.expansion.inlet_pressure, near.half_burned});
    }
    best_torque_ = near.best_torque;
}

BoostedLoad LoadLine::exact(double manifold_pressure) {
    BoostedSpeed::Near from = near(manifold_pressure);
    BoostedLoad load = speed_.shut(manifold_pressure, from);
    best_torque_ = from.best_torque;
    const Node node{std::log(manifold_pressure), load.cycle.gas_temperature,
                    load.cycle.torque / load.point.air_flow, load.expansion.inlet_pressure, from.half_burned};
    constexpr double same = 1e-7;
    const auto place = std::find_if(nodes_.begin(), nodes_.end(), [&](const Node& other) {
        return other.log_pressure > node.log_pressure - same;
    });
    if (place != nodes_.end() && place->log_pressure < node.log_pressure + same)
        *place = node;
    else
        nodes_.insert(place, node);
    return load;
}

double LoadLine::at(double manifold_pressure, double Node::*member) const {
    const double x =
        std::clamp(std::log(manifold_pressure), nodes_.front().log_pressure, nodes_.back().log_pressure);
    std::vector<double> xs, ys;
    for (const Node& node : nodes_) {
        xs.push_back(node.log_pressure);
        ys.push_back(node.*member);
    }
    std::size_t k = 0;
    while (k + 2 < xs.size() && x >= xs[k + 1]) ++k;
    return statistics::cubic_piece(xs, ys, k, statistics::monotone_slope(xs, ys, k),
                                   statistics::monotone_slope(xs, ys, k + 1))
        .at(x - xs[k]);
}

BoostedSpeed::Near LoadLine::near(double manifold_pressure) const {
    return {at(manifold_pressure, &Node::half_burned), at(manifold_pressure, &Node::gas_temperature),
            best_torque_};
}

Breath LoadLine::breathe(double, double manifold_pressure, double exhaust_pressure) const {
    OperatingPoint point = speed_.against(manifold_pressure, exhaust_pressure);
    point.torque = at(manifold_pressure, &Node::torque_share) * point.air_flow;
    return speed_.breath(point, at(manifold_pressure, &Node::gas_temperature));
}

double LoadLine::natural_filling(double) const {
    return speed_.natural_filling();
}

double LoadLine::outlet_pressure(const boost::GasStream& gas, double turbine_power) const {
    return engine_.outlet_pressure(gas, turbine_power);
}

CurvePoint full_load(const BoostedEngine& engine, double speed) {
    constexpr double least_span = 1.02;
    constexpr int most_rounds = 6;
    constexpr double agreed = 1e-6;
    const BoostedSpeed at(engine, speed);
    const Parts& parts = engine.parts();
    const boost::Turbine& turbine = engine.turbine();
    BoostedSpeed::Near near;
    const BoostedSpeed::EngineLimit limit = at.engine_limit(near);
    std::vector<Ceiling> ceilings{{limit.manifold_pressure, parts.size()}};
    if (const BoostControl* control = engine.exhaust_side().control(); control && control->max_boost)
        for (std::size_t part = 0; part < parts.size(); ++part)
            if (std::holds_alternative<BoostControl>(parts[part]))
                ceilings.push_back({engine.base().weather.pressure + *control->max_boost, part});
    const auto lowest_of = [](const std::vector<Ceiling>& all) {
        return std::ranges::min_element(all, {}, [](const Ceiling& c) { return c.manifold_pressure; })
            ->manifold_pressure;
    };
    const double lowest = lowest_of(ceilings);
    // A wastegate that may be too small lets the boost rise beyond the lowest ceiling.
    const double highest = turbine.wastegate_area ? limit.manifold_pressure : lowest;
    const double natural = at.natural_filling();
    LoadLine line(at, engine, natural, std::fmax(highest, least_span * natural), near);
    const Match match(line, turbine);

    std::optional<double> balance;
    if (lowest > natural) {
        balance = match.balance(speed, lowest);
        for (int round = 0; round < most_rounds && balance; ++round) {
            const double before = *balance;
            line.exact(before);
            balance = match.balance(speed, lowest);
            if (balance && std::fabs(*balance - before) <= agreed * before) break;
        }
    }
    const double top = turbine.wastegate_area ? highest : balance.value_or(lowest);
    BoostedSpeed::Near near_top = line.near(top);
    const BoostedLoad top_load = at.governed(top, near_top);
    PartCeilings by_parts = part_ceilings(at, parts, top_load, top, near_top);
    for (const Ceiling& ceiling : by_parts.ceilings) ceilings.push_back(ceiling);

    const FullLoad found = match.full_load(speed, ceilings);
    CurvePoint result{speed, found.manifold_pressure, found.held, {}, found.creeps, {}};
    result.limited_by.engine = limit.bound;
    if (found.ceiling && *found.ceiling < parts.size()) {
        result.limited_by.part = *found.ceiling;
        result.limited_by.data_end = by_parts.data_ends[*found.ceiling];
    }
    BoostedSpeed::Near near_end = line.near(found.manifold_pressure);
    if (found.held == Held::turbine) {
        result.load = at.shut(found.manifold_pressure, near_end);
    } else if (found.creeps) {
        result.load = at.opposed(found.manifold_pressure, found.expansion.inlet_pressure, near_end);
        result.load.expansion = found.expansion;
    } else {
        result.load = at.governed(found.manifold_pressure, near_end);
    }
    require_charge(result.load);
    return result;
}

}  // namespace pullsheet::plan
