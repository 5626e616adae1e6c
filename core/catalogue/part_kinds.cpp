// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/part_kinds.hpp"

#include "core/boost/turbine.hpp"
#include "core/injection/injector.hpp"

namespace pullsheet::catalogue {
namespace {

constexpr Interval flow_range{0.0, 1e5, true, false};

}  // namespace

const std::vector<PartKind>& part_kinds() {
    static const std::vector<PartKind> kinds = {
        {"injectors",
         "one set; limited by the fuel flow at the largest duty; both pressures are differences across the "
         "injector",
         {PartValue{"rated flow",
                    Quantity::volume_flow,
                    "cc/min",
                    flow_range,
                    {},
                    true,
                    Over::surroundings,
                    injection::test_fluid_density}
              .of(figures::injector_flow),
          {"count", Quantity::count, "", between(1, 96), {}, true},
          PartValue{"rated pressure", Quantity::pressure_difference, "bar", between(0.5, 1000), 3.0, false}
              .of(figures::pump_pressure),
          PartValue{"fuel pressure", Quantity::pressure_difference, "bar", between(0.5, 1000), 3.0, false,
                    Over::manifold}
              .of(figures::pump_pressure),
          {"largest duty", Quantity::share, "", {0.0, 1.0, true, false}, 0.85, false},
          PartValue{"dead time", Quantity::time, "ms", between(0, 10), 0.0, false}.of(figures::dead_time)}},
        {"pump",
         "fuel pump; further rows of the same part add points to its curve. Beyond the last pressure the "
         "flow is not known; below the first pressure the flow of the first point is used. The fuel pressure "
         "is that of the rail above the manifold",
         {PartValue{"pump flow", Quantity::volume_flow, "L/h", flow_range, {}, true}.of(figures::pump_flow),
          PartValue{"pump pressure", Quantity::pressure_difference, "bar", between(0, 400), {}, true}.of(
              figures::pump_pressure),
          {"count", Quantity::count, "", between(1, 10), 1.0, false},
          PartValue{"fuel pressure", Quantity::pressure_difference, "bar", between(0.5, 400), 3.0, false,
                    Over::manifold}
              .of(figures::pump_pressure),
          {"margin", Quantity::share, "", between(0, 1), 0.1, false}}},
        {"high-pressure pump",
         "cam-driven plunger pump of direct injection",
         {PartValue{"plunger diameter", Quantity::length, "mm", between(1, 50), {}, true}.of(
              figures::plunger_length),
          PartValue{"lift", Quantity::length, "mm", between(0.5, 30), {}, true}.of(figures::plunger_length),
          {"lobes", Quantity::count, "", between(1, 12), {}, true},
          {"filling", Quantity::share, "", {0.0, 1.0, true, false}, 0.9, false},
          {"margin", Quantity::share, "", between(0, 1), 0.1, false},
          PartValue{"cam ratio", Quantity::ratio, "", between(0.1, 4), 0.5, false}.of(figures::cam_ratio)}},
        {"compressor",
         "limited by its largest corrected flow (25 °C, 100 kPa) or by the map; without a map the shaft "
         "speed "
         "follows from the wheel diameter",
         {PartValue{"largest corrected flow", Quantity::mass_flow, "g/s", flow_range, {}, false}.of(
              figures::corrected_flow),
          PartValue{"compressor efficiency", Quantity::share, "", {0.0, 1.0, true, false}, 0.70, false}.of(
              figures::compressor_efficiency),
          PartValue{"largest pressure ratio", Quantity::ratio, "", between(1, 10), {}, false}.of(
              figures::pressure_ratio),
          PartValue{"largest shaft speed", Quantity::angular_speed, "rpm", between(1000, 500000), {}, false}
              .of(figures::shaft_speed),
          {"count", Quantity::count, "", between(1, 4), 1.0, false},
          PartValue{"wheel diameter", Quantity::length, "mm", between(1, 2000), {}, false}.of(
              figures::wheel_diameter)}},
        {"turbine",
         "limited by the power at which all gas through it, with the wastegate shut, gives what the "
         "compressor "
         "takes; the effective area comes from TURBINE.AREA, not from A/R; areas, wheel diameter and inertia "
         "are those of one turbine; wastegate area left empty: no limit; largest area: variable geometry; "
         "wheel "
         "diameter: efficiency by blade speed ratio; inertia: build-up of boost",
         {PartValue{"effective area", Quantity::area, "cm²", between(0.01, 10000), {}, true}.of(
              figures::effective_area),
          PartValue{"turbine efficiency",
                    Quantity::share,
                    "",
                    {0.0, 1.0, true, false},
                    boost::usual_turbine_efficiency,
                    false}
              .of(figures::turbine_efficiency),
          PartValue{"pulse amplitude", Quantity::share, "", between(0, 1), 0.0, false}.of(
              figures::pulse_amplitude),
          PartValue{"wastegate area", Quantity::area, "cm²", {0.0, 10000, true, false}, {}, false}.of(
              figures::wastegate_area),
          PartValue{"wheel diameter", Quantity::length, "mm", between(1, 2000), {}, false}.of(
              figures::wheel_diameter),
          PartValue{"optimum blade speed ratio",
                    Quantity::ratio,
                    "",
                    {0.0, 2.0, true, false},
                    boost::usual_optimum_blade_speed_ratio,
                    false}
              .of(figures::blade_speed_ratio),
          PartValue{"inertia", Quantity::inertia, "kg·m²", {0.0, 1.0, true, false}, {}, false}.of(
              figures::shaft_inertia),
          PartValue{"largest area", Quantity::area, "cm²", between(0.01, 10000), {}, false}.of(
              figures::effective_area),
          {"count", Quantity::count, "", between(1, 4), 1.0, false},
          PartValue{"largest gas temperature", Quantity::temperature, "°C", between(200, 1500), {}, false}.of(
              figures::turbine_gas_temperature)}},
        {"exhaust system",
         "everything after the turbine, by its pressure loss at the reference flow and gas temperature; the "
         "laminar share is that of a catalyst; it sets no limit",
         {PartValue{
              "pressure loss", Quantity::pressure_difference, "kPa", between(0, 200), {}, true, Over::point}
              .of(figures::pressure_loss),
          PartValue{"reference flow", Quantity::mass_flow, "g/s", flow_range, {}, true}.of(figures::air_flow),
          PartValue{"gas temperature", Quantity::temperature, "°C", between(-40, 1300), 800.0, false}.of(
              figures::gas_temperature),
          {"laminar share", Quantity::share, "", between(0, 1), 0.2, false}}},
        {"boost control",
         "limited by the largest boost and the largest torque that it is set to; below the spring pressure "
         "the "
         "wastegate cannot control boost; any of the three",
         {PartValue{"largest boost", Quantity::pressure_difference, "bar", {0.0, 20, true, false}, {}, false}
              .of(figures::part_boost),
          PartValue{"largest torque", Quantity::torque, "N·m", {0.0, 1e5, true, false}, {}, false}.of(
              figures::part_torque),
          PartValue{
              "wastegate spring pressure", Quantity::pressure_difference, "bar", between(0, 20), {}, false}
              .of(figures::part_boost)}},
        {"charge cooler",
         "limited by the largest charge temperature after the cooler; the pressure loss is that at the "
         "reference flow",
         {PartValue{"effectiveness", Quantity::share, "", between(0, 1), {}, true}.of(figures::effectiveness),
          PartValue{"pressure loss", Quantity::pressure_difference, "kPa", between(0, 200), 0.0, false,
                    Over::point}
              .of(figures::pressure_loss),
          PartValue{"reference flow", Quantity::mass_flow, "g/s", flow_range, 100.0, false}.of(
              figures::air_flow),
          PartValue{"coolant temperature", Quantity::temperature, "°C", between(-40, 150), {}, false}.of(
              figures::coolant_temperature),
          PartValue{"largest charge temperature", Quantity::temperature, "°C", between(-40, 250), {}, false}
              .of(figures::charge_temperature)}},
        {"pipe",
         "limited by the largest Mach number; place: intake, hot, charge or exhaust; the gas temperature is "
         "that of an exhaust pipe",
         {PartValue{"diameter", Quantity::length, "mm", between(5, 500), {}, true}.of(figures::pipe_diameter),
          {"place", Quantity::number, "", finite, {}, false},
          PartValue{"length", Quantity::length, "m", between(0, 100), 0.0, false}.of(figures::pipe_length),
          PartValue{"loss coefficient", Quantity::ratio, "", between(0, 1000), 0.0, false}.of(
              figures::loss_coefficient),
          PartValue{"largest Mach number", Quantity::ratio, "", {0.0, 1.0, true, false}, 0.4, false}.of(
              figures::mach),
          PartValue{"gas temperature", Quantity::temperature, "°C", between(-40, 1300), 800.0, false}.of(
              figures::gas_temperature),
          {"count", Quantity::count, "", between(1, 8), 1.0, false}}},
        {"clutch",
         "limited by the maker's torque rating",
         {PartValue{"largest torque", Quantity::torque, "N·m", {0.0, 1e5, true, false}, {}, true}.of(
             figures::part_torque)}},
        {"gearbox",
         "limited by the maker's rating of the input torque",
         {PartValue{"largest torque", Quantity::torque, "N·m", {0.0, 1e5, true, false}, {}, true}.of(
             figures::part_torque)}},
        {"engine",
         "what the engine is trusted with, and what a stage changes of it: any of the values; the last four "
         "count in BUILD.TABLE",
         {PartValue{"largest power", Quantity::power, "kW", {0.0, 1e4, true, false}, {}, false}.of(
              figures::brake_power),
          PartValue{"largest torque", Quantity::torque, "N·m", {0.0, 1e5, true, false}, {}, false}.of(
              figures::part_torque),
          PartValue{"largest brake mean effective pressure",
                    Quantity::pressure_difference,
                    "bar",
                    {0.0, 200, true, false},
                    {},
                    false,
                    Over::point}
              .of(figures::part_mean_pressure),
          PartValue{"largest peak pressure", Quantity::pressure, "bar", {20, 400}, {}, false}.of(
              figures::peak_pressure),
          PartValue{"largest gas temperature", Quantity::temperature, "°C", {300, 1500}, {}, false}.of(
              figures::gas_temperature),
          PartValue{"latest 50 % burned angle", Quantity::angle, "°", {0, 50}, {}, false}.of(
              figures::crank_angle),
          PartValue{"compression ratio", Quantity::ratio, "", {5, 20}, {}, false}.of(
              figures::compression_ratio)}},
    };
    return kinds;
}

std::vector<std::string> part_kind_lines(Language language) {
    std::vector<std::string> lines;
    for (const PartKind& kind : part_kinds()) {
        std::string line(kind.name);
        line.append(" (").append(translated(language, kind.meaning)).append("): ");
        for (std::size_t i = 0; i < kind.values.size(); ++i) {
            const PartValue& value = kind.values[i];
            if (i > 0) line += " | ";
            line.append(value.name);
            if (!value.unit.empty()) line.append(" [").append(value.unit).append("]");
            if (value.default_value)
                line.append(" = ").append(number_text(*value.default_value, language));
            else if (!value.required && value.name != "place")
                line.append(" (").append(translated(language, "may be empty")).append(")");
        }
        lines.push_back(std::move(line));
    }
    return lines;
}

}  // namespace pullsheet::catalogue
