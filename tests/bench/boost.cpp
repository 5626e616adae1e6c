// SPDX-License-Identifier: Apache-2.0
#include <benchmark/benchmark.h>

#include "core/boost/compressor.hpp"
#include "core/boost/compressor_map.hpp"
#include "tests/boost/invented_map.hpp"

namespace pullsheet::boost {
namespace {

void compressor_temperature(benchmark::State& state) {
    double ratio = 2.0;
    for (auto _ : state) {
        benchmark::DoNotOptimize(ratio);
        benchmark::DoNotOptimize(boost::compressor_temperature(298.15, ratio, 0.72));
    }
}
BENCHMARK(compressor_temperature);

void compressor_map_build(benchmark::State& state) {
    const auto points = invented_map();
    for (auto _ : state) benchmark::DoNotOptimize(CompressorMap(points));
}
BENCHMARK(compressor_map_build)->Unit(benchmark::kMicrosecond);

void compressor_map_reading(benchmark::State& state) {
    const CompressorMap map(invented_map());
    double flow = 0.45;
    for (auto _ : state) {
        benchmark::DoNotOptimize(flow);
        benchmark::DoNotOptimize(map.at(flow, 2.5));
    }
}
BENCHMARK(compressor_map_reading)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace pullsheet::boost
