// SPDX-License-Identifier: Apache-2.0
#include "core/plan/power_check.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <cmath>
#include <functional>

#include "core/constants.hpp"
#include "core/engine/air_flow.hpp"
#include "core/error.hpp"
#include "core/injection/injector.hpp"
#include "core/road/power_for_time.hpp"
#include "core/series.hpp"

namespace pullsheet::plan {

namespace {

/// All inputs of the powers, so that one can be varied at a time.
struct Inputs {
    PowerEvidence evidence;
    PowerAssumptions assumptions;
};

double power_of(Evidence evidence, const Inputs& in) {
    const PowerEvidence& e = in.evidence;
    const PowerAssumptions& a = in.assumptions;
    road::RunOptions fast;
    fast.tolerance = 1e-9;
    switch (evidence) {
        case Evidence::rollers: return e.rollers->value;
        case Evidence::air_flow:
            return engine::power_from_air(e.air_flow->value, a.fuel, a.lambda.value, a.efficiency.value);
        case Evidence::injector_duty: {
            // A four-stroke cycle takes two turns.
            const double dead_share = a.dead_time * a.injector_speed / (4.0 * pi);
            return injection::injector_power(a.injector_flow.value, a.injectors,
                                             e.injector_duty->value - dead_share, a.fuel, a.efficiency.value);
        }
        case Evidence::road_time:
            return road::power_for_time(*a.vehicle, *a.curve, e.from, e.to, e.road_time->value, a.weather,
                                        fast)
                .power;
        case Evidence::trap_speed:
            return road::power_for_trap_speed(*a.vehicle, *a.curve, e.distance, e.trap_speed->value,
                                              a.weather, fast)
                .power;
    }
    return 0.0;
}

/// An uncertain input: its standard uncertainty, how to move it, and the evidence that depends on it.
struct Source {
    double uncertainty;
    std::function<void(Inputs&, double)> move;
    std::vector<Evidence> touches;
};

std::vector<Source> sources(const PowerEvidence& e, const PowerAssumptions& a) {
    using enum Evidence;
    std::vector<Source> all;
    const auto reading = [&](const std::optional<Reading>& r, Evidence what,
                             std::optional<Reading> PowerEvidence::*field) {
        if (r)
            all.push_back({r->uncertainty,
                           [field](Inputs& in, double d) { (in.evidence.*field)->value += d; },
                           {what}});
    };
    reading(e.rollers, rollers, &PowerEvidence::rollers);
    reading(e.air_flow, air_flow, &PowerEvidence::air_flow);
    reading(e.injector_duty, injector_duty, &PowerEvidence::injector_duty);
    reading(e.road_time, road_time, &PowerEvidence::road_time);
    reading(e.trap_speed, trap_speed, &PowerEvidence::trap_speed);
    all.push_back({a.efficiency.uncertainty,
                   [](Inputs& in, double d) { in.assumptions.efficiency.value += d; },
                   {air_flow, injector_duty}});
    all.push_back(
        {a.lambda.uncertainty, [](Inputs& in, double d) { in.assumptions.lambda.value += d; }, {air_flow}});
    all.push_back({a.injector_flow.uncertainty,
                   [](Inputs& in, double d) { in.assumptions.injector_flow.value += d; },
                   {injector_duty}});
    const auto on_road = [&](double u, std::function<void(Inputs&, double)> move) {
        all.push_back({u, std::move(move), {road_time, trap_speed}});
    };
    const road::RoadUncertainty& u = a.road_uncertainty;
    on_road(u.mass, [](Inputs& in, double d) { in.assumptions.vehicle->mass += d; });
    on_road(u.drag_area, [](Inputs& in, double d) { in.assumptions.vehicle->drag_area += d; });
    on_road(u.rolling_resistance,
            [](Inputs& in, double d) { in.assumptions.vehicle->rolling_resistance += d; });
    on_road(u.driveline_efficiency,
            [](Inputs& in, double d) { in.assumptions.vehicle->driveline_efficiency += d; });
    on_road(u.air_density, [](Inputs& in, double d) { in.assumptions.weather.air_density += d; });
    on_road(u.headwind, [](Inputs& in, double d) { in.assumptions.weather.headwind += d; });
    std::erase_if(all, [](const Source& s) { return s.uncertainty == 0.0; });
    return all;
}

void check_arguments(const PowerEvidence& e, const PowerAssumptions& a) {
    const auto reading = [](const char* name, const std::optional<Reading>& r) {
        if (!r) return;
        require(name, r->value, positive);
        require("standard_uncertainties", r->uncertainty, not_negative);
    };
    reading("rollers", e.rollers);
    reading("air_flow", e.air_flow);
    reading("injector_duty", e.injector_duty);
    reading("road_time", e.road_time);
    reading("trap_speed", e.trap_speed);
    require("standard_uncertainties", a.efficiency.uncertainty, not_negative);
    require("standard_uncertainties", a.lambda.uncertainty, not_negative);
    road::check(a.road_uncertainty);
    if (e.injector_duty) {
        require("standard_uncertainties", a.injector_flow.uncertainty, not_negative);
        require("dead_time", a.dead_time, injection::possible::dead_time);
        if (a.dead_time > 0.0) require("injector_speed", a.injector_speed, positive);
    }
    if ((e.road_time || e.trap_speed) && !(a.vehicle && a.curve))
        throw NoData(Reason::evidence_needs_vehicle);
}

}  // namespace

road::RoadUncertainty usual_uncertainty(const road::Vehicle& vehicle, const road::Surroundings& weather) {
    return {0.01 * vehicle.mass,
            0.05 * vehicle.drag_area,
            0.15 * vehicle.rolling_resistance,
            0.03,
            0.005 * weather.air_density,
            1.0};
}

PowerCheck power_check(const PowerEvidence& evidence, const PowerAssumptions& assumptions,
                       double confidence) {
    check_arguments(evidence, assumptions);
    const Inputs inputs{evidence, assumptions};
    PowerCheck result;
    const auto call = [&](Evidence what, bool given) {
        if (given) result.measurements.push_back({what, power_of(what, inputs), 0.0});
    };
    call(Evidence::rollers, evidence.rollers.has_value());
    call(Evidence::air_flow, evidence.air_flow.has_value());
    call(Evidence::injector_duty, evidence.injector_duty.has_value());
    call(Evidence::road_time, evidence.road_time.has_value());
    call(Evidence::trap_speed, evidence.trap_speed.has_value());
    const std::size_t n = result.measurements.size();
    require_points(n, 2);

    // Most errors are shares of the power, so the values are weighted by the logarithm of their powers: a
    // doubt they share then moves them all alike and cannot pull the mean outside of them. Each source moves
    // its values together.
    const auto size = static_cast<Eigen::Index>(n);
    Eigen::MatrixXd covariance = Eigen::MatrixXd::Zero(size, size);
    for (const Source& source : sources(evidence, assumptions)) {
        Eigen::VectorXd change = Eigen::VectorXd::Zero(size);
        for (std::size_t i = 0; i < n; ++i) {
            const PowerMeasurement& measurement = result.measurements[i];
            if (std::find(source.touches.begin(), source.touches.end(), measurement.evidence) ==
                source.touches.end())
                continue;
            Inputs up = inputs, down = inputs;
            source.move(up, source.uncertainty);
            source.move(down, -source.uncertainty);
            change(static_cast<Eigen::Index>(i)) =
                0.5 * (power_of(measurement.evidence, up) - power_of(measurement.evidence, down)) /
                measurement.power;
        }
        covariance += change * change.transpose();
    }
    std::vector<double> logarithms;
    for (std::size_t i = 0; i < n; ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        PowerMeasurement& measurement = result.measurements[i];
        measurement.uncertainty = measurement.power * std::sqrt(covariance(k, k));
        logarithms.push_back(std::log(measurement.power));
    }
    result.agreement = statistics::agreement(logarithms, covariance, confidence);
    const auto back = [](double& mean, double& uncertainty) {
        mean = std::exp(mean);
        uncertainty *= mean;
    };
    back(result.agreement.mean, result.agreement.uncertainty);
    for (statistics::Comparison& comparison : result.agreement.comparisons)
        back(comparison.others, comparison.others_uncertainty);
    return result;
}

}  // namespace pullsheet::plan
