// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/knock.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <optional>

#include "core/cycle/autoignition.hpp"
#include "core/fuel/octane.hpp"
#include "core/solve.hpp"

namespace pullsheet::cycle {

namespace {

constexpr double degree = pi / 180.0;
constexpr double earliest_half_burned = -5.0 * degree;
constexpr double latest_best_torque = 42.0 * degree;
constexpr double latest_half_burned = 60.0 * degree;
constexpr Interval possible_octane_offset{-60.0, 60.0};
constexpr double early_spark = 2.0 * degree;
constexpr int minimum_bits = 9;
constexpr std::uintmax_t most_minimum_iterations = 16;
constexpr double near_end = 0.5 * degree;  // more than the search is off with minimum_bits
constexpr std::uintmax_t most_cycles = 40;
// The search for the latest burn that knocks, over half-burned angles before top dead centre, and that for
// the burn of a peak pressure. The slopes are the usual ones of the logarithms.
constexpr RootSearch knock_search{-20.0 * degree,        5.0,           -latest_half_burned,
                                  -earliest_half_burned, 15.0 * degree, 2e-6};
constexpr double peak_by_earliness = 1.4;
// The torque this far on either side of the knock limit tells where best torque is; beyond `far` times as
// much it is surely elsewhere.
constexpr double beside = 2.0 * degree;
constexpr double far = 1.5;

}  // namespace

double Cycles::spark_for_half_burned(CyclePoint point, double angle) const {
    point.spark_angle = 0.0;
    return cycle::spark_for_half_burned(cylinder_, point, fuel_, angle);
}

CyclePoint Cycles::with_half_burned(const CyclePoint& point, double angle) const {
    CyclePoint at = point;
    at.spark_angle = std::clamp(spark_for_half_burned(point, angle), possible::spark_angle.low,
                                possible::spark_angle.high);
    return at;
}

double best_torque_spark(const Cycles& cycles, const CyclePoint& point) {
    // Not beyond the sparks that are possible: there the torque does not change, and tells no direction.
    const double centred = cycles.spark_for_half_burned(point, 0.0);
    const double earliest = std::max(earliest_half_burned, centred - possible::spark_angle.high);
    const double latest = std::min(latest_best_torque, centred - possible::spark_angle.low);
    const auto spark = [&](double angle) { return cycles.with_half_burned(point, angle).spark_angle; };
    if (!(earliest < latest)) return spark(earliest);
    std::uintmax_t iterations = most_minimum_iterations;
    const auto loss = [&](double angle) { return -cycles.run(cycles.with_half_burned(point, angle)).torque; };
    const auto [angle, value] =
        ::boost::math::tools::brent_find_minima(loss, earliest, latest, minimum_bits, iterations);
    // It ends without a word when the iterations are used up.
    if (iterations >= most_minimum_iterations || !std::isfinite(value))
        throw NoSolution(Reason::no_best_torque, {{point.manifold_pressure, Quantity::pressure}});
    // It comes near the lower end without looking at it.
    if (angle - earliest < near_end && loss(earliest) < value) return spark(earliest);
    return spark(angle);
}

namespace {

SparkLimit knock_limit(const Cycles& cycles, const CyclePoint& point) {
    const auto at_angle = [&](double angle) { return cycles.with_half_burned(point, angle); };
    // Knock over how early the burn is: half-burned angles before top dead centre.
    const auto over = [&](double earliness) { return std::log(cycles.knock_integral(at_angle(-earliness))); };
    const std::initializer_list<Detail> where{{point.manifold_pressure, Quantity::pressure},
                                              {cycles.octane(at_angle(0.0)), Quantity::number}};
    const double knocking = rising_root(over, knock_search, Reason::knocks_at_any_spark, where, most_cycles);
    if (knocking == knock_search.low && over(knocking) > 0.0)
        throw NoSolution(Reason::knocks_at_any_spark, where);
    const CyclePoint at_knock = at_angle(-knocking);
    std::optional<SparkLimit> by_knock;
    if (knocking < knock_search.high) {
        by_knock = {at_knock.spark_angle, SparkLimited::knock, cycles.run(at_knock)};
        // Is best torque earlier by far? Then it need not be known.
        const auto torque = [&](double angle) { return cycles.run(at_angle(angle)).torque; };
        const double before = torque(-knocking - beside), at = by_knock->result.torque,
                     after = torque(-knocking + beside);
        const double bend = before - 2.0 * at + after;
        if (before > at && at > after && !(0.5 * (before - after) < far * std::abs(bend))) return *by_knock;
    }
    CyclePoint best = point;
    best.spark_angle = best_torque_spark(cycles, point);
    if (by_knock && at_knock.spark_angle < best.spark_angle) return *by_knock;
    return {best.spark_angle, SparkLimited::best_torque, cycles.run(best)};
}

}  // namespace

SparkLimit spark_limit(const Cycles& cycles, const CyclePoint& point, double highest_peak_pressure) {
    SparkLimit limit = knock_limit(cycles, point);
    if (!(limit.result.peak_pressure > highest_peak_pressure)) return limit;
    // Later burns have less: half-burned angles before top dead centre.
    RootSearch search = knock_search;
    search.high = std::clamp(-limit.result.half_burned_angle, search.low, search.high);
    search.start = std::min(search.start, search.high);
    search.slope = peak_by_earliness;
    const auto at = [&](double earliness) { return cycles.with_half_burned(point, -earliness); };
    const double found = rising_root(
        [&](double earliness) {
            return std::log(cycles.run(at(earliness)).peak_pressure / highest_peak_pressure);
        },
        search, Reason::no_boost_limit,
        {{point.manifold_pressure, Quantity::pressure}, {point.manifold_pressure, Quantity::pressure}},
        most_cycles);
    const CyclePoint held = at(found);
    return {held.spark_angle, SparkLimited::peak_pressure, cycles.run(held)};
}

double best_torque_spark(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel) {
    return best_torque_spark(Cycles(cylinder, fuel), point);
}

SparkLimit spark_limit(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                       double highest_peak_pressure) {
    return spark_limit(Cycles(cylinder, fuel), point, highest_peak_pressure);
}

Calibration calibrate(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                      std::optional<double> power, bool compares_best_torque) {
    Cylinder calibrated = cylinder;
    calibrated.octane_offset = 0.0;
    const CycleResult plain = run(calibrated, point, fuel);
    Calibration c;
    c.octane = plain.octane * std::pow(plain.knock_integral, 1.0 / cylinder.knock_delay.octane_exponent);
    // The offset stands before what residual gas adds.
    const double index = octane_index(calibrated, fuel);
    c.octane_offset = index * (c.octane / plain.octane - 1.0);
    if (!possible_octane_offset.contains(c.octane_offset))
        throw NoSolution(Reason::octane_offset_out_of_reach,
                         {{c.octane_offset, Quantity::number}, {plain.knock_integral, Quantity::number}});
    c.efficiency_factor =
        power ? efficiency_factor(calibrated, point, fuel, *power) : cylinder.efficiency_factor;
    if (!possible::efficiency_factor.contains(c.efficiency_factor))
        throw NoSolution(Reason::efficiency_factor_out_of_reach,
                         {{c.efficiency_factor, Quantity::number},
                          {possible::efficiency_factor.low, Quantity::number},
                          {possible::efficiency_factor.high, Quantity::number}});
    calibrated.octane_offset = c.octane_offset;
    calibrated.efficiency_factor = c.efficiency_factor;
    c.result = run(calibrated, point, fuel);
    c.warnings = c.result.warnings;
    if (!compares_best_torque) return c;
    const double best = best_torque_spark(calibrated, point, fuel);
    if (point.spark_angle > best + early_spark)
        c.warnings.push_back({Reason::spark_before_best_torque,
                              {{point.spark_angle, Quantity::angle}, {best, Quantity::angle}}});
    return c;
}

}  // namespace pullsheet::cycle
