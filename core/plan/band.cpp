// SPDX-License-Identifier: Apache-2.0
#include "core/plan/band.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/fuel/octane.hpp"

namespace pullsheet::plan {
namespace {

double kept(double value, Interval possible) {
    return std::clamp(value, possible.low, possible.high);
}

void move(cycle::Cylinder& cylinder, Assumption assumption, double sign, const TableUncertainty& u) {
    switch (assumption) {
        case Assumption::octane_index_k:
            cylinder.octane_index_k =
                kept(cylinder.octane_index_k + sign * u.octane_index_k, cycle::possible::octane_index_k);
            break;
        case Assumption::pressure_exponent:
            cylinder.knock_delay.pressure_exponent += sign * u.pressure_exponent;
            break;
        case Assumption::activation_temperature:
            cylinder.knock_delay.activation_temperature += sign * u.activation_temperature;
            break;
        case Assumption::octane_exponent:
            cylinder.knock_delay.octane_exponent += sign * u.octane_exponent;
            break;
        case Assumption::evaporated:
            cylinder.evaporated = kept(cylinder.evaporated + sign * u.evaporated, unit_share);
            break;
        case Assumption::burn_duration:
            cylinder.burn_duration =
                kept(cylinder.burn_duration + sign * u.burn_duration, cycle::possible::burn_duration);
            break;
        case Assumption::wall_heat:
            cylinder.wall_heat_factor = kept(cylinder.wall_heat_factor + sign * u.wall_heat_factor,
                                             cycle::possible::wall_heat_factor);
            break;
        default: break;
    }
}

bool concerns_parts(Assumption assumption) {
    return assumption == Assumption::cooler_effectiveness || assumption == Assumption::turbine_area;
}

void move(Parts& parts, Assumption assumption, double sign, const TableUncertainty& u) {
    for (Part& part : parts) {
        if (auto* cooler = std::get_if<ChargeCooler>(&part);
            cooler && assumption == Assumption::cooler_effectiveness)
            cooler->effectiveness = kept(cooler->effectiveness + sign * u.cooler_effectiveness, unit_share);
        if (auto* turbine = std::get_if<boost::Turbine>(&part);
            turbine && assumption == Assumption::turbine_area) {
            turbine->effective_area *= 1.0 + sign * u.turbine_area;
            if (turbine->largest_area) *turbine->largest_area *= 1.0 + sign * u.turbine_area;
        }
    }
}

/// The points between which and next to which the speeds lie: what is fitted at others does not reach them.
std::vector<MeasuredPoint> near_speeds(std::vector<MeasuredPoint> points, std::span<const double> speeds) {
    std::ranges::sort(points, {}, &MeasuredPoint::speed);
    std::vector<bool> needed(points.size(), speeds.empty());
    for (const double speed : speeds) {
        const auto above = std::ranges::lower_bound(points, speed, {}, &MeasuredPoint::speed);
        const auto i = static_cast<std::size_t>(above - points.begin());
        if (i < points.size()) needed[i] = true;
        if (i > 0) needed[i - 1] = true;
    }
    std::vector<MeasuredPoint> near;
    for (std::size_t i = 0; i < points.size(); ++i)
        if (needed[i]) near.push_back(points[i]);
    return near;
}

/// Whether what limits is a stated power or torque, whatever fuel and air that takes. Boost control states
/// one where its torque is the limit; a boost is none: what the engine makes of it is computed.
bool states_power(const Part& part, const BandAt& at) {
    if (const auto* control = std::get_if<BoostControl>(&part)) {
        constexpr double as_searched = 1e-3;
        return control->max_torque &&
               std::abs(at.limit.power - *control->max_torque * at.speed) <= as_searched * at.limit.power;
    }
    return std::holds_alternative<Clutch>(part) || std::holds_alternative<Gearbox>(part) ||
           std::holds_alternative<EngineStrength>(part);
}

/// The limit of the engine with something moved, both ways.
class Moved {
  public:
    explicit Moved(const BandAt& at) : at_(at) {}

    struct Power {
        double power;
        InitialGuess found;
    };
    /// W with another base or other parts; nothing where there is no limit then. `other`: the answer with
    /// the opposite move, which tells where this one lies.
    std::optional<Power> power(const StageBase& base, const Parts& parts,
                               const std::optional<Power>& other) const {
        InitialGuess guess = at_.guess;
        guess.coarse = true;
        if (other) {
            guess.power = std::max(0.5 * guess.power, 2.0 * guess.power - other->found.power);
            guess.manifold_pressure =
                std::max(0.5 * guess.manifold_pressure,
                         2.0 * guess.manifold_pressure - other->found.manifold_pressure);
            guess.half_burned = 2.0 * guess.half_burned - other->found.half_burned;
            guess.engine.efficiency =
                std::clamp(2.0 * guess.engine.efficiency - other->found.engine.efficiency,
                           0.5 * guess.engine.efficiency, 0.59);
        }
        try {
            const auto limit_of = at_.limit.limited_by.part ? stage_limit : limit_by_engine;
            const StageLimit limit =
                limit_of(for_cell(base, parts, at_.fuel), guess, parts, at_.fuel, at_.speed);
            guess.power = limit.power;
            return Power{limit.power, guess};
        } catch (const NoSolution&) {
            return std::nullopt;
        }
    }
    /// Half the difference of two moves, or the whole one of a single one.
    double effect(const std::optional<Power>& up, const std::optional<Power>& down) const {
        const double now = at_.limit.power;
        if (up && down) return 0.5 * (up->power - down->power);
        return up ? up->power - now : down ? now - down->power : 0.0;
    }
    /// The effect of a move of the base that the measurement does not tell.
    template <class Change>
    double of(Change change) const {
        const auto moved = [&](double sign, const std::optional<Power>& other) {
            StageBase base = for_cell(at_.base, at_.parts, at_.fuel);
            Parts parts = at_.parts;
            change(base, parts, sign);
            return power(base, parts, other);
        };
        const auto up = moved(1.0, {});
        return effect(up, moved(-1.0, up));
    }

  private:
    const BandAt& at_;
};

}  // namespace

double Effects::spread() const {
    double variance = 0.0;
    for (const double effect : effects_) variance += effect * effect;
    return std::sqrt(variance);
}

double Effects::spread_of_gain(const Effects& over) const {
    Effects difference = *this;
    for (std::size_t i = 0; i < effects_.size(); ++i) difference.effects_[i] -= over.effects_[i];
    difference[Assumption::part_rating] =
        std::hypot((*this)[Assumption::part_rating], over[Assumption::part_rating]);
    return difference.spread();
}

std::vector<Alternative> alternatives(const CalibratedEngine& engine, const TableUncertainty& u) {
    std::vector<Alternative> all;
    if (!engine.origin) return all;
    const auto& maps = engine.origin->maps;
    const auto any_part = [&](auto is) {
        return std::ranges::any_of(
            maps, [&](const MeasuredMap& map) { return std::ranges::any_of(map.parts, is); });
    };
    for (auto a = Assumption::octane_index_k; a <= Assumption::spark;
         a = static_cast<Assumption>(static_cast<std::size_t>(a) + 1)) {
        if (a == Assumption::turbine_area &&
            !any_part([](const Part& part) { return std::holds_alternative<boost::Turbine>(part); }))
            continue;
        for (const double sign : {1.0, -1.0}) {
            Alternative other{a, sign, engine.origin->base};
            move(other.base.engine_model.cylinder, a, sign, u);
            all.push_back(std::move(other));
        }
    }
    return all;
}

bool recalibrate(Alternative& alternative, const CalibratedEngine& engine, std::span<const double> speeds,
                 const TableUncertainty& u) {
    std::vector<MeasuredMap> maps = engine.origin->maps;
    for (MeasuredMap& map : maps) {
        map.points = near_speeds(std::move(map.points), speeds);
        move(map.parts, alternative.assumption, alternative.sign, u);
        if (alternative.assumption == Assumption::spark)
            for (MeasuredPoint& point : map.points)
                point.spark_angle =
                    kept(point.spark_angle + alternative.sign * u.spark, cycle::possible::spark_angle);
    }
    try {
        alternative.base.engine_model = calibrated(alternative.base, maps, speeds, false);
    } catch (const NoSolution&) {
        return false;
    }
    return true;
}

Effects effects_on(const BandAt& at, std::span<const Alternative> alternatives, const TableUncertainty& u) {
    Effects effects;
    const double power = at.limit.power;
    const CalibratedEngine engine = for_cell(at.base, at.parts, at.fuel).engine_model;
    const bool guess = at.basis.kind == Basis::Kind::guess;
    if (at.basis.kind == Basis::Kind::measured) {
        effects[Assumption::measured_power] = engine.power_uncertainty * power;
        return effects;
    }
    effects[Assumption::distance] = at.basis.uncertainty * power;
    const bool by_turbine = at.limit.limited_by.part &&
                            std::holds_alternative<boost::Turbine>(at.parts[*at.limit.limited_by.part]);
    if (at.limit.limited_by.part && !by_turbine) effects[Assumption::part_rating] = u.part_rating * power;
    if (at.limit.limited_by.part && states_power(at.parts[*at.limit.limited_by.part], at)) return effects;
    if (guess) {
        effects[Assumption::efficiency] = u.guessed_efficiency * power;
        effects[Assumption::burn_duration] = u.guessed_burn * power;
    } else {
        effects[Assumption::efficiency] = u.efficiency * power;
        effects[Assumption::measured_power] = engine.power_uncertainty * power;
    }
    const Moved moved(at);
    if (by_turbine)
        effects[Assumption::turbine_area] = moved.of(
            [&](StageBase&, Parts& parts, double sign) { move(parts, Assumption::turbine_area, sign, u); });
    const auto by_octane = [&](double numbers) {
        return moved.of([&](StageBase& base, Parts&, double sign) {
            base.engine_model.cylinder.octane_offset += sign * numbers;
        });
    };
    // A stage on which this fuel was measured knows its octane and its latest burn.
    const auto& maps = at.base.engine_model.maps;
    const bool fuel_measured =
        std::ranges::any_of(maps, [&](const FittedMap& map) { return map.fuel.fuel == at.fuel.fuel; });
    if (at.limit.limited_by.part) {
        if (!fuel_measured) effects[Assumption::octane] = by_octane(guess ? u.guessed_octane : u.octane);
        return effects;
    }
    if (at.limit.limited_by.engine == EngineBound::assumed_peak_pressure ||
        at.limit.limited_by.engine == EngineBound::peak_pressure) {
        const double relative = at.limit.limited_by.engine == EngineBound::peak_pressure
                                    ? u.stated_peak_pressure
                                    : u.assumed_peak_pressure;
        effects[Assumption::peak_pressure] = moved.of([&](StageBase& base, Parts& parts, double sign) {
            const double factor = 1.0 + sign * relative;
            base.engine_model.peak_pressure *= factor;
            for (double& value : base.engine_model.fit.peak_pressure.values) value *= factor;
            for (Part& part : parts)
                if (auto* strength = std::get_if<EngineStrength>(&part);
                    strength && strength->max_peak_pressure)
                    *strength->max_peak_pressure *= factor;
        });
    }
    if (guess) {
        effects[Assumption::octane] = by_octane(u.guessed_octane);
        effects[Assumption::gas_temperature] = u.guessed_temperature * power;
        return effects;
    }

    const bool stage_measured = std::ranges::any_of(
        maps, [&](const FittedMap& map) { return map.fuel.fuel == at.fuel.fuel && map.parts == at.parts; });
    if (!fuel_measured) {
        const double octane = effects[Assumption::octane] = by_octane(u.octane);
        const double for_each = u.octane > 0.0 ? octane / u.octane : by_octane(1.0);
        const auto beyond = [&](auto of_fuel) {
            return of_fuel(at.fuel.fuel) - (maps.empty() ? 0.0 : of_fuel(maps.front().fuel.fuel));
        };
        effects[Assumption::ethanol_octane] = for_each * u.ethanol_octane * beyond(fuel::ethanol_molar);
        effects[Assumption::molar_share] = for_each * beyond([&](fuel::Fuel fuel) {
                                               const double octane_number = fuel::ron(fuel);
                                               fuel.gasoline.molar_mass *= 1.0 + u.molar_mass;
                                               return fuel::ron(fuel) - octane_number;
                                           });
    }
    if (!stage_measured)
        effects[Assumption::latest_half_burned] = moved.of([&](StageBase& base, Parts&, double sign) {
            for (double& angle : base.engine_model.fit.latest_burn.values)
                angle = std::max(0.0, angle + sign * u.latest_half_burned);
        });
    const double sensitivity = fuel::ron(at.fuel.fuel) - fuel::mon(at.fuel.fuel);
    for (const Alternative& up : alternatives) {
        if (up.sign < 0.0) continue;
        if (up.assumption == Assumption::octane_index_k &&
            sensitivity == engine.cylinder.calibration_sensitivity)
            continue;
        const auto power_of = [&](const Alternative& other, const std::optional<Moved::Power>& opposite) {
            if (!concerns_parts(other.assumption)) return moved.power(other.base, at.parts, opposite);
            Parts parts = at.parts;
            move(parts, other.assumption, other.sign, u);
            return moved.power(other.base, parts, opposite);
        };
        const auto power_up = power_of(up, {});
        const auto down = std::ranges::find_if(alternatives, [&](const Alternative& other) {
            return other.assumption == up.assumption && other.sign < 0.0;
        });
        effects[up.assumption] =
            moved.effect(power_up, down == alternatives.end() ? std::nullopt : power_of(*down, power_up));
    }
    return effects;
}

}  // namespace pullsheet::plan
