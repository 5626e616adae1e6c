// SPDX-License-Identifier: Apache-2.0
//
// The core's run of a car beside the same equations integrated by SUNDIALS, the phases of the run ended by
// its root finding: the error of both over their tolerances, and the time at equal error. Exits with 1 if
// both, at their tightest, differ by more than 1e-9.
#include <optional>

#include "core/constants.hpp"
#include "core/road/acceleration.hpp"
#include "tests/bench/invented_car.hpp"
#include "tests/bench/sundials.hpp"

namespace {

using namespace pullsheet;
using namespace pullsheet::road;
using bench::Method;
using bench::Setting;

constexpr double never = 1e9;

/// Its engine pulls evenly up to the rev limit, so that every gear is best held until there.
Vehicle car(double mass) {
    Vehicle car = bench::invented_car(mass);
    car.rev_limit = 6100.0 * pi / 30.0;
    return car;
}

/// The equations at the head of core/road/acceleration.hpp, for all-wheel drive on the level in still air,
/// with the torque interrupted in a shift.
class Road {
  public:
    Road(const Vehicle& vehicle, const TorqueCurve& torque, Method method)
        : torque_(torque), solver_(*this, method) {
        for (std::size_t gear = 1; gear <= vehicle.gears.size(); ++gear) {
            const double ratio = overall_ratio(vehicle, gear);
            gears_.push_back({ratio / vehicle.rolling_radius,
                              vehicle.driveline_efficiency * ratio / vehicle.rolling_radius,
                              1.0 / effective_mass(vehicle, gear)});
        }
        rolling_ = road_load(vehicle, {}, 0.0);
        drag_ = 0.5 * Surroundings{}.air_density * vehicle.drag_area;
        inverse_open_mass_ = 1.0 / effective_mass(vehicle, 0);
        inverse_grip_mass_ = 1.0 / vehicle.mass;
        grip_ = traction_limit(vehicle, {});
        launch_ = vehicle.launch_speed;
        rev_limit_ = *vehicle.rev_limit;
        shift_time_ = vehicle.shift_time;
    }

    /// Seconds from a speed to a speed or, above 0, over a distance, shifting where `shifts` says; behind the
    /// last shift the rev limit ends the gain.
    double run(double from, double to, double distance, std::size_t gear, const std::vector<Shift>& shifts,
               double tolerance) {
        double* y = solver_.y();
        y[0] = from;
        y[1] = 0.0;
        goal_speed_ = to;
        goal_distance_ = distance;
        gear_ = gear;
        phase_ = from > 0.0 ? Phase::closed : Phase::slipping;
        solver_.set_tolerance(tolerance, {1e-3, 1e-3});  // as the core's
        std::size_t next = 0;
        double t = 0.0;
        std::optional<bool> other;  // of grip, behind a crossing where the sign is a matter of rounding
        while (true) {
            shift_at_ = next < shifts.size() ? shifts[next].speed : rev_limit_ / gears_[gear_ - 1].turns;
            gripping_ = phase_ != Phase::shifting && pull(y[0]) > gripping(y[0]);
            if (other) gripping_ = *other;
            other.reset();
            if (!solver_.advance(t, phase_ == Phase::shifting ? t + shift_time_ : t + 1000.0)) {
                phase_ = Phase::closed;
                continue;
            }
            const auto found = solver_.found();
            if (found[0]) return t;
            if (found[1] && phase_ == Phase::slipping) {
                phase_ = Phase::closed;
            } else if (found[1] && phase_ == Phase::closed && next == shifts.size()) {
                return t + (distance - y[1]) / y[0];
            } else if (found[1] && phase_ == Phase::closed) {
                phase_ = Phase::shifting;
                gear_ = shifts[next++].gear + 1;
            } else if (found[2]) {
                other = !gripping_;
            }
        }
    }

    void slope(double, const double* y, double* d) const {
        d[0] = gripping_ ? gripping(y[0]) : pull(y[0]);
        d[1] = y[0];
    }
    void roots(double, const double* y, double* g) const {
        g[0] = goal_distance_ > 0.0 ? y[1] - goal_distance_ : y[0] - goal_speed_;
        g[1] = phase_ == Phase::slipping ? gears_[gear_ - 1].turns * y[0] - launch_
               : phase_ == Phase::closed ? y[0] - shift_at_
                                         : 1.0;
        g[2] = phase_ == Phase::shifting ? 1.0 : pull(y[0]) - gripping(y[0]);
    }

  private:
    enum class Phase { closed, slipping, shifting };
    struct Gear {
        double turns, force, inverse_mass;
    };
    double load(double v) const { return rolling_ + drag_ * v * v; }
    double gripping(double v) const { return (grip_ - load(v)) * inverse_grip_mass_; }
    double pull(double v) const {
        const Gear& g = gears_[gear_ - 1];
        if (phase_ == Phase::shifting) return -load(v) * inverse_open_mass_;
        if (phase_ == Phase::slipping)
            return (torque_.torque(launch_) * g.force - load(v)) * inverse_open_mass_;
        return (torque_.torque(g.turns * v) * g.force - load(v)) * g.inverse_mass;
    }

    const TorqueCurve& torque_;
    std::vector<Gear> gears_;
    double rolling_, drag_, inverse_open_mass_, inverse_grip_mass_, grip_, launch_, rev_limit_, shift_time_;
    double goal_speed_ = 0.0, goal_distance_ = 0.0, shift_at_ = 0.0;
    std::size_t gear_ = 1;
    Phase phase_ = Phase::closed;
    bool gripping_ = false;
    bench::Sundials<Road, 2, 3> solver_;
};

/// One car, run by the core and by both methods.
struct Case {
    Vehicle vehicle;
    double from, to, distance;
    std::size_t first_gear = 0;
    std::vector<Shift> shifts{};
    double reference = 0.0;

    double core(const TorqueCurve& torque, double tolerance) {
        RunOptions options;
        options.from = from;
        options.tolerance = tolerance;
        if (first_gear > 0) options.first_gear = first_gear;
        const auto take = [&](auto run) {
            first_gear = run.first_gear;
            shifts = std::move(run.shifts);
            return run.time;
        };
        if (distance > 0.0) return take(distance_run(vehicle, torque, distance, {}, options));
        return take(speed_run(vehicle, torque, from, to, {}, options));
    }
};

bool compare(const char* name, double from, double to, double distance) {
    const TorqueCurve torque = bench::invented_curve();
    std::vector<Case> cases;
    std::vector<std::unique_ptr<Road>> adams, runge_kutta;
    double apart = 0.0;
    std::size_t shifts = 0;
    for (double mass = 1200.0; mass < 1900.0; mass += 100.0) {
        Case& c = cases.emplace_back(Case{car(mass), from, to, distance});
        const double core = c.core(torque, 1e-12);
        adams.push_back(std::make_unique<Road>(c.vehicle, torque, Method::adams));
        runge_kutta.push_back(std::make_unique<Road>(c.vehicle, torque, Method::runge_kutta));
        c.reference = runge_kutta.back()->run(from, to, distance, c.first_gear, c.shifts, 1e-13);
        apart = std::max(apart, std::abs(core / c.reference - 1.0));
        shifts = std::max(shifts, c.shifts.size());
    }
    fmt::print("\n{}: {} cars, up to {} shifts, core and SUNDIALS at their tightest apart {:.1e}\n\n", name,
               cases.size(), shifts, apart);
    // The greatest error over all cars, and the mean time.
    const auto measured = [&](auto run) {
        Setting s{0.0, 0.0};
        for (std::size_t i = 0; i < cases.size(); ++i)
            s.error = std::max(s.error, std::abs(run(i) / cases[i].reference - 1.0));
        s.time = bench::timed([&] {
                     for (std::size_t i = 0; i < cases.size(); ++i) benchmark::DoNotOptimize(run(i));
                 }) /
                 static_cast<double>(cases.size());
        return s;
    };
    std::vector<std::vector<Setting>> settings(3);
    fmt::print(
        "| tolerance | core, µs | error | CVODE, µs | error | ERKStep, µs | error |\n"
        "|---:|---:|---:|---:|---:|---:|---:|\n");
    for (double power = -4.0; power > -12.01; power -= 0.5) {
        const double tolerance = std::pow(10.0, power);
        const auto other = [&](auto& roads) {
            return measured([&](std::size_t i) {
                const Case& c = cases[i];
                return roads[i]->run(from, to, distance, c.first_gear, c.shifts, tolerance);
            });
        };
        const Setting now[] = {measured([&](std::size_t i) { return cases[i].core(torque, tolerance); }),
                               other(adams), other(runge_kutta)};
        fmt::print("| {:.1e} |", tolerance);
        for (std::size_t k = 0; k < 3; ++k) {
            settings[k].push_back(now[k]);
            fmt::print(" {:.1f} | {:.1e} |", now[k].time, now[k].error);
        }
        fmt::print("\n");
    }
    fmt::print("\n");
    bench::print_equal_accuracy({"core", "CVODE", "ERKStep"}, settings, {1e-4, 1e-5, 1e-6, 1e-7, 1e-8, 1e-9});
    return apart < 1e-9;
}

}  // namespace

int main() {
    bool agrees = compare("100 to 200 km/h", 100.0 / 3.6, 200.0 / 3.6, 0.0);
    agrees = compare("quarter mile from rest", 0.0, never, 402.336) && agrees;
    if (!agrees) fmt::print("\nThe results differ by more than 1e-9.\n");
    return agrees ? 0 : 1;
}
