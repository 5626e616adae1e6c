// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <array>
#include <boost/numeric/odeint/stepper/runge_kutta4.hpp>
#include <cmath>
#include <cstddef>
#include <limits>
#include <type_traits>
#include <utility>

#include "core/cycle/nasa.hpp"
#include "core/cycle/trace_point.hpp"
#include "core/error.hpp"

namespace pullsheet::cycle {

/// Crank angles, rad after top dead centre, between which the integrator takes steps of even size.
struct Stages {
    double closing;     ///< the intake valve closes: the first angle
    double burn_start;  ///< first angle of the burn
    double knock_end;   ///< the last unburned gas is consumed as far as knock goes
    double opening;     ///< the exhaust valve opens: the last angle
    double burn_step;   ///< greatest step between burn_start and knock_end, rad
    double slow_step;   ///< greatest step elsewhere, rad; the rest of a short burn takes twice burn_step
};

/// A closed cylinder with one zone of unburned and, from the start of the burn, one of burned gas at common
/// pressure.
///
/// Energy: d(m_u u_u + m_b u_b) = −p dV − δQ. Unburned zone: m_u T_u ds_u = −δQ_u; what burns leaves it with
/// its own enthalpy. Unburned and burned gas fill the volume. The integrator advances work, heat, the
/// unburned entropy and the knock integral (fourth-order Runge–Kutta of Boost.odeint), and pressure and both
/// temperatures follow from them by Newton's method, so that energy and mass are conserved whatever the step.
/// The wall heat is shared between the zones: δQ_u = α A (V_u/V) (T_u − T_w), δQ = α A (T_mean − T_w), T_mean
/// = p V/(m R).
///
/// Types: Unburned has gas_constant, heat_capacity(T), internal_energy(T), entropy(T) in J/(kg·K) or J/kg.
/// Burned has start_temperature and properties(T, p, guess) as BurnedGas. Cylinder has volume(φ) in m³,
/// volume_slope(φ) in m³/rad. Burn has share(φ). Wall has temperature (K) and conductance(φ, V, p, T_mean,
/// burning) in W/K, and start(V, p, T) is called when the burn starts. Delay has rate(p, T_u) in 1/s.
template <class Unburned, class Burned, class Cylinder, class Burn, class Wall, class Delay>
class TwoZone {
  public:
    /// mass in kg, angular_speed of the crank in rad/s.
    TwoZone(const Unburned& unburned, const Burned& burned, const Cylinder& cylinder, const Burn& burn,
            Wall& wall, const Delay& delay, double mass, double angular_speed)
        : unburned_(unburned),
          burned_(burned),
          cylinder_(cylinder),
          burn_(burn),
          wall_(wall),
          delay_(delay),
          mass_(mass),
          angular_speed_(angular_speed) {}

    /// Runs from the closing to the opening of the valves, starting at `temperature`, K.
    /// `observe(TracePoint)` sees every point of the grid. Returns the last one.
    template <class Observer>
    TracePoint run(const Stages& stages, double temperature, Observer observe) {
        const double start = std::clamp(stages.burn_start, stages.closing, stages.opening);
        const double knock_end = std::clamp(stages.knock_end, start, stages.opening);
        State y = begin(temperature);
        advance(y, stages.closing, start, stages.slow_step, observe);
        if (start < stages.opening) {
            start_burn(y, start);
            advance(y, start, knock_end, stages.burn_step, observe);
            end_knock();
            double burned = knock_end;
            // Steps of slow_step would skip the rest of a short burn.
            if (stages.slow_step > far_longer * stages.burn_step) {
                burned = std::min(knock_end + rest_of_burn * (knock_end - start), stages.opening);
                advance(y, knock_end, burned, 2.0 * stages.burn_step, observe);
            }
            advance(y, burned, stages.opening, stages.slow_step, observe);
        }
        solve(y, stages.opening);
        observe(state_);
        return state_;
    }

    // The equations one by one, for another integrator: begin, derivative from the first angle to the start
    // of the burn, start_burn, derivative to the end of knock, end_knock, derivative to the last angle.

    /// What is integrated over the crank angle: work, J, and heat, J, since the first angle, entropy of the
    /// unburned gas, J/(kg·K), from the start of the burn, knock integral.
    enum : std::size_t { work, heat, entropy, knock };
    using State = std::array<double, 4>;

    /// At the first angle, at `temperature`, K.
    State begin(double temperature) {
        energy_ = mass_ * unburned_.internal_energy(temperature);
        state_.unburned_temperature = temperature;
        state_.burned_temperature = std::numeric_limits<double>::quiet_NaN();
        state_.burned_share = 0.0;
        burning_ = false;
        knocking_ = true;
        return {};
    }

    /// Pressure and temperature at the start of the burn, by energy; from here the unburned gas is followed
    /// by entropy.
    void start_burn(State& y, double angle) {
        solve(y, angle);
        y[entropy] = unburned_.entropy(state_.unburned_temperature) -
                     unburned_.gas_constant * std::log(state_.pressure / standard_pressure);
        wall_.start(state_.volume, state_.pressure, state_.unburned_temperature);
        burning_ = true;
        state_.burned_temperature = burned_.start_temperature;
        solved_count_ = 0;
    }

    /// From here the knock integral does not grow.
    void end_knock() { knocking_ = false; }

    void derivative(const State& y, State& slope, double angle) {
        solve(y, angle);
        const TracePoint& s = state_;
        const double volume_slope = cylinder_.volume_slope(angle);
        const double mean_temperature = s.pressure * s.volume / (mass_ * gas_constant_);
        const double conductance = wall_.conductance(angle, s.volume, s.pressure, mean_temperature, burning_);
        slope[work] = s.pressure * volume_slope;
        slope[heat] = conductance * (mean_temperature - wall_.temperature) / angular_speed_;
        slope[entropy] = -conductance * unburned_.gas_constant *
                         (s.unburned_temperature - wall_.temperature) /
                         (s.pressure * s.volume * angular_speed_);
        slope[knock] = knocking_ ? delay_.rate(s.pressure, s.unburned_temperature) / angular_speed_ : 0.0;
    }

  private:
    template <class Observer>
    void advance(State& y, double from, double to, double greatest_step, Observer& observe) {
        const double length = to - from;
        if (!(length > 0.0)) return;
        const int steps = std::max(1, static_cast<int>(std::ceil(length / greatest_step - 1e-9)));
        ::boost::numeric::odeint::runge_kutta4<State> stepper;
        const auto system = [this](const State& state, State& slope, double angle) {
            derivative(state, slope, angle);
        };
        for (int i = 0; i < steps; ++i) {
            const double angle = from + length * i / steps;
            const double step = length / steps;
            State slope;
            derivative(y, slope, angle);
            observe(state_);
            stepper.do_step(system, y, slope, angle, step);
        }
    }

    /// Pressure and temperatures at `angle` from what has been integrated.
    void solve(const State& y, double angle) {
        state_.angle = angle;
        state_.volume = cylinder_.volume(angle);
        state_.work = y[work];
        state_.heat_loss = y[heat];
        state_.knock_integral = y[knock];
        const double energy = energy_ - y[work] - y[heat];
        if (burning_)
            solve_two(y[entropy], energy, angle);
        else
            solve_one(energy);
    }

    /// One zone: its temperature from the internal energy, by Newton's method.
    void solve_one(double energy) {
        double& t = state_.unburned_temperature;
        const double target = energy / mass_;
        for (int i = 0;; ++i) {
            const double step = (target - unburned_.internal_energy(t)) /
                                (unburned_.heat_capacity(t) - unburned_.gas_constant);
            t += step;
            if (std::abs(step) < small_step * t) break;
            if (!(i < most_iterations)) throw no_state();
        }
        state_.pressure = mass_ * unburned_.gas_constant * t / state_.volume;
        gas_constant_ = unburned_.gas_constant;
    }

    /// Two zones: Newton's method for the unknowns ln p and T_b with the residuals r1 = m_u R_u T_u + m_b R_b
    /// T_b − p V (volume) and r2 = m_u u_u + m_b u_b − U (energy). At each p, T_u follows from the unburned
    /// entropy by Newton's method of its own.
    void solve_two(double unburned_entropy, double energy, double angle) {
        const double share = burn_.share(angle);
        const double m_b = mass_ * share;
        const double m_u = mass_ - m_b;
        state_.burned_share = share;
        double& p = state_.pressure;
        double& t_u = state_.unburned_temperature;
        double& t_b = state_.burned_temperature;
        predict(angle);
        double log_p = std::log(p / standard_pressure);
        const double r_u = unburned_.gas_constant;
        for (int i = 0;; ++i) {
            const double target = unburned_entropy + r_u * log_p;
            double cp_u;
            for (int k = 0;; ++k) {
                cp_u = unburned_.heat_capacity(t_u);
                const double step = t_u * (target - unburned_.entropy(t_u)) / cp_u;
                t_u += step;
                if (std::abs(step) < small_step * t_u) break;
                if (!(k < most_iterations)) throw no_state();
            }
            const double t_by_log_p = r_u * t_u / cp_u;
            const auto b = burned_.properties(t_b, p, guess_);
            const double r1 = m_u * r_u * t_u + m_b * b.gas_constant * t_b - p * state_.volume;
            const double r2 = m_u * unburned_.internal_energy(t_u) + m_b * b.internal_energy - energy;
            const double r1_p =
                m_u * r_u * t_by_log_p + m_b * t_b * b.gas_constant_by_log_pressure - p * state_.volume;
            const double r1_t = m_b * (b.gas_constant + t_b * b.gas_constant_by_temperature);
            const double r2_p = m_u * (cp_u - r_u) * t_by_log_p + m_b * b.internal_energy_by_log_pressure;
            const double r2_t = m_b * b.internal_energy_by_temperature;
            const double determinant = r1_p * r2_t - r1_t * r2_p;
            const double step_p = std::clamp((r1_t * r2 - r1 * r2_t) / determinant, -1.0, 1.0);
            const double step_t = std::clamp((r2_p * r1 - r2 * r1_p) / determinant, -0.3 * t_b, 0.3 * t_b);
            p *= std::exp(step_p);
            log_p += step_p;
            t_b += step_t;
            t_u += t_by_log_p * step_p;
            if (std::abs(step_p) < small_step && std::abs(step_t) < small_step * t_b) {
                gas_constant_ = (m_u * r_u + m_b * (b.gas_constant + b.gas_constant_by_log_pressure * step_p +
                                                    b.gas_constant_by_temperature * step_t)) /
                                mass_;
                remember({angle, log_p, t_b});
                return;
            }
            if (!(i < most_iterations)) throw no_state();
        }
    }

    /// The solution at one angle.
    struct Solved {
        double angle;
        double log_pressure;  ///< of pressure / standard_pressure
        double burned_temperature;
    };

    /// The initial guess of Newton's method: the parabola through the last three solutions, extrapolated. At
    /// the angle of the last solution it is that solution itself.
    void predict(double angle) {
        if (solved_count_ == 0 || std::abs(angle - solved_.back().angle) < same_angle) return;
        double log_pressure = 0.0, temperature = 0.0;
        for (std::size_t i = solved_.size() - solved_count_; i < solved_.size(); ++i) {
            double weight = 1.0;
            for (std::size_t k = solved_.size() - solved_count_; k < solved_.size(); ++k)
                if (k != i) weight *= (angle - solved_[k].angle) / (solved_[i].angle - solved_[k].angle);
            log_pressure += weight * solved_[i].log_pressure;
            temperature += weight * solved_[i].burned_temperature;
        }
        const Solved& last = solved_.back();
        // Bounded, since the last three may lie unevenly.
        state_.pressure = standard_pressure * std::exp(std::clamp(log_pressure, last.log_pressure - farthest,
                                                                  last.log_pressure + farthest));
        state_.burned_temperature = std::clamp(temperature, (1.0 - farthest) * last.burned_temperature,
                                               (1.0 + farthest) * last.burned_temperature);
    }
    void remember(const Solved& solved) {
        if (solved_count_ == 0 || std::abs(solved.angle - solved_.back().angle) >= same_angle) {
            std::rotate(solved_.begin(), solved_.begin() + 1, solved_.end());
            solved_count_ = std::min(solved_count_ + 1, solved_.size());
        }
        solved_.back() = solved;
    }

    NoSolution no_state() const {
        return NoSolution(Reason::no_cylinder_state, {{state_.angle, Quantity::angle}});
    }

    static constexpr int most_iterations = 60;
    static constexpr double far_longer = 4.0;
    static constexpr double rest_of_burn = 0.5;  // of its length until knock_end
    static constexpr double same_angle = 1e-9;
    static constexpr double farthest = 0.3;
    // Newton's method: the error left is about half the square of the last step.
    static constexpr double small_step = 1e-4;

    const Unburned& unburned_;
    const Burned& burned_;
    const Cylinder& cylinder_;
    const Burn& burn_;
    Wall& wall_;
    const Delay& delay_;
    double mass_;
    double angular_speed_;

    TracePoint state_;
    double energy_ = 0.0;        // at the first angle
    double gas_constant_ = 0.0;  // of all gas
    bool burning_ = false;
    bool knocking_ = true;
    std::decay_t<decltype(std::declval<const Burned&>().first_guess())> guess_{};
    std::array<Solved, 3> solved_{};  // the last is the newest
    std::size_t solved_count_ = 0;
};

}  // namespace pullsheet::cycle
