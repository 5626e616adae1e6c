// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
// Boost 1.74: the steppers' headers rely on this one without including it.
#include <boost/numeric/odeint/util/unwrap_reference.hpp>

#include <boost/numeric/odeint/algebra/array_algebra.hpp>
#include <boost/numeric/odeint/stepper/dense_output_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cstddef>
#include <utility>
#include <vector>

#include "core/road/acceleration.hpp"
#include "core/road/car.hpp"

namespace pullsheet::road {

/// A trace has no more rows than this.
inline constexpr std::size_t most_rows = 100000;

/// What a run is to do.
struct Task {
    double from = 0.0;  ///< speed at the start, m/s
    Goal goal;
    std::vector<double> marks;  ///< distances at which to note time and speed, ascending
    double time_step = 0.0;     ///< of the trace, 0 for none
};

/// A gear engaged after a shift.
struct Engaged {
    std::size_t gear;
    double time, speed, distance;
};

/// What the best runs so far have reached: a run that cannot be quicker is given up.
struct Incumbent {
    double time = unbounded;       ///< s to the goal
    std::vector<Engaged> engaged;  ///< of all runs so far
};

/// A run and its result; its time is infinite until the goal is reached.
struct Course {
    double time = unbounded, speed = 0.0, distance = 0.0;
    std::size_t first_gear = 1;
    std::vector<Shift> shifts;
    std::vector<Engaged> engaged;
    std::vector<Mark> marks;
    std::vector<TraceRow> rows;
};

/// One run: the equation of motion integrated phase by phase (clutch slipping, clutch closed, shift) by the
/// pair of Dormand & Prince with dense output. Each change of phase or of the limiting force is an event: a
/// root of the dense output, at which the integration starts again. At each possible upshift the run stops,
/// so that it can be copied and continued both ways, with the shift and without. It refers to its arguments,
/// which must outlive it.
class Run {
  public:
    /// `shift_speeds`: the road speed at which to leave each gear but the last.
    Run(const Car& car, const std::vector<double>& shift_speeds, std::size_t first_gear, const Task& task,
        double tolerance, const Incumbent& incumbent);

    /// Continues to the next possible upshift: true; or to the goal, or until the incumbent is better: false.
    /// Throws NoSolution car_does_not_move, speed_not_reached, integration_failed.
    bool run_to_upshift();

    /// Shifts up here.
    void shift_up();

    /// Whether the goal can be reached without another shift.
    bool may_hold() const { return car_.may_reach(goal_, gear_); }
    /// From here on the present gear is held to the end.
    void hold() { holds_ = true; }

    Course course() && { return std::move(course_); }

  private:
    using State = std::array<double, 2>;  // speed, distance
    using Stepper = ::boost::numeric::odeint::runge_kutta_dopri5<State, double, State, double,
                                                                 ::boost::numeric::odeint::array_algebra>;
    using DenseStepper = decltype(::boost::numeric::odeint::make_dense_output(1.0, 1.0, Stepper()));
    enum class Phase { slipping, closed, shifting };
    /// What ends a step or a phase.
    enum class Event {
        none,
        end_of_shift,
        speed,  // at which the phase ends
        goal,
        given_up,
        grip,       // begins or ceases to limit
        slip,       // the engine is pulled down to the first point of its curve: the clutch slips again
        top_speed,  // in this gear, while the next gear still accelerates
    };
    /// A step of the integration, cut at the earliest event in it.
    struct Step {
        double begin, end;  // s
        State at_begin, at_end;
        Event event = Event::none;
    };

    // Forces
    double share_of_torque(double t) const;
    double slip_speed() const;
    double slip_speed_on_road() const { return slip_speed() / car_.engine_speed(gear_, 1.0); }
    Phase phase_in_gear() const { return v_ < slip_speed_on_road() ? Phase::slipping : Phase::closed; }
    double engine_acceleration(double v, double t) const;
    double acceleration(double v, double t) const {
        return gripping_ ? car_.grip_acceleration(v) : engine_acceleration(v, t);
    }
    double beyond_grip(double v, double t) const {
        return engine_acceleration(v, t) - car_.grip_acceleration(v);
    }
    bool has_full_torque() const { return phase_ != Phase::shifting && share_of_torque(t_) > 0.999; }
    bool next_gear_accelerates(double v) const;

    // Integration
    Event integrate_phase();
    Step next_step();
    void start_stepper();
    State state_at(double t) const;
    void cut(Step& step, double t, Event event) const;
    template <class F>
    double crossing(const Step& step, F f) const;
    void find_grip_change(Step& step) const;
    void find_rise(Step& step, double level, std::size_t component, Event event) const;
    void find_slip(Step& step) const;
    bool find_top_speed(Step& step) const;
    int points_of_curve_between(double v_begin, double v_end) const;
    double end_of_phase() const;
    bool is_beaten(double begin_of_step) const;
    void refuse_to_roll_back() const;

    // What happens
    void wait_for_torque();
    void engage();
    void stay_at_rev_limit();
    void arrive();

    // Records
    void note_marks(const Step& step);
    void note_rows(const Step& step);
    void note_row();
    void push_row(double t, double v, double x, double gain);

    const Car& car_;
    const std::vector<double>& shift_speeds_;
    Goal goal_;
    std::vector<double> pending_marks_;
    std::size_t next_mark_ = 0;
    double time_step_;
    const Incumbent& incumbent_;
    long next_row_ = 0;
    DenseStepper stepper_;
    Course course_;
    Phase phase_ = Phase::closed;
    double t_ = 0.0, v_, x_ = 0.0;  // the present moment: s, m/s, m
    double step_size_ = 0.05;       // s, where the integration starts again
    double lag_from_ = 0.0;         // s, since when the torque rises
    double lag_share_ = 0.0;        // of the full torque, from which it rises
    double shift_end_ = 0.0;        // s
    std::size_t gear_;
    bool launching_;         // from rest, until the clutch has closed in first gear
    bool gripping_ = false;  // grip limits the acceleration
    bool holds_ = false;     // the gear is held to the end
    std::size_t steps_ = 0;
};

}  // namespace pullsheet::road
