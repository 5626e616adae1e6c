// SPDX-License-Identifier: Apache-2.0
#include "core/plan/full_load_curve.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

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

/// One speed of the curve.
class FullLoadSearch {
  public:
    FullLoadSearch(FullLoadCurve& curve, double speed)
        : curve_(curve),
          engine_(curve.engine_),
          here_(std::make_unique<BoostedSpeed>(curve.engine_, speed)),
          at_(*here_),
          uncertainty_(curve.uncertainty_),
          near_(curve.near_) {}

    CurvePoint solve() {
        limit_ = at_.engine_limit(near_, curve_.limit_);
        std::vector<Ceiling> ceilings = first_ceilings();
        const double lowest =
            std::ranges::min_element(ceilings, {}, &Ceiling::manifold_pressure)->manifold_pressure;
        // A wastegate that may be too small lets the boost rise beyond the lowest ceiling.
        const bool may_creep = engine_.turbine().wastegate_area.has_value();
        const double highest = may_creep ? limit_.manifold_pressure : lowest;
        const double natural = at_.natural_filling();
        const double end = std::fmax(highest, least_span * natural);
        if (!begin_nearby(natural, lowest)) {
            line_.emplace(at_, engine_, natural, end, near_);
            match_.emplace(*line_, engine_.turbine());
            if (lowest > natural) surplus_.emplace(*match_, at_.speed(), natural, lowest);
        }
        const std::optional<double> balance = surplus_ ? from_below(natural, lowest) : std::nullopt;
        const double top = may_creep ? highest : balance.value_or(lowest);
        BoostedSpeed::Near near = line_->near(top);
        BoostedLoad load = at_.governed(top, near);
        const PartCeilings by_parts = part_ceilings(at_, engine_.parts(), load, top, near);
        ceilings.insert(ceilings.end(), by_parts.ceilings.begin(), by_parts.ceilings.end());
        CurvePoint point = banded(at_end(ceilings, by_parts, balance, top, std::move(load)));
        if (!borrowed_) curve_.line_speed_ = at_.speed();
        curve_.limit_ = limit_.manifold_pressure;
        curve_.near_ = near_;
        match_.reset();
        curve_.line_.emplace(at_, engine_, *line_);
        curve_.at_ = std::move(here_);
        return point;
    }

  private:
    static constexpr double least_span = 1.02;
    static constexpr double never_too_small = std::numeric_limits<double>::infinity();

    std::vector<Ceiling> first_ceilings() const {
        const Parts& parts = engine_.parts();
        std::vector<Ceiling> ceilings{{limit_.manifold_pressure, parts.size()}};
        if (const BoostControl* control = engine_.exhaust_side().control(); control && control->max_boost)
            for (std::size_t part = 0; part < parts.size(); ++part)
                if (std::holds_alternative<BoostControl>(parts[part]))
                    ceilings.push_back({engine_.base().weather.pressure + *control->max_boost, part});
        return ceilings;
    }

    /// Tries the gas temperatures of the last speed. They serve where the surplus is so great that they do
    /// not matter.
    bool begin_nearby(double natural, double lowest) {
        constexpr double near_by = 0.15;  // of the speed
        constexpr double great_share = 0.1;
        if (!curve_.line_ || !(std::fabs(curve_.line_speed_ / at_.speed() - 1.0) < near_by)) return false;
        if (!(lowest > natural)) return false;
        line_.emplace(at_, engine_, *curve_.line_);
        match_.emplace(*line_, engine_.turbine());
        surplus_.emplace(*match_, at_.speed(), natural, lowest);
        borrowed_ = surplus_->least() > great_share;
        if (borrowed_) return true;
        match_.reset();
        surplus_.reset();
        return false;
    }

    /// The pressure that the turbine gives, from below; none where it gives the lowest ceiling.
    std::optional<double> from_below(double natural, double lowest) {
        constexpr int most_rounds = 8;
        constexpr double agreed = 1e-6;
        std::optional<double> balance =
            surplus_->dips() ? match_->balance(at_.speed(), lowest) : surplus_->first_fall();
        for (int round = 0; round < most_rounds && balance; ++round) {
            line_->exact(*balance);
            const double before = *balance;
            const double step = 1e-3 * before;
            const double share = match_->shut(at_.speed(), before).surplus_share();
            const double slope = (share - match_->shut(at_.speed(), before - step).surplus_share()) / step;
            if (!(slope < 0.0)) break;
            balance = std::clamp(before - share / slope, natural, lowest);
            if (std::fabs(*balance - before) <= agreed * before) break;
            // The turbine gives the ceiling after all.
            if (*balance == lowest && before == lowest) return std::nullopt;
        }
        return balance;
    }

    CurvePoint at_end(const std::vector<Ceiling>& ceilings, const PartCeilings& by_parts,
                      std::optional<double> balance, double top, BoostedLoad at_top) const {
        const Ceiling& lowest = *std::ranges::min_element(ceilings, {}, &Ceiling::manifold_pressure);
        CurvePoint result{at_.speed(), lowest.manifold_pressure, Held::ceiling, {}, false, {}, 0.0, 0.0};
        result.limited_by.engine = limit_.bound;
        std::optional<std::size_t> holds = lowest.by;
        if (!(lowest.manifold_pressure > at_.natural_filling())) {
            result.held = Held::throttle;
        } else if (balance && *balance < lowest.manifold_pressure) {
            result.held = Held::turbine;
            result.manifold_pressure = *balance;
        }
        BoostedSpeed::Near near = line_->near(result.manifold_pressure);
        if (result.held == Held::turbine)
            result.load = at_.shut(result.manifold_pressure, near);
        else if (result.manifold_pressure == top)
            result.load = std::move(at_top);
        else
            result.load = at_.governed(result.manifold_pressure, near);
        const boost::Turbine& turbine = engine_.turbine();
        const double available =
            turbine.wastegate_area ? turbine.count * *turbine.wastegate_area : never_too_small;
        if (result.held != Held::throttle &&
            (result.load.expansion.wastegate_area > available || result.load.point.surge_margin < 0.0)) {
            const FullLoad found = match_->full_load(at_.speed(), ceilings);
            result.manifold_pressure = found.manifold_pressure;
            result.held = found.held;
            result.creeps = found.creeps;
            holds = found.ceiling;
            near = line_->near(found.manifold_pressure);
            if (found.creeps) {
                result.load = at_.opposed(found.manifold_pressure, found.expansion.inlet_pressure, near);
                result.load.expansion = found.expansion;
            } else {
                result.load = at_.governed(found.manifold_pressure, near);
            }
        }
        if (holds && *holds < engine_.parts().size()) {
            result.limited_by.part = *holds;
            result.limited_by.data_end = by_parts.data_ends[*holds];
        }
        require_charge(result.load);
        return result;
    }

    /// Torque at a manifold pressure, the wastegate shut: by the line.
    double torque_at(double pressure) const {
        const Match::Shut at = match_->shut(at_.speed(), pressure);
        return at.breath.torque;
    }

    /// Relative standard uncertainty of the torque at the pressure that holds.
    double of_the_engine(const CurvePoint& point) const {
        double square = uncertainty_.efficiency * uncertainty_.efficiency +
                        std::pow(engine_.base().engine_model.power_uncertainty, 2);
        if (point.held == Held::ceiling && point.limited_by.part) {
            square += uncertainty_.part_rating * uncertainty_.part_rating;
        } else if (point.held == Held::ceiling) {
            StageBase moved = engine_.base();
            if (limit_.bound == EngineBound::assumed_peak_pressure)
                moved.engine_model.peak_pressure *= 1.0 - uncertainty_.peak_pressure;
            else if (limit_.bound != EngineBound::peak_pressure)
                moved.engine_model.cylinder.octane_offset -= uncertainty_.octane;
            const BoostedEngine other(moved, engine_.parts(), engine_.fuel());
            const BoostedSpeed at(other, at_.speed());
            BoostedSpeed::Near near = near_;
            const double torque = at.engine_limit(near, limit_.manifold_pressure).torque;
            square += std::pow(torque / point.load.cycle.torque - 1.0, 2);
        }
        return std::sqrt(square);
    }

    CurvePoint banded(CurvePoint point) const {
        const double torque = point.load.cycle.torque;
        const double engine = 2.0 * of_the_engine(point) * std::fabs(torque);
        double down = 0.0, up = 0.0;
        if (surplus_ && (point.held == Held::turbine || point.held == Held::ceiling)) {
            double square = 0.0;
            for (const double shift :
                 match_->surplus_shifts(at_.speed(), point.manifold_pressure, uncertainty_.match))
                square += shift * shift;
            const double band = 2.0 * std::sqrt(square);
            const auto torque_with = [&](double more) {
                const double pressure = surplus_->first_fall(more).value_or(point.manifold_pressure);
                return torque_at(std::fmax(pressure, at_.natural_filling()));
            };
            const double here = torque_at(point.manifold_pressure);
            const double low = torque_with(-band);
            if (low < here) down = (1.0 - low / here) * torque;
            if (point.held == Held::turbine) {
                const auto reached = surplus_->first_fall(band);
                const double high = reached ? torque_at(*reached) : torque_at(limit_.manifold_pressure);
                up = std::fmax(high / here - 1.0, 0.0) * torque;
            }
        }
        point.torque_low = torque - std::hypot(engine, down);
        point.torque_high = torque + std::hypot(engine, up);
        return point;
    }

    FullLoadCurve& curve_;
    const BoostedEngine& engine_;
    bool borrowed_ = false;  // the line is that of another speed
    std::unique_ptr<BoostedSpeed> here_;
    const BoostedSpeed& at_;
    const CurveUncertainty& uncertainty_;
    BoostedSpeed::Near near_;
    BoostedSpeed::EngineLimit limit_{};
    std::optional<LoadLine> line_;
    std::optional<Match> match_;
    std::optional<SurplusCurve> surplus_;
};

CurvePoint FullLoadCurve::at(double speed) {
    return FullLoadSearch(*this, speed).solve();
}

CurvePoint full_load(const BoostedEngine& engine, double speed, const CurveUncertainty& uncertainty) {
    return FullLoadCurve(engine, uncertainty).at(speed);
}

}  // namespace pullsheet::plan
