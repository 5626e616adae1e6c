// SPDX-License-Identifier: Apache-2.0
#include "core/boost/charge_cooler.hpp"
#include "core/boost/compressor.hpp"
#include "core/boost/compressor_map.hpp"
#include "core/boost/pipe.hpp"
#include "core/catalogue/compressor_map_table.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/labelled.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter temperature(Text name, Text meaning) {
    return number(name, meaning, Quantity::temperature, "°C", between(-100, 1500));
}
Parameter air_flow() {
    return number("air_flow", "air flow", Quantity::mass_flow, "g/s", from(0)).of(figures::air_flow);
}
Parameter pressure_ratio() {
    return plain("pressure_ratio", "compressor outlet pressure / inlet pressure, both absolute",
                 Quantity::ratio, between(1, 20))
        .established(between(1, 6));
}
Parameter efficiency(Text name, Text meaning) {
    return share(name, meaning, {0.0, 1.0, true, false});
}
Parameter absolute(Text name, Text meaning) {
    return number(name, meaning, Quantity::pressure, "kPa", between(1, 5000));
}
Parameter difference(Text name, Text meaning) {
    return number(name, meaning, Quantity::pressure_difference, "kPa", between(0, 200)).counted(Over::point);
}
Parameter map_parameter() {
    return table("map", "columns shaft speed [rpm], corrected flow [g/s], pressure ratio, efficiency");
}
Parameter corrected_flow() {
    return number("corrected_flow", "corrected flow, at the reference condition of the map",
                  Quantity::mass_flow, "g/s", above(0))
        .of(figures::corrected_flow);
}
Parameter diameter() {
    return number("diameter", "inside diameter", Quantity::length, "mm", between(1, 2000))
        .of(figures::pipe_diameter);
}

boost::MapReading reading(Call& call) {
    const auto map =
        read_compressor_map(std::get<Table>(call.value(0)), "map", {}, call.language(), call.warnings);
    auto result = map.at(call.si(1), call.si(2));
    call.warn(result.warnings);
    return result;
}

}  // namespace

std::vector<Function> compressor() {
    return {
        {
            .name = "COMPRESSOR.PRESSURE.RATIO",
            .summary = "Pressure ratio of the compressor from the boost",
            .parameters = {number("boost", "boost: manifold pressure above ambient pressure",
                                  Quantity::pressure_difference, "bar", between(-1, 20))
                               .of(figures::boost),
                           absolute("ambient_pressure", "absolute ambient pressure: the station pressure")
                               .of(figures::air_pressure),
                           difference("intake_loss", "pressure loss of filter and intake pipe")
                               .of(figures::pressure_loss)
                               .otherwise(0),
                           difference("charge_loss", "pressure loss of cooler and charge pipes")
                               .of(figures::pressure_loss)
                               .otherwise(0)},
            .result = Result::plain("outlet pressure / inlet pressure, both absolute", Quantity::ratio)
                          .of(figures::pressure_ratio),
            .method = "(ambient + boost + charge loss) / (ambient − intake loss).",
            .formula = "Π = (p_a + p_b + Δp_c)/(p_a - Δp_i)",
            .symbols = "p_a ambient pressure, p_b boost, Δp_c and Δp_i losses of charge and intake side",
            .sources = {"Dixon & Hall 2014"},
            .example = {{0.8, 100.0, 3.0, 8.0}, 1.938144330, 1e-9},
            .compute = [](Call& call) -> Answer {
                return boost::pressure_ratio(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "COMPRESSOR.TEMPERATURE",
            .summary = "Compressor outlet temperature",
            .parameters =
                {temperature("inlet_temperature", "at the compressor inlet").of(figures::inlet_temperature),
                 pressure_ratio(),
                 efficiency("compressor_efficiency", "isentropic efficiency")
                     .of(figures::compressor_efficiency)},
            .result = Result::number("compressor outlet temperature", Quantity::temperature, "°C")
                          .of(figures::compressor_temperature),
            .method = "T₁·(1 + (Π^((κ−1)/κ) − 1)/η), κ = 1.4.",
            .formula = "T_2 = T_1·(1 + (Π^((κ - 1)/κ) - 1)/η)",
            .symbols = "T_1 inlet temperature in K, Π pressure ratio, η isentropic efficiency, κ 1.4",
            .sources = {"Dixon & Hall 2014"},
            .example = {{20.0, 2.0, 0.75}, 105.605137, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::compressor_temperature(call.si(0), call.si(1), call.si(2));
            },
        },
        {
            .name = "COMPRESSOR.EFFICIENCY",
            .summary = "Isentropic efficiency from measured temperatures",
            .parameters =
                {temperature("inlet_temperature", "at the compressor inlet").of(figures::inlet_temperature),
                 temperature("outlet_temperature", "at the compressor outlet")
                     .of(figures::compressor_temperature),
                 pressure_ratio()},
            .result =
                Result::plain("isentropic efficiency", Quantity::share).of(figures::compressor_efficiency),
            .method = "Isentropic temperature rise / measured temperature rise, κ = 1.4.",
            .formula = "η = T_1·(Π^((κ - 1)/κ) - 1)/(T_2 - T_1)",
            .symbols = "T_1 and T_2 inlet and outlet temperature in K, Π pressure ratio, κ 1.4",
            .sources = {"Dixon & Hall 2014"},
            .example = {{20.0, 105.605137, 2.0}, 0.75, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::compressor_efficiency(call.si(0), call.si(1), call.si(2));
            },
        },
        {
            .name = "COMPRESSOR.CORRECTED.FLOW",
            .summary = "Air flow corrected to the reference conditions of a compressor map",
            .parameters =
                {air_flow(),
                 temperature("inlet_temperature", "at the compressor inlet").of(figures::inlet_temperature),
                 absolute("inlet_pressure", "absolute, at the compressor inlet").of(figures::air_pressure),
                 temperature("reference_temperature", "reference condition of the map")
                     .of(figures::inlet_temperature)
                     .otherwise(25),
                 absolute("reference_pressure", "reference condition of the map")
                     .of(figures::air_pressure)
                     .otherwise(100)},
            .result =
                Result::number("corrected flow", Quantity::mass_flow, "g/s").of(figures::corrected_flow),
            .method = "ṁ·√(T₁/T_ref)/(p₁/p_ref). Maps differ in their reference: 25 °C and 100 kPa, 15 °C "
                      "and 101.325 kPa, or 85 °F and 28.4 inHg (13.95 psia).",
            .formula = "ṁ_c = ṁ·√(T_1/T_r)/(p_1/p_r)",
            .symbols = "ṁ air flow, T_1 inlet temperature in K, p_1 absolute inlet pressure, T_r and p_r "
                       "reference condition of the map",
            .sources = {"Dixon & Hall 2014"},
            .example = {{250.0, 31.85, 96.0}, 263.39122, 1e-7},
            .compute = [](Call& call) -> Answer {
                return boost::corrected_flow(call.si(0), call.si(1), call.si(2), {call.si(3), call.si(4)});
            },
        },
        {
            .name = "COMPRESSOR.POWER",
            .summary = "Shaft power of the compressor",
            .parameters =
                {air_flow(),
                 temperature("inlet_temperature", "at the compressor inlet").of(figures::inlet_temperature),
                 pressure_ratio(),
                 efficiency("compressor_efficiency", "isentropic efficiency")
                     .of(figures::compressor_efficiency)},
            .result = Result::number("shaft power", Quantity::power, "kW").of(figures::compressor_power),
            .method = "ṁ·c_p·(T₂ − T₁), c_p = 1005 J/(kg·K), κ = 1.4; without bearing friction.",
            .formula = "P = ṁ·c_p·T_1·(Π^((κ - 1)/κ) - 1)/η",
            .symbols = "ṁ air flow, c_p 1005 J/(kg·K), T_1 inlet temperature in K, Π pressure ratio, η "
                       "isentropic efficiency, κ 1.4",
            .sources = {"Dixon & Hall 2014", "Çengel & Boles 2015"},
            .example = {{200.0, 20.0, 2.0, 0.75}, 17.206633, 1e-7},
            .compute = [](Call& call) -> Answer {
                return boost::compressor_power(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "COMPRESSOR.MAP.EFFICIENCY",
            .summary = "Compressor efficiency from a map",
            .parameters = {map_parameter(), corrected_flow(), pressure_ratio()},
            .result =
                Result::plain("isentropic efficiency", Quantity::share).of(figures::compressor_efficiency),
            .method =
                "Monotone cubics along the speed lines and from line to line. A point outside the map is "
                "refused, and the error says where the map ends; a point near an edge carries a warning.",
            .sources = {"Fritsch & Butland 1984", "common practice"},
            .example = {{examples::compressor_map(), 220.0, 2.2}, 0.7451774096, 1e-8},
            .compute = [](Call& call) -> Answer { return reading(call).efficiency; },
        },
        {
            .name = "COMPRESSOR.MAP.MARGIN",
            .summary = "Surge margin and choke margin on a compressor map",
            .parameters = {map_parameter(), corrected_flow(), pressure_ratio()},
            .result = Result::labelled("surge margin, choke margin and shaft speed at the point"),
            .method = "At constant pressure ratio. Surge margin: share by which the flow may fall, (flow − "
                      "flow at the surge line) / flow. Choke margin: flow at the choke line / flow − 1.",
            .formula = "s = (ṁ - ṁ_l)/ṁ; c = ṁ_r/ṁ - 1",
            .symbols = "ṁ corrected flow, ṁ_l and ṁ_r left and right end of the map at this pressure ratio",
            .sources = {"Fritsch & Butland 1984", "common practice"},
            .example = {{examples::compressor_map(), 220.0, 2.2}, 0.5061431315, 1e-8, 1, 1},
            .compute = [](Call& call) -> Answer {
                const auto at = reading(call);
                return Rows{
                    labelled(call, "surge margin", at.surge_margin, Quantity::share, "", figures::margin),
                    labelled(call, "choke margin", at.choke_margin, Quantity::share, "", figures::margin),
                    labelled(call, "shaft speed", at.shaft_speed, Quantity::angular_speed, "rpm",
                             figures::shaft_speed)};
            },
        },
    };
}

std::vector<Function> charge() {
    return {
        {
            .name = "CHARGE.TEMPERATURE",
            .summary = "Charge temperature after the cooler",
            .parameters =
                {temperature("inlet_temperature", "before the cooler").of(figures::inlet_temperature),
                 temperature("coolant_temperature",
                             "coolant temperature at the cooler inlet; ambient air for an air-to-air cooler")
                     .of(figures::coolant_temperature),
                 share("effectiveness", "effectiveness of the cooler").of(figures::effectiveness)},
            .result = Result::number("charge temperature", Quantity::temperature, "°C")
                          .of(figures::charge_temperature),
            .method = "T₂ − ε·(T₂ − T_coolant).",
            .formula = "T_c = T_2 - ε·(T_2 - T_k)",
            .symbols = "T_2 temperature before the cooler, T_k coolant, ε effectiveness",
            .sources = {"Incropera & DeWitt 2007"},
            .example = {{136.85, 31.85, 0.72}, 61.25, 1e-9},
            .compute = [](Call& call) -> Answer {
                return boost::charge_temperature(call.si(0), call.si(1), call.si(2));
            },
        },
        {
            .name = "CHARGE.EFFECTIVENESS",
            .summary = "Effectiveness of a charge cooler from measured temperatures",
            .parameters =
                {temperature("inlet_temperature", "charge before the cooler").of(figures::inlet_temperature),
                 temperature("outlet_temperature", "charge after the cooler")
                     .of(figures::compressor_temperature),
                 temperature("coolant_temperature", "coolant at the cooler inlet")
                     .of(figures::coolant_temperature)},
            .result = Result::plain("effectiveness", Quantity::share).of(figures::effectiveness),
            .method = "(T_in − T_out)/(T_in − T_coolant).",
            .formula = "ε = (T_in - T_out)/(T_in - T_k)",
            .symbols = "T_in and T_out charge before and after the cooler, T_k coolant",
            .sources = {"Incropera & DeWitt 2007"},
            .example = {{136.85, 61.25, 31.85}, 0.72, 1e-9},
            .compute = [](Call& call) -> Answer {
                return boost::charge_effectiveness(call.si(0), call.si(1), call.si(2));
            },
        },
    };
}

std::vector<Function> pipe() {
    const auto flow_temperature = [] {
        return temperature("temperature", "air temperature in the pipe").of(figures::pipe_temperature);
    };
    const auto flow_pressure = [] {
        return absolute("pressure", "absolute pressure in the pipe").of(figures::gas_pressure);
    };
    return {
        {
            .name = "PIPE.VELOCITY",
            .summary = "Mean velocity in a pipe",
            .parameters = {air_flow(), diameter(), flow_temperature(), flow_pressure()},
            .result = Result::number("velocity", Quantity::speed, "m/s").of(figures::velocity),
            .method = "ṁ/(ρ·A), dry air.",
            .formula = "v = ṁ/(ρ·A); ρ = p/(R·T); A = π/4·d^2",
            .symbols = "ṁ air flow, d diameter, p and T of the air, R 287.05287 J/(kg·K)",
            .sources = {"Çengel & Boles 2015"},
            .example = {{150.0, 60.0, 50.0, 148.4}, 33.16126045, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::pipe_velocity(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "PIPE.MACH",
            .summary = "Mach number in a pipe",
            .parameters = {air_flow(), diameter(), flow_temperature(), flow_pressure()},
            .result = Result::plain("Mach number", Quantity::ratio).of(figures::mach),
            .method = "Velocity / √(κ·R·T), κ = 1.4.",
            .formula = "M = v/√(κ·R·T)",
            .symbols = "v mean velocity, T temperature in K, R 287.05287 J/(kg·K), κ 1.4",
            .sources = {"NACA 1135"},
            .example = {{150.0, 60.0, 50.0, 148.4}, 0.09202037207, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::pipe_mach(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "PIPE.DIAMETER",
            .summary = "Pipe diameter for a Mach number",
            .parameters =
                {number("air_flow", "air flow", Quantity::mass_flow, "g/s", above(0)).of(figures::air_flow),
                 plain("mach_number", "Mach number wanted", Quantity::ratio, {0.0, 1.0, true, false})
                     .of(figures::mach),
                 flow_temperature(), flow_pressure()},
            .result = Result::number("inside diameter", Quantity::length, "mm").of(figures::pipe_diameter),
            .method = "The inverse of PIPE.MACH.",
            .formula = "d = √(4·ṁ·R·T/(π·p·M·√(κ·R·T)))",
            .symbols = "ṁ air flow, p and T of the air, M Mach number, R 287.05287 J/(kg·K), κ 1.4",
            .sources = {"NACA 1135"},
            .example = {{150.0, 0.1, 50.0, 148.4}, 57.55634973, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::pipe_diameter(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "PIPE.PRESSURE.LOSS",
            .summary = "Pressure loss of a pipe and its fittings",
            .parameters = {air_flow(), diameter(),
                           number("length", "length of the pipe", Quantity::length, "m", between(0, 1000))
                               .of(figures::pipe_length),
                           flow_temperature(), flow_pressure(),
                           plain("loss_coefficient",
                                 "sum of the loss coefficients of bends, filter and throttle",
                                 Quantity::ratio, between(0, 1000))
                               .of(figures::loss_coefficient)
                               .otherwise(0),
                           number("roughness", "wall roughness; 0.0015 mm for drawn tube", Quantity::length,
                                  "mm", between(0, 50))
                               .of(figures::roughness)
                               .otherwise(0.0015)},
            .result = Result::number("pressure loss", Quantity::pressure_difference, "kPa")
                          .of(figures::pressure_loss),
            .method = "Darcy–Weisbach with Colebrook's friction factor, solved exactly, and Sutherland's "
                      "viscosity; density at the inlet. A large loss or a fast flow carries a warning.",
            .formula = "Δp = (f·l/d + ζ)·ρ·v^2/2; 1/√(f) = -2·log10(k/(3.7·d) + 2.51/(Re·√(f)))",
            .symbols = "f friction factor, l length, d diameter, ζ loss coefficient, ρ density and v "
                       "velocity at the inlet, k roughness, Re Reynolds number",
            .sources = {"Colebrook 1939", "ISO 2533"},
            .example = {{150.0, 60.0, 1.5, 50.0, 148.4}, 0.3620401064, 1e-8},
            .compute = [](Call& call) -> Answer {
                const boost::Pipe geometry{call.si(1), call.si(2), call.si(5), call.si(6)};
                const auto flow = boost::pipe_flow(call.si(0), geometry, call.si(3), call.si(4));
                call.warn(flow.warnings);
                return flow.pressure_loss;
            },
        },
    };
}

}  // namespace pullsheet::catalogue::families
