// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/boost_limit.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "core/solve.hpp"

namespace pullsheet::cycle {

namespace {

/// One cycle, and how far it overdraws the bounds.
struct Look {
    double log_pressure = 0.0, angle = 0.0;
    double by_pressure = 0.0;        // above 0: knocks, or passes the peak pressure
    double by_angle = 0.0;           // K; above 0: too hot, or too late
    bool peak = false, hot = false;  // which of the two it is
    double gas_before = 0.0;
    CyclePoint point{};
    CycleResult result{};
};

class Bounded {
  public:
    static constexpr double degree = pi / 180.0;
    static constexpr Interval possible_half_burned{0.0, 50.0 * degree};
    static constexpr double latest_gaining = 40.0 * degree;
    static constexpr double earliest_half_burned = -5.0 * degree;
    /// A burn as early as this may be earlier than that of best torque.
    static constexpr double maybe_too_early = 20.0 * degree;
    static constexpr double beside = 1.0 * degree;

    static constexpr double usual_boost = 230e3;
    static constexpr double peak_weight = 1.5;  // of the logarithm of peak pressure, beside that of knock
    static constexpr double kelvin_by_angle = 11.0 / degree;  // gas temperature over the half-burned angle
    static constexpr double near_pressure = 4e-5;             // residual over pressure
    static constexpr double near_gas = 0.03;                  // residual over the angle, K
    static constexpr double near_gas_before =
        5.0;  // K between the gas temperature found and the one begun with
    static constexpr double longest_pressure_step = 0.7;
    static constexpr double longest_angle_step = 12.0 * degree;
    static constexpr int most_looks = 14;
    static constexpr std::uintmax_t most_inside = 24;
    static constexpr std::uintmax_t most_outside = 28;

    Bounded(const Cycles& cycles, const PointAt& at, const BoostBounds& bounds, const BoostStart& start)
        : cycles_(cycles),
          at_(at),
          bounds_(bounds),
          low_(std::log(bounds.lowest_manifold_pressure)),
          high_(std::log(bounds.highest_manifold_pressure)),
          latest_(std::min(bounds.latest_half_burned, latest_gaining)),
          begin_(std::clamp(std::log(start.manifold_pressure > 0.0 ? start.manifold_pressure : usual_boost),
                            low_, high_)),
          begin_angle_(std::clamp(start.half_burned, std::min(earliest_half_burned, latest_), latest_)),
          near_pressure_(near_pressure * start.coarser),
          near_gas_(near_gas * start.coarser),
          gas_(start.gas_temperature) {}

    BoostLimit solve() {
        std::optional<Look> found;
        try {
            found = together();
        } catch (const NoSolution&) {
            found.reset();  // some place on the way has no cycle
        }
        if (!found) found = one_in_the_other();
        return limit(*found);
    }

  private:
    static constexpr double nowhere = std::numeric_limits<double>::quiet_NaN();

    Look look(double log_pressure, double angle) {
        Look l;
        l.log_pressure = log_pressure;
        l.angle = angle;
        l.gas_before = gas_;
        const double pressure = log_pressure == high_  ? bounds_.highest_manifold_pressure
                                : log_pressure == low_ ? bounds_.lowest_manifold_pressure
                                                       : std::exp(log_pressure);
        l.point = cycles_.with_half_burned(at_(pressure, gas_), angle);
        l.result = cycles_.run(l.point);
        const double knock = std::log(l.result.knock_integral);
        const double peak = peak_weight * std::log(l.result.peak_pressure / bounds_.highest_peak_pressure);
        l.peak = peak > knock;
        l.by_pressure = std::isnan(knock) || std::isnan(peak) ? nowhere : std::max(knock, peak);
        const double hot = cycles_.gas_temperature_reading(l.result) - bounds_.highest_gas_temperature;
        const double late = kelvin_by_angle * (angle - latest_);
        l.hot = hot > late;
        l.by_angle = std::isnan(hot) ? nowhere : std::max(hot, late);
        if (l.result.gas_temperature > 0.0) gas_ = l.result.gas_temperature;
        return l;
    }

    bool settled(const Look& l) const {
        const bool pressure =
            std::abs(l.by_pressure) <= near_pressure_ || (l.log_pressure == high_ && l.by_pressure < 0.0);
        return pressure && std::abs(l.by_angle) <= near_gas_ &&
               std::abs(l.result.gas_temperature - l.gas_before) <= near_gas_before;
    }

    // Slopes of both residuals over the logarithm of pressure and the angle, usual ones.
    using Slopes = std::array<std::array<double, 2>, 2>;
    static Slopes usual_slopes(const Look& l) {
        Slopes s{};
        s[0] = l.peak ? std::array{peak_weight, -0.036 / degree} : std::array{2.0, -0.062 / degree};
        s[1] = l.hot ? std::array{30.0, 8.0 / degree} : std::array{0.0, kelvin_by_angle};
        return s;
    }

    // Both unknowns together; nothing where that does not settle.
    std::optional<Look> together() {
        Look now = look(begin_, begin_angle_);
        Slopes slopes = usual_slopes(now);
        for (int i = 1;; ++i) {
            if (!std::isfinite(now.by_pressure) || !std::isfinite(now.by_angle)) return std::nullopt;
            if (settled(now)) return now;
            if (now.log_pressure == high_ && now.by_pressure < 0.0 && now.by_angle <= 0.0) return now;
            if (i == most_looks) return std::nullopt;
            const auto [step_x, step_a] = step(now, slopes);
            const double x = std::clamp(now.log_pressure + step_x, low_, high_);
            const double a = std::clamp(now.angle + step_a, std::min(earliest_half_burned, latest_), latest_);
            if (x == now.log_pressure && a == now.angle && now.gas_before == gas_) return std::nullopt;
            const Look next = look(x, a);
            if (next.peak != now.peak || next.hot != now.hot)
                slopes = usual_slopes(next);
            else
                update(slopes, now, next);
            now = next;
        }
    }

    // Newton's step with the slopes at hand, no longer than allowed.
    std::pair<double, double> step(const Look& l, const Slopes& s) const {
        const double determinant = s[0][0] * s[1][1] - s[0][1] * s[1][0];
        double dx = (-l.by_pressure * s[1][1] + l.by_angle * s[0][1]) / determinant;
        double da = (-l.by_angle * s[0][0] + l.by_pressure * s[1][0]) / determinant;
        dx = std::clamp(dx, -longest_pressure_step, longest_pressure_step);
        // Where the pressure cannot move on, the angle answers alone.
        const double moved = std::clamp(l.log_pressure + dx, low_, high_) - l.log_pressure;
        if (moved != dx) {
            dx = moved;
            da = -(l.by_angle + s[1][0] * dx) / s[1][1];
        }
        da = std::clamp(da, -longest_angle_step, longest_angle_step);
        // At the latest burn the pressure answers alone.
        if (l.angle + da >= latest_ && !(l.by_pressure < 0.0 && l.log_pressure == high_)) {
            da = latest_ - l.angle;
            dx = std::clamp(-(l.by_pressure + s[0][1] * da) / s[0][0], -longest_pressure_step,
                            longest_pressure_step);
        }
        return {dx, da};
    }

    // Broyden's update: the least change of the slopes that explains the last step. The angle counts by what
    // it does to knock, so that both steps have one measure.
    static void update(Slopes& s, const Look& before, const Look& now) {
        constexpr double angle_scale = 0.031 / degree;
        const double dx = now.log_pressure - before.log_pressure;
        const double da = now.angle - before.angle;
        const double square = dx * dx + angle_scale * angle_scale * da * da;
        if (!(square > 0.0)) return;
        const std::array<double, 2> change{now.by_pressure - before.by_pressure,
                                           now.by_angle - before.by_angle};
        Slopes next = s;
        for (std::size_t i = 0; i < 2; ++i) {
            const double miss = change[i] - s[i][0] * dx - s[i][1] * da;
            next[i][0] += miss * dx / square;
            next[i][1] += miss * angle_scale * angle_scale * da / square;
        }
        // Signs that physics knows.
        if (next[0][0] > 0.3 && next[0][1] < 0.0 && next[1][1] > 1.0 / degree) s = next;
    }

    // The pressure at which knock or peak pressure bite, at one angle.
    Look pressure_at(double angle) {
        Look last;
        const auto over = [&](double x) {
            last = look(x, angle);
            return last.by_pressure;
        };
        const double x = rising_root(over, {begin_, 2.0, low_, high_, 0.7, 2e-5}, Reason::no_boost_limit,
                                     {{bounds_.lowest_manifold_pressure, Quantity::pressure},
                                      {bounds_.highest_manifold_pressure, Quantity::pressure}},
                                     most_inside);
        if (last.log_pressure != x) last = look(x, angle);
        begin_ = x;
        return last;
    }

    // The angle outside, the pressure inside.
    Look one_in_the_other() {
        Look at_latest = pressure_at(latest_);
        if (at_latest.log_pressure == low_ && at_latest.by_pressure > near_pressure)
            throw NoSolution(
                at_latest.peak ? Reason::bound_broken_at_any_pressure : Reason::knocks_at_any_pressure,
                {{bounds_.lowest_manifold_pressure, Quantity::pressure},
                 {bounds_.latest_half_burned, Quantity::angle}});
        if (!(at_latest.by_angle > 0.0)) return at_latest;
        const double earliest = std::min(earliest_half_burned, latest_);
        Look last = pressure_at(earliest);
        if (!(last.by_angle < 0.0)) throw too_hot(last);
        const double early = last.by_angle;
        const auto near_enough = [](double a, double b) { return std::abs(b - a) < 0.003 * degree; };
        const double angle = bracketed_root(
            [&](double a) {
                last = pressure_at(a);
                if (std::isnan(last.by_angle))
                    throw NoSolution(Reason::no_boost_limit,
                                     {{bounds_.lowest_manifold_pressure, Quantity::pressure},
                                      {bounds_.highest_manifold_pressure, Quantity::pressure}});
                return std::abs(last.by_angle) <= near_gas ? 0.0 : last.by_angle;
            },
            earliest, latest_, early, at_latest.by_angle, near_enough, Reason::no_boost_limit,
            {{bounds_.lowest_manifold_pressure, Quantity::pressure},
             {bounds_.highest_manifold_pressure, Quantity::pressure}},
            most_outside);
        if (last.angle != angle) last = pressure_at(angle);
        if (last.log_pressure == low_ && last.by_pressure > near_pressure) throw too_hot(last);
        return last;
    }

    BoostLimit limit(const Look& found) {
        const BoostLimit limit{found.point.manifold_pressure, found.point.spark_angle,
                               found.hot ? BoostLimited::exhaust_temperature
                                         : (found.peak ? BoostLimited::peak_pressure : BoostLimited::knock),
                               found.peak ? BoostLimited::peak_pressure : BoostLimited::knock, found.result};
        if (found.log_pressure == high_ && found.by_pressure < -near_pressure) {
            // No bound is active: the spark is that of spark_limit.
            SparkLimit spark = spark_limit(cycles_, found.point, bounds_.highest_peak_pressure);
            return {found.point.manifold_pressure, spark.spark_angle, BoostLimited::manifold_pressure,
                    BoostLimited::manifold_pressure, std::move(spark.result)};
        }
        // Does the gas temperature ask for more advance than best torque has?
        if (found.hot && found.angle < maybe_too_early) {
            const CyclePoint later = cycles_.with_half_burned(found.point, found.angle + beside);
            const double more = cycles_.run(later).torque - found.result.torque;
            if (more > 0.0 && more > 1e-4 * std::abs(found.result.torque)) throw too_hot(found);
        }
        return limit;
    }

    NoSolution too_hot(const Look& l) const {
        return NoSolution(Reason::gas_too_hot,
                          {{bounds_.highest_gas_temperature, Quantity::temperature},
                           {cycles_.gas_temperature_reading(l.result), Quantity::temperature},
                           {l.point.manifold_pressure, Quantity::pressure},
                           {l.angle, Quantity::angle}});
    }

    const Cycles& cycles_;
    const PointAt& at_;
    const BoostBounds& bounds_;
    double low_, high_, latest_;
    double begin_, begin_angle_;
    double near_pressure_, near_gas_;
    double gas_;
};

}  // namespace

BoostLimit boost_limit(const Cycles& cycles, const PointAt& at, const BoostBounds& bounds,
                       const BoostStart& start) {
    require("latest_half_burned", bounds.latest_half_burned, Bounded::possible_half_burned);
    require("lowest_manifold_pressure", bounds.lowest_manifold_pressure, possible::manifold_pressure);
    require("highest_manifold_pressure", bounds.highest_manifold_pressure,
            {bounds.lowest_manifold_pressure, possible::manifold_pressure.high, true, false});
    require("highest_peak_pressure", bounds.highest_peak_pressure, {0.0, positive.high, true, false});
    require("highest_exhaust_temperature", bounds.highest_gas_temperature, {0.0, positive.high, true, false});
    return Bounded(cycles, at, bounds, start).solve();
}

BoostLimit boost_limit(const Cycles& cycles, const CyclePoint& point, const BoostBounds& bounds) {
    BoostStart start;
    start.manifold_pressure = point.manifold_pressure;
    return boost_limit(
        cycles,
        [&](double pressure, double) {
            CyclePoint at = point;
            at.manifold_pressure = pressure;
            return at;
        },
        bounds, start);
}

BoostLimit boost_limit(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                       const BoostBounds& bounds) {
    return boost_limit(Cycles(cylinder, fuel), point, bounds);
}

}  // namespace pullsheet::cycle
