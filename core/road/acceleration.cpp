// SPDX-License-Identifier: Apache-2.0
#include "core/road/acceleration.hpp"

#include <algorithm>
#include <array>
#include <boost/math/tools/roots.hpp>
// Boost 1.74: the steppers' headers rely on this one without including it.
#include <boost/numeric/odeint/util/unwrap_reference.hpp>

#include <boost/numeric/odeint/algebra/array_algebra.hpp>
#include <boost/numeric/odeint/stepper/dense_output_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "core/constants.hpp"
#include "core/error.hpp"
#include "core/solve.hpp"

namespace pullsheet::road {

namespace {

namespace odeint = ::boost::numeric::odeint;

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double foot = 0.3048;
constexpr double trap_length = 66.0 * foot;
constexpr std::array mark_distances{60.0 * foot,   330.0 * foot,  660.0 * foot, 1000.0 * foot,
                                    1320.0 * foot, 2640.0 * foot, 5280.0 * foot};
/// Below this acceleration, m/s², at full torque a car counts as at its top speed.
constexpr double standstill_of_speed = 1e-5;
/// Speeds that differ by no more than this share are the same.
constexpr double rounding = 1e-12;
constexpr int step_limit = 200000;
/// A trace has no more rows than this.
constexpr std::size_t most_rows = 100000;

/// Where a run ends: at a speed or at a distance, whichever is finite.
struct Goal {
    double speed = infinity;
    double distance = infinity;
};

/// The car in numbers that the integration needs at every step.
class Car {
  public:
    Car(const Vehicle& vehicle, const TorqueCurve& curve, const Surroundings& surroundings)
        : curve_(curve), limit_(traction_limit(vehicle, surroundings)) {
        const double radius = vehicle.rolling_radius;
        surroundings_ = surroundings;
        drag_ = 0.5 * surroundings.air_density * vehicle.drag_area;
        constant_load_ = road_load(vehicle, surroundings, -surroundings.headwind);
        inverse_open_mass_ = 1.0 / effective_mass(vehicle, 0);
        const double free_wheels = vehicle.drive == Drive::all ? 0.0 : 2.0;
        inverse_grip_mass_ = 1.0 / (vehicle.mass + free_wheels * vehicle.wheel_inertia / (radius * radius));
        const double lowest = curve.lowest_speed();
        rev_limit_ = curve.highest_speed();
        if (vehicle.rev_limit) {
            require("rev_limit", *vehicle.rev_limit, {lowest, infinity, true, true});
            rev_limit_ = std::min(rev_limit_, *vehicle.rev_limit);
        }
        launch_speed_ = std::max(lowest, vehicle.launch_speed);
        require("launch_speed", launch_speed_, {0.0, rev_limit_, true, true});
        for (std::size_t gear = 1; gear <= vehicle.gears.size(); ++gear) {
            const double ratio = overall_ratio(vehicle, gear);
            gears_.push_back({ratio / radius, vehicle.driveline_efficiency * ratio / radius,
                              1.0 / effective_mass(vehicle, gear), rev_limit_ * radius / ratio,
                              lowest * radius / ratio});
        }
        time_constant_ = vehicle.rise_time_of_torque / std::log(9.0);
        shift_time_ = vehicle.shift_time;
        torque_in_shift_ = vehicle.torque_in_shift;
    }

    std::size_t gear_count() const { return gears_.size(); }
    double rev_limited_speed(std::size_t gear) const { return gears_[gear - 1].highest; }
    double lowest_speed(std::size_t gear) const { return gears_[gear - 1].lowest; }
    double engine_speed(std::size_t gear, double v) const { return gears_[gear - 1].turns * v; }
    double launch_speed() const { return launch_speed_; }
    double time_constant() const { return time_constant_; }
    double shift_time() const { return shift_time_; }
    double torque_in_shift() const { return torque_in_shift_; }
    double rev_limit() const { return rev_limit_; }
    const TorqueCurve& curve() const { return curve_; }
    double grip_limit() const { return limit_; }

    /// Does the goal lie within a gear?
    bool may_reach(const Goal& goal, std::size_t gear) const {
        return !(goal.speed < infinity) || goal.speed <= rev_limited_speed(gear) * (1.0 + rounding);
    }

    double load(double v) const {
        const double air_speed = v + surroundings_.headwind;
        return constant_load_ + drag_ * air_speed * std::abs(air_speed);
    }
    /// Force at the wheels that the full torque at an engine speed gives in a gear.
    double force(std::size_t gear, double engine_speed) const {
        return curve_.torque(engine_speed) * gears_[gear - 1].force;
    }
    /// Acceleration that a share of the full torque gives, clutch closed.
    double closed(std::size_t gear, double v, double share) const {
        const Gear& g = gears_[gear - 1];
        return (share * curve_.torque(g.turns * v) * g.force - load(v)) * g.inverse_mass;
    }
    /// The same with the engine held at a speed, or its inertia not coupled.
    double open(std::size_t gear, double v, double engine_speed, double share) const {
        const double pulling = share > 0.0 ? share * force(gear, engine_speed) : 0.0;
        return (pulling - load(v)) * inverse_open_mass_;
    }
    /// Acceleration at the limit of grip.
    double gripping(double v) const { return (limit_ - load(v)) * inverse_grip_mass_; }

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

/// One task of the public functions.
struct Task {
    double from = 0.0;
    Goal goal;
    std::vector<double> marks;  ///< distances at which to note time and speed, ascending
    double time_step = 0.0;     ///< of the trace, 0 for none
};

/// A gear engaged after a shift.
struct Engaged {
    std::size_t gear;
    double time, speed, distance;
};

/// What a run must beat.
struct Others {
    double quickest = infinity;
    std::vector<Engaged> engaged;
};

/// What is known of a run; its time is infinite until it has reached the goal.
struct Course {
    double time = infinity, speed = 0.0, distance = 0.0;
    std::size_t first_gear = 1;
    std::vector<Shift> shifts;
    std::vector<Engaged> engaged;
    std::vector<Mark> marks;
    std::vector<TraceRow> rows;
};

/// One run: a chain of phases (clutch slipping, clutch closed, shift), each integrated by Dormand & Prince's
/// pair with dense output; every change is found as a root of the dense output, where the integration starts
/// anew. Where a gear has done its part the run waits, and may be copied to be driven on both ways.
class Run {
  public:
    /// `shift_at`: the speed at which each gear but the last has done its part. The run is not driven to its
    /// end once it is beaten by what is known of others.
    Run(const Car& car, const std::vector<double>& shift_at, std::size_t first_gear, const Task& task,
        double tolerance, const Others& others)
        : car_(car),
          shift_at_(shift_at),
          goal_(task.goal),
          pending_(task.marks),
          time_step_(task.time_step),
          others_(others),
          stepper_(odeint::make_dense_output(1e-3 * tolerance, tolerance, Stepper())),
          v_(task.from),
          gear_(first_gear),
          launching_(first_gear == 1 && task.from < car.lowest_speed(1)) {
        course_.first_gear = first_gear;
        phase_ = phase_in_gear();
        note_row();
        wait_for_torque();
    }

    /// Drives to where the gear has done its part and the next one gains, true, or to the end.
    bool drives_to_a_shift() {
        while (true) {
            switch (advance()) {
                case Event::beaten: return false;
                case Event::goal: arrive(); return false;
                case Event::spent: return true;
                case Event::clutch: phase_ = Phase::slipping; break;
                case Event::time: engage(); break;
                case Event::speed:
                    if (phase_ == Phase::slipping) {
                        phase_ = Phase::closed;
                    } else if (next_gear_gains(v_)) {
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

    void shift_up() {
        course_.shifts.push_back({gear_, t_, v_, car_.engine_speed(gear_, v_)});
        note_row();
        ++gear_;
        phase_ = Phase::shifting;
        shift_end_ = t_ + car_.shift_time();
        if (!(car_.shift_time() > 0.0)) engage();
    }

    /// Can the goal be reached without another shift?
    bool may_hold() const { return car_.may_reach(goal_, gear_); }
    /// From here on the gear is held to the end.
    void hold() { holds_ = true; }

    Course course() && { return std::move(course_); }

  private:
    using State = std::array<double, 2>;  // speed, distance
    using Stepper = odeint::runge_kutta_dopri5<State, double, State, double, odeint::array_algebra>;
    using DenseStepper = decltype(odeint::make_dense_output(1.0, 1.0, Stepper()));
    enum class Phase { slipping, closed, shifting };
    /// What ends a step or a phase.
    enum class Event { none, time, speed, goal, beaten, grip, clutch, spent };

    double share(double t) const {
        if (!(car_.time_constant() > 0.0)) return 1.0;
        return 1.0 - (1.0 - lag_share_) * std::exp(-(t - lag_from_) / car_.time_constant());
    }
    /// Engine speed at which the slipping clutch holds the engine in the present gear.
    double hold_speed() const {
        return gear_ == 1 && launching_ ? car_.launch_speed() : car_.curve().lowest_speed();
    }
    double hold_speed_on_road() const { return hold_speed() / car_.engine_speed(gear_, 1.0); }
    Phase phase_in_gear() const { return v_ < hold_speed_on_road() ? Phase::slipping : Phase::closed; }

    /// Acceleration by the engine, as if grip had no end.
    double pull(double v, double t) const {
        switch (phase_) {
            case Phase::slipping: return car_.open(gear_, v, hold_speed(), share(t));
            case Phase::closed: return car_.closed(gear_, v, share(t));
            case Phase::shifting:
                return car_.open(gear_, v, std::max(car_.engine_speed(gear_, v), car_.curve().lowest_speed()),
                                 car_.torque_in_shift());
        }
        return 0.0;
    }
    double acceleration(double v, double t) const { return gripping_ ? car_.gripping(v) : pull(v, t); }

    /// From rest the brakes hold until the rising torque outweighs the resistance.
    void wait_for_torque() {
        if (v_ > 0.0 || !(car_.time_constant() > 0.0)) return;
        const double needed = car_.load(0.0) / car_.force(gear_, hold_speed());
        if (needed > 0.0 && needed < 1.0) t_ = -car_.time_constant() * std::log1p(-needed);
    }

    /// The speed at which the present phase ends.
    double end_of_phase() const {
        if (phase_ == Phase::slipping) return hold_speed_on_road();
        if (phase_ == Phase::shifting) return infinity;
        const double limit = car_.rev_limited_speed(gear_);
        const double end = holds_ || gear_ == car_.gear_count() ? limit : shift_at_[gear_ - 1];
        // At a goal that is the end of the gear the run has arrived.
        return goal_.speed <= end * (1.0 + rounding) ? infinity : end;
    }

    /// Integrates the present phase to its end or to the goal.
    Event advance() {
        const double t_end = phase_ == Phase::shifting ? shift_end_ : infinity, v_end = end_of_phase();
        gripping_ = pull(v_, t_) > car_.gripping(v_);
        const auto system = [this](const State& s, State& d, double t) {
            d[0] = acceleration(s[0], t);
            d[1] = s[0];
        };
        start_stepper();
        while (true) {
            if (++steps_ > step_limit)
                throw NoSolution(Reason::integration_failed,
                                 {{static_cast<double>(steps_), Quantity::count}});
            const auto [begin_of_step, end_of_step] = step(system);
            const double a = begin_of_step, b = end_of_step;
            // The earliest of the events in this step cuts it.
            Event event = Event::none;
            const State at_start{v_, x_};
            double cut = b;
            State at_cut = stepper_.current_state();
            const auto cut_at = [&](double t, Event e) {
                cut = t;
                at_cut = state_at(t);
                event = e;
            };
            const auto crossing = [&](auto f, double end) {
                return root_between([&](double t) { return f(state_at(t), t); }, a, end,
                                    Reason::integration_failed);
            };
            if (b >= t_end) cut_at(t_end, Event::time);
            const auto excess = [&](const State& s, double t) { return pull(s[0], t) - car_.gripping(s[0]); };
            const double sign = gripping_ ? -1.0 : 1.0;
            const auto holds = [&](const State& s, double t) { return sign * excess(s, t) < 0.0; };
            // Grip may be reached and left within a step: the middle is looked at as well, and where grip
            // limits, so that steps are long, more of the curve that is passed.
            const int looks = gripping_ ? 2 * (1 + points_of_curve_between(at_start[0], at_cut[0])) : 2;
            for (int look = 1; look <= looks; ++look) {
                const double t = look == looks ? cut : a + (cut - a) * look / looks;
                if (!(sign * excess(look == looks ? at_cut : state_at(t), t) > 0.0)) continue;
                // Right behind a change the sign is a matter of rounding: look a little further on.
                double begin = a;
                bool held = holds(at_start, a);
                for (double u = t; !held && u - a > 1e-6 * (t - a); u = a + 0.5 * (u - a))
                    if ((held = holds(state_at(u), u))) begin = u;
                cut_at(held ? root_between([&](double u) { return excess(state_at(u), u); }, begin, t,
                                           Reason::integration_failed)
                            : a,
                       Event::grip);
                break;
            }
            const auto crosses_up = [&](double level, std::size_t component, Event e) {
                if (!(at_cut[component] >= level)) return;
                const auto above = [=](const State& s, double) { return s[component] - level; };
                cut_at(at_start[component] >= level ? a : crossing(above, cut), e);
            };
            if (v_end < infinity) crosses_up(v_end, 0, Event::speed);
            if (goal_.speed < infinity) crosses_up(goal_.speed, 0, Event::goal);
            if (goal_.distance < infinity) crosses_up(goal_.distance, 1, Event::goal);
            // The engine is pulled down to the first point of its curve: the clutch slips again.
            if (phase_ == Phase::closed) {
                const double bog = hold_speed_on_road() * (1.0 - 1e-9);
                if (at_cut[0] < bog && at_start[0] >= bog)
                    cut_at(crossing([=](const State& s, double) { return s[0] - bog; }, cut), Event::clutch);
            }

            // The car is as fast as it gets in this gear.
            const auto spare = [&](const State& s, double t) {
                return acceleration(s[0], t) - standstill_of_speed;
            };
            const bool crawls = has_full_torque() && spare(at_cut, cut) < 0.0;
            if (crawls && next_gear_gains(at_cut[0]))
                cut_at(spare(at_start, a) > 0.0 ? crossing(spare, cut) : a, Event::spent);

            note_marks(a, cut, at_cut[1]);
            note_rows(a, cut);
            t_ = cut;
            v_ = at_cut[0];
            x_ = at_cut[1];
            step_ = stepper_.current_time_step();
            refuse_to_roll_back();
            if (is_beaten(a)) return Event::beaten;
            if (event == Event::grip) {
                gripping_ = !gripping_;
                start_stepper();
            } else if (event != Event::none) {
                return event;
            }
            // A run to a speed that gains no more does not end.
            if (crawls && goal_.speed < infinity)
                throw NoSolution(Reason::speed_not_reached, {{v_, Quantity::speed}});
        }
    }

    /// Between two points of the curve the torque only rises or only falls.
    int points_of_curve_between(double v_begin, double v_end) const {
        const auto below = [&](double v) {
            const std::span<const double> speeds = car_.curve().speeds();
            return std::lower_bound(speeds.begin(), speeds.end(), car_.engine_speed(gear_, v));
        };
        return static_cast<int>(std::abs(below(v_end) - below(v_begin)));
    }

    template <class System>
    std::pair<double, double> step(const System& system) {
        try {
            return stepper_.do_step(system);
        } catch (const odeint::odeint_error&) {
            throw NoSolution(Reason::integration_failed, {{static_cast<double>(steps_), Quantity::count}});
        }
    }

    void start_stepper() { stepper_.initialize(State{v_, x_}, t_, std::clamp(step_, 1e-3, 1.0)); }

    State state_at(double t) {
        State s;
        stepper_.calc_state(t, s);
        return s;
    }

    bool has_full_torque() const { return phase_ != Phase::shifting && share(t_) > 0.999; }

    void refuse_to_roll_back() const {
        if (v_ < -1e-6 || (has_full_torque() && v_ < 1e-3 && acceleration(v_, t_) <= 0.0))
            throw NoSolution(Reason::car_does_not_move,
                             {{std::min(car_.grip_limit(), car_.force(gear_, hold_speed())), Quantity::force},
                              {car_.load(0.0), Quantity::force}});
    }

    bool next_gear_gains(double v) const {
        if (holds_ || gear_ == car_.gear_count()) return false;
        const double lowest = car_.lowest_speed(gear_ + 1);
        return (v < lowest ? car_.open(gear_ + 1, v, car_.curve().lowest_speed(), 1.0)
                           : car_.closed(gear_ + 1, v, 1.0)) > 0.0;
    }

    /// Later than the quickest so far; or another run, come from a lower gear, has engaged the present one
    /// and was not behind: from there on both are the same. Not so while the torque rises.
    bool is_beaten(double begin_of_step) {
        if (t_ > others_.quickest) return true;
        if (!course_.shifts.empty() || phase_ != Phase::closed || car_.time_constant() > 0.0) return false;
        return std::any_of(others_.engaged.begin(), others_.engaged.end(), [&](const Engaged& other) {
            if (other.gear != gear_ || !(begin_of_step < other.time && other.time <= t_)) return false;
            const State s = state_at(other.time);
            return s[0] <= other.speed && s[1] <= other.distance;
        });
    }

    void arrive() {
        note_row();
        course_.time = t_;
        course_.speed = v_;
        course_.distance = x_;
    }

    /// The gear is engaged after a shift.
    void engage() {
        course_.engaged.push_back({gear_, t_, v_, x_});
        lag_from_ = t_;
        lag_share_ = car_.torque_in_shift();
        phase_ = phase_in_gear();
        note_row();
    }

    /// On to the goal at the speed of the rev limit.
    void stay_at_rev_limit() {
        if (!(goal_.distance < infinity))
            throw NoSolution(Reason::speed_not_reached, {{v_, Quantity::speed}});
        const double t_end = t_ + (goal_.distance - x_) / v_;
        for (; next_mark_ < pending_.size() && pending_[next_mark_] <= goal_.distance; ++next_mark_)
            course_.marks.push_back({pending_[next_mark_], t_ + (pending_[next_mark_] - x_) / v_, v_});
        t_ = t_end;
        x_ = goal_.distance;
        arrive();
    }

    void note_marks(double a, double cut, double end) {
        while (next_mark_ < pending_.size()) {
            const double distance = pending_[next_mark_];
            // The end of the run may itself be a mark.
            if (!(end >= distance) && !(goal_.distance - distance <= 0.0 && end >= distance * (1.0 - 1e-13)))
                return;
            const auto beyond = [&](double t) { return state_at(t)[1] - distance; };
            const double t = beyond(a) >= 0.0     ? a
                             : beyond(cut) <= 0.0 ? cut
                                                  : root_between(beyond, a, cut, Reason::integration_failed);
            course_.marks.push_back({distance, t, state_at(t)[0]});
            ++next_mark_;
        }
    }

    void note_rows(double a, double cut) {
        if (!(time_step_ > 0.0)) return;
        while (true) {
            const double t = static_cast<double>(next_row_) * time_step_;
            if (!(t < cut)) return;
            ++next_row_;
            if (t < a) continue;
            const State s = state_at(t);
            push_row(t, s[0], s[1], acceleration(s[0], t));
        }
    }

    /// A row for the present moment.
    void note_row() {
        if (!(time_step_ > 0.0)) return;
        gripping_ = pull(v_, t_) > car_.gripping(v_);
        if (!course_.rows.empty() && course_.rows.back().time == t_) course_.rows.pop_back();
        while (static_cast<double>(next_row_) * time_step_ <= t_) ++next_row_;
        push_row(t_, v_, x_, acceleration(v_, t_));
    }

    void push_row(double t, double v, double x, double gain) {
        if (course_.rows.size() > most_rows) return;
        Limit limit = Limit::engine;
        if (phase_ == Phase::slipping) limit = Limit::clutch;
        if (gripping_) limit = Limit::grip;
        if (phase_ == Phase::shifting) limit = Limit::shift;
        const double engine_speed = phase_ == Phase::slipping ? hold_speed() : car_.engine_speed(gear_, v);
        course_.rows.push_back({t, v, x, gear_, engine_speed, gain, limit});
    }

    const Car& car_;
    const std::vector<double>& shift_at_;
    Goal goal_;
    std::vector<double> pending_;
    std::size_t next_mark_ = 0;
    double time_step_;
    const Others& others_;
    long next_row_ = 0;
    DenseStepper stepper_;
    Course course_;
    Phase phase_ = Phase::closed;
    double t_ = 0.0, v_, x_ = 0.0;
    double step_ = 0.05;
    double lag_from_ = 0.0, lag_share_ = 0.0, shift_end_ = 0.0;
    std::size_t gear_;
    bool launching_, gripping_ = false, holds_ = false;
    int steps_ = 0;
};

/// Where a cubic has its minimum inside an interval, or nothing.
std::optional<double> minimum_inside(const auto& cubic, double low, double high) {
    // Newton's differences over thirds of the interval; the derivative in thirds from `low` is a quadratic.
    const double third = (high - low) / 3.0;
    const double g0 = cubic(low), g1 = cubic(low + third), g2 = cubic(high - third), g3 = cubic(high);
    const double d1 = g1 - g0, d2 = g2 - 2.0 * g1 + g0, d3 = g3 - 3.0 * (g2 - g1) - g0;
    const double a = 0.5 * d3, b = d2 - d3, c = d1 - 0.5 * d2 + d3 / 3.0;
    const auto [left, right] = ::boost::math::tools::quadratic_roots(a, b, c);
    for (const double u : {left, right})
        if (u > 0.0 && u < 3.0 && 2.0 * a * u + b > 0.0) return low + u * third;
    return std::nullopt;
}

/// The road speed at which to leave a gear: the lowest from which the next gear accelerates the car harder
/// all the way to the rev limit, or the rev limit itself.
double best_upshift(const Car& car, std::size_t gear) {
    const double high = car.rev_limited_speed(gear);
    const double low = car.lowest_speed(gear + 1);
    const auto gain = [&](double v) { return car.closed(gear + 1, v, 1.0) - car.closed(gear, v, 1.0); };
    if (!(low < high) || !(gain(high) > 0.0)) return high;
    // Between neighbouring points of the curve, in either gear, the balance is looked at from the top down.
    const std::span<const double> knots = car.curve().speeds();
    const double turns = car.engine_speed(gear, 1.0), next_turns = car.engine_speed(gear + 1, 1.0);
    auto here = knots.rbegin(), there = knots.rbegin();
    double above = high;
    while (above > low) {
        while (here != knots.rend() && *here / turns >= above) ++here;
        while (there != knots.rend() && *there / next_turns >= above) ++there;
        double below = low;
        if (here != knots.rend()) below = std::max(below, *here / turns);
        if (there != knots.rend()) below = std::max(below, *there / next_turns);
        // In between the balance is a cubic of the speed and may dip.
        if (const auto dip = minimum_inside(gain, below, above); dip && !(gain(*dip) > 0.0))
            return root_between(gain, *dip, above, Reason::integration_failed);
        if (!(gain(below) > 0.0)) return root_between(gain, below, above, Reason::integration_failed);
        above = below;
    }
    return low;
}

std::vector<double> best_upshifts(const Car& car) {
    std::vector<double> speeds;
    for (std::size_t gear = 1; gear < car.gear_count(); ++gear) speeds.push_back(best_upshift(car, gear));
    return speeds;
}

/// The ways to a goal that have been tried: the quickest, and why others do not arrive.
class Trials {
  public:
    Trials(const Car& car, const Task& task, const RunOptions& options)
        : car_(car), task_(task), options_(options), shift_at_(best_upshifts(car)) {}

    /// All that begin in a gear: one shifts wherever a gear has done its part, the others hold one of these
    /// gears to the end.
    void begin_in(std::size_t gear) {
        attempt([&] {
            Run run(car_, shift_at_, gear, task_, options_.tolerance, others_);
            while (run.drives_to_a_shift()) {
                if (run.may_hold())
                    attempt([&, held = run]() mutable {
                        held.hold();
                        held.drives_to_a_shift();
                        keep(std::move(held).course());
                    });
                run.shift_up();
            }
            keep(std::move(run).course());
        });
    }

    bool arrived() const { return best_.time < infinity; }

    Course quickest() && {
        if (!arrived()) throw NoSolution(refusal_.value());
        return std::move(best_);
    }

  private:
    void keep(Course course) {
        others_.engaged.insert(others_.engaged.end(), course.engaged.begin(), course.engaged.end());
        if (!(course.time < best_.time)) return;
        best_ = std::move(course);
        others_.quickest = best_.time;
    }

    /// Of the refusals the one that knows the highest speed tells the most.
    template <class F>
    void attempt(F way) {
        if (options_.work) ++options_.work->runs;
        try {
            way();
        } catch (const NoSolution& refusal) {
            const auto speed = [](const NoSolution& r) {
                return r.reason() == Reason::speed_not_reached ? r.details().front().value : -infinity;
            };
            if (!refusal_ || speed(refusal) > speed(*refusal_)) refusal_ = refusal;
        }
    }

    const Car& car_;
    const Task& task_;
    const RunOptions& options_;
    std::vector<double> shift_at_;
    Course best_;
    Others others_;
    std::optional<NoSolution> refusal_;
};

/// What a driver who wants the best time would do.
Course quickest(const Car& car, const Task& task, const RunOptions& options) {
    const std::size_t last = car.gear_count();
    const auto require_below_limit = [&](std::size_t gear) {
        const double limit = car.rev_limited_speed(gear);
        if (!(task.from < limit)) throw NoSolution(Reason::speed_beyond_gearing, {{limit, Quantity::speed}});
    };
    require_below_limit(last);
    if (!car.may_reach(task.goal, last))
        throw NoSolution(Reason::speed_beyond_gearing, {{car.rev_limited_speed(last), Quantity::speed}});
    Trials trials(car, task, options);
    if (options.first_gear) {
        require("first_gear", static_cast<double>(*options.first_gear), {1.0, static_cast<double>(last)});
        require_below_limit(*options.first_gear);
        trials.begin_in(*options.first_gear);
        return std::move(trials).quickest();
    }
    std::size_t gear = 1;
    while (!(task.from < car.rev_limited_speed(gear))) ++gear;
    do trials.begin_in(gear);
    while (++gear <= last && !(task.from < car.lowest_speed(gear)));
    // A gear that pulls the engine below its curve is a last resort.
    if (!trials.arrived())
        for (; gear <= last; ++gear) trials.begin_in(gear);
    return std::move(trials).quickest();
}

void check_all(const Vehicle& vehicle, const Surroundings& surroundings, const RunOptions& options,
               double from) {
    check(vehicle);
    check(surroundings);
    require("tolerance", options.tolerance, {1e-12, 1e-4});
    require("from", from, not_negative);
    if (options.rollout) require("rollout", *options.rollout, {0.0, from > 0.0 ? 0.0 : 1.0});
}

/// Only a run from rest has one: the clock of a rolling start starts at its speed.
double rollout_of(const Vehicle& vehicle, const RunOptions& options, double from) {
    return options.rollout.value_or(from > 0.0 ? 0.0 : vehicle.rollout);
}

/// Time at which the car has rolled out, from the marks of a course.
double clock_start(const Course& course, double rollout) {
    if (!(rollout > 0.0)) return 0.0;
    for (const Mark& mark : course.marks)
        if (mark.distance == rollout) return mark.time;
    throw NoSolution(Reason::rollout_not_passed, {{rollout, Quantity::length}});
}

SpeedRun run_to_speed(const Car& car, double from, double to, double rollout, const RunOptions& options) {
    Task task{from, {to, infinity}, {}, 0.0};
    if (rollout > 0.0) task.marks = {rollout};
    Course course = quickest(car, task, options);
    return {course.time - clock_start(course, rollout), course.distance, course.first_gear,
            std::move(course.shifts)};
}

DistanceRun run_over_distance(const Car& car, double distance, double rollout, const RunOptions& options) {
    Task task{options.from, {infinity, distance}, {}, 0.0};
    for (const double mark : mark_distances)
        if (mark <= distance) task.marks.push_back(mark);
    const double trap_start = std::max(distance - trap_length, rollout);
    if (trap_start > 0.0) task.marks.push_back(trap_start);
    if (rollout > 0.0) task.marks.push_back(rollout);
    std::sort(task.marks.begin(), task.marks.end());
    task.marks.erase(std::unique(task.marks.begin(), task.marks.end()), task.marks.end());

    Course course = quickest(car, task, options);
    const double start = clock_start(course, rollout);
    DistanceRun result{course.time - start,     course.speed, 0.0, {}, course.first_gear,
                       std::move(course.shifts)};
    double trap_time = 0.0;
    for (const Mark& mark : course.marks) {
        if (mark.distance == trap_start) trap_time = mark.time;
        if (std::find(mark_distances.begin(), mark_distances.end(), mark.distance) != mark_distances.end())
            result.marks.push_back({mark.distance, mark.time - start, mark.speed});
    }
    result.trap_speed = (distance - trap_start) / (course.time - trap_time);
    return result;
}

/// Of what was asked for: a run that is farther off than this is not the solution but stands beside a jump.
constexpr double met = 1e-3;
/// The upper side of a jump is looked at so far from it, as a share of the power.
constexpr double beside = 1e-9;

struct Factors {
    double low, high;
};

/// Factors on the torque, one twice the other, between which `excess` (above 0: too much) changes its sign.
template <class F>
Factors factors_around(F excess) {
    constexpr double widest = 64.0;
    double low = 1.0, high = 1.0;
    if (excess(1.0) > 0.0) {
        do low *= 0.5;
        while (low >= 1.0 / widest && excess(low) > 0.0);
        high = 2.0 * low;
    } else {
        do high *= 2.0;
        while (high <= widest && !(excess(high) > 0.0));
        low = 0.5 * high;
    }
    if (low < 1.0 / widest || high > widest) throw NoSolution(Reason::time_not_reached);
    return {low, high};
}

template <class F>
double factor_between(F excess, double low, double high) {
    return root_between(excess, low, high, Reason::time_not_reached, {}, 40);
}

double rev_limit_of(const Vehicle& vehicle, const TorqueCurve& curve) {
    return std::min(curve.highest_speed(), vehicle.rev_limit.value_or(infinity));
}

PowerForTime power_at(const Vehicle& vehicle, const TorqueCurve& curve, double factor) {
    const TorqueCurve::Peak peak = curve.scaled(factor).peak(rev_limit_of(vehicle, curve));
    return {factor, peak.power, peak.speed, peak.torque};
}

}  // namespace

SpeedRun speed_run(const Vehicle& vehicle, const TorqueCurve& curve, double from, double to,
                   const Surroundings& surroundings, const RunOptions& options) {
    check_all(vehicle, surroundings, options, from);
    require("to", to, {from, infinity, true, true});
    return run_to_speed(Car(vehicle, curve, surroundings), from, to, rollout_of(vehicle, options, from),
                        options);
}

DistanceRun distance_run(const Vehicle& vehicle, const TorqueCurve& curve, double distance,
                         const Surroundings& surroundings, const RunOptions& options) {
    check_all(vehicle, surroundings, options, options.from);
    const double rollout = rollout_of(vehicle, options, options.from);
    require("distance", distance, {rollout, 1e5, true, false});
    return run_over_distance(Car(vehicle, curve, surroundings), distance, rollout, options);
}

std::vector<TraceRow> trace(const Vehicle& vehicle, const TorqueCurve& curve, double until_speed,
                            const Surroundings& surroundings, double time_step, const RunOptions& options) {
    check_all(vehicle, surroundings, options, options.from);
    require("to", until_speed, {options.from, infinity, true, true});
    require("time_step", time_step, {1e-3, 60.0});
    const Car car(vehicle, curve, surroundings);
    const double rollout = rollout_of(vehicle, options, options.from);
    Task task{options.from, {until_speed, infinity}, {}, time_step};
    if (rollout > 0.0) task.marks = {rollout};
    Course course = quickest(car, task, options);
    if (course.rows.size() > most_rows)
        throw InvalidArgument("time_step", Reason::too_many_rows,
                              {{static_cast<double>(most_rows + 1), Quantity::count},
                               {static_cast<double>(most_rows), Quantity::count}});
    const double start = clock_start(course, rollout);
    for (TraceRow& row : course.rows) row.time -= start;
    return std::move(course.rows);
}

std::vector<ShiftSpeed> shift_speeds(const Vehicle& vehicle, const TorqueCurve& curve,
                                     const Surroundings& surroundings) {
    check_all(vehicle, surroundings, {}, 0.0);
    const Car car(vehicle, curve, surroundings);
    std::vector<ShiftSpeed> shifts;
    for (std::size_t gear = 1; gear < car.gear_count(); ++gear) {
        const double v = best_upshift(car, gear);
        shifts.push_back({gear, car.engine_speed(gear, v), v, car.engine_speed(gear + 1, v),
                          !(v < car.rev_limited_speed(gear))});
    }
    return shifts;
}

PowerForTime power_for_time(const Vehicle& vehicle, const TorqueCurve& curve, double from, double to,
                            double time, const Surroundings& surroundings, const RunOptions& options) {
    check_all(vehicle, surroundings, options, from);
    require("to", to, {from, infinity, true, true});
    require("time", time, positive);
    const double rollout = rollout_of(vehicle, options, from);
    double best = infinity;
    const auto excess = [&](double factor) {
        const TorqueCurve scaled = curve.scaled(factor);
        try {
            const double taken =
                run_to_speed(Car(vehicle, scaled, surroundings), from, to, rollout, options).time;
            best = std::min(best, taken);
            return 1.0 / taken - 1.0 / time;
        } catch (const NoSolution& error) {
            if (error.reason() != Reason::speed_not_reached && error.reason() != Reason::car_does_not_move)
                throw;
            return -1.0 / time;
        }
    };
    try {
        const auto [low, high] = factors_around(excess);
        const double factor = factor_between(excess, low, high);
        // As the power grows, the next gear may suddenly pull the car to its speed, so that the time jumps.
        if (!(std::abs(excess(factor)) * time <= met)) {
            const double taken = time / (1.0 + time * excess(factor * (1.0 + beside)));
            throw NoSolution(Reason::time_skipped, {{std::isfinite(taken) ? taken : best, Quantity::time}});
        }
        return power_at(vehicle, curve, factor);
    } catch (const NoSolution& error) {
        if (error.reason() != Reason::time_not_reached) throw;
        // Where no power gets there at all, the run itself says why.
        if (!(best < infinity)) speed_run(vehicle, curve, from, to, surroundings, options);
        throw NoSolution(Reason::time_not_reached, {{best, Quantity::time}});
    }
}

PowerForTime power_for_trap_speed(const Vehicle& vehicle, const TorqueCurve& curve, double distance,
                                  double trap_speed, const Surroundings& surroundings,
                                  const RunOptions& options) {
    check_all(vehicle, surroundings, options, options.from);
    const double rollout = rollout_of(vehicle, options, options.from);
    require("distance", distance, {rollout, 1e5, true, false});
    require("trap_speed", trap_speed, {options.from, infinity, true, true});
    double best = 0.0;
    const auto excess = [&](double factor) {
        const TorqueCurve scaled = curve.scaled(factor);
        try {
            const double reached =
                run_over_distance(Car(vehicle, scaled, surroundings), distance, rollout, options).trap_speed;
            best = std::max(best, reached);
            return reached - trap_speed;
        } catch (const NoSolution& error) {
            if (error.reason() != Reason::car_does_not_move) throw;
            return -trap_speed;
        }
    };
    try {
        const auto [low, high] = factors_around(excess);
        // Inside a jump of the trap speed the search ends at the jump; it does not end where the trap speed
        // falls.
        return power_at(vehicle, curve, factor_between(excess, low, high));
    } catch (const NoSolution& error) {
        if (error.reason() != Reason::time_not_reached) throw;
        throw NoSolution(Reason::trap_speed_not_reached, {{best, Quantity::speed}});
    }
}

}  // namespace pullsheet::road
