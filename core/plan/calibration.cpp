// SPDX-License-Identifier: Apache-2.0
#include "core/plan/calibration.hpp"

#include <algorithm>
#include <cmath>
#include <exception>
#include <limits>

#include "core/air/moist_air.hpp"
#include "core/cycle/filling.hpp"
#include "core/cycle/knock.hpp"
#include "core/engine/air_flow.hpp"
#include "core/fuel/octane.hpp"
#include "core/plan/boosted_engine.hpp"
#include "core/plan/chain.hpp"

namespace pullsheet::plan {
namespace {

/// Peak pressure not stated: this times that of the measured points. An assumption.
constexpr double peak_pressure_factor = 1.2;
/// A measured gas temperature scales the heat transfer of the exhaust within these.
constexpr Interval possible_transfer_scale{0.5, 2.0};
/// With a difference of sensitivity below this a second fuel does not tell K.
constexpr double least_sensitivity_difference = 3.0;
/// K of a charge over its coolant below which a factor on that rise means nothing.
constexpr double least_rise = 5.0;
constexpr Interval possible_rise_factor{0.0, 3.0};
/// K to which the charge is brought to the measured one, and in how many steps at most.
constexpr double near_charge = 0.02;
constexpr int most_charge_steps = 12;
/// What a measured volumetric efficiency or air flow may lead to.
constexpr Interval possible_filling{0.2, 1.5};
/// rad after top dead centre, the latest burn of which a limit is computed.
constexpr double latest_possible_burn = 50.0 * pi / 180.0;
/// What is said of where measurement and assumption part: K of gas, K of charge, octane numbers, lambda.
constexpr double telling_gas = 30.0;
constexpr double telling_charge = 15.0;
constexpr double telling_octane = 3.0;
constexpr double telling_lambda = 0.02;

/// A measured point put on the cycle.
struct FittedPoint {
    std::size_t point;
    cycle::Calibration found;
};

/// The maps on their way to a calibrated engine.
class Calibrating {
  public:
    Calibrating(const StageBase& base, std::span<const MeasuredMap> maps, bool warns)
        : base_(base), maps_(maps), warns_(warns), fitted_(maps.size()), points_(maps.size()) {
        engine().fit = {};
        engine().maps.clear();
        engine().points.clear();
        engine().warnings.clear();
        for (std::size_t m = maps.size(); m-- > 0;)
            if (std::ranges::any_of(maps[m].points, &MeasuredPoint::knock_began)) first_ = m;
        engine().cylinder.calibration_sensitivity = sensitivity(maps[first_].fuel);
    }

    CalibratedEngine made(std::span<const double> speeds) {
        for (std::size_t m = 0; m < maps_.size(); ++m) {
            const MeasuredMap& map = maps_[m];
            fitted_[m] = {map.parts,
                          map.fuel,
                          map.power_uncertainty,
                          std::ranges::any_of(map.points, &MeasuredPoint::knock_began),
                          {}};
            fill_and_burn(m);
            fit_points(m);
        }
        main_ = main_point(first_);
        fit_gas_temperature();
        fit_octane_index();
        for (std::size_t m = 0; m < maps_.size(); ++m) put_over_speed(m);
        bear();
        engine().power_uncertainty = maps_[first_].power_uncertainty;
        for (std::size_t m = 0; m < maps_.size(); ++m) {
            burn_outside(m, speeds);
            if (!points_[m].empty()) engine().maps.push_back(fitted_[m]);
        }
        engine().fit = fitted_[first_].fit;
        return engine();
    }

  private:
    CalibratedEngine& engine() { return base_.engine_model; }
    static double sensitivity(const OfferedFuel& fuel) { return fuel::ron(fuel.fuel) - fuel::mon(fuel.fuel); }
    void warn(std::size_t map, std::optional<std::size_t> point, Reason reason, std::vector<Detail> details,
              bool unused = false) {
        engine().warnings.push_back({map, point, {reason, std::move(details)}, unused});
    }

    /// The base with what is known of a map so far.
    StageBase base_of(std::size_t m) const {
        StageBase at = base_;
        at.engine_model.maps = {fitted_[m]};
        return for_cell(at, maps_[m].parts, maps_[m].fuel);
    }
    cycle::CyclePoint point_of(const StageBase& base, std::size_t m, const MeasuredPoint& measured) const {
        cycle::CyclePoint point =
            cycle_point(base, maps_[m].fuel, measured.speed,
                        dry_share(base.weather) * measured.manifold_pressure, measured.manifold_temperature);
        point.lambda = measured.lambda;
        point.spark_angle = measured.spark_angle;
        const auto is_turbine = [](const Part& part) { return std::holds_alternative<boost::Turbine>(part); };
        if (std::ranges::any_of(maps_[m].parts, is_turbine)) put_before_turbine(base, m, measured, point);
        return point;
    }
    // Nothing where it has no solution: fit_points says why.
    std::optional<cycle::CyclePoint> point_if_possible(const StageBase& base, std::size_t m,
                                                       const MeasuredPoint& measured) const {
        try {
            return point_of(base, m, measured);
        } catch (const NoSolution&) {
            return std::nullopt;
        }
    }
    // The exhaust pressure is that before the turbine, and that goes with the gas temperature.
    void put_before_turbine(const StageBase& base, std::size_t m, const MeasuredPoint& measured,
                            cycle::CyclePoint& point) const {
        constexpr double usual_gas = 1250.0;  // K
        constexpr int rounds = 3;
        const BoostedEngine engine(base, maps_[m].parts, maps_[m].fuel);
        const BoostedSpeed at(engine, measured.speed);
        const cycle::Cylinder cylinder = base.engine_model.cylinder_at(measured.speed);
        double gas = usual_gas;
        for (int i = 0; i < rounds; ++i) {
            point.exhaust_pressure =
                at.air_path(measured.manifold_pressure, gas, true).expansion.inlet_pressure;
            gas = cycle::run(cylinder, point, maps_[m].fuel.fuel).gas_temperature;
        }
    }

    // Volumetric efficiency and burn duration, where measured.
    void fill_and_burn(std::size_t m) {
        const StageBase base = base_of(m);
        const cycle::Cylinder& cylinder = base.engine_model.cylinder;
        for (std::size_t i = 0; i < maps_[m].points.size(); ++i) {
            const MeasuredPoint& measured = maps_[m].points[i];
            fitted_[m].fit.lambda.add(measured.speed, measured.lambda);
            if (!measured.air_flow && !measured.volumetric_efficiency) continue;
            const std::optional<cycle::CyclePoint> found = point_if_possible(base, m, measured);
            if (!found) continue;
            const cycle::CyclePoint& point = *found;
            const double dry = 1.0 + air::humidity_ratio(base.weather.temperature, base.weather.pressure,
                                                         base.weather.humidity);
            const double now = measured.air_flow
                                   ? engine::volumetric_efficiency(
                                         *measured.air_flow / dry, base.engine.displacement, measured.speed,
                                         point.manifold_pressure, point.manifold_temperature)
                                   : *measured.volumetric_efficiency;
            const double filled =
                cycle::filling_factor(cycle::exhaust_pressure(cylinder, point) / point.manifold_pressure,
                                      cylinder.crank.compression_ratio);
            if (possible_filling.contains(now / filled))
                fitted_[m].fit.volumetric_efficiency.add(
                    measured.speed, now / filled / cylinder.volumetric_efficiency.at(measured.speed));
            else
                warn(m, i, Reason::measured_filling_impossible,
                     {{now / filled, Quantity::ratio},
                      {possible_filling.low, Quantity::ratio},
                      {possible_filling.high, Quantity::ratio}});
        }
        const StageBase filled = base_of(m);
        for (std::size_t i = 0; i < maps_[m].points.size(); ++i) {
            const MeasuredPoint& measured = maps_[m].points[i];
            if (!measured.half_burned_angle) continue;
            const std::optional<cycle::CyclePoint> found = point_if_possible(filled, m, measured);
            if (!found) continue;
            const cycle::CyclePoint& point = *found;
            const cycle::Cylinder cylinder_there = filled.engine_model.cylinder_at(measured.speed);
            const double now = cycle::spark_for_half_burned(cylinder_there, point, maps_[m].fuel.fuel, 0.0);
            const double factor = (measured.spark_angle + *measured.half_burned_angle) / now;
            if (cycle::possible::burn_duration.contains(factor * cylinder_there.burn_duration))
                fitted_[m].fit.burn_duration.add(measured.speed, factor);
            else
                warn(m, i, Reason::measured_burn_impossible,
                     {{factor * cylinder_there.burn_duration, Quantity::angle},
                      {cycle::possible::burn_duration.low, Quantity::angle},
                      {cycle::possible::burn_duration.high, Quantity::angle}});
        }
    }

    // Each point put on the cycle, those left out that cannot be.
    void fit_points(std::size_t m) {
        const StageBase base = base_of(m);
        std::exception_ptr first_error;
        for (std::size_t i = 0; i < maps_[m].points.size(); ++i) {
            const MeasuredPoint& measured = maps_[m].points[i];
            try {
                points_[m].push_back({i, cycle::calibrate(base.engine_model.cylinder_at(measured.speed),
                                                          point_of(base, m, measured), maps_[m].fuel.fuel,
                                                          measured.power, warns_)});
            } catch (const NoSolution& error) {
                if (!first_error) first_error = std::current_exception();
                warn(m, i, error.reason(), error.details(), true);
                continue;
            }
            for (const Warning& warning : points_[m].back().found.warnings)
                if (warning.reason != Reason::knocks) warn(m, i, warning.reason, warning.details);
        }
        if (points_[m].empty() && m == first_) {
            if (first_error) std::rethrow_exception(first_error);
            throw NoData(Reason::too_few_points, {counted(0), counted(1)});
        }
    }

    const MeasuredPoint& measured(std::size_t m, const FittedPoint& fitted) const {
        return maps_[m].points[fitted.point];
    }
    // The one of greatest power.
    const FittedPoint& main_point(std::size_t m) const {
        return *std::ranges::max_element(points_[m], {},
                                         [&](const FittedPoint& p) { return measured(m, p).power; });
    }

    // Heat transfer of the exhaust, and the rest to the probe.
    void fit_gas_temperature() {
        cycle::Cylinder& cylinder = engine().cylinder;
        double scale = 0.0, rest = 0.0;
        int count = 0;
        const auto each = [&](const auto& use) {
            for (std::size_t m = 0; m < maps_.size(); ++m)
                for (const FittedPoint& p : points_[m])
                    if (measured(m, p).gas_temperature) use(m, p, *measured(m, p).gas_temperature);
        };
        const double wall = cylinder.coolant_temperature + cycle::port::wall_over_coolant;
        each([&](std::size_t, const FittedPoint& p, double reading) {
            const cycle::CycleResult& result = p.found.result;
            const double gas = std::max(reading + cylinder.probe_reads_low_by, wall + 1.0);
            const double conductance =
                gas < result.exhaust_temperature && cylinder.exhaust_heat_transfer > 0.0
                    ? cycle::port::conductance(result.exhaust_temperature, gas,
                                               result.air_flow + result.fuel_flow, cylinder.cylinders,
                                               cylinder.coolant_temperature)
                    : 0.0;
            scale += conductance > 0.0 ? conductance / cylinder.exhaust_heat_transfer : 0.0;
            ++count;
        });
        if (count == 0) return;
        scale = std::clamp(scale / count, possible_transfer_scale.low, possible_transfer_scale.high);
        cylinder.exhaust_heat_transfer =
            std::min(cylinder.exhaust_heat_transfer * scale, cycle::possible::exhaust_heat_transfer.high);
        for (auto& of_map : points_)
            for (FittedPoint& p : of_map)
                p.found.result.gas_temperature = cycle::port::gas_temperature(
                    p.found.result.exhaust_temperature, p.found.result.air_flow + p.found.result.fuel_flow,
                    cylinder.cylinders, cylinder.coolant_temperature, cylinder.exhaust_heat_transfer);
        each([&](std::size_t, const FittedPoint& p, double reading) {
            rest += (p.found.result.gas_temperature - reading) / count;
        });
        cylinder.probe_reads_low_by = std::clamp(rest, cycle::possible::probe_reads_low_by.low,
                                                 cycle::possible::probe_reads_low_by.high);
        each([&](std::size_t m, const FittedPoint& p, double reading) {
            const double computed = reading_of(p);
            if (std::abs(computed - reading) > telling_gas)
                warn(m, p.point, Reason::gas_temperature_not_met,
                     {{reading, Quantity::temperature}, {computed, Quantity::temperature}});
        });
    }
    double reading_of(const FittedPoint& p) const {
        return cycle::gas_temperature_reading(base_.engine_model.cylinder, p.found.result);
    }

    // K of the octane index by least squares: each point of another fuel needs RON + offset − K (S − S_cal).
    void fit_octane_index() {
        double by_difference = 0.0, squares = 0.0;
        const OverSpeed anchor = octane_of(first_);
        std::vector<std::size_t> used;
        for (std::size_t m = 0; m < maps_.size(); ++m) {
            const double more = sensitivity(maps_[m].fuel) - engine().cylinder.calibration_sensitivity;
            if (m == first_ || !fitted_[m].knocks || points_[m].empty() ||
                maps_[m].fuel.fuel == maps_[first_].fuel.fuel)
                continue;
            for (const FittedPoint& p : points_[m]) {
                if (!measured(m, p).knock_began || std::abs(more) < least_sensitivity_difference) continue;
                const double short_by = anchor.at(measured(m, p).speed) - p.found.octane_offset;
                by_difference += more * short_by;
                squares += more * more;
            }
            used.push_back(m);
        }
        const double before = engine().cylinder.octane_index_k;
        if (squares > 0.0) {
            constexpr Interval possible = cycle::possible::octane_index_k;
            const double wanted = before + by_difference / squares;
            const double k = std::clamp(wanted, possible.low, possible.high);
            if (k != wanted)
                warn(used.front(), {}, Reason::octane_index_out_of_reach,
                     {{wanted, Quantity::number},
                      {possible.low, Quantity::number},
                      {possible.high, Quantity::number}});
            engine().cylinder.octane_index_k = k;
            // What a fuel of another sensitivity gets from K its offset need not bring.
            for (std::size_t m = 0; m < maps_.size(); ++m)
                for (FittedPoint& p : points_[m])
                    p.found.octane_offset += (k - before) * (sensitivity(maps_[m].fuel) -
                                                             engine().cylinder.calibration_sensitivity);
        }
        for (const std::size_t m : used) {
            const FittedPoint& p = main_point(m);
            const double rest = p.found.octane_offset - anchor.at(measured(m, p).speed);
            if (std::abs(rest) > telling_octane)
                warn(m, {}, Reason::fuel_octane_differs, {{rest, Quantity::number}});
        }
    }

    // Octane offsets of a map over speed; of a point without knock at least its own.
    OverSpeed octane_of(std::size_t m) const {
        OverSpeed knocking, other;
        for (const FittedPoint& p : points_[m])
            (measured(m, p).knock_began ? knocking : other).add(measured(m, p).speed, p.found.octane_offset);
        OverSpeed all = knocking.empty() ? other : knocking;
        if (!knocking.empty())
            for (std::size_t i = 0; i < other.speeds.size(); ++i)
                all.add(other.speeds[i], std::max(other.values[i], knocking.at(other.speeds[i])));
        return all;
    }

    void put_over_speed(std::size_t m) {
        if (points_[m].empty()) return;
        SpeedFit& fit = fitted_[m].fit;
        const double offset = main_.found.octane_offset, factor = main_.found.efficiency_factor;
        fit.octane_offset = octane_of(m);
        if (m != first_ && !fitted_[m].knocks) {
            // It knocks no earlier than it did, nor than other fuels let expect.
            const OverSpeed expected = octane_of(first_);
            for (std::size_t i = 0; i < fit.octane_offset.speeds.size(); ++i)
                fit.octane_offset.values[i] =
                    std::max(fit.octane_offset.values[i], expected.at(fit.octane_offset.speeds[i]));
        }
        for (double& value : fit.octane_offset.values) value -= offset;
        double last = 0.0;
        for (const FittedPoint& p : points_[m]) {
            const MeasuredPoint& point = measured(m, p);
            fit.efficiency_factor.add(point.speed, p.found.efficiency_factor / factor);
            fit.latest_burn.add(point.speed,
                                std::clamp(p.found.result.half_burned_angle, 0.0, latest_possible_burn));
            last = std::max(last, point.speed);
            put_charge(m, p);
        }
        if (maps_[m].has_power_peak) fit.power_peak_speed = last;
        if (std::abs(measured(m, main_point(m)).lambda - maps_[m].fuel.lambda) > telling_lambda)
            warn(m, {}, Reason::measured_lambda_differs,
                 {{measured(m, main_point(m)).lambda, Quantity::ratio},
                  {maps_[m].fuel.lambda, Quantity::ratio}});
        if (!fitted_[m].knocks && m == first_) warn(m, {}, Reason::knock_did_not_begin, {});
        if (m != first_ && !fitted_[m].knocks)
            for (const FittedPoint& p : points_[m])
                fit.peak_pressure.add(measured(m, p).speed, p.found.result.peak_pressure);
    }

    // The charge was as warm as it was.
    void put_charge(std::size_t m, const FittedPoint& p) {
        const MeasuredPoint& point = measured(m, p);
        const StageBase base = base_of(m);
        Engine engine = base.engine;
        fill_as_the_cycle(base, engine, maps_[m].fuel, point.speed,
                          dry_share(base.weather) * point.manifold_pressure);
        engine.charge_rise_factor = 1.0;
        engine.charge_heating = 0.0;
        engine.efficiency = p.found.result.efficiency;
        if (!fuel::possible::efficiency.contains(engine.efficiency)) return;
        double coolant = base.weather.temperature;
        for (const Part& part : maps_[m].parts)
            if (const auto* cooler = std::get_if<ChargeCooler>(&part))
                coolant = cooler->coolant_temperature.value_or(coolant);
        const auto charge = [&] {
            const Chain chain(engine, maps_[m].fuel.fuel, point.speed, base.weather, maps_[m].parts);
            OperatingPoint at = chain.fuel_side(point.power);
            chain.add_air(at);
            return at.charge_temperature;
        };
        double by_parts = 0.0;
        try {
            double now = by_parts = charge();
            // A cooler charge needs less boost, which heats it less: so step by step.
            for (int i = 0; i < most_charge_steps && std::abs(now - point.manifold_temperature) > near_charge;
                 ++i) {
                const double rise = now - coolant;
                const double factor =
                    engine.charge_rise_factor * (point.manifold_temperature - coolant) / rise;
                if (engine.charge_heating == 0.0 && rise > least_rise &&
                    possible_rise_factor.contains(factor))
                    engine.charge_rise_factor = factor;
                else
                    engine.charge_heating += point.manifold_temperature - now;
                now = charge();
            }
        } catch (const NoSolution&) {
            return;  // the parts feed no such power at any boost, which their limit says
        }
        fitted_[m].fit.charge_rise_factor.add(point.speed, engine.charge_rise_factor);
        fitted_[m].fit.charge_heating.add(point.speed, engine.charge_heating);
        if (p.point == main_point(m).point &&
            std::abs(by_parts - point.manifold_temperature) > telling_charge)
            warn(m, p.point, Reason::charge_temperature_differs,
                 {{point.manifold_temperature, Quantity::temperature}, {by_parts, Quantity::temperature}});
    }

    // What the engine is known to bear.
    void bear() {
        engine().cylinder.octane_offset = main_.found.octane_offset;
        engine().cylinder.efficiency_factor = main_.found.efficiency_factor;
        double knocking = 0.0, other = 0.0, hottest = 0.0, latest = 0.0;
        std::size_t strongest = first_;
        for (std::size_t m = 0; m < maps_.size(); ++m) {
            const double ratio = base_of(m).engine_model.cylinder.crank.compression_ratio;
            for (const FittedPoint& p : points_[m]) {
                const MeasuredPoint& at = measured(m, p);
                engine().points.push_back({at.speed, at.manifold_pressure,
                                           at.gas_temperature.value_or(reading_of(p)), ratio,
                                           maps_[m].fuel.fuel});
                const double peak = p.found.result.peak_pressure;
                const bool tells =
                    m != first_ && !fitted_[m].knocks && !(maps_[m].fuel.fuel == maps_[first_].fuel.fuel);
                if (tells && peak > other) strongest = m;
                double& highest = tells ? other : knocking;
                highest = std::max(highest, peak);
                hottest = std::max(hottest, engine().points.back().gas_temperature);
                latest = std::max(latest, std::min(p.found.result.half_burned_angle, latest_possible_burn));
            }
        }
        engine().peak_pressure_measured = other > knocking;
        engine().peak_pressure = other > knocking ? other : peak_pressure_factor * knocking;
        if (other > 0.0 && !(other > knocking))
            warn(strongest, {}, Reason::peak_pressure_not_told,
                 {{other, Quantity::pressure}, {knocking, Quantity::pressure}});
        engine().calibrated_gas_temperature = hottest;
        engine().gas_temperature = std::max(engine().gas_temperature, hottest);
        engine().latest_half_burned = std::max(assumed_latest_ = engine().latest_half_burned, latest);
    }

    // The latest burn at speeds outside the measured ones.
    void burn_outside(std::size_t m, std::span<const double> speeds) {
        if (points_[m].empty()) return;
        const std::vector<double> known = fitted_[m].fit.latest_burn.speeds;
        StageBase base = base_of(m);
        base.engine_model.fit.latest_burn = {};
        base.engine_model.fit.peak_pressure = {};
        base.engine_model.latest_half_burned = assumed_latest_;
        base.engine_model.peak_pressure = std::numeric_limits<double>::infinity();
        Parts no_strength = maps_[m].parts;
        std::erase_if(no_strength,
                      [](const Part& part) { return std::holds_alternative<EngineStrength>(part); });
        std::vector<double> outside;
        std::ranges::copy_if(speeds, std::back_inserter(outside),
                             [&](double speed) { return speed < known.front() || speed > known.back(); });
        std::ranges::sort(outside);
        for (const double speed : outside) {
            const FittedPoint& nearest = *std::ranges::min_element(
                points_[m], {}, [&](const FittedPoint& p) { return std::abs(measured(m, p).speed - speed); });
            InitialGuess guess{base.engine, measured(m, nearest).power * speed / measured(m, nearest).speed};
            guess.half_burned = nearest.found.result.half_burned_angle;
            base.engine_model.gas_temperature = reading_of(nearest);
            try {
                const double angle =
                    limit_by_engine(base, guess, no_strength, maps_[m].fuel, speed).half_burned_angle;
                fitted_[m].fit.latest_burn.add(speed, std::clamp(angle, 0.0, assumed_latest_));
            } catch (const NoSolution&) {
                continue;  // the angles at the other speeds serve
            }
        }
    }

    StageBase base_;
    std::span<const MeasuredMap> maps_;
    bool warns_;
    std::size_t first_ = 0;
    std::vector<FittedMap> fitted_;
    std::vector<std::vector<FittedPoint>> points_;
    FittedPoint main_{};
    double assumed_latest_ = 0.0;
};

}  // namespace

CalibratedEngine calibrated(const StageBase& base, std::span<const MeasuredMap> maps,
                            std::span<const double> speeds, bool warns) {
    if (maps.empty()) return base.engine_model;
    CalibratedEngine engine = Calibrating(base, maps, warns).made(speeds);
    engine.origin =
        std::make_shared<const CalibrationOrigin>(CalibrationOrigin{base, {maps.begin(), maps.end()}});
    return engine;
}

std::vector<GivenBack> given_back(const StageBase& base, std::span<const MeasuredMap> maps) {
    std::vector<GivenBack> all;
    for (std::size_t m = 0; m < maps.size(); ++m) {
        const MeasuredMap& map = maps[m];
        const StageBase cell = for_cell(base, map.parts, map.fuel);
        for (std::size_t i = 0; i < map.points.size(); ++i) {
            const MeasuredPoint& point = map.points[i];
            GivenBack back{m, i, cell.engine_model.cylinder_at(point.speed)};
            try {
                InitialGuess guess{cell.engine, point.power};
                guess.engine.lambda = map.fuel.lambda;
                back.limit = stage_limit(cell, guess, map.parts, map.fuel, point.speed);
            } catch (const NoSolution& none) {
                back.impossible = Warning{none.reason(), none.details()};
            }
            all.push_back(std::move(back));
        }
    }
    return all;
}

}  // namespace pullsheet::plan
