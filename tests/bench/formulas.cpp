// SPDX-License-Identifier: Apache-2.0
//
// Each closed formula of the core beside the bare arithmetic it contains: the same inputs, no checks. The
// bare arithmetic is timed as a function that is called, as the core's is, and written into the loop. The
// least of interleaved repetitions, so that what else the machine does is left out. Exits with 1 if a formula
// and its arithmetic disagree beyond 1e-12.
#include <benchmark/benchmark.h>
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <cstddef>
#include <limits>
#include <vector>

#include "core/air/moist_air.hpp"
#include "core/boost/charge_cooler.hpp"
#include "core/boost/compressor.hpp"
#include "core/boost/turbine.hpp"
#include "core/constants.hpp"
#include "core/dyno/correction.hpp"
#include "core/engine/air_flow.hpp"
#include "core/engine/geometry.hpp"
#include "core/engine/power.hpp"
#include "core/fuel/atoms.hpp"
#include "core/fuel/blend.hpp"
#include "core/fuel/fuel.hpp"
#include "core/fuel/stoichiometry.hpp"
#include "core/injection/injector.hpp"

namespace {

using namespace pullsheet;

constexpr std::size_t rows = 64;
constexpr int rounds = 100, repetitions = 401;

/// The numbers and the fuel that a formula takes.
struct Inputs {
    std::array<double, 8> x;
    fuel::Fuel fuel{0.85, {}};
};

template <auto F>
[[gnu::noinline]] double called(const Inputs& in) {
    return F(in);
}

/// Nanoseconds for a value.
template <class F>
[[gnu::noinline]] double timed(const std::vector<Inputs>& inputs, F f) {
    const auto start = std::chrono::steady_clock::now();
    for (int round = 0; round < rounds; ++round)
        for (const Inputs& in : inputs) benchmark::DoNotOptimize(f(in));
    return std::chrono::duration<double, std::nano>(std::chrono::steady_clock::now() - start).count() /
           (rounds * static_cast<double>(rows));
}

bool agrees = true;

template <auto Core, auto Bare>
void compare(const char* name, std::array<double, 8> x) {
    std::vector<Inputs> inputs;
    for (std::size_t i = 0; i < rows; ++i) {
        inputs.emplace_back();
        inputs.back().x = x;
        inputs.back().x[0] *= 1.0 + 1e-4 * static_cast<double>(i);
        inputs.back().fuel.ethanol_share -= 1e-3 * static_cast<double>(i);
    }
    for (const Inputs& in : inputs)
        if (!(std::abs(Core(in) - Bare(in)) <= 1e-12 * std::abs(Bare(in)))) {
            fmt::print("{}: {} is not {}\n", name, Core(in), Bare(in));
            agrees = false;
            break;
        }
    double core = std::numeric_limits<double>::infinity(), call = core, loop = core;
    for (int i = 0; i < repetitions; ++i) {
        core = std::min(core, timed(inputs, [](const Inputs& in) { return called<Core>(in); }));
        call = std::min(call, timed(inputs, [](const Inputs& in) { return called<Bare>(in); }));
        loop = std::min(loop, timed(inputs, Bare));
    }
    fmt::print("| {:<34} | {:8.2f} | {:8.2f} | {:8.2f} | {:6.2f} | {:6.2f} |\n", name, core, call, loop,
               core / call, core / loop);
}

double saturation(double T) {
    return std::exp((1.2378847e-5 * T - 1.9121316e-2) * T + 33.93711047 - 6.3431645e3 / T);
}

double bare_ethanol_mass(const fuel::Fuel& f) {
    const double e = f.ethanol_share * fuel::ethanol::density;
    return e / (e + (1.0 - f.ethanol_share) * f.gasoline.density);
}

double bare_heating_value(const fuel::Fuel& f) {
    const double m = bare_ethanol_mass(f);
    return m * fuel::ethanol::heating_value + (1.0 - m) * f.gasoline.heating_value;
}

double bare_density(const fuel::Fuel& f) {
    return f.ethanol_share * fuel::ethanol::density + (1.0 - f.ethanol_share) * f.gasoline.density;
}

constexpr boost::Reference reference;

double rise(double ratio) {
    constexpr double kappa = boost::compressed_air.heat_capacity_ratio;
    return std::expm1(std::log(ratio) * (kappa - 1.0) / kappa);
}

double bare_gas_constant(double T, double p, double humidity) {
    const double v = humidity * saturation(T);
    return p / ((p - v) / dry_air_gas_constant + v / air::vapour_gas_constant);
}

double bare_air_density(double T, double p, double humidity) {
    const double t = T - 273.15, q = p / T;
    const double s = (1.00062 + 3.14e-8 * p + 5.6e-7 * t * t) * (humidity * saturation(T)) / p;
    const double z = 1.0 -
                     q * (1.58123e-6 + (-2.9331e-8 + 1.1043e-10 * t) * t + (5.707e-6 - 2.051e-8 * t) * s +
                          (1.9898e-4 - 2.376e-6 * t) * s * s) +
                     q * q * (1.83e-11 - 0.765e-8 * s * s);
    return p * 28.96546e-3 / (z * 8.314472 * T) * (1.0 - s * (1.0 - 18.01528e-3 / 28.96546e-3));
}

double bare_stoich(const fuel::Fuel& f) {
    const double m = bare_ethanol_mass(f), ratio = f.gasoline.hydrogen_per_carbon;
    const double g = (1.0 - m) / (fuel::atoms::carbon + ratio * fuel::atoms::hydrogen);
    const double e = m / fuel::ethanol::molar_mass, c = g + 2.0 * e;
    const double h = (g * ratio + 6.0 * e) / c, o = e / c;
    const fuel::DryAir a;
    return (1.0 + 0.25 * h - 0.5 * o) / a.oxygen * a.molar_mass /
           (fuel::atoms::carbon + h * fuel::atoms::hydrogen + o * fuel::atoms::oxygen);
}

double bare_counterflow(double n, double c) {
    const double filled = -std::expm1(-n * (1.0 - c));
    return filled / (1.0 - c + c * filled);
}

#define FORMULA(name, core, bare, ...)                        \
    compare<[]([[maybe_unused]] const Inputs& in) -> double { \
        [[maybe_unused]] const auto& x = in.x;                \
        return core;                                          \
    },                                                        \
            []([[maybe_unused]] const Inputs& in) -> double { \
                [[maybe_unused]] const auto& x = in.x;        \
                return bare;                                  \
            }>(name, {__VA_ARGS__})

}  // namespace

int main() {
    fmt::print("| {:<34} | {:>8} | {:>8} | {:>8} | {:>6} | {:>6} |\n", "formula", "core, ns", "call, ns",
               "loop, ns", "÷ call", "÷ loop");
    fmt::print("|{:-<36}|{:->10}|{:->10}|{:->10}|{:->8}|{:->8}|\n", "", ":", ":", ":", ":", ":");
    FORMULA("air: saturation pressure", air::saturation_pressure(x[0]), saturation(x[0]), 298.0);
    FORMULA("air: dry pressure", air::dry_pressure(x[0], x[1], x[2]), x[1] - x[2] * saturation(x[0]), 298.0,
            1e5, 0.4);
    FORMULA("air: gas constant", air::gas_constant(x[0], x[1], x[2]), bare_gas_constant(x[0], x[1], x[2]),
            298.0, 1e5, 0.4);
    FORMULA("air: density", air::density(x[0], x[1], x[2]), bare_air_density(x[0], x[1], x[2]), 298.0, 1e5,
            0.4);
    FORMULA("engine: power", engine::power(x[0], x[1]), x[0] * x[1], 400.0, 600.0);
    FORMULA("engine: mean effective pressure", engine::bmep(x[0], x[1], x[2]), pi * x[2] * x[0] / x[1], 400.0,
            2e-3, 4.0);
    FORMULA("engine: displacement", engine::displacement(x[0], x[1], x[2]),
            0.25 * pi * x[0] * x[0] * x[1] * x[2], 0.08, 0.09, 4.0);
    FORMULA("engine: compression ratio", engine::compression_ratio(x[0], x[1], x[2], x[3], x[4], x[5], x[6]),
            0.25 * pi * x[0] * x[0] * x[1] /
                    (x[2] + 0.25 * pi * x[3] * x[3] * x[4] + 0.25 * pi * x[0] * x[0] * x[5] + x[6]) +
                1.0,
            0.08, 0.09, 4e-5, 0.082, 1e-3, 2e-4, 2e-6);
    FORMULA("engine: air flow", engine::air_flow(x[0], x[1], x[2], x[3], x[4]),
            x[4] * (x[0] * x[1] / (4.0 * pi)) * (x[2] / (dry_air_gas_constant * x[3])), 2e-3, 600.0, 2e5,
            310.0, 0.95);
    FORMULA("engine: power from air", engine::power_from_air(x[0], in.fuel, x[1], x[2]),
            x[0] / (x[1] * bare_stoich(in.fuel)) * x[2] * bare_heating_value(in.fuel), 0.3, 0.85, 0.33);
    FORMULA("injection: injector flow", injection::injector_flow(x[0], x[1], x[2]),
            x[0] * std::sqrt(x[2] / x[1]), 1e-5, 3e5, 4e5);
    FORMULA("injection: duty", injection::injector_duty(x[0], x[1], x[2], in.fuel, x[3], x[4]),
            x[0] / (x[2] * x[1] * bare_density(in.fuel)) + x[4] / (4.0 * pi / x[3]), 0.02, 4.0, 1.5e-5, 650.0,
            1e-3);
    FORMULA("injection: size", injection::injector_size(x[0], x[1], x[2], in.fuel),
            x[0] / (x[1] * x[2] * bare_density(in.fuel)), 0.02, 4.0, 0.85);
    FORMULA("injection: window", injection::injection_window(x[0], x[1], x[2]), (x[0] - x[1]) / x[2], 5.2,
            1.0, 650.0);
    FORMULA(
        "dyno: SAE J1349", dyno::correction(dyno::Standard::sae_j1349, x[0], x[1], x[2]).factor,
        1.18 * (99e3 / (x[1] - x[2] * saturation(x[0]))) * std::sqrt((x[0] - 273.15 + 273.0) / 298.0) - 0.18,
        298.0, 1e5, 0.4);
    FORMULA("dyno: ISO 1585", dyno::correction(dyno::Standard::iso_1585, x[0], x[1], x[2]).factor,
            std::pow(99e3 / (x[1] - x[2] * saturation(x[0])), 1.2) *
                std::pow((x[0] - 273.15 + 273.0) / 298.0, 0.6),
            298.0, 1e5, 0.4);
    FORMULA("dyno: crank power", dyno::crank_power(x[0], x[1], x[2]), (x[0] + x[2]) / (1.0 - x[1]), 2e5, 0.12,
            4e3);
    FORMULA("fuel: density at 15 °C", fuel::density(in.fuel), bare_density(in.fuel), 0.0);
    FORMULA("fuel: heating value", fuel::heating_value(in.fuel), bare_heating_value(in.fuel), 0.0);
    FORMULA("fuel: stoichiometric ratio", fuel::stoich(in.fuel), bare_stoich(in.fuel), 0.0);
    FORMULA("fuel: flow", fuel::flow(x[0], in.fuel, x[1]), x[0] / (x[1] * bare_heating_value(in.fuel)), 3e5,
            0.33);
    FORMULA("fuel: filling up to a share", fuel::blend_add(x[0], x[1], x[2], x[3]),
            x[0] * (x[3] - x[1]) / (x[2] - x[3]), 0.02, 0.1, 0.85, 0.4);
    FORMULA("boost: pressure ratio", boost::pressure_ratio(x[0], x[1], x[2], x[3]),
            (x[1] + x[0] + x[3]) / (x[1] - x[2]), 1.2e5, 1e5, 2e3, 8e3);
    FORMULA("boost: compressor temperature", boost::compressor_temperature(x[0], x[1], x[2]),
            x[0] * (1.0 + rise(x[1]) / x[2]), 298.0, 2.3, 0.72);
    FORMULA("boost: compressor efficiency", boost::compressor_efficiency(x[0], x[1], x[2]),
            rise(x[2]) / (x[1] / x[0] - 1.0), 298.0, 420.0, 2.3);
    FORMULA("boost: corrected flow", boost::corrected_flow(x[0], x[1], x[2]),
            x[0] * std::sqrt(x[1] / reference.temperature) / (x[2] / reference.pressure), 0.3, 303.0, 98e3);
    FORMULA("boost: charge temperature", boost::charge_temperature(x[0], x[1], x[2]),
            x[0] - x[2] * (x[0] - x[1]), 410.0, 300.0, 0.75);
    FORMULA("boost: counterflow cooler",
            boost::effectiveness(x[0], x[1], boost::FlowArrangement::counterflow),
            bare_counterflow(x[0], x[1]), 2.0, 0.6);
    return agrees ? 0 : 1;
}
