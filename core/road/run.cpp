// SPDX-License-Identifier: Apache-2.0
#include "core/road/run.hpp"

#include <algorithm>
#include <cmath>

#include "core/error.hpp"
#include "core/solve.hpp"

namespace pullsheet::road {

namespace {

/// Below this acceleration, m/s², at full torque a car counts as at its top speed.
constexpr double no_acceleration = 1e-5;
constexpr std::size_t most_steps = 200000;

}  // namespace

Run::Run(const Car& car, const std::vector<double>& shift_speeds, std::size_t first_gear, const Task& task,
         double tolerance, const Incumbent& incumbent)
    : car_(car),
      shift_speeds_(shift_speeds),
      goal_(task.goal),
      pending_marks_(task.marks),
      time_step_(task.time_step),
      incumbent_(incumbent),
      stepper_(::boost::numeric::odeint::make_dense_output(1e-3 * tolerance, tolerance, Stepper())),
      v_(task.from),
      gear_(first_gear),
      launching_(first_gear == 1 && task.from < car.lowest_speed(1)) {
    course_.first_gear = first_gear;
    phase_ = phase_in_gear();
    note_row();
    wait_for_torque();
}

bool Run::run_to_upshift() {
    while (true) {
        switch (integrate_phase()) {
            case Event::given_up: return false;
            case Event::goal: arrive(); return false;
            case Event::top_speed: return true;
            case Event::slip: phase_ = Phase::slipping; break;
            case Event::end_of_shift: engage(); break;
            case Event::speed:
                if (phase_ == Phase::slipping) {
                    phase_ = Phase::closed;
                } else if (next_gear_accelerates(v_)) {
                    return true;
                } else if (holds_) {
                    stay_at_rev_limit();
                    return false;
                } else {
                    holds_ = true;
                }
                break;
            case Event::none:
            case Event::grip: break;
        }
    }
}

void Run::shift_up() {
    course_.shifts.push_back({gear_, t_, v_, car_.engine_speed(gear_, v_)});
    note_row();
    ++gear_;
    phase_ = Phase::shifting;
    shift_end_ = t_ + car_.shift_time();
    if (!(car_.shift_time() > 0.0)) engage();
}

// Share of the full torque that the rise of torque has reached.
double Run::share_of_torque(double t) const {
    if (!(car_.time_constant() > 0.0)) return 1.0;
    return 1.0 - (1.0 - lag_share_) * std::exp(-(t - lag_from_) / car_.time_constant());
}

// Engine speed at which the slipping clutch holds the engine in the present gear.
double Run::slip_speed() const {
    return gear_ == 1 && launching_ ? car_.launch_speed() : car_.curve().lowest_speed();
}

// Acceleration by the engine's torque, without the limit of grip.
double Run::engine_acceleration(double v, double t) const {
    switch (phase_) {
        case Phase::slipping: return car_.open_acceleration(gear_, v, slip_speed(), share_of_torque(t));
        case Phase::closed: return car_.closed_acceleration(gear_, v, share_of_torque(t));
        case Phase::shifting:
            return car_.open_acceleration(gear_, v,
                                          std::max(car_.engine_speed(gear_, v), car_.curve().lowest_speed()),
                                          car_.torque_in_shift());
    }
    return 0.0;
}

bool Run::next_gear_accelerates(double v) const {
    if (holds_ || gear_ == car_.gear_count()) return false;
    const double lowest = car_.lowest_speed(gear_ + 1);
    return (v < lowest ? car_.open_acceleration(gear_ + 1, v, car_.curve().lowest_speed(), 1.0)
                       : car_.closed_acceleration(gear_ + 1, v, 1.0)) > 0.0;
}

// From rest the brakes hold until the rising torque exceeds the road load.
void Run::wait_for_torque() {
    if (v_ > 0.0 || !(car_.time_constant() > 0.0)) return;
    const double needed = car_.load(0.0) / car_.force(gear_, slip_speed());
    if (needed > 0.0 && needed < 1.0) t_ = -car_.time_constant() * std::log1p(-needed);
}

// The speed at which the present phase ends.
double Run::end_of_phase() const {
    if (phase_ == Phase::slipping) return slip_speed_on_road();
    if (phase_ == Phase::shifting) return unbounded;
    const double limit = car_.rev_limited_speed(gear_);
    const double end = holds_ || gear_ == car_.gear_count() ? limit : shift_speeds_[gear_ - 1];
    // Where the goal lies at the end of the gear, the run has reached it.
    return goal_.speed <= end * (1.0 + speed_rounding) ? unbounded : end;
}

// Integrates the present phase to its end or to the goal.
Run::Event Run::integrate_phase() {
    const double v_end = end_of_phase();
    gripping_ = beyond_grip(v_, t_) > 0.0;
    start_stepper();
    while (true) {
        Step step = next_step();
        // Each event sought cuts the step at its own time, so that the earliest remains.
        if (phase_ == Phase::shifting && step.end >= shift_end_) cut(step, shift_end_, Event::end_of_shift);
        find_grip_change(step);
        find_rise(step, v_end, 0, Event::speed);
        find_rise(step, goal_.speed, 0, Event::goal);
        find_rise(step, goal_.distance, 1, Event::goal);
        if (phase_ == Phase::closed) find_slip(step);
        const bool at_top_speed = find_top_speed(step);

        note_marks(step);
        note_rows(step);
        t_ = step.end;
        v_ = step.at_end[0];
        x_ = step.at_end[1];
        step_size_ = stepper_.current_time_step();
        refuse_to_roll_back();
        if (is_beaten(step.begin)) return Event::given_up;
        if (step.event == Event::grip) {
            gripping_ = !gripping_;
            start_stepper();
        } else if (step.event != Event::none) {
            return step.event;
        }
        // A run to a speed would not end.
        if (at_top_speed && goal_.speed < unbounded)
            throw NoSolution(Reason::speed_not_reached, {{v_, Quantity::speed}});
    }
}

Run::Step Run::next_step() {
    if (++steps_ > most_steps) throw NoSolution(Reason::integration_failed, {counted(steps_)});
    const auto system = [this](const State& s, State& d, double t) {
        d[0] = acceleration(s[0], t);
        d[1] = s[0];
    };
    try {
        const auto [begin, end] = stepper_.do_step(system);
        return {begin, end, State{v_, x_}, stepper_.current_state()};
    } catch (const ::boost::numeric::odeint::odeint_error&) {
        throw NoSolution(Reason::integration_failed, {counted(steps_)});
    }
}

void Run::start_stepper() {
    stepper_.initialize(State{v_, x_}, t_, std::clamp(step_size_, 1e-3, 1.0));
}

Run::State Run::state_at(double t) const {
    State s;
    stepper_.calc_state(t, s);
    return s;
}

void Run::cut(Step& step, double t, Event event) const {
    step.end = t;
    step.at_end = state_at(t);
    step.event = event;
}

// The time in a step at which a function of state and time crosses zero.
template <class F>
double Run::crossing(const Step& step, F f) const {
    return root_between([&](double t) { return f(state_at(t), t); }, step.begin, step.end,
                        Reason::integration_failed);
}

void Run::find_grip_change(Step& step) const {
    const double sign = gripping_ ? -1.0 : 1.0;
    // Grip may be reached and left within a step: the middle is examined as well, and where grip limits, so
    // that steps are long, as many places as there are points of the curve in the step.
    const int places = gripping_ ? 2 * (1 + points_of_curve_between(step.at_begin[0], step.at_end[0])) : 2;
    for (int place = 1; place <= places; ++place) {
        const bool last = place == places;
        const double t = last ? step.end : step.begin + (step.end - step.begin) * place / places;
        if (!(sign * beyond_grip(last ? step.at_end[0] : state_at(t)[0], t) > 0.0)) continue;
        // Just after a change the sign is a matter of rounding: the change is sought from a little later on.
        double begin = step.begin;
        bool before = sign * beyond_grip(step.at_begin[0], step.begin) < 0.0;
        for (double u = t; !before && u - step.begin > 1e-6 * (t - step.begin);
             u = step.begin + 0.5 * (u - step.begin))
            if ((before = sign * beyond_grip(state_at(u)[0], u) < 0.0)) begin = u;
        cut(step,
            before ? root_between([&](double u) { return beyond_grip(state_at(u)[0], u); }, begin, t,
                                  Reason::integration_failed)
                   : step.begin,
            Event::grip);
        return;
    }
}

// Where the speed (component 0) or the distance (1) rises through a level, if that is finite.
void Run::find_rise(Step& step, double level, std::size_t component, Event event) const {
    if (!(level < unbounded) || !(step.at_end[component] >= level)) return;
    const auto above = [=](const State& s, double) { return s[component] - level; };
    cut(step, step.at_begin[component] >= level ? step.begin : crossing(step, above), event);
}

void Run::find_slip(Step& step) const {
    const double slipping = slip_speed_on_road() * (1.0 - 1e-9);
    if (!(step.at_end[0] < slipping && step.at_begin[0] >= slipping)) return;
    cut(step, crossing(step, [=](const State& s, double) { return s[0] - slipping; }), Event::slip);
}

// Whether the car is as fast as it gets in this gear; an event where the next gear still accelerates.
bool Run::find_top_speed(Step& step) const {
    const auto spare = [&](const State& s, double t) { return acceleration(s[0], t) - no_acceleration; };
    if (!has_full_torque() || !(spare(step.at_end, step.end) < 0.0)) return false;
    if (next_gear_accelerates(step.at_end[0]))
        cut(step, spare(step.at_begin, step.begin) > 0.0 ? crossing(step, spare) : step.begin,
            Event::top_speed);
    return true;
}

// Between two points of the curve the torque only rises or only falls.
int Run::points_of_curve_between(double v_begin, double v_end) const {
    const auto below = [&](double v) {
        const std::span<const double> speeds = car_.curve().speeds();
        return std::lower_bound(speeds.begin(), speeds.end(), car_.engine_speed(gear_, v));
    };
    return static_cast<int>(std::abs(below(v_end) - below(v_begin)));
}

void Run::refuse_to_roll_back() const {
    if (v_ < -1e-6 || (has_full_torque() && v_ < 1e-3 && acceleration(v_, t_) <= 0.0))
        throw NoSolution(Reason::car_does_not_move,
                         {{std::min(car_.grip_limit(), car_.force(gear_, slip_speed())), Quantity::force},
                          {car_.load(0.0), Quantity::force}});
}

// Later than the best run so far; or another run, from a lower gear, has engaged the present gear and was not
// behind: from there on both are the same. Not so while the torque rises.
bool Run::is_beaten(double begin_of_step) const {
    if (t_ > incumbent_.time) return true;
    if (!course_.shifts.empty() || phase_ != Phase::closed || car_.time_constant() > 0.0) return false;
    return std::any_of(incumbent_.engaged.begin(), incumbent_.engaged.end(), [&](const Engaged& other) {
        if (other.gear != gear_ || !(begin_of_step < other.time && other.time <= t_)) return false;
        const State s = state_at(other.time);
        return s[0] <= other.speed && s[1] <= other.distance;
    });
}

void Run::arrive() {
    note_row();
    course_.time = t_;
    course_.speed = v_;
    course_.distance = x_;
}

// The clutch closes after a shift.
void Run::engage() {
    course_.engaged.push_back({gear_, t_, v_, x_});
    lag_from_ = t_;
    lag_share_ = car_.torque_in_shift();
    phase_ = phase_in_gear();
    note_row();
}

// Constant speed at the rev limit to the goal.
void Run::stay_at_rev_limit() {
    if (!(goal_.distance < unbounded)) throw NoSolution(Reason::speed_not_reached, {{v_, Quantity::speed}});
    const double t_end = t_ + (goal_.distance - x_) / v_;
    for (; next_mark_ < pending_marks_.size() && pending_marks_[next_mark_] <= goal_.distance; ++next_mark_)
        course_.marks.push_back(
            {pending_marks_[next_mark_], t_ + (pending_marks_[next_mark_] - x_) / v_, v_});
    t_ = t_end;
    x_ = goal_.distance;
    arrive();
}

void Run::note_marks(const Step& step) {
    const double end = step.at_end[1];
    while (next_mark_ < pending_marks_.size()) {
        const double distance = pending_marks_[next_mark_];
        // The end of the run may itself be a mark.
        if (!(end >= distance) && !(goal_.distance - distance <= 0.0 && end >= distance * (1.0 - 1e-13)))
            return;
        const auto beyond = [&](double t) { return state_at(t)[1] - distance; };
        const double t = beyond(step.begin) >= 0.0 ? step.begin
                         : beyond(step.end) <= 0.0
                             ? step.end
                             : root_between(beyond, step.begin, step.end, Reason::integration_failed);
        course_.marks.push_back({distance, t, state_at(t)[0]});
        ++next_mark_;
    }
}

void Run::note_rows(const Step& step) {
    if (!(time_step_ > 0.0)) return;
    while (true) {
        const double t = static_cast<double>(next_row_) * time_step_;
        if (!(t < step.end)) return;
        ++next_row_;
        if (t < step.begin) continue;
        const State s = state_at(t);
        push_row(t, s[0], s[1], acceleration(s[0], t));
    }
}

// A row for the present moment.
void Run::note_row() {
    if (!(time_step_ > 0.0)) return;
    gripping_ = beyond_grip(v_, t_) > 0.0;
    if (!course_.rows.empty() && course_.rows.back().time == t_) course_.rows.pop_back();
    while (static_cast<double>(next_row_) * time_step_ <= t_) ++next_row_;
    push_row(t_, v_, x_, acceleration(v_, t_));
}

void Run::push_row(double t, double v, double x, double gain) {
    if (course_.rows.size() > most_rows) return;
    Limit limit = Limit::engine;
    if (phase_ == Phase::slipping) limit = Limit::clutch;
    if (gripping_) limit = Limit::grip;
    if (phase_ == Phase::shifting) limit = Limit::shift;
    const double engine_speed = phase_ == Phase::slipping ? slip_speed() : car_.engine_speed(gear_, v);
    course_.rows.push_back({t, v, x, gear_, engine_speed, gain, limit});
}

}  // namespace pullsheet::road
