// SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>

#include <cmath>
#include <vector>

#include "core/constants.hpp"
#include "core/road/acceleration.hpp"
#include "core/road/log.hpp"

namespace {

using namespace pullsheet;
using namespace pullsheet::road;

/// An invented car with seven gears and all-wheel drive.
Vehicle car() {
    Vehicle car;
    car.mass = 1600.0;
    car.drive = Drive::all;
    car.rolling_radius = 0.319;
    car.drag_area = 0.7;
    car.gears = {3.6, 2.3, 1.6, 1.2, 0.95, 0.78, 0.64};
    car.final_drives = {3.9};
    return car;
}

/// A turbo engine's curve with a point every 300 rpm, invented.
TorqueCurve curve() {
    std::vector<double> speeds, torques;
    for (double n = 1500.0; n <= 7200.0; n += 300.0) {
        speeds.push_back(n * pi / 30.0);
        torques.push_back(n < 4000.0 ? 0.2425 * n : n < 6000.0 ? 970.0 : 5.82e6 / n);
    }
    return {speeds, torques};
}

void hundred_to_two_hundred(benchmark::State& state) {
    const Vehicle c = car();
    const TorqueCurve t = curve();
    for (auto _ : state) benchmark::DoNotOptimize(speed_run(c, t, 100.0 / 3.6, 200.0 / 3.6));
}
BENCHMARK(hundred_to_two_hundred);

void quarter_mile_from_rest(benchmark::State& state) {
    const Vehicle c = car();
    const TorqueCurve t = curve();
    for (auto _ : state) benchmark::DoNotOptimize(distance_run(c, t, 402.336));
}
BENCHMARK(quarter_mile_from_rest);

void power_for_five_seconds(benchmark::State& state) {
    const Vehicle c = car();
    const TorqueCurve t = curve();
    for (auto _ : state) benchmark::DoNotOptimize(power_for_time(c, t, 100.0 / 3.6, 200.0 / 3.6, 5.0));
}
BENCHMARK(power_for_five_seconds);

void power_from_a_log_of_20000_rows(benchmark::State& state) {
    const Vehicle c = car();
    std::vector<double> times, speeds;
    for (int i = 0; i < 20000; ++i) {
        times.push_back(0.01 * i);
        speeds.push_back(30.0 + 20.0 * std::sin(0.001 * i) + 0.01 * ((i * 7919) % 13 - 6));
    }
    for (auto _ : state) benchmark::DoNotOptimize(log_power(times, speeds, c));
}
BENCHMARK(power_from_a_log_of_20000_rows)->Unit(benchmark::kMillisecond);

}  // namespace
