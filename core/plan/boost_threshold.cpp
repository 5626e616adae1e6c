// SPDX-License-Identifier: Apache-2.0
#include "core/plan/boost_threshold.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <memory>

#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

constexpr double speed_tolerance = 1e-6;  // relative

/// The engine at one speed up to a manifold pressure.
struct SpeedLine {
    SpeedLine(const BoostedEngine& engine, double speed, double highest, BoostedSpeed::Near near)
        : at(engine, speed),
          line(at, engine, at.natural_filling(), std::fmax(highest, 1.02 * at.natural_filling()), near),
          match(line, engine.turbine()) {}

    /// With the gas temperatures of another speed.
    SpeedLine(const BoostedEngine& engine, double speed, const LoadLine& nearby)
        : at(engine, speed), line(at, engine, nearby), match(line, engine.turbine()) {}

    BoostedSpeed at;
    LoadLine line;
    Match match;
};

class ThresholdSearch {
  public:
    ThresholdSearch(const BoostedEngine& engine, double pressure, double lowest, double highest)
        : engine_(engine), pressure_(pressure), lowest_(lowest), highest_(highest) {}

    ThresholdBand solve(const MatchUncertainty& uncertainty) {
        ThresholdBand band{{{}, {}, 0.0, lowest_}, {}, {}, {}};
        const double start = std::clamp(0.45 * highest_, lowest_, highest_);
        // Gas temperatures from cycles at the speed found before, until that is the one found.
        constexpr int most_passes = 6;
        constexpr double nearby = 1e-3;
        double rising = start;
        for (int pass = 0; pass < most_passes; ++pass) {
            cycles_at(rising);
            const double before = rising;
            rising = root(before, [&](double speed) { return least(speed); });
            if (std::fabs(rising - before) <= nearby * before) break;
        }
        if (!(least(rising) >= -near_zero) && rising >= highest_) {
            held_at_the_end(band.threshold);
            return band;
        }
        band.threshold.rising = rising;
        band.threshold.highest_pressure = pressure_;
        band.threshold.highest_speed = rising;
        // Where the share is least at the pressure itself, it is held as soon as it is reached.
        const bool passes_a_dip = critical_ < pressure_;
        band.threshold.falling = passes_a_dip ? falling_from(rising) : rising;
        add_band(band, uncertainty);
        return band;
    }

  private:
    static constexpr double near_zero = 1e-4;

    template <class Share>
    double root(double start, Share share) {
        return rising_root(
            share, {start, 2.0 / highest_, lowest_, highest_, 0.25 * highest_, speed_tolerance * highest_},
            Reason::no_pressure_balance, {{start, Quantity::angular_speed}});
    }

    double falling_from(double rising) {
        constexpr int passes = 2;
        double falling = rising;
        for (int pass = 0; pass < passes; ++pass) {
            if (pass > 0) cycles_at(falling);
            falling = root(falling, [&](double speed) { return at_it(speed); });
        }
        cycles_at(rising);
        return std::fmin(falling, rising);
    }

    /// Cycles at a speed, whose gas temperatures then serve at all others.
    void cycles_at(double speed) {
        lines_.clear();
        own_ = std::make_unique<SpeedLine>(engine_, speed, pressure_, near_);
        if (pressure_ > own_->at.natural_filling()) own_->line.exact(pressure_);
        near_ = own_->line.near(pressure_);
        own_speed_ = speed;
    }

    SpeedLine& at(double speed) {
        if (speed == own_speed_) return *own_;
        const auto known = lines_.find(speed);
        if (known != lines_.end()) return *known->second;
        return *(lines_[speed] = std::make_unique<SpeedLine>(engine_, speed, own_->line));
    }

    /// The least share of surplus on the way to the pressure, and where it is.
    double least(double speed) {
        SpeedLine& here = at(speed);
        const double natural = here.at.natural_filling();
        if (!(pressure_ > natural)) return 1.0;
        const SurplusCurve surplus(here.match, speed, natural, pressure_);
        critical_ = surplus.least_at();
        if (critical_ >= pressure_ * (1.0 - 1e-12)) {
            critical_ = pressure_;
        } else if (critical_ > natural) {
            // The dip itself; once near the threshold from cycles there.
            if (speed == own_speed_) here.line.exact(critical_);
            return here.match.least_share(speed, pressure_);
        }
        return here.match.shut(speed, critical_).surplus_share();
    }

    double at_it(double speed) {
        SpeedLine& here = at(speed);
        return pressure_ > here.at.natural_filling() ? here.match.shut(speed, pressure_).surplus_share()
                                                     : 1.0;
    }

    void held_at_the_end(Threshold& threshold) {
        constexpr int speeds = 6;
        for (int i = 1; i <= speeds; ++i) {
            const double speed = std::lerp(lowest_, highest_, i / double{speeds});
            cycles_at(speed);
            const double pressure = at(speed).match.balance(speed, pressure_).value_or(pressure_);
            if (!(pressure > threshold.highest_pressure)) continue;
            threshold.highest_pressure = pressure;
            threshold.highest_speed = speed;
        }
    }

    /// Each uncertainty moves the share at the critical pressure; the threshold moves to where the moved
    /// share over engine speed is zero.
    void add_band(ThresholdBand& band, const MatchUncertainty& uncertainty) {
        const double rising = *band.threshold.rising;
        const double critical = critical_;
        constexpr double steps[] = {0.7, 0.8, 0.9, 1.0, 1.1, 1.25, 1.5};
        std::vector<double> speeds, shares;
        std::vector<std::vector<double>> shifts;
        for (const double step : steps) {
            const double speed = std::clamp(step * rising, lowest_, highest_);
            if (!speeds.empty() && !(speed > speeds.back())) continue;
            const Match& match = at(speed).match;
            const double pressure = std::fmax(critical, 1.001 * at(speed).at.natural_filling());
            speeds.push_back(speed);
            shares.push_back(match.shut(speed, pressure).surplus_share());
            shifts.push_back(match.surplus_shifts(speed, pressure, uncertainty));
        }
        double square = 0.0;
        bool known = speeds.size() > 1;
        for (std::size_t i = 0; known && i < shifts.front().size(); ++i) {
            const double shift = moved_to(speeds, shares, shifts, i) - rising;
            band.shifts.push_back(shift);
            if (std::isnan(shift))
                known = false;
            else
                square += shift * shift;
        }
        const double half_width = 2.0 * std::sqrt(square);
        band.low = std::fmax(rising - half_width, 0.0);
        if (known) band.high = rising + half_width;
    }

    /// The speed at which the share moved by uncertainty `i` rises through zero; beyond the ends by the last
    /// slope, NaN where it does not rise.
    double moved_to(const std::vector<double>& speeds, const std::vector<double>& shares,
                    const std::vector<std::vector<double>>& shifts, std::size_t i) const {
        const auto moved = [&](std::size_t k) { return shares[k] + shifts[k][i]; };
        std::size_t k = 1;
        while (k + 1 < speeds.size() && moved(k) < 0.0) ++k;
        const double slope = (moved(k) - moved(k - 1)) / (speeds[k] - speeds[k - 1]);
        if (!(slope > 0.0)) return std::numeric_limits<double>::quiet_NaN();
        return speeds[k] - moved(k) / slope;
    }

    const BoostedEngine& engine_;
    double pressure_, lowest_, highest_;
    BoostedSpeed::Near near_{};
    double critical_ = 0.0;
    std::unique_ptr<SpeedLine> own_;  // with cycles of its own
    double own_speed_ = 0.0;
    std::map<double, std::unique_ptr<SpeedLine>> lines_;
};

Parts with_area(Parts parts, double area) {
    for (Part& part : parts)
        if (auto* turbine = std::get_if<boost::Turbine>(&part)) {
            if (turbine->largest_area) *turbine->largest_area *= area / turbine->effective_area;
            turbine->effective_area = area;
        }
    return parts;
}

}  // namespace

ThresholdBand boost_threshold(const BoostedEngine& engine, double manifold_pressure, double lowest_speed,
                              double highest_speed, const MatchUncertainty& uncertainty) {
    require("manifold_pressure", manifold_pressure, positive);
    require("speed", lowest_speed, positive);
    require("speed", highest_speed, {lowest_speed, std::numeric_limits<double>::infinity(), true, true});
    return ThresholdSearch(engine, manifold_pressure, lowest_speed, highest_speed).solve(uncertainty);
}

AreaAnswer area_for_boost(const StageBase& base, const Parts& parts, const OfferedFuel& fuel, double speed,
                          double manifold_pressure) {
    constexpr int most_rounds = 12;
    constexpr double agreed = 1e-7;
    // The gas temperature depends on the pressure before the turbine, and so on the area.
    Parts trial = parts;
    BoostedSpeed::Near near;
    Match::AreaFor found{};
    for (int round = 0; round < most_rounds; ++round) {
        const BoostedEngine engine(base, trial, fuel);
        SpeedLine here(engine, speed, manifold_pressure, near);
        here.line.exact(manifold_pressure);
        near = here.line.near(manifold_pressure);
        const double before = found.from_below;
        found = here.match.area_for(speed, manifold_pressure);
        trial = with_area(trial, found.from_below);
        if (std::fabs(found.from_below - before) <= agreed * before) break;
    }
    const BoostedEngine engine(base, trial, fuel);
    const BoostedSpeed at(engine, speed);
    BoostedSpeed::Near limit_near = near;
    const double bears = at.engine_limit(limit_near).manifold_pressure;
    return {found, bears, at.shut(manifold_pressure, near)};
}

}  // namespace pullsheet::plan
