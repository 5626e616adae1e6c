// SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>

#include "core/cycle/burned_gas.hpp"
#include "core/cycle/charge.hpp"
#include "core/cycle/knock.hpp"
#include "tests/cycle/invented_engine.hpp"

namespace pullsheet::cycle {
namespace {

void equilibrium(benchmark::State& state) {
    const BurnedGas gas(mix(gasoline(98.0), 0.85, 0.05).elements);
    EquilibriumGuess guess;
    double temperature = 2500.0;
    for (auto _ : state) {
        temperature = temperature > 2600.0 ? 2500.0 : temperature + 1.0;
        benchmark::DoNotOptimize(gas.properties(temperature, 60e5, guess));
    }
}
BENCHMARK(equilibrium);

void one_cycle(benchmark::State& state) {
    CyclePoint point = boosted_point();
    for (auto _ : state) {
        benchmark::DoNotOptimize(point);
        benchmark::DoNotOptimize(run(invented_engine(), point, gasoline(98.0)));
    }
}
BENCHMARK(one_cycle)->Unit(benchmark::kMicrosecond);

void cycle_trace(benchmark::State& state) {
    CyclePoint point = boosted_point();
    for (auto _ : state) {
        benchmark::DoNotOptimize(point);
        benchmark::DoNotOptimize(trace(invented_engine(), point, gasoline(98.0)));
    }
}
BENCHMARK(cycle_trace)->Unit(benchmark::kMicrosecond);

void knock_spark_limit(benchmark::State& state) {
    for (auto _ : state)
        benchmark::DoNotOptimize(spark_limit(invented_engine(), boosted_point(), gasoline(98.0)));
}
BENCHMARK(knock_spark_limit)->Unit(benchmark::kMillisecond);

void knock_boost_limit(benchmark::State& state) {
    for (auto _ : state)
        benchmark::DoNotOptimize(boost_limit(invented_engine(), boosted_point(), gasoline(98.0)));
}
BENCHMARK(knock_boost_limit)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace pullsheet::cycle
