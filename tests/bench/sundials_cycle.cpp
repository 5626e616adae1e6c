// SPDX-License-Identifier: Apache-2.0
//
// The core's two-zone cycle beside the same equations (TwoZone::derivative, the same code) integrated by
// SUNDIALS: the error of work, wall heat and knock integral over step and tolerance, and the time at equal
// error. Exits with 1 if both, at their tightest, differ by more than 1e-7.
#include <memory>

#include "core/cycle/autoignition.hpp"
#include "core/cycle/burn.hpp"
#include "core/cycle/charge.hpp"
#include "core/cycle/heat_transfer.hpp"
#include "core/cycle/two_zone.hpp"
#include "core/engine/slider_crank.hpp"
#include "tests/bench/sundials.hpp"
#include "tests/cycle/invented_engine.hpp"

namespace {

using namespace pullsheet;
using namespace pullsheet::cycle;
using bench::Method;
using bench::Setting;

/// Woschni's walls without the rise of pressure by the burn.
struct Wall {
    engine::SliderCrank crank;
    double temperature, gas_velocity;
    void start(double, double, double) {}
    double conductance(double, double volume, double pressure, double mean_temperature, bool) const {
        return woschni::coefficient(crank.bore, pressure, mean_temperature, gas_velocity) *
               (2.0 * crank.bore_area() + 4.0 * volume / crank.bore);
    }
};

struct Delay {
    double factor;
    double rate(double pressure, double temperature) const {
        return std::exp(douaud_eyzat::pressure_exponent * std::log(pressure / douaud_eyzat::atmosphere) -
                        douaud_eyzat::activation_temperature / temperature) /
               factor;
    }
};

/// The cycle of an invented engine, ready for the core's integrator or another one.
class Cycle {
  public:
    using Zones = TwoZone<FrozenGas, EquilibriumGas, engine::SliderCrank, Wiebe, Wall, Delay>;
    using State = Zones::State;

    explicit Cycle(double start_temperature)
        : crank_{0.0825, 0.0928, 0.144, 10.5},
          charge_(mix(gasoline(98.0), 0.85, 0.05)),
          burned_{BurnedGas(charge_.elements)},
          burn_{-10.0 * degree, 60.0 * degree, 1e-3},
          wall_{crank_, 450.0, woschni::closed_factor * crank_.stroke * speed / pi},
          delay_{douaud_eyzat::fuel_factor(98.0)},
          start_temperature_(start_temperature),
          zones_(charge_.unburned, burned_, crank_, burn_, wall_, delay_, 1.1e-3, speed),
          adams_(*this, Method::adams),
          runge_kutta_(*this, Method::runge_kutta) {
        stages_ = {-140.0 * degree, burn_.start, burn_.angle(0.9), 130.0 * degree, 0.0, 0.0};
    }

    /// Work, heat and knock integral by the core's integrator; elsewhere than in the burn it takes twice the
    /// step.
    std::array<double, 3> core(double step) {
        Stages stages = stages_;
        stages.burn_step = step;
        stages.slow_step = 2.0 * step;
        const TracePoint end = zones_.run(stages, start_temperature_, [](const TracePoint&) {});
        return {end.work, end.heat_loss, end.knock_integral};
    }
    std::array<double, 3> sundials(Method method, double tolerance) {
        return method == Method::adams ? by(adams_, tolerance) : by(runge_kutta_, tolerance);
    }

    void slope(double angle, const double* y, double* d) {
        State state, derivative;
        std::copy_n(y, state.size(), state.begin());
        zones_.derivative(state, derivative, angle);
        std::copy_n(derivative.begin(), derivative.size(), d);
    }
    void roots(double, const double*, double*) const {}

  private:
    static constexpr double speed = 5000.0 * rpm;
    using Solver = bench::Sundials<Cycle, 4, 0>;

    std::array<double, 3> by(Solver& solver, double tolerance) {
        solver.set_tolerance(tolerance, {100.0, 10.0, 10.0, 0.01});
        State y = zones_.begin(start_temperature_);
        const auto to = [&](double from, double end) {
            std::copy(y.begin(), y.end(), solver.y());
            solver.advance(from, end);
            std::copy_n(solver.y(), y.size(), y.begin());
        };
        to(stages_.closing, stages_.burn_start);
        zones_.start_burn(y, stages_.burn_start);
        to(stages_.burn_start, stages_.knock_end);
        zones_.end_knock();
        to(stages_.knock_end, stages_.opening);
        return {y[Zones::work], y[Zones::heat], y[Zones::knock]};
    }

    engine::SliderCrank crank_;
    Charge charge_;
    EquilibriumGas burned_;
    Wiebe burn_;
    Wall wall_;
    Delay delay_;
    double start_temperature_;
    Stages stages_{};
    Zones zones_;
    Solver adams_, runge_kutta_;
};

double error(const std::array<double, 3>& is, const std::array<double, 3>& wanted) {
    double greatest = 0.0;
    for (std::size_t i = 0; i < is.size(); ++i)
        greatest = std::max(greatest, std::abs(is[i] / wanted[i] - 1.0));
    return greatest;
}

}  // namespace

int main() {
    std::vector<std::unique_ptr<Cycle>> cycles;
    std::vector<std::array<double, 3>> references;
    double apart = 0.0;
    for (double temperature = 320.0; temperature < 385.0; temperature += 10.0) {
        Cycle& cycle = *cycles.emplace_back(std::make_unique<Cycle>(temperature));
        references.push_back(cycle.core(0.05 * degree));
        apart = std::max(apart, error(cycle.sundials(Method::runge_kutta, 1e-10), references.back()));
    }
    fmt::print("{} cycles, core and SUNDIALS at their tightest apart {:.1e}\n\n", cycles.size(), apart);
    const auto measured = [&](auto run) {
        Setting s{0.0, 0.0};
        for (std::size_t i = 0; i < cycles.size(); ++i)
            s.error = std::max(s.error, error(run(*cycles[i]), references[i]));
        s.time = bench::timed([&] {
                     for (const auto& cycle : cycles) benchmark::DoNotOptimize(run(*cycle));
                 }) /
                 static_cast<double>(cycles.size());
        return s;
    };
    std::vector<std::vector<Setting>> settings(3);
    fmt::print(
        "| step | core, µs | error | tolerance | CVODE, µs | error | ERKStep, µs | error |\n"
        "|---:|---:|---:|---:|---:|---:|---:|---:|\n");
    double step = 5.0 * degree, tolerance = 1e-3;
    for (int i = 0; i < 14; ++i, step /= std::sqrt(2.0), tolerance /= std::sqrt(10.0)) {
        settings[0].push_back(measured([&](Cycle& c) { return c.core(step); }));
        settings[1].push_back(measured([&](Cycle& c) { return c.sundials(Method::adams, tolerance); }));
        settings[2].push_back(measured([&](Cycle& c) { return c.sundials(Method::runge_kutta, tolerance); }));
        fmt::print("| {:.2f}° | {:.1f} | {:.1e} | {:.1e} |", step / degree, settings[0].back().time,
                   settings[0].back().error, tolerance);
        for (std::size_t k = 1; k < 3; ++k)
            fmt::print(" {:.1f} | {:.1e} |", settings[k].back().time, settings[k].back().error);
        fmt::print("\n");
    }
    fmt::print("\n");
    bench::print_equal_accuracy({"core", "CVODE", "ERKStep"}, settings, {1e-3, 1e-4, 1e-5, 1e-6, 1e-7, 1e-8});
    const bool agrees = apart < 1e-7;
    if (!agrees) fmt::print("\nThe results differ by more than 1e-7.\n");
    return agrees ? 0 : 1;
}
