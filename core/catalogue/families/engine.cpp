// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/shared.hpp"
#include "core/engine/air_flow.hpp"
#include "core/engine/geometry.hpp"
#include "core/engine/power.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter torque() {
    return number("torque", "torque at the crank", Quantity::torque, "N·m", finite).of(figures::torque);
}
Parameter power() {
    return number("power", "brake power", Quantity::power, "kW", from(0)).of(figures::power);
}
Parameter speed() {
    return number("speed", "speed of the crankshaft", Quantity::angular_speed, "rpm", above(0))
        .of(figures::engine_speed);
}
Parameter displacement() {
    return number("displacement", "displacement of all cylinders", Quantity::volume, "L", above(0))
        .of(figures::displacement);
}
Parameter bore() {
    return number("bore", "bore of a cylinder", Quantity::length, "mm", above(0))
        .of(figures::cylinder_length)
        .established(Si(engine::established::bore));
}
Parameter stroke() {
    return number("stroke", "stroke of the piston", Quantity::length, "mm", above(0))
        .of(figures::cylinder_length)
        .established(Si(engine::established::stroke));
}
Parameter engine_air_flow() {
    return number("air_flow", "air flow of the engine", Quantity::mass_flow, "g/s", from(0))
        .of(figures::air_flow);
}
Parameter manifold_pressure() {
    return number("manifold_pressure", "absolute pressure in the manifold: boost plus station pressure",
                  Quantity::pressure, "kPa", Si(engine::possible::manifold_pressure))
        .established(Si(engine::established::manifold_pressure));
}
Parameter manifold_temperature() {
    return number("manifold_temperature", "charge temperature in the manifold", Quantity::temperature, "°C",
                  Si(engine::possible::manifold_temperature))
        .established(Si(engine::established::manifold_temperature));
}
Parameter volumetric_efficiency() {
    return share("volumetric_efficiency", "volumetric efficiency, referred to the density in the manifold",
                 engine::possible::volumetric_efficiency)
        .established(engine::established::volumetric_efficiency);
}

std::vector<Function> power_and_geometry() {
    return {
        {
            .name = "ENGINE.POWER",
            .summary = "Power from torque and engine speed",
            .parameters = {torque(),
                           number("speed", "speed of the crankshaft", Quantity::angular_speed, "rpm", from(0))
                               .of(figures::engine_speed)},
            .result = Result::number("power", Quantity::power, "kW").of(figures::power),
            .method = "P = T·ω.",
            .formula = "P = T·ω",
            .symbols = "P power, T torque, ω speed of the crankshaft in rad/s",
            .sources = {"Heywood 1988"},
            .example = {{350.0, 5500.0}, 201.585528605, 1e-11},
            .compute = [](Call& call) -> Answer { return engine::power(call.si(0), call.si(1)); },
        },
        {
            .name = "ENGINE.TORQUE",
            .summary = "Torque from power and engine speed",
            .parameters = {number("power", "power", Quantity::power, "kW", finite).of(figures::power),
                           speed()},
            .result = Result::number("torque", Quantity::torque, "N·m").of(figures::torque),
            .method = "T = P/ω.",
            .formula = "T = P/ω",
            .symbols = "P power, T torque, ω speed of the crankshaft in rad/s",
            .sources = {"Heywood 1988"},
            .example = {{"300 hp", 6000.0}, 356.0455, 1e-6},
            .compute = [](Call& call) -> Answer { return engine::torque(call.si(0), call.si(1)); },
        },
        {
            .name = "ENGINE.SPEED",
            .summary = "Engine speed from power and torque",
            .parameters = {number("power", "power", Quantity::power, "kW", finite).of(figures::power),
                           torque()},
            .result = Result::number("speed of the crankshaft", Quantity::angular_speed, "rpm")
                          .of(figures::engine_speed),
            .method = "ω = P/T.",
            .formula = "ω = P/T",
            .symbols = "P power, T torque, ω speed of the crankshaft in rad/s",
            .sources = {"Heywood 1988"},
            .example = {{200.0, 350.0}, 5456.740906, 1e-9},
            .compute = [](Call& call) -> Answer { return engine::speed(call.si(0), call.si(1)); },
        },
        {
            .name = "ENGINE.DISPLACEMENT",
            .summary = "Displacement from bore, stroke and number of cylinders",
            .parameters = {bore(), stroke(),
                           plain("cylinders", "number of cylinders, a whole number", Quantity::count,
                                 engine::possible::cylinders)},
            .result = Result::number("displacement", Quantity::volume, "L").of(figures::displacement),
            .method = "π/4·bore²·stroke·cylinders.",
            .formula = "V = π/4·B^2·S·z",
            .symbols = "B bore, S stroke, z number of cylinders",
            .sources = {"Heywood 1988"},
            .example = {{86.0, 86.0, 4.0}, 1.998228857, 1e-9},
            .compute = [](Call& call) -> Answer {
                return engine::displacement(call.si(0), call.si(1), call.si(2));
            },
        },
        {
            .name = "ENGINE.COMPRESSION.RATIO",
            .summary = "Geometric compression ratio of an assembled engine",
            .parameters =
                {bore(), stroke(),
                 number("chamber_volume", "volume of the combustion chamber in the head", Quantity::volume,
                        "cc", from(0))
                     .of(figures::cylinder_volume),
                 number("gasket_bore", "bore of the head gasket", Quantity::length, "mm", above(0))
                     .of(figures::cylinder_length),
                 number("gasket_thickness", "compressed thickness of the head gasket", Quantity::length, "mm",
                        from(0))
                     .of(figures::small_length)
                     .established(Si(engine::established::gasket_thickness)),
                 number("deck_clearance",
                        "distance of the piston below the deck at top dead centre; negative if it protrudes",
                        Quantity::length, "mm", between(-50, 100))
                     .established(Si(engine::established::deck_clearance)),
                 number("piston_volume", "dish positive, dome negative", Quantity::volume, "cc",
                        between(-2000, 2000))
                     .of(figures::cylinder_volume)
                     .otherwise(0)},
            .result = Result::plain("compression ratio", Quantity::ratio).of(figures::compression_ratio),
            .method = "(swept volume + clearance volume) / clearance volume; clearance volume = chamber + "
                      "gasket + deck + dish.",
            .formula = "ε = (V_s + V_c)/V_c; V_s = π/4·B^2·S; V_c = V_k + π/4·B_g^2·s_g + π/4·B^2·d + V_p",
            .symbols = "B bore, S stroke, V_k chamber, B_g and s_g bore and thickness of the gasket, d deck "
                       "clearance, V_p dish of the piston",
            .sources = {"Heywood 1988"},
            .example = {{86.0, 86.0, 44.0, 87.5, 1.0, 0.25, 3.2}, 10.13845248, 1e-9},
            .compute = [](Call& call) -> Answer {
                return engine::compression_ratio(call.si(0), call.si(1), call.si(2), call.si(3), call.si(4),
                                                 call.si(5), call.si(6));
            },
        },
        {
            .name = "ENGINE.PISTON.SPEED",
            .summary = "Mean piston speed",
            .parameters = {stroke(),
                           number("speed", "speed of the crankshaft", Quantity::angular_speed, "rpm", from(0))
                               .of(figures::engine_speed)},
            .result = Result::number("mean piston speed", Quantity::speed, "m/s").of(figures::piston_speed),
            .method = "2·stroke·n.",
            .formula = "v = 2·S·n",
            .symbols = "S stroke, n speed of the crankshaft in revolutions per second",
            .sources = {"Heywood 1988"},
            .example = {{86.0, 7000.0}, 20.06666667, 1e-9},
            .compute = [](Call& call) -> Answer { return engine::mean_piston_speed(call.si(0), call.si(1)); },
        },
        {
            .name = "ENGINE.PISTON.ACCELERATION",
            .summary = "Greatest acceleration of the piston, at top dead centre",
            .parameters = {stroke(),
                           number("rod_length", "connecting rod, centre to centre", Quantity::length, "mm",
                                  above(0))
                               .of(figures::cylinder_length),
                           number("speed", "speed of the crankshaft", Quantity::angular_speed, "rpm", from(0))
                               .of(figures::engine_speed)},
            .result = Result::number("acceleration", Quantity::acceleration, "m/s²")
                          .of(figures::piston_acceleration),
            .method = "r·ω²·(1 + r/rod), r half the stroke.",
            .formula = "a = r·ω^2·(1 + r/l)",
            .symbols = "r half the stroke, l connecting rod, ω speed of the crankshaft in rad/s",
            .sources = {"Heywood 1988"},
            .example = {{86.0, 143.5, 6000.0}, 22062.521, 1e-7},
            .compute = [](Call& call) -> Answer {
                return engine::top_piston_acceleration(call.si(0), call.si(1), call.si(2));
            },
        },
        {
            .name = "ENGINE.BMEP",
            .summary = "Brake mean effective pressure from torque and displacement",
            .parameters = {torque(), displacement(),
                           plain("strokes", "2 or 4", Quantity::count, between(2, 4)).otherwise(4)},
            .result = Result::number("brake mean effective pressure", Quantity::pressure_difference, "bar")
                          .of(figures::mean_pressure),
            .method = "2π·T·(strokes/2)/displacement.",
            .formula = "p_e = π·i·T/V",
            .symbols = "i strokes per cycle, T torque, V displacement",
            .sources = {"Heywood 1988"},
            .example = {{320.0, 1.984}, 20.26834, 1e-6},
            .compute = [](Call& call) -> Answer { return engine::bmep(call.si(0), call.si(1), call.si(2)); },
        },
    };
}

std::vector<Function> breathing() {
    return {
        {
            .name = "ENGINE.AIR.FLOW",
            .summary = "Air flow of a four-stroke engine from manifold pressure and temperature",
            .parameters = {displacement(), speed(), manifold_pressure(), manifold_temperature(),
                           volumetric_efficiency()},
            .result = Result::number("air flow", Quantity::mass_flow, "g/s").of(figures::air_flow),
            .method = "Speed–density: volumetric efficiency × displacement × p/(R·T) × n/2, dry air.",
            .formula = "ṁ = η_v·V·p/(R·T)·n/2",
            .symbols = "η_v volumetric efficiency, V displacement, p and T of the charge in the manifold, R "
                       "287.05287 J/(kg·K), n speed",
            .sources = {"Heywood 1988"},
            .example = {{1.984, 5500.0, 180.0, 45.0, 1.0}, 179.2263232, 1e-8},
            .compute = [](Call& call) -> Answer {
                return engine::air_flow(call.si(0), call.si(1), call.si(2), call.si(3), call.si(4));
            },
        },
        {
            .name = "ENGINE.VOLUMETRIC.EFFICIENCY",
            .summary = "Volumetric efficiency from a measured air flow",
            .parameters = {engine_air_flow(), displacement(), speed(), manifold_pressure(),
                           manifold_temperature()},
            .result = Result::plain("volumetric efficiency, referred to the manifold", Quantity::share)
                          .of(figures::volumetric_efficiency),
            .method = "Speed–density solved for the volumetric efficiency.",
            .formula = "η_v = 2·ṁ·R·T/(V·p·n)",
            .symbols = "ṁ air flow, V displacement, p and T of the charge in the manifold, R 287.05287 "
                       "J/(kg·K), n speed",
            .sources = {"Heywood 1988"},
            .example = {{179.2263, 1.984, 5500.0, 180.0, 45.0}, 0.9999998705, 1e-8},
            .compute = [](Call& call) -> Answer {
                return engine::volumetric_efficiency(call.si(0), call.si(1), call.si(2), call.si(3),
                                                     call.si(4));
            },
        },
        {
            .name = "ENGINE.MANIFOLD.PRESSURE",
            .summary = "Manifold pressure required for an air flow",
            .parameters = {engine_air_flow(), displacement(), speed(), manifold_temperature(),
                           volumetric_efficiency()},
            .result = Result::number("absolute pressure in the manifold", Quantity::pressure, "kPa")
                          .of(figures::manifold_pressure),
            .method = "Speed–density solved for the pressure.",
            .formula = "p = 2·ṁ·R·T/(η_v·V·n)",
            .symbols = "ṁ air flow, η_v volumetric efficiency, V displacement, p and T of the charge in the "
                       "manifold, R 287.05287 J/(kg·K), n speed",
            .sources = {"Heywood 1988"},
            .example = {{179.2263, 1.984, 5500.0, 45.0, 1.0}, 179.9999767, 1e-8},
            .compute = [](Call& call) -> Answer {
                return engine::manifold_pressure(call.si(0), call.si(1), call.si(2), call.si(3), call.si(4));
            },
        },
        {
            .name = "ENGINE.AIR.FOR.POWER",
            .summary = "Air flow required for a power",
            .parameters = {power(), fuel_parameter(), lambda(), brake_efficiency()},
            .result = Result::number("air flow", Quantity::mass_flow, "g/s").of(figures::air_flow),
            .method = "Fuel flow = power / (efficiency × lower heating value); air flow = fuel flow × "
                      "stoichiometric ratio × lambda.",
            .formula = "ṁ = λ·L_st·P/(η·H)",
            .symbols = "λ lambda, L_st stoichiometric ratio, P power, η efficiency, H lower heating value",
            .sources = {"Heywood 1988"},
            .example = {{300.0, 0.0}, 285.9889906, 1e-8},
            .compute = [](Call& call) -> Answer {
                return engine::air_for_power(call.si(0), call.fuel(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "ENGINE.POWER.FROM.AIR",
            .summary = "Power possible with an air flow",
            .parameters = {engine_air_flow(), fuel_parameter(), lambda(), brake_efficiency()},
            .result = Result::number("brake power", Quantity::power, "kW").of(figures::brake_power),
            .method = "The inverse of ENGINE.AIR.FOR.POWER.",
            .formula = "P = ṁ·η·H/(λ·L_st)",
            .symbols = "ṁ air flow, λ lambda, L_st stoichiometric ratio, P power, η efficiency, H lower "
                       "heating value",
            .sources = {"Heywood 1988"},
            .example = {{200.0, 0.85, 0.85, 0.32}, 224.0377075, 1e-8},
            .compute = [](Call& call) -> Answer {
                return engine::power_from_air(call.si(0), call.fuel(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "ENGINE.BSFC",
            .summary = "Brake specific fuel consumption",
            .parameters =
                {fuel_flow(above(0)),
                 number("power", "brake power", Quantity::power, "kW", above(0)).of(figures::power)},
            .result = Result::number("specific consumption", Quantity::specific_consumption, "g/kWh")
                          .of(figures::specific_consumption),
            .method = "Fuel flow / power.",
            .formula = "b = ṁ_f/P",
            .symbols = "ṁ_f fuel flow, P power",
            .sources = {"Heywood 1988"},
            .example = {{50.0, 200.0}, 250.0},
            .compute = [](Call& call) -> Answer { return engine::bsfc(call.si(0), call.si(1)); },
        },
        {
            .name = "ENGINE.EFFICIENCY",
            .summary = "Brake efficiency from fuel flow and power",
            .parameters = {fuel_flow(above(0)), power(), fuel_parameter()},
            .result = Result::plain("brake power / (fuel flow × lower heating value)", Quantity::share)
                          .of(figures::efficiency),
            .method = "Power / (fuel flow × lower heating value).",
            .formula = "η = P/(ṁ_f·H)",
            .symbols = "P power, ṁ_f fuel flow, H lower heating value",
            .sources = {"Heywood 1988"},
            .example = {{82.949309, 300.0}, 0.3, 1e-7},
            .compute = [](Call& call) -> Answer {
                return engine::efficiency(call.si(0), call.si(1), call.fuel(2));
            },
        },
    };
}

}  // namespace

std::vector<Function> engine() {
    std::vector<Function> all = power_and_geometry();
    for (Function& function : breathing()) all.push_back(std::move(function));
    return all;
}

}  // namespace pullsheet::catalogue::families
