// SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>

#include "core/plan/limits.hpp"
#include "core/plan/operating_point.hpp"
#include "tests/plan/invented_plan.hpp"

namespace pullsheet::plan {
namespace {

void operating_point_without_parts(benchmark::State& state) {
    const Engine engine = invented_engine();
    for (auto _ : state) benchmark::DoNotOptimize(operating_point(engine, {0.85}, 250e3, 6500 * rpm));
}
BENCHMARK(operating_point_without_parts)->Unit(benchmark::kMicrosecond);

void operating_point_with_ten_parts(benchmark::State& state) {
    const Engine engine = invented_engine();
    const Parts parts = invented_parts();
    for (auto _ : state)
        benchmark::DoNotOptimize(operating_point(engine, {0.85}, 250e3, 6500 * rpm, {}, parts));
}
BENCHMARK(operating_point_with_ten_parts)->Unit(benchmark::kMicrosecond);

void limits_of_ten_parts(benchmark::State& state) {
    const Engine engine = invented_engine();
    const Parts parts = invented_parts();
    for (auto _ : state) benchmark::DoNotOptimize(limits(engine, parts, {0.85}, 6500 * rpm, {}, 250e3));
}
BENCHMARK(limits_of_ten_parts)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace pullsheet::plan
