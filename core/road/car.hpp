// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "core/road/torque_curve.hpp"
#include "core/road/vehicle.hpp"

namespace pullsheet::road {

/// Speeds that differ by no more than this share are the same.
inline constexpr double speed_rounding = 1e-12;

inline constexpr double unbounded = std::numeric_limits<double>::infinity();

/// Where a run ends: at a speed or at a distance, whichever is finite.
struct Goal {
    double speed = unbounded;
    double distance = unbounded;
};

/// A car on its way: forces and accelerations at a speed, with all constants computed once. It refers to the
/// curve, which must outlive it.
class Car {
  public:
    /// Throws InvalidArgument for a rev limit or a launch speed outside the curve.
    Car(const Vehicle& vehicle, const TorqueCurve& curve, const Surroundings& surroundings);

    std::size_t gear_count() const { return gears_.size(); }
    /// Road speed at the rev limit.
    double rev_limited_speed(std::size_t gear) const { return gears_[gear - 1].highest; }
    /// Road speed at the first point of the curve.
    double lowest_speed(std::size_t gear) const { return gears_[gear - 1].lowest; }
    double engine_speed(std::size_t gear, double v) const { return gears_[gear - 1].turns * v; }
    double launch_speed() const { return launch_speed_; }
    double time_constant() const { return time_constant_; }
    double shift_time() const { return shift_time_; }
    double torque_in_shift() const { return torque_in_shift_; }
    const TorqueCurve& curve() const { return curve_; }
    double grip_limit() const { return limit_; }

    /// Whether the goal lies within the rev limit of a gear.
    bool may_reach(const Goal& goal, std::size_t gear) const {
        return !std::isfinite(goal.speed) || goal.speed <= rev_limited_speed(gear) * (1.0 + speed_rounding);
    }

    /// Road load, N.
    double load(double v) const {
        const double air_speed = v + surroundings_.headwind;
        return constant_load_ + drag_ * air_speed * std::abs(air_speed);
    }
    /// Force at the wheels that the full torque at an engine speed gives in a gear.
    double force(std::size_t gear, double engine_speed) const {
        return curve_.torque(engine_speed) * gears_[gear - 1].force;
    }
    /// Acceleration by a share of the full torque, clutch closed.
    double closed_acceleration(std::size_t gear, double v, double share) const {
        const Gear& g = gears_[gear - 1];
        return (share * curve_.torque(g.turns * v) * g.force - load(v)) * g.inverse_mass;
    }
    /// The same with the engine decoupled: held at a speed by the slipping clutch, or during a shift.
    double open_acceleration(std::size_t gear, double v, double engine_speed, double share) const {
        const double pulling = share > 0.0 ? share * force(gear, engine_speed) : 0.0;
        return (pulling - load(v)) * inverse_open_mass_;
    }
    /// Acceleration at the limit of grip.
    double grip_acceleration(double v) const { return (limit_ - load(v)) * inverse_grip_mass_; }

  private:
    struct Gear {
        double turns;         ///< engine rad for each m
        double force;         ///< wheel force for each N·m at the crank
        double inverse_mass;  ///< 1 / effective mass
        double highest;       ///< speed at the rev limit
        double lowest;        ///< speed at the first point of the curve
    };
    const TorqueCurve& curve_;
    Surroundings surroundings_;
    std::vector<Gear> gears_;
    double limit_, drag_, constant_load_, inverse_open_mass_, inverse_grip_mass_, rev_limit_, launch_speed_;
    double time_constant_, shift_time_, torque_in_shift_;
};

}  // namespace pullsheet::road
