// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/fuel.hpp"

#include <benchmark/benchmark.h>

#include "core/engine/air_flow.hpp"
#include "core/fuel/charge_cooling.hpp"
#include "core/fuel/exhaust_lambda.hpp"
#include "core/fuel/octane.hpp"
#include "core/fuel/stoichiometry.hpp"

namespace {

using namespace pullsheet;

template <class F>
void of_fuel(benchmark::State& state, F f) {
    fuel::Fuel fuel{0.85, {}};
    for (auto _ : state) {
        benchmark::DoNotOptimize(fuel);
        benchmark::DoNotOptimize(f(fuel));
    }
}

BENCHMARK_CAPTURE(of_fuel, stoich, [](const fuel::Fuel& f) { return fuel::stoich(f); });
BENCHMARK_CAPTURE(of_fuel, density_15, [](const fuel::Fuel& f) { return fuel::density(f); });
BENCHMARK_CAPTURE(of_fuel, density_30, [](const fuel::Fuel& f) { return fuel::density(f, 303.15); });
BENCHMARK_CAPTURE(of_fuel, energy_density_30,
                  [](const fuel::Fuel& f) { return fuel::energy_density(f, 303.15); });
BENCHMARK_CAPTURE(of_fuel, heating_value, [](const fuel::Fuel& f) { return fuel::heating_value(f); });
BENCHMARK_CAPTURE(of_fuel, ron, [](const fuel::Fuel& f) { return fuel::ron(f); });
BENCHMARK_CAPTURE(of_fuel, flow, [](const fuel::Fuel& f) { return fuel::flow(300e3, f, 0.3); });
BENCHMARK_CAPTURE(of_fuel, charge_cooling,
                  [](const fuel::Fuel& f) { return fuel::charge_cooling(f, 0.85, 1.0, 313.15); });
BENCHMARK_CAPTURE(of_fuel, exhaust_lambda, [](const fuel::Fuel& f) {
    return fuel::exhaust_lambda({0.129, 0.033, 0.0}, f);
});
BENCHMARK_CAPTURE(of_fuel, air_for_power,
                  [](const fuel::Fuel& f) { return engine::air_for_power(300e3, f, 0.85, 0.3); });

}  // namespace
