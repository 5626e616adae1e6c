// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/two_zone.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/cycle/burn.hpp"
#include "core/engine/slider_crank.hpp"
#include "core/solve.hpp"
#include "tests/quantities.hpp"

using namespace pullsheet;
using namespace pullsheet::cycle;

namespace {

using tests::degree;

constexpr double air_gas_constant = 287.0;
constexpr double start_temperature = 330.0;

struct ConstantGas {
    double gamma;
    double gas_constant = air_gas_constant;
    double cv() const { return gas_constant / (gamma - 1.0); }
    double heat_capacity(double) const { return cv() + gas_constant; }
    double internal_energy(double t) const { return cv() * t; }
    double entropy(double t) const { return (cv() + gas_constant) * std::log(t); }
};

/// The same gas after it has given `heat`, J/kg.
struct ConstantBurnedGas {
    ConstantGas gas;
    double heat;
    double start_temperature = 2500.0;
    struct Guess {};
    static Guess first_guess() { return {}; }
    struct Properties {
        double gas_constant, gas_constant_by_temperature, gas_constant_by_log_pressure, internal_energy,
            internal_energy_by_temperature, internal_energy_by_log_pressure;
    };
    Properties properties(double t, double, Guess&) const {
        return {gas.gas_constant, 0.0, 0.0, gas.cv() * t - heat, gas.cv(), 0.0};
    }
};

struct NoWall {
    double temperature = 300.0;
    void start(double, double, double) {}
    double conductance(double, double, double, double, bool) const { return 0.0; }
};

struct NoDelay {
    double rate(double, double) const { return 0.0; }
};

engine::SliderCrank crank(double compression_ratio) {
    return {0.086, 0.086, 0.1435, compression_ratio};
}

template <class Burn>
double efficiency(double compression_ratio, double gamma, double heat, const Burn& burn,
                  const Stages& stages) {
    const engine::SliderCrank cylinder = crank(compression_ratio);
    const ConstantGas unburned{gamma};
    const ConstantBurnedGas burned{unburned, heat};
    NoWall wall;
    const NoDelay delay;
    const double mass = 1e-3;
    TwoZone zones(unburned, burned, cylinder, burn, wall, delay, mass, 300.0);
    const TracePoint end = zones.run(stages, start_temperature, [](const TracePoint&) {});
    return end.work / (mass * heat);
}

/// Burns `first` J/kg at top dead centre, then `second` J/kg in step with the volume until it has grown by
/// `beta`.
struct LimitedPressureBurn {
    engine::SliderCrank cylinder;
    double first, second, beta;
    double share(double angle) const {
        if (angle < 0.0) return 0.0;
        const double growth = cylinder.volume(angle) / cylinder.clearance_volume() - 1.0;
        const double progress = beta > 1.0 ? std::min(1.0, growth / (beta - 1.0)) : 1.0;
        return (first + second * progress) / (first + second);
    }
};

}  // namespace

// Otto cycle: η = 1 − r^(1−κ). Burn of no duration at top dead centre, constant properties, no heat transfer.
TEST(AirStandardIndependent, OttoEfficiency) {
    const struct {
        double ratio, gamma, efficiency;
    } rows[] = {{8, 1.4, 0.564724718},    {10, 1.4, 0.601892829},  {10, 1.35, 0.553316408},
                {10.5, 1.3, 0.506095242}, {12, 1.25, 0.462715034}, {14, 1.4, 0.652024405}};
    const Stages stages{-pi, 0.0, 0.0, pi, degree, degree};
    for (const auto& row : rows)
        EXPECT_NEAR(efficiency(row.ratio, row.gamma, 2e6, Wiebe{0.0, 0.0}, stages), row.efficiency, 5e-9);
}

// The Wiebe burn tends to it as it shortens: the loss falls with the square of the duration.
TEST(AirStandardIndependent, ShortBurnTendsToOtto) {
    const double otto = 1.0 - std::pow(10.0, -0.35);
    double last = 1.0;
    for (const double duration : {40.0, 20.0, 10.0, 5.0, 2.5}) {
        const double d = duration * degree;
        const Wiebe burn{-0.5 * d, d, 1e-3};
        const Stages stages{-pi, burn.start, burn.angle(0.999), pi, d / 40.0, 0.5 * degree};
        const double loss = otto - efficiency(10.0, 1.35, 2e6, burn, stages);
        EXPECT_GT(loss, 0.0);
        EXPECT_LT(loss, 0.4 * last);
        last = loss;
    }
    EXPECT_LT(last, 3e-4);
}

// Limited-pressure cycle: η = 1 − r^(1−κ) (α β^κ − 1)/(α − 1 + α κ (β − 1)); Heywood (1988), eq. 5.57. The
// pressure rises by α at constant volume, then the volume by β at constant pressure; β = 1 is Otto's, α = 1
// Diesel's cycle.
TEST(Heywood1988Identities, LimitedPressureCycle) {
    const struct {
        double ratio, gamma, alpha, beta, efficiency;
    } rows[] = {{12, 1.4, 2.0, 1.5, 0.610117220},
                {16, 1.35, 1.6, 1.8, 0.586915578},
                {10, 1.4, 3.0, 1.0, 0.601892829},
                {18, 1.4, 1.01, 2.0, 0.0}};
    for (const auto& row : rows) {
        const engine::SliderCrank cylinder = crank(row.ratio);
        const double cv = air_gas_constant / (row.gamma - 1.0);
        const double compressed = start_temperature * std::pow(row.ratio, row.gamma - 1.0);
        const double first = cv * compressed * (row.alpha - 1.0);
        const double second = row.gamma * cv * compressed * row.alpha * (row.beta - 1.0);
        const double burned_at =
            row.beta > 1.0
                ? root_between(
                      [&](double a) { return cylinder.volume(a) - row.beta * cylinder.clearance_volume(); },
                      0.0, pi, Reason::not_finite)
                : 0.0;
        const Stages stages{-pi, 0.0, burned_at, pi, 0.25 * degree, 0.5 * degree};
        const double formula = 1.0 - std::pow(row.ratio, 1.0 - row.gamma) *
                                         (row.alpha * std::pow(row.beta, row.gamma) - 1.0) /
                                         (row.alpha - 1.0 + row.alpha * row.gamma * (row.beta - 1.0));
        const double expected = row.efficiency > 0.0 ? row.efficiency : formula;
        EXPECT_NEAR(efficiency(row.ratio, row.gamma, first + second,
                               LimitedPressureBurn{cylinder, first, second, row.beta}, stages),
                    expected, 5e-9);
    }
}
