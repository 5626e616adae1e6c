// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/cycle.hpp"

#include <cmath>
#include <iterator>

#include "core/catalogue/engine_block.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/labelled.hpp"
#include "core/cycle/boost_limit.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter engine_with_rod() {
    return block("engine", "the engine, as an engine block with bore, stroke and rod length",
                 engine_schema());
}
Parameter modelled_speed() {
    return number("speed", "speed of the crankshaft", Quantity::angular_speed, "rpm",
                  Si(cycle::possible::angular_speed))
        .of(figures::engine_speed);
}
Parameter modelled_pressure() {
    return number("manifold_pressure", "absolute pressure in the manifold", Quantity::pressure, "kPa",
                  Si(cycle::possible::manifold_pressure))
        .of(figures::manifold_pressure);
}
Parameter modelled_temperature() {
    return number("manifold_temperature", "charge temperature in the manifold", Quantity::temperature, "°C",
                  Si(cycle::possible::manifold_temperature))
        .of(figures::manifold_temperature);
}
Parameter modelled_lambda() {
    return plain("lambda", "air–fuel ratio / stoichiometric air–fuel ratio", Quantity::ratio,
                 cycle::possible::lambda)
        .otherwise(0.85);
}
Parameter spark(Text name, Text meaning) {
    return number(name, meaning, Quantity::angle, "°", Si(cycle::possible::spark_angle));
}

std::vector<Parameter> one_point() {
    return {engine_with_rod(), modelled_speed(), modelled_pressure(), modelled_temperature(),
            spark("spark_angle", "start of the burn before top dead centre; negative after it")
                .of(figures::spark)};
}

// The same with the mixture, which may be omitted.
std::vector<Parameter> one_cycle(std::vector<Parameter> required = {}, std::vector<Parameter> further = {}) {
    std::vector<Parameter> all = one_point();
    std::move(required.begin(), required.end(), std::back_inserter(all));
    all.push_back(fuel_parameter());
    all.push_back(modelled_lambda());
    std::move(further.begin(), further.end(), std::back_inserter(all));
    return all;
}

cycle::Cylinder cylinder_of(Call& call) {
    return cylinder_from(call.block(0), call.function().parameters[0].name, call.language(), call.warnings);
}

// The lambda stands beside the fuel, wherever that is.
cycle::CyclePoint cycle_point(Call& call, std::size_t fuel) {
    cycle::CyclePoint point;
    point.angular_speed = call.si(1);
    point.manifold_pressure = call.si(2);
    point.manifold_temperature = call.si(3);
    point.lambda = call.si(fuel + 1);
    return point;
}

cycle::CyclePoint point_with_spark(Call& call, std::size_t fuel = 5) {
    cycle::CyclePoint point = cycle_point(call, fuel);
    point.spark_angle = call.si(4);
    return point;
}

cycle::CycleResult run(Call& call) {
    const cycle::CyclePoint point = point_with_spark(call);
    auto result = cycle::run(cylinder_of(call), point, call.fuel(5));
    call.warn(result.warnings);
    return result;
}

Answer result(Call& call) {
    const auto found = run(call);
    Rows rows;
    rows.push_back(labelled(call, "indicated mean effective pressure", found.indicated_mean_pressure,
                            Quantity::pressure_difference, "bar", figures::mean_pressure));
    rows.push_back(labelled(call, "brake mean effective pressure", found.brake_mean_pressure,
                            Quantity::pressure_difference, "bar", figures::mean_pressure));
    rows.push_back(labelled(call, "torque", found.torque, Quantity::torque, "N·m", figures::torque));
    rows.push_back(labelled(call, "power", found.power, Quantity::power, "kW", figures::power));
    rows.push_back(labelled(call, "peak pressure", found.peak_pressure, Quantity::pressure, "bar",
                            figures::peak_pressure));
    rows.push_back(labelled(call, "peak pressure angle", found.peak_pressure_angle, Quantity::angle, "°",
                            figures::crank_angle));
    rows.push_back(labelled(call, "50 % burned angle", found.half_burned_angle, Quantity::angle, "°",
                            figures::crank_angle));
    rows.push_back(
        labelled(call, "burn duration", found.burn_duration, Quantity::angle, "°", figures::burn_duration));
    rows.push_back(labelled(call, "exhaust temperature", found.exhaust_temperature, Quantity::temperature,
                            "°C", figures::cylinder_exhaust));
    rows.push_back(
        labelled(call, "knock integral", found.knock_integral, Quantity::ratio, "", figures::knock_integral));
    rows.push_back(labelled(call, "octane number", found.octane, Quantity::number, "", figures::octane));
    rows.push_back(
        labelled(call, "efficiency", found.efficiency, Quantity::ratio, "", figures::cycle_efficiency));
    rows.push_back(labelled(call, "air flow", found.air_flow, Quantity::mass_flow, "g/s", figures::air_flow));
    rows.push_back(
        labelled(call, "fuel flow", found.fuel_flow, Quantity::mass_flow, "kg/h", figures::fuel_flow));
    rows.push_back(
        labelled(call, "residual share", found.residual_share, Quantity::ratio, "", figures::residual));
    rows.push_back(labelled(call, "temperature at inlet valve closing", found.charge_temperature,
                            Quantity::temperature, "°C", figures::manifold_temperature));
    rows.push_back(labelled(call, "friction mean effective pressure", found.friction_mean_pressure,
                            Quantity::pressure_difference, "bar", figures::mean_pressure));
    rows.push_back(labelled(call, "pumping mean effective pressure", found.pumping_mean_pressure,
                            Quantity::pressure_difference, "bar", figures::mean_pressure));
    rows.push_back(labelled(call, "exhaust pressure", found.exhaust_pressure, Quantity::pressure, "kPa",
                            figures::gas_pressure));
    rows.push_back(
        labelled(call, "wall heat share", found.wall_heat, Quantity::ratio, "", figures::wall_heat));
    rows.push_back(labelled(call, "gas temperature before the turbine", found.gas_temperature,
                            Quantity::temperature, "°C", figures::gas_temperature));
    return rows;
}

Answer cycle_trace(Call& call) {
    const cycle::CyclePoint point = point_with_spark(call);
    Rows rows;
    for (const auto& at : cycle::trace(cylinder_of(call), point, call.fuel(5), call.si(7)))
        rows.push_back(
            row(at.angle, at.volume, at.pressure, at.unburned_temperature,
                std::isfinite(at.burned_temperature) ? Cell(at.burned_temperature) : Cell(std::string()),
                at.burned_share));
    return rows;
}

Answer integral(Call& call) {
    const cycle::CyclePoint point = point_with_spark(call);
    const cycle::Cylinder cylinder = cylinder_of(call);
    const fuel::Fuel fuel = call.fuel(5);
    const double integral = cycle::knock_integral(cylinder, point, fuel);
    call.warn(cycle::knock_warnings(integral, cycle::octane(cylinder, point, fuel)));
    return integral;
}

Answer spark_limit(Call& call) {
    const auto limit = cycle::spark_limit(cylinder_of(call), cycle_point(call, 4), call.fuel(4));
    for (const auto& warning : limit.result.warnings)
        if (warning.reason != Reason::knocks) call.warn({warning});
    return limit.spark_angle;
}

std::string limit_text(cycle::BoostLimited limited) {
    switch (limited) {
        case cycle::BoostLimited::knock: return "knock";
        case cycle::BoostLimited::peak_pressure: return "peak pressure";
        case cycle::BoostLimited::exhaust_temperature: return "exhaust temperature";
        case cycle::BoostLimited::manifold_pressure: return "manifold pressure";
    }
    return {};
}

Answer boost_limit(Call& call) {
    cycle::CyclePoint point;
    point.angular_speed = call.si(1);
    point.manifold_temperature = call.si(2);
    point.lambda = call.si(4);
    cycle::BoostBounds bounds;
    bounds.latest_half_burned = call.si(5);
    if (call.given(6)) bounds.highest_manifold_pressure = call.si(6);
    if (call.given(7)) bounds.highest_peak_pressure = call.si(7);
    bounds.highest_gas_temperature = call.si(8);
    const auto limit = cycle::boost_limit(cylinder_of(call), point, call.fuel(3), bounds);
    for (const auto& warning : limit.result.warnings)
        if (warning.reason != Reason::knocks) call.warn({warning});
    Rows rows;
    rows.push_back(labelled(call, "manifold pressure", limit.manifold_pressure, Quantity::pressure, "kPa",
                            figures::manifold_pressure));
    rows.push_back(labelled(call, "torque", limit.result.torque, Quantity::torque, "N·m", figures::torque));
    rows.push_back(labelled(call, "power", limit.result.power, Quantity::power, "kW", figures::power));
    rows.push_back(labelled(call, "spark angle", limit.spark_angle, Quantity::angle, "°", figures::spark));
    rows.push_back(labelled(call, "exhaust temperature", limit.result.exhaust_temperature,
                            Quantity::temperature, "°C", figures::cylinder_exhaust));
    rows.push_back(row(std::string("limited by"), limit_text(limit.limited_by), std::string()));
    rows.push_back(labelled(call, "50 % burned angle", limit.result.half_burned_angle, Quantity::angle, "°",
                            figures::crank_angle));
    rows.push_back(labelled(call, "peak pressure", limit.result.peak_pressure, Quantity::pressure, "bar",
                            figures::peak_pressure));
    rows.push_back(labelled(call, "gas temperature before the turbine", limit.result.gas_temperature,
                            Quantity::temperature, "°C", figures::gas_temperature));
    return rows;
}

Answer calibrate(Call& call) {
    const cycle::CyclePoint point = point_with_spark(call);
    const auto calibration = cycle::calibrate(cylinder_of(call), point, call.fuel(5));
    // The measured point knocks by definition: that is no news.
    for (const auto& warning : calibration.warnings)
        if (warning.reason != Reason::knocks) call.warn({warning});
    return calibration.octane_offset;
}

Answer efficiency_factor(Call& call) {
    const cycle::CyclePoint point = point_with_spark(call, 6);
    return cycle::efficiency_factor(cylinder_of(call), point, call.fuel(6), call.si(5));
}

constexpr const char* cycle_method =
    "Crank-angle-resolved two-zone cycle from intake valve closing to exhaust valve opening: NASA "
    "polynomials, burned gas in equilibrium, Wiebe burn, Woschni heat transfer, fuel evaporation, residual "
    "gas, Chen–Flynn friction, heat to the exhaust ports. Cylinder filling and exhaust back pressure replace "
    "a "
    "gas exchange calculation. The exhaust temperature is that of the gas leaving the cylinder; before the "
    "turbine a probe reads some 40 K less than the gas temperature stated. No substitute for knock "
    "detection, "
    "exhaust temperature and lambda measured on the rollers.";
constexpr const char* knock_method =
    "Livengood–Wu integral in the unburned zone with the delay of Douaud and Eyzat (pressure in "
    "atmospheres). The largest value of this spark and all later ones is given, so that more advance never "
    "clears knock. For planning and cross-checks, not for calibrating an engine: watch knock detection, "
    "exhaust temperature and lambda.";

}  // namespace

std::vector<Function> cycle() {
    const Table car = examples::measured_engine();
    return {
        {
            .name = "CYCLE.RESULT",
            .summary = "Results of one engine cycle: pressures, torque, power, temperatures, knock",
            .parameters = one_cycle(),
            .result = Result::labelled("results of the cycle, one per row"),
            .method = cycle_method,
            .formula = "x_b = 1 - exp(-a·((θ - θ_0)/Δθ)^(m + 1))",
            .symbols =
                "x_b share burned at the crank angle θ, θ_0 start of the burn, Δθ its duration; a = 5 and "
                "m = 2 shape the burn",
            .sources = {"Heywood 1988", "GRI-Mech 3.0", "Wiebe 1970", "Woschni 1967", "Chen & Flynn 1965",
                        "Livengood & Wu 1955", "Douaud & Eyzat 1978"},
            .example = {{car, 4000.0, 160.0, 45.0, 12.0, 0.0, 0.85}, 257.8441218, 1e-5, 3, 1},
            .compute = result,
            .accuracy = "energy and mass balances close within 1e-8; absolute power depends on the "
                        "calibration to a measured point",
            .remembered = true,
        },
        {
            .name = "CYCLE.TRACE",
            .summary = "Pressure, temperatures and burned share against crank angle",
            .parameters = one_cycle({}, {number("angle_step", "crank angle step from row to row",
                                                Quantity::angle, "°", between(0.05, 5))
                                             .of(figures::crank_angle)
                                             .otherwise(1)}),
            .result = Result::table(
                "the cycle, row by row",
                {{"crank angle", Quantity::angle, "°", figures::crank_angle},
                 {"cylinder volume", Quantity::volume, "cc", figures::cylinder_gas},
                 {"cylinder pressure", Quantity::pressure, "bar", figures::cylinder_pressure},
                 {"unburned temperature", Quantity::temperature, "°C", figures::flame_temperature},
                 {"burned temperature", Quantity::temperature, "°C", figures::flame_temperature},
                 {"burned share", figures::share}}),
            .method = cycle_method,
            .formula = "x_b = 1 - exp(-a·((θ - θ_0)/Δθ)^(m + 1))",
            .symbols =
                "x_b share burned at the crank angle θ, θ_0 start of the burn, Δθ its duration; a = 5 and "
                "m = 2 shape the burn",
            .sources = {"Heywood 1988", "GRI-Mech 3.0", "Wiebe 1970", "Woschni 1967"},
            .example = {{car, 4000.0, 160.0, 45.0, 12.0, 0.0, 0.85}, -140.0, 1e-6, 1, 0},
            .compute = cycle_trace,
            .remembered = true,
        },
        {
            .name = "CYCLE.EFFICIENCY.FACTOR",
            .summary = "Factor that calibrates the cycle to a measured power",
            .parameters = one_cycle({number("power", "measured brake power", Quantity::power, "kW", above(0))
                                         .of(figures::brake_power)}),
            .result = Result::plain("efficiency factor, for the engine block", Quantity::ratio)
                          .of(figures::efficiency_factor),
            .method = "Closed form: factor on the gross indicated work with which the cycle gives the "
                      "measured brake power.",
            .sources = {"Heywood 1988"},
            .example = {{car, 4000.0, 160.0, 45.0, 12.0, 120.0, 0.0, 0.85}, 1.095951469, 1e-5},
            .compute = efficiency_factor,
            .remembered = true,
        },
    };
}

std::vector<Function> knock() {
    const Table car = examples::measured_engine();
    return {
        {
            .name = "KNOCK.INTEGRAL",
            .summary = "Knock integral of a cycle: knock begins at 1",
            .parameters = one_cycle(),
            .result = Result::plain("knock integral", Quantity::ratio).of(figures::knock_integral),
            .method = knock_method,
            .formula = "K = ∫(dt/τ); τ = 17.68·(ON/100)^3.402·p^(-1.7)·exp(3800/T)",
            .symbols =
                "τ delay in ms, ON octane number (RON + offset - K·(RON - MON - 10))·(1 + 0.3·x), x share of "
                "residual gas, p pressure in atmospheres, T temperature of the "
                "unburned gas in K; from the closing of the inlet valve to the end of the burn",
            .sources = {"Livengood & Wu 1955", "Douaud & Eyzat 1978", "Kalghatgi 2001"},
            .example = {{car, 4000.0, 160.0, 45.0, 12.0, 0.0, 0.85}, 0.7172090751, 1e-5},
            .compute = integral,
            .remembered = true,
        },
        {
            .name = "KNOCK.SPARK.LIMIT",
            .summary = "Spark advance at the knock limit or at best torque (MBT), whichever is less",
            .parameters = {engine_with_rod(), modelled_speed(), modelled_pressure(), modelled_temperature(),
                           fuel_parameter(), modelled_lambda()},
            .result = Result::number("spark before top dead centre", Quantity::angle, "°").of(figures::spark),
            .method = knock_method,
            .sources = {"Livengood & Wu 1955", "Douaud & Eyzat 1978", "Heywood 1988"},
            .example = {{car, 4000.0, 160.0, 45.0, 0.0, 0.85}, 17.81342107, 1e-4},
            .compute = spark_limit,
            .remembered = true,
        },
        {
            .name = "KNOCK.BOOST.LIMIT",
            .summary = "Highest manifold pressure that a fuel allows",
            .parameters = {engine_with_rod(), modelled_speed(), modelled_temperature(), fuel_parameter(),
                           modelled_lambda(),
                           number("latest_half_burned", "latest 50 % burned angle after top dead centre",
                                  Quantity::angle, "°", between(0, 50))
                               .of(figures::crank_angle)
                               .otherwise(35),
                           number("highest_manifold_pressure", "highest manifold pressure allowed, absolute",
                                  Quantity::pressure, "kPa", between(60, 1000))
                               .of(figures::manifold_pressure)
                               .optional("600 kPa"),
                           number("highest_peak_pressure", "highest peak cylinder pressure allowed",
                                  Quantity::pressure, "bar", between(20, 400))
                               .of(figures::peak_pressure)
                               .optional("no limit"),
                           number("highest_exhaust_temperature",
                                  "highest reading allowed of a probe before the turbine; the spark moves to "
                                  "keep it",
                                  Quantity::temperature, "°C", between(300, 1500))
                               .of(figures::gas_temperature)
                               .otherwise(1050)},
            .result = Result::labelled("operating point at the limit, and the limiting quantity"),
            .method = knock_method,
            .sources = {"Livengood & Wu 1955", "Douaud & Eyzat 1978", "Heywood 1988"},
            .example = {{car, 4000.0, 45.0, 0.0, 0.85}, 272.1081794, 1e-5, 1, 1},
            .compute = boost_limit,
            .remembered = true,
        },
        {
            .name = "KNOCK.CALIBRATE",
            .summary = "Octane offset that calibrates the knock model to a measured knock limit",
            .parameters = {engine_with_rod(), modelled_speed(), modelled_pressure(), modelled_temperature(),
                           spark("knock_limited_spark",
                                 "spark angle before top dead centre at which the engine began to knock")
                               .of(figures::spark),
                           fuel_parameter(), modelled_lambda()},
            .result = Result::plain("octane offset, for the engine block", Quantity::number)
                          .of(figures::octane_offset),
            .method = "Closed form: octane number with which the knock integral of the measured point is 1, "
                      "minus that of the fuel.",
            .sources = {"Livengood & Wu 1955", "Douaud & Eyzat 1978"},
            .example = {{car, 4000.0, 180.0, 45.0, 10.0, 0.0, 0.85}, -6.649232315, 1e-5},
            .compute = calibrate,
            .remembered = true,
        },
    };
}

}  // namespace pullsheet::catalogue::families
