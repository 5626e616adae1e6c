// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/shared.hpp"
#include "core/catalogue/reader.hpp"
#include "core/fuel/fuel.hpp"
#include "core/injection/injector.hpp"
#include "core/injection/pump.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter rated_flow(Text name, Text meaning) {
    return number(name, meaning, Quantity::volume_flow, "cc/min", above(0))
        .by_mass_too(injection::test_fluid_density);
}
Parameter pressure_across(Text name, Text meaning) {
    return number(name, meaning, Quantity::pressure_difference, "bar", Si(injection::possible::fuel_pressure))
        .established(Si(injection::established::fuel_pressure));
}
Parameter fluid_density(Text name, Text meaning) {
    return number(name, meaning, Quantity::density, "kg/m³", injection::possible::fluid_density);
}
Parameter count(Text name, Text meaning, Interval range) {
    return plain(name, meaning, Quantity::count, range);
}
Parameter injectors() {
    return count("count", "number of injectors", injection::possible::count);
}
Parameter injector_flow() {
    return rated_flow("injector_flow", "flow of one injector held open, at the pressure in use")
        .of(figures::injector_flow);
}
Parameter largest_duty() {
    return share("largest_duty", "largest planned duty", injection::possible::duty)
        .otherwise(injection::usual_highest_duty)
        .established(injection::established::duty);
}
Parameter crank_angle(Text name, Text meaning) {
    return number(name, meaning, Quantity::angle, "°", between(-180, 360));
}

// A rating given as a mass flow refers to the test fluid.
double rated_volume_flow(Call& call) {
    NumberText written;
    const Unit* unit =
        split_number(call.text(0), written) && !written.unit.empty() ? find_unit(written.unit) : nullptr;
    if (!unit || unit->quantity != Quantity::mass_flow) return call.si(0);
    const double flow = call.si(0) * injection::test_fluid_density / call.si(3);
    if (call.warnings.wanted())
        call.warn(say(call.language(), Phrase::rating_by_mass,
                      {{"value", std::string(call.text(0))},
                       {"flow", quantity_text(flow, Quantity::volume_flow, call.language())},
                       {"density", number_text(call.si(3), call.language())}}));
    return flow;
}

}  // namespace

std::vector<Function> injector() {
    return {
        {
            .name = "INJECTOR.FLOW",
            .summary = "Flow of an injector at another pressure and with another fluid",
            .parameters = {rated_flow("rated_flow", "rated flow of one injector held open")
                               .of(figures::injector_flow)
                               .by_mass_too(injection::test_fluid_density, false),
                           pressure_across("rated_pressure",
                                           "pressure difference across the injector at the rated flow"),
                           pressure_across(
                               "fuel_pressure",
                               "pressure difference across the injector in use: rail minus manifold")
                               .counted(Over::manifold),
                           fluid_density("rated_density", "density of the test fluid; n-heptane by SAE J1832")
                               .of(figures::fuel_density)
                               .otherwise(injection::test_fluid_density),
                           fluid_density("density", "density of the fluid in use")
                               .of(figures::fuel_density)
                               .optional("that of the test fluid")},
            .result = Result::number("flow of one injector held open", Quantity::volume_flow, "cc/min")
                          .of(figures::injector_flow),
            .method = "Orifice with constant discharge coefficient: volume flow proportional to √(Δp/ρ).",
            .formula = "Q = Q_r·√(Δp/Δp_r)·√(ρ_r/ρ)",
            .symbols = "Q flow, Δp pressure difference across the injector, ρ density of the fluid; index r: "
                       "as rated",
            .sources = {"Bernoulli", "SAE J1832", "Çengel & Boles 2015"},
            .example = {{550.0, 3.0, 4.0}, 635.0853, 1e-6},
            .compute = [](Call& call) -> Answer {
                return injection::injector_flow(rated_volume_flow(call), call.si(1), call.si(2), call.si(3),
                                                call.given(4) ? call.si(4) : call.si(3));
            },
        },
        {
            .name = "INJECTOR.DUTY",
            .summary = "Injector duty: share of the time that the injectors are open",
            .parameters = {fuel_flow(from(0)), injectors(), injector_flow(), fuel_parameter(),
                           number("speed", "speed of the crankshaft", Quantity::angular_speed, "rpm",
                                  above(0))
                               .of(figures::engine_speed)
                               .optional("without dead time"),
                           number("dead_time", "dead time per pulse: opening delay less closing delay",
                                  Quantity::time, "ms", Si(injection::possible::dead_time))
                               .otherwise(0)
                               .established(Si(injection::established::dead_time))},
            .result =
                Result::plain("duty; above 1 the injectors are too small", Quantity::share).of(figures::duty),
            .method = "Sequential port injection, one pulse per cycle: fuel flow / (count × flow × density "
                      "at 15 °C) + dead time / cycle time.",
            .formula = "D = ṁ_f/(z·Q·ρ) + t_d·n/2",
            .symbols = "ṁ_f fuel flow, z injectors, Q flow of one, ρ density of the fuel at 15 °C, t_d dead "
                       "time, n speed",
            .sources = {"common practice"},
            .example = {{60.0, 4.0, 550.0, 0.0, 6500.0, 0.85}, 0.6561697936, 1e-8},
            .compute = [](Call& call) -> Answer {
                const double duty = injection::injector_duty(
                    call.si(0), call.si(1), call.si(2), call.fuel(3),
                    call.given(4) ? std::optional<double>(call.si(4)) : std::nullopt, call.si(5));
                call.warn(injection::duty_warnings(duty));
                return duty;
            },
        },
        {
            .name = "INJECTOR.SIZE",
            .summary = "Flow required of each injector",
            .parameters = {fuel_flow(from(0)), injectors(), largest_duty(), fuel_parameter()},
            .result = Result::number("flow of one injector held open, at the pressure in use",
                                     Quantity::volume_flow, "cc/min")
                          .of(figures::injector_demand)
                          .by_mass_too(injection::test_fluid_density),
            .method = "Fuel flow / (count × duty × density at 15 °C).",
            .formula = "Q = ṁ_f/(z·D·ρ)",
            .symbols = "ṁ_f fuel flow, z injectors, D duty, ρ density of the fuel at 15 °C",
            .sources = {"common practice"},
            .example = {{99.0, 4.0}, 651.4015, 1e-6},
            .compute = [](Call& call) -> Answer {
                return injection::injector_size(call.si(0), call.si(1), call.si(2), call.fuel(3));
            },
        },
        {
            .name = "INJECTOR.POWER",
            .summary = "Power that injectors carry",
            .parameters = {injector_flow(), injectors(), largest_duty(), fuel_parameter(),
                           brake_efficiency()},
            .result = Result::number("brake power", Quantity::power, "kW").of(figures::brake_power),
            .method = "Fuel flow at that duty × heating value × efficiency.",
            .formula = "P = z·Q·ρ·D·H·η",
            .symbols = "z injectors, Q flow of one, ρ density of the fuel at 15 °C, D duty, H lower heating "
                       "value, η efficiency",
            .sources = {"common practice"},
            .example = {{550.0, 4.0}, 302.31355, 1e-8},
            .compute = [](Call& call) -> Answer {
                return injection::injector_power(call.si(0), call.si(1), call.si(2), call.fuel(3),
                                                 call.si(4));
            },
        },
        {
            .name = "INJECTOR.WINDOW",
            .summary = "Time available for direct injection between two crank angles",
            .parameters = {crank_angle("opening_angle", "start of injection, before firing top dead centre")
                               .of(figures::injection_angle),
                           crank_angle("closing_angle",
                                       "end of injection, before top dead centre; negative after it")
                               .of(figures::injection_angle),
                           number("speed", "speed of the crankshaft", Quantity::angular_speed, "rpm",
                                  above(0))
                               .of(figures::engine_speed)},
            .result = Result::number("time available", Quantity::time, "ms").of(figures::injection_time),
            .method = "Crank angle / engine speed.",
            .formula = "t = (θ_o - θ_c)/ω",
            .symbols =
                "θ_o and θ_c crank angles at which injection opens and closes, ω speed of the crankshaft",
            .sources = {"common practice"},
            .example = {{300.0, 60.0, 6000.0}, 6.666666667, 1e-9},
            .compute = [](Call& call) -> Answer {
                return injection::injection_window(call.si(0), call.si(1), call.si(2));
            },
        },
    };
}

std::vector<Function> pump() {
    return {
        {
            .name = "PUMP.DEMAND",
            .summary = "Flow required of a fuel pump",
            .parameters = {fuel_flow(from(0)), fuel_parameter(),
                           share("margin", "margin above the fuel flow", injection::possible::margin)
                               .otherwise(0.1)
                               .established(injection::established::margin)},
            .result = Result::number("flow at 15 °C", Quantity::volume_flow, "L/h").of(figures::pump_flow),
            .method = "Fuel flow / density × (1 + margin).",
            .formula = "Q = ṁ_f/ρ·(1 + m)",
            .symbols = "ṁ_f fuel flow, ρ density of the fuel at 15 °C, m margin",
            .sources = {"common practice"},
            .example = {{74.5, 0.0}, 110.0},
            .compute = [](Call& call) -> Answer {
                return injection::pump_demand(call.si(0), call.fuel(1), call.si(2));
            },
        },
        {
            .name = "PUMP.POWER",
            .summary = "Power that fuel pumps carry at a pressure",
            .parameters = {series("pump_pressures", "pressures of the pump's curve",
                                  Quantity::pressure_difference, "bar")
                               .of(figures::pump_pressure),
                           series("pump_flows", "flow of one pump at those pressures", Quantity::volume_flow,
                                  "L/h")
                               .of(figures::pump_flow),
                           number("pump_pressure",
                                  "pressure rise across the pump: injector pressure difference plus boost "
                                  "plus line losses",
                                  Quantity::pressure_difference, "bar",
                                  Si(injection::possible::fuel_pressure))
                               .of(figures::pump_pressure),
                           fuel_parameter(), brake_efficiency(),
                           count("count", "number of equal pumps in parallel", injection::possible::pumps)
                               .otherwise(1)},
            .result = Result::number("brake power", Quantity::power, "kW").of(figures::brake_power),
            .method = "Pump curve of one point or more, interpolated by a monotone cubic. Beyond the last "
                      "pressure the flow is not known; below the first pressure the flow of the first point "
                      "is used. Power = fuel flow × heating value × efficiency.",
            .formula = "P = z·Q(Δp)·ρ·H·η",
            .symbols = "z pumps, Q(Δp) the pump's curve at the fuel pressure, ρ density of the fuel at 15 "
                       "°C, H lower heating value, η efficiency",
            .sources = {"Fritsch & Butland 1984", "common practice"},
            .example = {{examples::column({3, 4, 5, 6}), examples::column({310, 288, 262, 233}), 5.0, 0.0},
                        705.9371667,
                        1e-8},
            .compute = [](Call& call) -> Answer {
                return injection::pump_power({call.series(0), call.series(1)}, call.si(2), call.fuel(3),
                                             call.si(4), call.si(5));
            },
        },
        {
            .name = "PUMP.PLUNGER.FLOW",
            .summary = "Flow of a cam-driven high-pressure pump",
            .parameters = {number("plunger_diameter", "diameter of the plunger", Quantity::length, "mm",
                                  between(0.1, 100))
                               .of(figures::plunger_length),
                           number("lift", "lift of the cam", Quantity::length, "mm", between(0.1, 100))
                               .of(figures::plunger_length),
                           count("lobes", "lobes of the cam", injection::possible::lobes),
                           number("speed", "speed of the crankshaft", Quantity::angular_speed, "rpm", from(0))
                               .of(figures::engine_speed),
                           share("filling", "volumetric filling", injection::possible::filling)
                               .otherwise(0.9)
                               .established(injection::established::filling),
                           plain("cam_ratio", "cam revolutions per crankshaft revolution", Quantity::ratio,
                                 injection::possible::cam_ratio)
                               .otherwise(0.5)},
            .result = Result::number("flow", Quantity::volume_flow, "L/h").of(figures::injector_flow),
            .method = "π/4·diameter²·lift × lobes × cam speed × filling.",
            .formula = "Q = π/4·d^2·h·k·i·n·f",
            .symbols = "d diameter, h lift, k lobes, i cam revolutions per crankshaft revolution, n speed, f "
                       "filling",
            .sources = {"common practice"},
            .example = {{10.0, 4.0, 4.0, 6000.0, 0.85}, 192.26547, 1e-7},
            .compute = [](Call& call) -> Answer {
                return injection::plunger_flow(call.si(0), call.si(1), call.si(2), call.si(3), call.si(4),
                                               call.si(5));
            },
        },
    };
}

}  // namespace pullsheet::catalogue::families
