// SPDX-License-Identifier: Apache-2.0
//
// How the cost grows with the length of a range, the number of parts, stages and fuels, and the rows of a
// log: processor time for each element at four sizes, and the exponent between the two largest (1: linear).
// With an argument only the rows whose name contains it.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdio>
#include <ctime>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "core/constants.hpp"
#include "core/dyno/roller.hpp"
#include "core/plan/limits.hpp"
#include "core/plan/operating_point.hpp"
#include "core/plan/stage_table.hpp"
#include "core/road/acceleration.hpp"
#include "core/road/log.hpp"
#include "core/statistics/agreement.hpp"
#include "core/statistics/local_polynomial.hpp"
#include "core/statistics/smoothing.hpp"
#include "tests/bench/invented_car.hpp"
#include "tests/plan/invented_plan.hpp"

namespace {

using namespace pullsheet;

std::string_view chosen;

/// Processor time of one call, s: what else runs does not count. The least of several rounds.
template <class F>
double timed(F& job) {
    constexpr double round_time = 0.02;
    constexpr int rounds = 7;
    int calls = 1;
    double least = 0.0;
    for (int round = 0; round < rounds;) {
        const std::clock_t start = std::clock();
        for (int i = 0; i < calls; ++i) job();
        const double t = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
        if (t < round_time) {
            calls *= 2;
            continue;
        }
        least = round == 0 ? t / calls : std::min(least, t / calls);
        if (++round >= 3 && t > 10.0 * round_time) break;
    }
    return least;
}

std::string sized(std::size_t n) {
    if (n >= 1000 && n % 1000 == 0) return fmt::format("{}k", n / 1000);
    return fmt::format("{}", n);
}

/// `prepare(size)` gives the job of that size.
template <class F>
void grow(const std::string& what, const std::vector<std::size_t>& sizes, F prepare) {
    if (what.find(chosen) == std::string::npos) return;
    std::string line = fmt::format("| {:<46} |", what);
    double before = 0.0, last = 0.0;
    for (const std::size_t size : sizes) {
        auto job = prepare(size);
        before = last;
        last = timed(job);
        const double each = 1e6 * last / static_cast<double>(size);
        line += fmt::format(" {:>5}: {:8.{}f} |", sized(size), each, each < 10.0 ? 3 : each < 1000.0 ? 1 : 0);
    }
    const double ratio = static_cast<double>(sizes.back()) / static_cast<double>(sizes[sizes.size() - 2]);
    fmt::print("{} {:8.2f} |\n", line, std::log(last / before) / std::log(ratio));
    std::fflush(stdout);
}

const std::vector<std::size_t> lengths{100, 1000, 10000, 100000};

/// A column of numbers that change from row to row.
catalogue::Table column(std::size_t length, double low, double step) {
    catalogue::Table table(length, 1);
    for (std::size_t i = 0; i < length; ++i) table.at(i, 0) = low + step * static_cast<double>(i % 1000);
    return table;
}

void ranges() {
    const auto call = [](const char* what, const char* name, bool sentences, auto arguments_of) {
        const catalogue::Function& function = *catalogue::find_function(name);
        grow(fmt::format("range: {}{}", name, what), lengths, [&, sentences](std::size_t length) {
            return [&function, sentences, arguments = arguments_of(length)] {
                if (sentences)
                    (void)catalogue::evaluate(function, arguments);
                else
                    (void)catalogue::value_of(function, arguments);
            };
        });
    };
    using Values = std::vector<catalogue::Value>;
    call("", "ENGINE.POWER", false, [](std::size_t n) { return Values{column(n, 100.0, 0.1), 4000.0}; });
    call(", with sentences", "ENGINE.POWER", true, [](std::size_t n) {
        return Values{column(n, 100.0, 0.1), 4000.0};
    });
    call("", "AIR.DENSITY", false, [](std::size_t n) { return Values{column(n, 5.0, 0.02), 1013.0, 0.4}; });
    call(", texts", "ENGINE.POWER", false, [](std::size_t n) {
        catalogue::Table texts(n, 1);
        for (std::size_t i = 0; i < n; ++i) texts.at(i, 0) = fmt::format("{} lb.ft", 100 + i % 300);
        return Values{texts, 4000.0};
    });
    call(", all warned of", "AIR.DENSITY", true, [](std::size_t n) {
        return Values{column(n, 60.5, 0.02), 1013.0, 0.4};
    });
    call(", all refused", "AIR.DENSITY", true, [](std::size_t n) {
        return Values{column(n, 500.0, 0.02), 1013.0, 0.4};
    });
}

struct Rows {
    std::vector<double> times, values;
};

/// A reading every 10 ms that swings and scatters.
Rows swinging(std::size_t length) {
    Rows rows;
    for (std::size_t i = 0; i < length; ++i) {
        const double t = 0.01 * static_cast<double>(i);
        rows.times.push_back(t);
        rows.values.push_back(30.0 + 20.0 * std::sin(0.5 * t) +
                              0.01 * (static_cast<double>((i * 7919) % 13) - 6.0));
    }
    return rows;
}

/// A pull of ten seconds on rollers, logged the finer the longer the log is.
Rows pull(std::size_t length) {
    Rows rows;
    for (std::size_t i = 0; i < length; ++i) {
        const double t = 10.0 * static_cast<double>(i) / static_cast<double>(length - 1);
        rows.times.push_back(t);
        rows.values.push_back(60.0 + 9.0 * t - 0.2 * t * t +
                              0.01 * (static_cast<double>((i * 7919) % 13) - 6.0));
    }
    return rows;
}

void logs() {
    grow("log: power on the road", lengths, [](std::size_t n) {
        return [c = bench::invented_car(1600.0), r = swinging(n)] {
            (void)road::log_power(r.times, r.values, c);
        };
    });
    grow("log: runs on the road", {2000, 20000, 100000, 500000}, [](std::size_t n) {
        return [r = swinging(n)] { (void)road::log_runs(r.times, r.values, 80.0 / 3.6, 120.0 / 3.6); };
    });
    grow("log: pull on rollers, the longer the finer", lengths, [](std::size_t n) {
        return [r = pull(n)] { (void)dyno::roller_pull(r.times, r.values, 20.0, 2.0); };
    });
    grow("curve: points of the torque, a run on the road", {10, 100, 1000, 10000}, [](std::size_t n) {
        std::vector<double> speeds, torques;
        for (std::size_t i = 0; i < n; ++i) {
            const double share = static_cast<double>(i) / static_cast<double>(n - 1);
            speeds.push_back(150.0 + 600.0 * share);
            torques.push_back(400.0 + 200.0 * share * (1.0 - share));
        }
        return [c = bench::invented_car(1600.0), speeds, torques] {
            const road::TorqueCurve curve(speeds, torques);
            (void)road::speed_run(c, curve, 100.0 / 3.6, 160.0 / 3.6);
        };
    });
    grow("statistics: smoothing, window 11", lengths,
         [](std::size_t n) { return [r = swinging(n)] { (void)statistics::smooth(r.values, 11.0); }; });
    grow("statistics: local parabola, half a second", lengths, [](std::size_t n) {
        return [r = swinging(n)] { (void)statistics::local_polynomial(r.times, r.values, r.times, 0.5); };
    });
    grow("statistics: agreement", lengths, [](std::size_t n) {
        return
            [r = swinging(n), u = std::vector<double>(n, 2.0)] { (void)statistics::agreement(r.values, u); };
    });
}

void builds() {
    const plan::Engine engine = plan::invented_engine();
    const double speed = 6500 * plan::rpm;
    const std::vector<std::size_t> counts{1, 10, 100, 1000};
    // One of a kind each, none like another.
    const auto varied = [](std::size_t i) { return 1.0 + 0.3 * std::sin(static_cast<double>(i)); };
    const auto clutch = [=](std::size_t i) -> plan::Part { return plan::Clutch{500.0 * varied(i)}; };
    const auto injectors = [=](std::size_t i) -> plan::Part {
        return plan::Injectors{4, 1000 * varied(i) * plan::cc_per_minute};
    };
    const auto pump = [=](std::size_t i) -> plan::Part {
        return plan::Pump{{{3e5, 7e5}, {400 * varied(i) * plan::litre_per_hour, 200 * plan::litre_per_hour}}};
    };
    const auto exhaust = [=](std::size_t i) -> plan::Part {
        return plan::PlacedPipe{{0.080 * varied(i), 1.2, 1.4}, plan::PipePlace::exhaust};
    };
    const auto intake = [=](std::size_t i) -> plan::Part {
        return plan::PlacedPipe{{0.080 * varied(i), 0.01, 0.001}, plan::PipePlace::intake};
    };
    const auto mixed = [=](std::size_t i) -> plan::Part {
        if (i % 4 == 0) return clutch(i);
        if (i % 4 == 1) return injectors(i);
        return i % 4 == 2 ? pump(i) : exhaust(i);
    };
    const auto list = [](std::size_t count, auto part) {
        plan::Parts parts;
        for (std::size_t i = 0; i < count; ++i) parts.push_back(part(i));
        return parts;
    };
    const auto limits = [&](const char* what, auto part) {
        grow(fmt::format("parts: limits of {}", what), counts, [&](std::size_t count) {
            return [&, parts = list(count, part)] { (void)plan::limits(engine, parts, {0.85}, speed); };
        });
    };
    grow("parts: operating point, mixed", counts, [&](std::size_t count) {
        return [&, parts = list(count, mixed)] {
            (void)plan::operating_point(engine, {0.85}, 150e3, speed, {}, parts);
        };
    });
    grow("parts: operating point, intake pipes in a row", counts, [&](std::size_t count) {
        return [&, parts = list(count, intake)] {
            (void)plan::operating_point(engine, {0.85}, 150e3, speed, {}, parts);
        };
    });
    limits("clutches", clutch);
    limits("injectors", injectors);
    limits("pumps", pump);
    limits("exhaust pipes", exhaust);
    limits("mixed", mixed);
    limits("intake pipes in a row", intake);
    catalogue::Function function = *catalogue::find_function("BUILD.LIMITS");
    function.remembered = false;
    const auto table = [&](const char* what, auto row) {
        grow(fmt::format("parts: BUILD.LIMITS, {}", what), counts, [&](std::size_t count) {
            std::vector<catalogue::Value> arguments = function.example.arguments;
            catalogue::Table parts(count, 6);
            for (std::size_t i = 0; i < count; ++i) row(parts, i);
            arguments[1] = parts;
            return [&function, arguments] { (void)catalogue::value_of(function, arguments); };
        });
    };
    table("clutches", [=](catalogue::Table& parts, std::size_t i) {
        parts.at(i, 0) = fmt::format("clutch {}", i);
        parts.at(i, 1) = std::string("clutch");
        parts.at(i, 2) = 500.0 * varied(i);
    });
    table("pumps", [=](catalogue::Table& parts, std::size_t i) {
        parts.at(i, 0) = fmt::format("pump {}", i);
        parts.at(i, 1) = std::string("pump");
        parts.at(i, 2) = 400.0 * varied(i);
        parts.at(i, 4) = 7.0;
    });

    plan::TableBase base;
    base.engine = engine;
    base.engine.volumetric_efficiency = 0.95;
    base.engine_model.cylinder.crank = {0.0825, 0.0928, 0.1545, 9.8};
    base.engine_model.cylinder.cylinders = 4;
    base.engine_model.cylinder.volumetric_efficiency = 0.95;
    base.redline = 7000 * plan::rpm;
    plan::Compressor compressor{};
    compressor.max_corrected_flow = 2.0;
    const plan::Parts stage{plan::Injectors{4, 4000 * plan::cc_per_minute}, compressor,
                            plan::ChargeCooler{0.8}};
    grow("stages: table on one fuel", {1, 2, 4, 8}, [&](std::size_t count) {
        return [&base, stages = std::vector<plan::Parts>(count, stage)] {
            (void)plan::stage_table(base, stages, std::vector<plan::OfferedFuel>(1));
        };
    });
    grow("fuels: table of one stage", {1, 2, 4, 8}, [&](std::size_t count) {
        return [&base, &stage, fuels = std::vector<plan::OfferedFuel>(count)] {
            (void)plan::stage_table(base, std::vector<plan::Parts>(1, stage), fuels);
        };
    });
}

}  // namespace

int main(int argc, char** argv) {
    if (argc > 1) chosen = argv[1];
    fmt::print("| {:<46} | {:^15} | {:^15} | {:^15} | {:^15} | exponent |\n", "what grows", "size: µs each",
               "size: µs each", "size: µs each", "size: µs each");
    fmt::print("|{:-<48}|{:->17}|{:->17}|{:->17}|{:->17}|{:->10}|\n", "", ":", ":", ":", ":", ":");
    ranges();
    logs();
    builds();
}
