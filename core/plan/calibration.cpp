// SPDX-License-Identifier: Apache-2.0
#include "core/plan/calibration.hpp"

#include <algorithm>
#include <limits>

#include "core/cycle/knock.hpp"
#include "core/fuel/octane.hpp"

namespace pullsheet::plan {
namespace {

/// Peak pressure not stated: this times that of the measured point. An assumption.
constexpr double peak_pressure_factor = 1.2;

cycle::Calibration calibrated_cycle(const StageBase& base, const MeasuredMap& measured,
                                    const OfferedFuel& fuel) {
    cycle::CyclePoint point;
    point.angular_speed = measured.speed;
    point.manifold_pressure = dry_share(base.weather) * measured.manifold_pressure;
    point.manifold_temperature = measured.manifold_temperature;
    point.lambda = measured.lambda;
    point.spark_angle = measured.spark_angle;
    point.ambient_pressure = base.weather.pressure;
    return cycle::calibrate(base.engine_model.cylinder, point, fuel.fuel, measured.power);
}

// The latest burn of the measured stage and fuel at a gas temperature, no part and no peak pressure limiting.
CalibratedBurn burn_at_gas_temperature(const StageBase& calibrated_base, const MeasuredMap& measured,
                                       double measured_angle, double gas_temperature, const Parts& parts,
                                       const OfferedFuel& fuel, std::span<const double> speeds) {
    StageBase base = for_stage(calibrated_base, parts);
    base.engine_model.gas_temperature = gas_temperature;
    base.engine_model.peak_pressure = std::numeric_limits<double>::infinity();
    Parts no_strength = parts;
    std::erase_if(no_strength, [](const Part& part) { return std::holds_alternative<EngineStrength>(part); });
    InitialGuess guess{base.engine, measured.power};
    guess.engine.lambda = fuel.lambda;
    std::vector<double> all{measured.speed};
    all.insert(all.end(), speeds.begin(), speeds.end());
    std::sort(all.begin(), all.end());
    CalibratedBurn burn;
    for (const double speed : all) {
        try {
            guess.power = measured.power * speed / measured.speed;
            const double angle =
                speed == measured.speed
                    ? measured_angle
                    : limit_by_engine(base, guess, no_strength, fuel, speed).half_burned_angle;
            burn.speeds.push_back(speed);
            burn.angles.push_back(std::clamp(angle, 0.0, base.engine_model.latest_half_burned));
        } catch (const NoSolution&) {
            continue;  // the angles at the other speeds serve
        }
    }
    return burn;
}

}  // namespace

CalibratedEngine calibrated(const StageBase& base, const MeasuredMap& measured, const Parts& parts,
                            const OfferedFuel& fuel, std::span<const double> speeds) {
    StageBase made = base;
    CalibratedEngine& engine = made.engine_model;
    engine.cylinder.calibration_sensitivity = fuel::ron(fuel.fuel) - fuel::mon(fuel.fuel);
    cycle::Calibration found = calibrated_cycle(for_stage(made, parts), measured, fuel);
    engine.cylinder.octane_offset = found.octane_offset;
    engine.cylinder.efficiency_factor = found.efficiency_factor;
    engine.power_uncertainty = measured.power_uncertainty;
    const double reading = cycle::gas_temperature_reading(engine.cylinder, found.result);
    engine.peak_pressure = peak_pressure_factor * found.result.peak_pressure;
    engine.gas_temperature = std::max(engine.gas_temperature, reading);
    engine.burn =
        burn_at_gas_temperature(made, measured, found.result.half_burned_angle, reading, parts, fuel, speeds);
    std::erase_if(found.warnings, [](const Warning& warning) { return warning.reason == Reason::knocks; });
    engine.warnings = std::move(found.warnings);
    return engine;
}

}  // namespace pullsheet::plan
