// SPDX-License-Identifier: Apache-2.0
#include "core/plan/load_line.hpp"

#include <algorithm>
#include <cmath>

#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

constexpr std::size_t line_nodes = 4;

}  // namespace

LoadLine::LoadLine(const BoostedSpeed& speed, const BoostedEngine& engine, double lowest, double highest,
                   BoostedSpeed::Near near)
    : speed_(speed), engine_(engine) {
    BoostedSpeed::Near before = near;
    for (std::size_t i = line_nodes; i-- > 0;) {
        const double share = static_cast<double>(i) / static_cast<double>(line_nodes - 1);
        const double pressure = lowest * std::pow(highest / lowest, share);
        // From the third on, where the last two point to.
        BoostedSpeed::Near here = near;
        if (i + 2 < line_nodes) {
            here.half_burned += near.half_burned - before.half_burned;
            here.gas_temperature += near.gas_temperature - before.gas_temperature;
        }
        before = near;
        const BoostedLoad load = speed.shut_nearly(pressure, here);
        near = here;
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

SurplusCurve::SurplusCurve(const Match& match, double speed, double lowest, double highest) {
    constexpr int steps = 14;
    for (int i = 0; i <= steps; ++i) {
        logs_.push_back(std::lerp(std::log(lowest), std::log(highest), i / double{steps}));
        shares_.push_back(match.shut(speed, std::exp(logs_.back())).surplus_share());
    }
}

statistics::CubicPiece SurplusCurve::piece(std::size_t k) const {
    return statistics::cubic_piece(logs_, shares_, k, statistics::monotone_slope(logs_, shares_, k),
                                   statistics::monotone_slope(logs_, shares_, k + 1));
}

std::optional<double> SurplusCurve::first_fall(double more) const {
    if (shares_.front() + more < 0.0) return std::exp(logs_.front());
    for (std::size_t k = 0; k + 1 < logs_.size(); ++k) {
        if (!(shares_[k + 1] + more < 0.0)) continue;
        const statistics::CubicPiece curve = piece(k);
        const double step = root_between([&](double x) { return curve.at(x) + more; }, 0.0,
                                         logs_[k + 1] - logs_[k], Reason::no_pressure_balance);
        return std::exp(logs_[k] + step);
    }
    return std::nullopt;
}

bool SurplusCurve::dips() const {
    constexpr double near_zero = 0.05;
    for (std::size_t k = 1; k + 1 < logs_.size(); ++k) {
        if (shares_[k] < 0.0) return false;
        if (shares_[k] < near_zero && shares_[k] <= shares_[k - 1] && shares_[k] <= shares_[k + 1])
            return true;
    }
    return false;
}

double SurplusCurve::least() const {
    return *std::ranges::min_element(shares_);
}

double SurplusCurve::least_at() const {
    const auto least = std::ranges::min_element(shares_) - shares_.begin();
    return std::exp(logs_[static_cast<std::size_t>(least)]);
}

}  // namespace pullsheet::plan
