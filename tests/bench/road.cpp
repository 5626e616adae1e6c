// SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

#include "core/constants.hpp"
#include "core/road/acceleration.hpp"
#include "core/road/log.hpp"
#include "core/road/power_for_time.hpp"
#include "tests/bench/invented_car.hpp"

namespace {

using namespace pullsheet;
using namespace pullsheet::road;

void hundred_to_two_hundred(benchmark::State& state) {
    const Vehicle c = bench::invented_car(1600.0);
    const TorqueCurve t = bench::invented_curve();
    for (auto _ : state) benchmark::DoNotOptimize(speed_run(c, t, 100.0 / 3.6, 200.0 / 3.6));
}
BENCHMARK(hundred_to_two_hundred);

void quarter_mile_from_rest(benchmark::State& state) {
    const Vehicle c = bench::invented_car(1600.0);
    const TorqueCurve t = bench::invented_curve();
    for (auto _ : state) benchmark::DoNotOptimize(distance_run(c, t, 402.336));
}
BENCHMARK(quarter_mile_from_rest);

void power_for_five_seconds(benchmark::State& state) {
    const Vehicle c = bench::invented_car(1600.0);
    const TorqueCurve t = bench::invented_curve();
    for (auto _ : state) benchmark::DoNotOptimize(power_for_time(c, t, 100.0 / 3.6, 200.0 / 3.6, 5.0));
}
BENCHMARK(power_for_five_seconds);

void power_from_a_log_of_20000_rows(benchmark::State& state) {
    const Vehicle c = bench::invented_car(1600.0);
    std::vector<double> times, speeds;
    for (int i = 0; i < 20000; ++i) {
        times.push_back(0.01 * i);
        speeds.push_back(30.0 + 20.0 * std::sin(0.001 * i) + 0.01 * ((i * 7919) % 13 - 6));
    }
    for (auto _ : state) benchmark::DoNotOptimize(log_power(times, speeds, c));
}
BENCHMARK(power_from_a_log_of_20000_rows)->Unit(benchmark::kMillisecond);

}  // namespace
