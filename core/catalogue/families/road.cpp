// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/reader.hpp"
#include "core/catalogue/tyre_size.hpp"
#include "core/catalogue/vehicle_block.hpp"
#include "core/catalogue/weather_block.hpp"
#include "core/plan/power_check.hpp"
#include "core/road/acceleration.hpp"
#include "core/road/log.hpp"
#include "core/road/power_for_time.hpp"
#include "core/road/tyre.hpp"
#include "core/statistics/clean.hpp"
#include "core/statistics/monotone_curve.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter vehicle_parameter() {
    return block("vehicle", "the car, as a vehicle block", vehicle_schema());
}
Parameter speeds_parameter() {
    return series("speeds", "engine speeds of the torque curve", Quantity::angular_speed, "rpm")
        .of(figures::engine_speed);
}
Parameter torques_parameter() {
    return series("torques", "crank torque at those speeds, full load", Quantity::torque, "N·m")
        .of(figures::torque);
}
Parameter weather_on_the_road() {
    return block("weather", "the day, as a weather block", weather_schema())
        .optional("15 °C, 101.325 kPa, dry, still, level");
}
Parameter from_parameter() {
    return number("from", "road speed at the start; 0 is a launch from rest", Quantity::speed, "km/h",
                  between(0, 500))
        .of(figures::road_speed);
}
Parameter to_parameter() {
    return number("to", "road speed at the end", Quantity::speed, "km/h", between(1, 500))
        .of(figures::road_speed);
}

Parameter log_times() {
    return series("times", "time of each row of the log", Quantity::time, "s").of(figures::log_time);
}
Parameter log_speeds() {
    return series("road_speeds", "road speed of each row", Quantity::speed, "km/h").of(figures::road_speed);
}
Parameter log_heights() {
    return series("heights", "height of the track at each row", Quantity::length, "m")
        .of(figures::height)
        .optional("the track is level, or as the weather block says");
}

road::Vehicle vehicle(Call& call, std::size_t i) {
    return vehicle_from(call.block(i), call.function().parameters[i].name, call.language());
}

road::TorqueCurve curve(Call& call, std::size_t speeds, std::size_t torques) {
    return road::TorqueCurve(call.series(speeds), call.series(torques));
}

road::Surroundings weather(Call& call, std::size_t i) {
    if (!call.given(i)) return road_weather(Day{});
    return road_weather(day_from(call.block(i), call.function().parameters[i].name, call.language()));
}

Answer time(Call& call) {
    return road::speed_run(vehicle(call, 0), curve(call, 1, 2), call.si(3), call.si(4), weather(call, 5))
        .time;
}

Answer distance_time(Call& call) {
    const road::Vehicle car = vehicle(call, 0);
    road::RunOptions options;
    if (call.given(5)) {
        options.rollout = call.si(5);
        if (car.rollout > 0.0 && car.rollout != call.si(5) && call.warnings.wanted())
            call.warn(say(call.language(), Phrase::rollout_twice,
                          {{"value", number_text(call.si(5), call.language()) + " m"},
                           {"other", number_text(car.rollout, call.language()) + " m"}}));
    }
    const double distance = call.si(3);
    const auto run = road::distance_run(car, curve(call, 1, 2), distance, weather(call, 4), options);
    Rows rows;
    rows.push_back(row(std::string("finish"), distance, run.time, run.final_speed));
    rows.push_back(row(std::string("trap, mean of the last 66 ft"), distance, run.time, run.trap_speed));
    const auto mark = [&](const char* name, double at) {
        for (const auto& passed : run.marks)
            if (std::abs(passed.distance - at) < 1e-6) {
                rows.push_back(row(std::string(name), passed.distance, passed.time, passed.speed));
                return;
            }
        rows.push_back(row(std::string(name), at, std::string("not reached"), std::string("not reached")));
    };
    mark("60 ft", 18.288);
    mark("1/8 mile", 201.168);
    mark("1/4 mile", 402.336);
    return rows;
}

std::string limit_text(road::Limit limit) {
    switch (limit) {
        case road::Limit::engine: return "engine";
        case road::Limit::grip: return "grip";
        case road::Limit::clutch: return "clutch";
        case road::Limit::shift: return "shift";
    }
    return {};
}

Answer trace(Call& call) {
    const auto rows_of_run =
        road::trace(vehicle(call, 0), curve(call, 1, 2), call.si(3), weather(call, 4), call.si(5));
    Rows rows;
    for (const auto& moment : rows_of_run)
        rows.push_back(row(moment.time, moment.speed, moment.distance, static_cast<double>(moment.gear),
                           moment.engine_speed, moment.acceleration, limit_text(moment.limit)));
    return rows;
}

Answer power_for_time(Call& call) {
    return road::power_for_time(vehicle(call, 0), curve(call, 1, 2), call.si(3), call.si(4), call.si(5),
                                weather(call, 6))
        .power;
}

Answer shift_speeds(Call& call) {
    Rows rows;
    for (const auto& shift : road::shift_speeds(vehicle(call, 0), curve(call, 1, 2), weather(call, 3)))
        rows.push_back(row(static_cast<double>(shift.gear), shift.engine_speed, shift.speed,
                           shift.engine_speed_after,
                           std::string(shift.at_rev_limit ? "rev limit" : "next gear pulls harder")));
    return rows;
}

Answer tyre_radius(Call& call) {
    const TyreSize size = read_tyre_size(call.text(0), "size", call.language());
    return road::rolling_radius(size.width, size.aspect, size.rim);
}

// Heights logged beside a run, at the times that the cleaning has left.
std::vector<double> heights_at(Call& call, std::size_t i, std::span<const double> raw_times,
                               std::span<const double> times) {
    if (!call.given(i)) return {};
    const auto raw = call.raw_series(i);
    const auto cleaned =
        statistics::clean_series(raw_times, raw, statistics::Log::over_time, {"times", "heights"}, 2);
    const statistics::MonotoneCurve height(cleaned.x, cleaned.y, "times", "heights");
    std::vector<double> heights;
    heights.reserve(times.size());
    for (const double time : times)
        heights.push_back(height.at(std::clamp(time, height.first(), height.last()), "times"));
    return heights;
}

Answer log_time(Call& call) {
    const auto raw_times = call.raw_series(0);
    const auto log = statistics::clean_series(raw_times, call.raw_series(1), statistics::Log::over_time,
                                              {"times", "road_speeds"}, 3);
    call.warn(statistics::warnings(log.dropped));
    const auto heights = heights_at(call, 4, raw_times, log.x);
    road::LogOptions options;
    options.heights = heights;
    if (call.given(5)) options.max_slope = call.si(5);
    options.trigger_speed = call.si(6);
    options.rollout = call.si(7);
    return road::log_time(log.x, log.y, call.si(2), call.si(3), options).time;
}

Answer log_power(Call& call) {
    const road::Vehicle car = vehicle(call, 2);
    const road::Surroundings day = weather(call, 3);
    const auto raw_times = call.raw_series(0);
    const auto log = statistics::clean_series(raw_times, call.raw_series(1), statistics::Log::over_time,
                                              {"times", "road_speeds"}, 4);
    call.warn(statistics::warnings(log.dropped));
    const auto heights = heights_at(call, 4, raw_times, log.x);
    road::LogPowerOptions options;
    options.heights = heights;
    options.half_width = call.si(5);
    if (call.given(6)) options.gear = static_cast<std::size_t>(call.si(6));
    options.uncertainty = plan::usual_uncertainty(car, day);
    Rows rows;
    const auto powers = road::log_power(log.x, log.y, car, day, options);
    rows.reserve(powers.size());
    for (const auto& at : powers)
        rows.push_back(row(at.time, at.speed, at.wheel_power, at.crank_power, at.crank_uncertainty,
                           std::isfinite(at.engine_speed) ? Cell(at.engine_speed) : Cell(std::string())));
    return rows;
}

constexpr const char* run_method =
    "Longitudinal dynamics in each gear: torque curve (shape-preserving cubic), driveline loss, rotating "
    "inertia, rolling resistance, slope, air drag with the density and wind of the day, grip with load "
    "transfer. Driven for the shortest time: a roll-on starts in the quickest gear; the car shifts where the "
    "next gear pulls harder or at the rev limit, with the shift time without drive; it stays in a gear to "
    "the end where that is quicker, over a distance at the rev limit if necessary. No torque is assumed "
    "outside the curve. From rest, timing starts after the rollout of the vehicle block (0 if omitted). "
    "Adaptive integration; events are located by root finding. Closed course only.";

}  // namespace

std::vector<Function> road() {
    const Table car = examples::vehicle();
    const Table speeds = examples::engine_speeds();
    const Table pull = examples::torques();
    return {
        {
            .name = "ROAD.TIME",
            .summary = "Acceleration time from one speed to another",
            .parameters = {vehicle_parameter(), speeds_parameter(), torques_parameter(), from_parameter(),
                           to_parameter(), weather_on_the_road()},
            .result = Result::number("time", Quantity::time, "s").of(figures::run_time),
            .method = run_method,
            .sources = {"Gillespie 1992", "Wong 2001"},
            .example = {{car, speeds, pull, 100.0, 200.0}, 12.1383780979, 1e-6},
            .compute = time,
            .accuracy = "closed forms of constant power and of constant force with drag met to 1e-6; "
                        "independent of the step",
            .remembered = true,
        },
        {
            .name = "ROAD.DISTANCE.TIME",
            .summary = "Time and speeds over a distance from rest, with intermediate times",
            .parameters = {vehicle_parameter(), speeds_parameter(), torques_parameter(),
                           number("distance", "length of the run", Quantity::length, "m", between(1, 10000))
                               .of(figures::distance),
                           weather_on_the_road(),
                           number("rollout", "distance covered before timing starts", Quantity::length, "m",
                                  between(0, 1))
                               .of(figures::rollout)
                               .optional("the rollout of the vehicle block")},
            .result = Result::table("finish, trap speed, 60 ft, 1/8 and 1/4 mile",
                                    {{"mark"},
                                     {"distance", Quantity::length, "m", figures::distance},
                                     {"time", Quantity::time, "s", figures::moment},
                                     {"road speed", Quantity::speed, "km/h", figures::road_speed}}),
            .method = run_method,
            .sources = {"Gillespie 1992", "Wong 2001"},
            .example = {{car, speeds, pull, 402.336}, 13.5416019500, 1e-6, 1, 2},
            .compute = distance_time,
            .remembered = true,
        },
        {
            .name = "ROAD.TRACE",
            .summary = "Run from rest to a speed, row by row",
            .parameters = {vehicle_parameter(), speeds_parameter(), torques_parameter(), to_parameter(),
                           weather_on_the_road(),
                           number("time_step", "time between two rows", Quantity::time, "s",
                                  between(0.01, 60))
                               .of(figures::fit_time)
                               .otherwise(0.1)},
            .result = Result::table("the run, one row per time step and one at each shift",
                                    {{"time", Quantity::time, "s", figures::moment},
                                     {"road speed", Quantity::speed, "km/h", figures::road_speed},
                                     {"distance", Quantity::length, "m", figures::distance},
                                     {"gear", figures::gear},
                                     {"engine speed", Quantity::angular_speed, "rpm", figures::engine_speed},
                                     {"acceleration", Quantity::acceleration, "m/s²", figures::acceleration},
                                     {"limited by"}}),
            .method = run_method,
            .sources = {"Gillespie 1992", "Wong 2001"},
            .example = {{car, speeds, pull, 100.0}, 0.0, 1e-6, 1, 0},
            .compute = trace,
            .remembered = true,
        },
        {
            .name = "ROAD.POWER.FOR.TIME",
            .summary = "Peak crank power required for an acceleration time",
            .parameters =
                {vehicle_parameter(), speeds_parameter(), torques_parameter(), from_parameter(),
                 to_parameter(),
                 number("time", "time wanted", Quantity::time, "s", between(0.1, 600)).of(figures::run_time),
                 weather_on_the_road()},
            .result = Result::number("greatest power of the scaled curve", Quantity::power, "kW")
                          .of(figures::brake_power),
            .method =
                "The torque curve is scaled without a change of shape until the run takes the wanted time.",
            .sources = {"Gillespie 1992"},
            .example = {{car, speeds, pull, 100.0, 200.0, 8.0}, 335.230471430, 1e-6},
            .compute = power_for_time,
            .remembered = true,
        },
        {
            .name = "ROAD.SHIFT.SPEEDS",
            .summary = "Engine speed for each upshift",
            .parameters = {vehicle_parameter(), speeds_parameter(), torques_parameter(),
                           weather_on_the_road()},
            .result = Result::table("one row per upshift",
                                    {{"gear", figures::gear},
                                     {"shift at", Quantity::angular_speed, "rpm", figures::engine_speed},
                                     {"road speed", Quantity::speed, "km/h", figures::road_speed},
                                     {"falls to", Quantity::angular_speed, "rpm", figures::engine_speed},
                                     {"reason"}}),
            .method = "Where the next gear accelerates the car harder, at the latest at the rev limit.",
            .sources = {"Gillespie 1992"},
            .example = {{car, speeds, pull}, 6800.0, 1e-9, 1, 1},
            .compute = shift_speeds,
            .remembered = true,
        },
        {
            .name = "ROAD.LOG.TIME",
            .summary = "Acceleration time from one speed to another in a logged run",
            .parameters = {log_times(), log_speeds(), from_parameter(), to_parameter(), log_heights(),
                           share("largest_slope", "greatest mean slope allowed for a run, up or down",
                                 between(0, 0.5))
                               .optional("runs of any slope count"),
                           number("trigger_speed",
                                  "for runs from rest: speed above which the car counts as moving",
                                  Quantity::speed, "km/h", between(0, 18))
                               .of(figures::road_speed)
                               .otherwise(0),
                           number("rollout", "for runs from rest: distance covered before timing starts",
                                  Quantity::length, "m", between(0, 1))
                               .of(figures::rollout)
                               .otherwise(0)},
            .result = Result::number("time of the quickest run in the log", Quantity::time, "s")
                          .of(figures::run_time),
            .method = "The start and end are interpolated linearly between neighbouring rows. The log is "
                      "cleaned first; a warning says which rows were left out. A run steeper than the slope "
                      "allowed is refused.",
            .sources = {"common practice"},
            .example = {{examples::log_times(), examples::log_speeds(), 100.0, 150.0}, 5.0, 1e-9},
            .compute = log_time,
        },
        {
            .name = "ROAD.LOG.POWER",
            .summary = "Wheel and crank power from a logged run",
            .parameters = {log_times(), log_speeds(), vehicle_parameter(), weather_on_the_road(),
                           log_heights(),
                           number("half_width", "half the width of the window of the local fit, in time",
                                  Quantity::time, "s", between(0.01, 10))
                               .of(figures::fit_time)
                               .otherwise(0.5),
                           plain("gear", "gear of the run", Quantity::count, between(1, 20))
                               .of(figures::gear)
                               .optional("the lowest one that the rev limit allows at each row")},
            .result =
                Result::table("the log, row by row",
                              {{"time", Quantity::time, "s", figures::log_time},
                               {"road speed", Quantity::speed, "km/h", figures::road_speed},
                               {"wheel power", Quantity::power, "kW", figures::power},
                               {"crank power", Quantity::power, "kW", figures::power},
                               {"standard uncertainty", Quantity::power, "kW", figures::brake_power},
                               {"engine speed", Quantity::angular_speed, "rpm", figures::engine_speed}}),
            .method = "Equation of motion solved for power: speed and acceleration by a local parabola, "
                      "wheel power = (mass and wheels × acceleration + road load) × speed, crank power with "
                      "the engine's inertia and the driveline. Uncertainty by the GUM from the scatter of "
                      "the log and from quantities that were not measured: mass 1 %, drag area 5 %, rolling "
                      "resistance 15 %, driveline 0.03, air density 0.5 %, wind 1 m/s.",
            .formula = "P_w = (m_w·a + F_r)·v; P = (P_w + J·(i/r)^2·a·v)/η",
            .symbols = "P_w wheel power, P crank power, m_w mass with the wheels' inertia, a acceleration, "
                       "F_r road load of rolling, slope and air, v speed, J inertia of the engine, i overall "
                       "ratio, r rolling radius, η driveline efficiency",
            .sources = {"Gillespie 1992", "Savitzky & Golay 1964", "GUM"},
            .example = {{examples::log_times(), examples::log_speeds(), car, std::monostate{},
                         std::monostate{}, 1.0, 3.0},
                        154.0482187,
                        1e-6,
                        5,
                        3},
            .compute = log_power,
            .remembered = true,
        },
    };
}

std::vector<Function> tyre() {
    return {
        {
            .name = "TYRE.RADIUS",
            .summary = "Rolling radius of a tyre from its size",
            .parameters = {text("size", "tyre size, for example 255/35 R19")},
            .result = Result::number("rolling radius", Quantity::length, "m").of(figures::tyre_radius),
            .method = "Nominal geometry by ETRTO (rim diameter and twice the section height), half of it "
                      "times 0.965 for the rolling radius under load.",
            .formula = "r = 0.965·(d + 2·b·q)/2",
            .symbols = "d rim diameter, b section width, q section height / section width",
            .sources = {"ETRTO", "common practice"},
            .example = {{"255/35 R19"}, 0.31898075, 1e-9},
            .compute = tyre_radius,
        },
    };
}

}  // namespace pullsheet::catalogue::families
