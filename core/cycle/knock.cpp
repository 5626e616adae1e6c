// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/knock.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>

#include "core/cycle/autoignition.hpp"
#include "core/fuel/octane.hpp"
#include "core/solve.hpp"

namespace pullsheet::cycle {

namespace {

constexpr double degree = pi / 180.0;
constexpr double earliest_half_burned = -5.0 * degree;
constexpr double latest_best_torque = 35.0 * degree;
constexpr double latest_half_burned = 60.0 * degree;
constexpr Interval possible_half_burned{0.0, 50.0 * degree};
constexpr Interval possible_octane_offset{-60.0, 60.0};
constexpr double early_spark = 2.0 * degree;
constexpr int minimum_bits = 12;
constexpr int root_bits = 18;
constexpr std::uintmax_t most_cycles = 40;

OperatingPoint with_half_burned(const Engine& engine, OperatingPoint point, const fuel::Fuel& fuel,
                                double angle) {
    point.spark_angle = 0.0;
    point.spark_angle = std::clamp(spark_for_half_burned(engine, point, fuel, angle),
                                   possible::spark_angle.low, possible::spark_angle.high);
    return point;
}

}  // namespace

double best_torque_spark(const Engine& engine, const OperatingPoint& point, const fuel::Fuel& fuel) {
    std::uintmax_t iterations = 16;
    const auto loss = [&](double angle) {
        return -run(engine, with_half_burned(engine, point, fuel, angle), fuel).torque;
    };
    const auto [angle, value] = ::boost::math::tools::brent_find_minima(
        loss, earliest_half_burned, latest_best_torque, minimum_bits, iterations);
    return with_half_burned(engine, point, fuel, angle).spark_angle;
}

SparkLimit spark_limit(const Engine& engine, const OperatingPoint& point, const fuel::Fuel& fuel) {
    OperatingPoint at = point;
    at.spark_angle = best_torque_spark(engine, point, fuel);
    Result best = run(engine, at, fuel);
    if (best.knock_integral <= 1.0) return {at.spark_angle, SparkLimited::best_torque, std::move(best)};
    const auto over = [&](double angle) {
        return std::log(run(engine, with_half_burned(engine, point, fuel, angle), fuel).knock_integral);
    };
    const double angle =
        root_between(over, best.half_burned_angle, latest_half_burned, Reason::knocks_at_any_spark,
                     {{point.manifold_pressure, Quantity::pressure}, {best.octane, Quantity::number}},
                     root_bits, most_cycles);
    at = with_half_burned(engine, point, fuel, angle);
    return {at.spark_angle, SparkLimited::knock, run(engine, at, fuel)};
}

BoostLimit boost_limit(const Engine& engine, const OperatingPoint& point, const fuel::Fuel& fuel,
                       const BoostBounds& bounds) {
    require("latest_half_burned", bounds.latest_half_burned, possible_half_burned);
    require("lowest_manifold_pressure", bounds.lowest_manifold_pressure, possible::manifold_pressure);
    require("highest_manifold_pressure", bounds.highest_manifold_pressure,
            {bounds.lowest_manifold_pressure, possible::manifold_pressure.high, true, false});
    require("highest_peak_pressure", bounds.highest_peak_pressure, {0.0, positive.high, true, false});
    require("highest_exhaust_temperature", bounds.highest_exhaust_temperature,
            {0.0, positive.high, true, false});
    const auto at_pressure = [&](double pressure) {
        OperatingPoint at = point;
        at.manifold_pressure = pressure;
        return with_half_burned(engine, at, fuel, bounds.latest_half_burned);
    };
    // How far the worst of the bounds is overdrawn, and which it is; the cycle stays in `r`.
    BoostLimited limited_by = BoostLimited::knock;
    Result r;
    const auto over = [&](double pressure) {
        r = run(engine, at_pressure(pressure), fuel);
        double worst = std::log(r.knock_integral);
        limited_by = BoostLimited::knock;
        const double peak = std::log(r.peak_pressure / bounds.highest_peak_pressure);
        if (peak > worst) {
            worst = peak;
            limited_by = BoostLimited::peak_pressure;
        }
        const double exhaust = std::log(r.exhaust_temperature / bounds.highest_exhaust_temperature);
        if (exhaust > worst) {
            worst = exhaust;
            limited_by = BoostLimited::exhaust_temperature;
        }
        return worst;
    };
    const double low = bounds.lowest_manifold_pressure;
    if (const double worst = over(low); worst >= 0.0)
        throw NoSolution(limited_by == BoostLimited::knock ? Reason::knocks_at_any_pressure
                                                           : Reason::bound_broken_at_any_pressure,
                         {{low, Quantity::pressure}, {bounds.latest_half_burned, Quantity::angle}});
    double high = bounds.highest_manifold_pressure;
    if (over(high) <= 0.0) {
        OperatingPoint at = point;
        at.manifold_pressure = high;
        SparkLimit spark = spark_limit(engine, at, fuel);
        return {high, spark.spark_angle, BoostLimited::manifold_pressure, std::move(spark.result)};
    }
    const double pressure =
        root_between(over, low, high, Reason::no_boost_limit,
                     {{low, Quantity::pressure}, {high, Quantity::pressure}}, root_bits, most_cycles);
    over(pressure);
    return {pressure, at_pressure(pressure).spark_angle, limited_by, std::move(r)};
}

Calibration calibrate(const Engine& engine, const OperatingPoint& point, const fuel::Fuel& fuel,
                      std::optional<double> power) {
    Engine calibrated = engine;
    calibrated.octane_offset = 0.0;
    const Result plain = run(calibrated, point, fuel);
    Calibration c;
    c.octane = plain.octane * std::pow(plain.knock_integral, 1.0 / douaud_eyzat::octane_exponent);
    c.octane_offset = c.octane - plain.octane;
    if (!possible_octane_offset.contains(c.octane_offset))
        throw NoSolution(Reason::octane_offset_out_of_reach,
                         {{c.octane_offset, Quantity::number}, {plain.knock_integral, Quantity::number}});
    c.efficiency_factor =
        power ? efficiency_factor(calibrated, point, fuel, *power) : engine.efficiency_factor;
    calibrated.octane_offset = c.octane_offset;
    calibrated.efficiency_factor = c.efficiency_factor;
    c.result = run(calibrated, point, fuel);
    c.warnings = c.result.warnings;
    const double best = best_torque_spark(calibrated, point, fuel);
    if (point.spark_angle > best + early_spark)
        c.warnings.push_back({Reason::spark_before_best_torque,
                              {{point.spark_angle, Quantity::angle}, {best, Quantity::angle}}});
    return c;
}

}  // namespace pullsheet::cycle
