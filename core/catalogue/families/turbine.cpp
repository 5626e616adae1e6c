// SPDX-License-Identifier: Apache-2.0
#include "core/boost/turbine.hpp"

#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/labelled.hpp"

namespace pullsheet::catalogue::families {
namespace {

// In every function: gas flow, gas temperature, pressures, effective area, then the rest.
Parameter turbine_gas_flow() {
    return number("gas_flow", "exhaust gas through the turbine: air and fuel", Quantity::mass_flow, "g/s",
                  above(0))
        .of(figures::air_flow);
}
Parameter turbine_gas_temperature() {
    return number("gas_temperature", "before the turbine", Quantity::temperature, "°C", between(-100, 1500))
        .of(figures::turbine_gas_temperature);
}
Parameter turbine_inlet_pressure() {
    return number("inlet_pressure", "absolute, before the turbine", Quantity::pressure, "kPa",
                  between(1, 5000))
        .of(figures::gas_pressure);
}
Parameter turbine_outlet_pressure() {
    return number("outlet_pressure", "absolute, after the turbine", Quantity::pressure, "kPa",
                  between(1, 5000))
        .of(figures::gas_pressure);
}
Parameter effective_area() {
    return number(
               "effective_area",
               "area of each of the nozzles that pass what the turbine passes; it does not follow from A/R",
               Quantity::area, "cm²", between(0.01, 10000))
        .of(figures::effective_area);
}
Parameter expansion_ratio(Interval range) {
    return plain("pressure_ratio", "absolute pressure before over after the turbine", Quantity::ratio, range)
        .of(figures::expansion_ratio);
}
Parameter efficiency_with_bearings() {
    return share("turbine_efficiency", "of turbine and bearings together", {0.0, 1.0, true, false})
        .of(figures::turbine_efficiency);
}
Parameter power_of_compressor(Interval range) {
    return number("compressor_power", "shaft power of the compressor", Quantity::power, "kW", range)
        .of(figures::compressor_power);
}
Parameter pulse_amplitude() {
    return share(
               "pulse_amplitude",
               "share by which the flow swings about its mean at each pulse; an assumption to be calibrated, "
               "usually higher with two entries to the turbine than with one")
        .of(figures::pulse_amplitude)
        .otherwise(0);
}
Parameter nozzles() {
    return plain("nozzles", "nozzles in series: 2 stand for a turbine, 1 is a bare orifice", Quantity::count,
                 between(1, 2))
        .of(figures::nozzles)
        .otherwise(boost::turbine_nozzles);
}

Result inlet_pressure_result(Text meaning) {
    return Result::number(meaning, Quantity::pressure, "kPa").of(figures::gas_pressure);
}

}  // namespace

std::vector<Function> turbine() {
    return {
        {
            .name = "TURBINE.FLOW",
            .summary = "Exhaust gas that a turbine passes",
            .parameters = {turbine_gas_temperature(), turbine_inlet_pressure(), turbine_outlet_pressure(),
                           effective_area(), nozzles()},
            .result =
                Result::number("mass flow of exhaust gas", Quantity::mass_flow, "g/s").of(figures::air_flow),
            .method =
                "Two equal nozzles in series, one for stator and one for rotor, each by the flow "
                "function of a nozzle, which chokes at its critical ratio; total pressure before, static "
                "after; κ = 1.34, c_p = 1150 J/(kg·K). The speed of the wheel is left out.",
            .formula = "ṁ = A·p_3/√(R·T_3)·ψ(√(p_3/p_4)); ψ(y) = √(2·κ/(κ - 1)·(y^(-2/κ) - y^(-(κ + 1)/κ)))",
            .symbols = "A effective area, p_3 and T_3 before the turbine, absolute and in K, p_4 after it, "
                       "κ 1.34, R 291.8 J/(kg·K); y at most 1.857",
            .sources = {"Watson & Janota 1982", "Heywood 1988"},
            .example = {{950.0, 236.0, 105.0, 12.0}, 307.4155, 1e-6},
            .compute = [](Call& call) -> Answer {
                return boost::turbine_flow(call.si(0), call.si(1), call.si(2), call.si(3), call.si(4));
            },
        },
        {
            .name = "TURBINE.AREA",
            .summary = "Effective area of a turbine from one measured point",
            .parameters = {turbine_gas_flow(), turbine_gas_temperature(), turbine_inlet_pressure(),
                           turbine_outlet_pressure(), nozzles()},
            .result = Result::number("effective area", Quantity::area, "cm²").of(figures::effective_area),
            .method = "The inverse of TURBINE.FLOW. The point comes from the maker's flow curve or from a "
                      "logged pressure before the turbine with the wastegate shut. A/R alone does not give "
                      "it: the rotor stands in series with the volute.",
            .formula = "A = ṁ·√(R·T_3)/(p_3·ψ(√(p_3/p_4)))",
            .symbols = "ṁ gas flow, p_3 and T_3 before the turbine, absolute and in K, p_4 after it, R "
                       "291.8 J/(kg·K); ψ as in TURBINE.FLOW",
            .sources = {"Watson & Janota 1982", "Heywood 1988"},
            .example = {{160.0, 900.0, 180.0, 104.0}, 8.76704609, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::turbine_area(call.si(0), call.si(1), call.si(2), call.si(3), call.si(4));
            },
        },
        {
            .name = "TURBINE.INLET.PRESSURE",
            .summary = "Pressure before the turbine at which a flow passes it",
            .parameters = {turbine_gas_flow(), turbine_gas_temperature(), turbine_outlet_pressure(),
                           effective_area(), pulse_amplitude(), nozzles()},
            .result = inlet_pressure_result("absolute pressure before the turbine, the mean over a pulse"),
            .method = "The inverse of TURBINE.FLOW. With a pulse amplitude, the mean of the pressure over "
                      "the period of a flow ṁ·(1 + a·sin φ), the turbine following each moment.",
            .formula = "p_3 = ṁ·√(R·T_3)/(A·ψ(√(p_3/p_4)))",
            .symbols = "ṁ gas flow, A effective area, p_3 and T_3 before the turbine, absolute and in K, "
                       "p_4 after it, R 291.8 J/(kg·K); ψ as in TURBINE.FLOW",
            .sources = {"Watson & Janota 1982", "Heywood 1988"},
            .example = {{318.0, 950.0, 105.0, 12.0}, 242.737391, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::turbine_inlet_pressure(call.si(0), call.si(1), call.si(2), call.si(3),
                                                     call.si(4), call.si(5));
            },
        },
        {
            .name = "TURBINE.CORRECTED.FLOW",
            .summary = "Gas flow as a turbine map states it",
            .parameters = {turbine_gas_flow(), turbine_gas_temperature(), turbine_inlet_pressure(),
                           number("reference_temperature", "reference condition of the map",
                                  Quantity::temperature, "°C", between(-100, 1500))
                               .of(figures::inlet_temperature)
                               .otherwise(15),
                           number("reference_pressure", "reference condition of the map", Quantity::pressure,
                                  "kPa", between(1, 5000))
                               .of(figures::air_pressure)
                               .otherwise(101.325)},
            .result =
                Result::number("corrected flow", Quantity::mass_flow, "g/s").of(figures::corrected_flow),
            .method = "ṁ·√(T₃/T_ref)/(p₃/p_ref). Makers' maps differ in their reference. The reduced flow, "
                      "ṁ·√T₃/p₃, is the corrected one times √T_ref/p_ref.",
            .formula = "ṁ_c = ṁ·√(T_3/T_r)/(p_3/p_r)",
            .symbols = "ṁ gas flow, T_3 and p_3 before the turbine in K and absolute, T_r and p_r "
                       "reference of the "
                       "map",
            .sources = {"SAE J1826", "Dixon & Hall 2014"},
            .example = {{307.4155, 950.0, 236.0}, 271.932377, 1e-6},
            .compute = [](Call& call) -> Answer {
                return boost::corrected_flow(call.si(0), call.si(1), call.si(2), {call.si(3), call.si(4)});
            },
        },
        {
            .name = "TURBINE.POWER",
            .summary = "Power that the turbine hands to the shaft",
            .parameters = {turbine_gas_flow(), turbine_gas_temperature(), expansion_ratio(between(1, 20)),
                           efficiency_with_bearings()},
            .result = Result::number("shaft power", Quantity::power, "kW").of(figures::compressor_power),
            .method = "Isentropic expansion from the total state before to the static pressure after, times "
                      "the efficiency with bearings as gas stands measure it; κ = 1.34, c_p = 1150 J/(kg·K).",
            .formula = "P = ṁ·c_p·T_3·η·(1 - Π^(-(κ - 1)/κ))",
            .symbols = "ṁ gas flow, T_3 gas temperature in K, Π pressure ratio, η efficiency, κ 1.34, c_p "
                       "1150 J/(kg·K)",
            .sources = {"Heywood 1988", "Watson & Janota 1982"},
            .example = {{318.0, 950.0, 2.25, 0.68}, 56.5662199, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::turbine_power(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "TURBINE.PRESSURE.RATIO",
            .summary = "Expansion ratio at which the turbine drives the compressor",
            .parameters = {turbine_gas_flow(), turbine_gas_temperature(), power_of_compressor(from(0)),
                           efficiency_with_bearings()},
            .result = Result::plain("pressure before over after the turbine", Quantity::ratio)
                          .of(figures::expansion_ratio),
            .method = "Balance of shaft power; exhaust gas with κ = 1.34, c_p = 1150 J/(kg·K).",
            .formula = "Π = (1 - P/(ṁ·c_p·T·η))^(-κ/(κ - 1))",
            .symbols = "P power of the compressor, ṁ gas flow, T gas temperature in K, η efficiency, κ 1.34, "
                       "c_p 1150 J/(kg·K)",
            .sources = {"Heywood 1988"},
            .example = {{214.0, 849.85, 20.4618443, 0.70}, 1.55361642, 1e-7},
            .compute = [](Call& call) -> Answer {
                return boost::turbine_pressure_ratio(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "TURBINE.BLADE.SPEED.RATIO",
            .summary = "Speed of the turbine wheel's tip over that of the expanded gas",
            .parameters = {number("diameter", "of the turbine wheel where the gas enters it",
                                  Quantity::length, "mm", between(1, 2000))
                               .of(figures::wheel_diameter),
                           number("shaft_speed", "of the turbocharger", Quantity::angular_speed, "rpm",
                                  from(0))
                               .of(figures::shaft_speed),
                           turbine_gas_temperature(), expansion_ratio(between(1.01, 20))},
            .result = Result::plain("blade speed ratio", Quantity::ratio).of(figures::blade_speed_ratio),
            .method =
                "Tip speed over the velocity that the gas would have after an expansion without losses; "
                "κ = 1.34, c_p = 1150 J/(kg·K).",
            .formula = "ν = D/2·ω/√(2·c_p·T_3·(1 - Π^(-(κ - 1)/κ)))",
            .symbols = "D diameter, ω shaft speed in rad/s, T_3 gas temperature in K, Π pressure ratio, κ "
                       "1.34, c_p 1150 J/(kg·K)",
            .sources = {"Dixon & Hall 2014"},
            .example = {{70.0, 128000.0, 950.0, 2.25}, 0.648606164, 1e-8},
            .compute = [](Call& call) -> Answer {
                return boost::blade_speed_ratio(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "TURBINE.EFFICIENCY",
            .summary = "Efficiency of a radial turbine away from its best blade speed",
            .parameters = {plain("blade_speed_ratio", "speed of the tip over that of the expanded gas",
                                 Quantity::ratio, between(0, 10))
                               .of(figures::blade_speed_ratio),
                           share("peak_efficiency", "at the best blade speed ratio, bearings included",
                                 {0.0, 1.0, true, false})
                               .of(figures::turbine_efficiency)
                               .otherwise(boost::usual_turbine_efficiency),
                           plain("optimum_blade_speed_ratio", "where the efficiency is best", Quantity::ratio,
                                 {0.0, 2.0, true, false})
                               .of(figures::blade_speed_ratio)
                               .otherwise(boost::usual_optimum_blade_speed_ratio)},
            .result = Result::plain("efficiency of turbine and bearings", Quantity::share).of(figures::share),
            .method = "A parabola over the blade speed ratio that vanishes at rest; not below 0.15, which a "
                      "warning says.",
            .formula = "η = η_0·(1 - ((ν - ν_0)/ν_0)^2)",
            .symbols = "η_0 peak efficiency, ν blade speed ratio, ν_0 the best one",
            .sources = {"Dixon & Hall 2014", "Wahlström & Eriksson 2011"},
            .example = {{0.55, 0.72, 0.68}, 0.693685121, 1e-8},
            .compute = [](Call& call) -> Answer {
                const double efficiency = boost::turbine_efficiency(call.si(0), call.si(1), call.si(2));
                if (efficiency <= boost::lowest_turbine_efficiency)
                    call.warn({{Reason::turbine_off_design,
                                {{call.si(0), Quantity::ratio}, {efficiency, Quantity::share}}}});
                return efficiency;
            },
        },
        {
            .name = "TURBINE.WASTEGATE",
            .summary = "Share of the gas past the turbine so that it just drives the compressor",
            .parameters = {turbine_gas_flow(), turbine_gas_temperature(), turbine_outlet_pressure(),
                           effective_area(), power_of_compressor(above(0)), efficiency_with_bearings(),
                           pulse_amplitude(), nozzles()},
            .result = Result::labelled("wastegate flow share, wastegate area, pressure before the turbine, "
                                       "its expansion ratio and "
                                       "the pulse factor"),
            .method = "The turbine gets as much gas as it needs for the power of the compressor; the rest "
                      "passes the wastegate, one nozzle between the same pressures. The gas flow is that of "
                      "the engine. Pulse factor: mean power over the power of the same flow without pulses.",
            .formula = "P = (1 - x)·ṁ·c_p·T_3·η·(1 - (p_3/p_4)^(-(κ - 1)/κ))",
            .symbols = "P power of the compressor, x wastegate flow share, ṁ gas flow, T_3 and p_3 before "
                       "the turbine in K and absolute, p_4 after it, η efficiency, κ 1.34, c_p 1150 "
                       "J/(kg·K); p_3 as in TURBINE.INLET.PRESSURE",
            .sources = {"Watson & Janota 1982", "Heywood 1988"},
            .example = {{500.0, 950.0, 135.0, 12.0, 95.0, 0.68}, 0.0711128874, 1e-8, 1, 1},
            .compute = [](Call& call) -> Answer {
                boost::Turbine turbine{};
                turbine.effective_area = call.si(3);
                turbine.efficiency = call.si(5);
                turbine.pulse_amplitude = call.si(6);
                turbine.nozzles = call.si(7);
                const auto at = boost::drive(turbine, {call.si(0), call.si(1)}, call.si(2), call.si(4));
                return Rows{labelled(call, "wastegate flow share", at.wastegate_share, Quantity::share, "",
                                     figures::share),
                            labelled(call, "wastegate area", at.wastegate_area, Quantity::area, "cm²",
                                     figures::wastegate_area),
                            labelled(call, "inlet pressure", at.inlet_pressure, Quantity::pressure, "kPa",
                                     figures::gas_pressure),
                            labelled(call, "pressure ratio", at.pressure_ratio(), Quantity::ratio, "",
                                     figures::expansion_ratio),
                            labelled(call, "pulse factor", at.pulse_factor, Quantity::ratio, "",
                                     figures::pulse_factor)};
            },
        },
    };
}

}  // namespace pullsheet::catalogue::families
