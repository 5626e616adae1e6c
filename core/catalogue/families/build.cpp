// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "core/catalogue/families/build_parameters.hpp"
#include "core/catalogue/families/end_of_data.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/labelled.hpp"
#include "core/catalogue/families/offer.hpp"
#include "core/catalogue/families/stage_table.hpp"
#include "core/catalogue/measured_table.hpp"
#include "core/catalogue/vehicle_block.hpp"
#include "core/plan/limits.hpp"
#include "core/plan/operating_point.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter stages_parameter() {
    Parameter stages =
        table("stages",
              "header row with stage, part, kind, price and the columns of a parts table; a stage contains "
              "the parts of the stages above it; a part of the same kind replaces the earlier one");
    stages.details = part_kind_lines;
    return stages;
}
Parameter fuels_parameter() {
    return table("fuels", "header row with name and labels of the fuel block; lambda may be a column too");
}
Parameter measured_parameter() {
    return block(
        "measured",
        "what was measured on your own rollers, from which all others are predicted: a block with one "
        "point, or a table with a header row, the labels as columns and one row for each engine "
        "speed, stage and fuel",
        measured_schema());
}

/// Warns of what the turbine cannot do at a point, and of what does not count there.
void warn_of_turbine(Call& call, const NamedParts& parts, const plan::Engine& engine,
                     const plan::OperatingPoint& at) {
    const auto shown = [&](double si, Quantity quantity, std::string_view symbol) {
        const Unit* unit = find_unit(symbol);
        return number_text(unit->from_si(si, quantity), unit, call.language());
    };
    const double ratio = at.exhaust_pressure / at.outlet_pressure;
    for (const plan::Part& part : parts.parts) {
        const auto* turbine = std::get_if<boost::Turbine>(&part);
        if (!turbine) continue;
        if (turbine->map && ratio > 1.0 && turbine->map->at(ratio).extrapolated)
            call.warn(
                say(call.language(),
                    "the expansion ratio of {ratio} lies outside the turbine map, which is extrapolated",
                    {{"ratio", number_text(ratio, call.language())}}));
        if (turbine->wastegate_area && at.wastegate_area > turbine->count * *turbine->wastegate_area)
            call.warn(say(
                call.language(),
                "the wastegate would have to open {needed} and has {available}: the boost rises "
                "above this point",
                {{"needed", shown(at.wastegate_area, Quantity::area, "cm²")},
                 {"available", shown(turbine->count * *turbine->wastegate_area, Quantity::area, "cm²")}}));
        if (turbine->max_gas_temperature && engine.gas_temperature > *turbine->max_gas_temperature)
            call.warn(say(call.language(),
                          "the gas before the turbine is assumed at {assumed}; the turbine stands {largest}",
                          {{"assumed", shown(engine.gas_temperature, Quantity::temperature, "°C")},
                           {"largest", shown(*turbine->max_gas_temperature, Quantity::temperature, "°C")}}));
        if (turbine->inertia)
            call.warn(std::string(
                translated(call.language(), "the inertia of the turbine has no effect at a steady point")));
    }
}

std::string_view load_unit(Quantity quantity) {
    switch (quantity) {
        case Quantity::volume_flow: return "L/h";
        case Quantity::mass_flow: return "g/s";
        case Quantity::temperature_change: return "K";
        case Quantity::torque: return "N·m";
        case Quantity::power: return "kW";
        case Quantity::pressure:
        case Quantity::pressure_difference: return "bar";
        case Quantity::angular_speed: return "rpm";
        default: return "";
    }
}

std::string load_measure(std::string_view kind, Quantity quantity) {
    if (kind == "turbine") return "shaft power";
    if (kind == "exhaust system") return "pressure after the turbine above ambient";
    if (kind == "boost control" && quantity == Quantity::pressure_difference) return "boost";
    switch (quantity) {
        case Quantity::share: return "duty";
        case Quantity::volume_flow: return "fuel volume flow";
        case Quantity::mass_flow: return "corrected flow";
        case Quantity::ratio: return "pressure ratio";
        case Quantity::angular_speed: return "shaft speed";
        case Quantity::temperature_change: return "charge temperature above coolant";
        case Quantity::number: return "Mach number";
        case Quantity::torque: return "torque";
        case Quantity::power: return "power";
        case Quantity::pressure:
        case Quantity::pressure_difference: return "brake mean effective pressure";
        default: return std::string(quantity_name(quantity));
    }
}

Answer point(Call& call) {
    const auto map = map_at(call, 6);
    NamedParts parts = parts_at(call, 5, map);
    add_turbine_map(call, 7, parts);
    const plan::Engine engine = engine_at(call, 0);
    const auto at =
        plan::operating_point(engine, call.fuel(3), call.si(1), call.si(2), weather_at(call, 4), parts.parts);
    call.warn(at.warnings);
    warn_of_turbine(call, parts, engine, at);
    Rows rows;
    rows.push_back(labelled(call, "power", at.power, Quantity::power, "kW", figures::brake_power));
    rows.push_back(
        labelled(call, "engine speed", at.speed, Quantity::angular_speed, "rpm", figures::engine_speed));
    rows.push_back(labelled(call, "torque", at.torque, Quantity::torque, "N·m", figures::torque));
    rows.push_back(labelled(call, "brake mean effective pressure", at.bmep, Quantity::pressure_difference,
                            "bar", figures::mean_pressure));
    rows.push_back(
        labelled(call, "fuel flow", at.fuel_flow, Quantity::mass_flow, "kg/h", figures::fuel_flow));
    rows.push_back(labelled(call, "fuel volume flow", at.fuel_volume_flow, Quantity::volume_flow, "L/h",
                            figures::pump_flow));
    rows.push_back(labelled(call, "air flow", at.air_flow, Quantity::mass_flow, "g/s", figures::air_flow));
    rows.push_back(labelled(call, "volumetric efficiency", at.volumetric_efficiency, Quantity::ratio, "",
                            figures::volumetric_efficiency));
    rows.push_back(labelled(call, "manifold pressure", at.manifold_pressure, Quantity::pressure, "kPa",
                            figures::manifold_pressure));
    rows.push_back(labelled(call, "boost", at.boost, Quantity::pressure_difference, "bar", figures::boost));
    rows.push_back(labelled(call, "intake loss", at.intake_loss, Quantity::pressure_difference, "kPa",
                            figures::pressure_loss));
    rows.push_back(labelled(call, "charge loss", at.charge_loss, Quantity::pressure_difference, "kPa",
                            figures::pressure_loss));
    rows.push_back(
        labelled(call, "pressure ratio", at.pressure_ratio, Quantity::ratio, "", figures::pressure_ratio));
    rows.push_back(labelled(call, "corrected flow", at.corrected_flow, Quantity::mass_flow, "g/s",
                            figures::corrected_flow));
    rows.push_back(labelled(call, "compressor efficiency", at.compressor_efficiency, Quantity::ratio, "",
                            figures::compressor_efficiency));
    rows.push_back(labelled(call, "compressor power", at.compressor_power, Quantity::power, "kW",
                            figures::compressor_power));
    rows.push_back(labelled(call, "compressor outlet temperature", at.compressor_temperature,
                            Quantity::temperature, "°C", figures::compressor_temperature));
    rows.push_back(labelled(call, "manifold temperature", at.charge_temperature, Quantity::temperature, "°C",
                            figures::charge_temperature));
    rows.push_back(labelled(call, "surge margin", at.surge_margin, Quantity::ratio, "", figures::margin));
    rows.push_back(labelled(call, "choke margin", at.choke_margin, Quantity::ratio, "", figures::margin));
    rows.push_back(
        labelled(call, "shaft speed", at.shaft_speed, Quantity::angular_speed, "rpm", figures::shaft_speed));
    for (std::size_t i = 0; i < parts.parts.size(); ++i) {
        const auto& load = at.loads[i];
        if (!std::isfinite(load.demand)) continue;
        rows.push_back(labelled(call, parts.names[i] + ": " + load_measure(parts.kinds[i], load.quantity),
                                load.demand, load.quantity, load_unit(load.quantity), figures::anything));
        if (std::isfinite(load.capacity) && std::isfinite(load.use))
            rows.push_back(row(parts.names[i] + ": share used", load.use, std::string()));
    }
    const bool has_turbine = std::any_of(parts.parts.begin(), parts.parts.end(), [](const plan::Part& part) {
        return std::holds_alternative<boost::Turbine>(part);
    });
    if (has_turbine) {
        rows.push_back(labelled(call, "pressure before the turbine", at.exhaust_pressure, Quantity::pressure,
                                "kPa", figures::gas_pressure));
        rows.push_back(
            labelled(call, "wastegate flow share", at.wastegate_share, Quantity::share, "", figures::share));
        rows.push_back(row(std::string("turbine drives it"),
                           std::string(at.turbine_power >= at.compressor_power ? "yes" : "no"),
                           std::string()));
    }
    return rows;
}

Answer limits(Call& call) {
    const auto map = map_at(call, 6);
    const NamedParts parts = parts_at(call, 1, map);
    const plan::Engine engine = engine_at(call, 0);
    double speed = call.si(5);
    if (!call.given(5)) {
        if (!engine.redline)
            throw Refused{FailureKind::wrong_argument, say(call.language(), Phrase::speed_or_redline)};
        speed = *engine.redline;
    }
    const auto found = plan::limits(engine, parts.parts, call.fuel(2), speed, weather_at(call, 3),
                                    call.given(4) ? std::optional<double>(call.si(4)) : std::nullopt);
    Rows rows;
    const auto shown = [](double si, Quantity quantity) -> Cell {
        if (!std::isfinite(si)) return std::string("no limit");
        const auto symbol = load_unit(quantity);
        return symbol.empty() ? si : find_unit(symbol)->from_si(si, quantity);
    };
    for (std::size_t i = 0; i < found.parts.size(); ++i) {
        const auto& part = found.parts[i];
        std::string measure = load_measure(parts.kinds[i], part.load.quantity);
        if (const auto unit = load_unit(part.load.quantity); !unit.empty())
            measure.append(" [").append(unit).append("]");
        // A value of a cell is the same in every language.
        if (part.data_end) {
            const bool beyond = part.broken || found.wanted > part.data_end->power * (1.0 + 1e-9);
            const std::string end = end_of_data(part.data_end->why);
            const Cell unknown = std::string("not known");
            rows.push_back(row(parts.names[i], std::string(parts.kinds[i]),
                               not_known_beyond(part.data_end->power), beyond ? unknown : Cell(part.load.use),
                               part.broken ? unknown : shown(part.load.demand, part.load.quantity),
                               beyond ? unknown : shown(part.load.capacity, part.load.quantity),
                               part.broken ? end : measure + "; " + end));
            continue;
        }
        if (part.broken) measure = say(Language::english, part.broken->reason, part.broken->details);
        rows.push_back(row(parts.names[i], std::string(parts.kinds[i]),
                           part.power ? Cell(*part.power) : Cell(std::string("no limit")),
                           std::isfinite(part.load.use) ? Cell(part.load.use) : Cell(std::string("beyond")),
                           part.broken ? Cell(std::string()) : shown(part.load.demand, part.load.quantity),
                           part.broken ? Cell(std::string()) : shown(part.load.capacity, part.load.quantity),
                           measure));
    }
    // The build as a whole: the power wanted and the power up to which all parts are known to carry it.
    const std::string& name = parts.names[found.weakest];
    const auto& end = found.parts[found.weakest].data_end;
    const bool carries = found.power > 0.0;
    if (end)
        call.warn(say(call.language(),
                      "missing data limit the result: {part} is {how} ({end}); add points to its table",
                      {{"part", name},
                       {"how", not_known_beyond(end->power, call.language())},
                       {"end", end_of_data(end->why, call.language())}}));
    rows.push_back(
        row((end ? "missing data: " : "gives out first: ") + name, std::string(parts.kinds[found.weakest]),
            end && !carries ? Cell(std::string("not known")) : Cell(found.power),
            carries ? Cell(found.wanted / found.power) : Cell(std::string(end ? "not known" : "beyond")),
            shown(found.wanted, Quantity::power),
            end && !carries ? Cell(std::string("not known")) : shown(found.power, Quantity::power),
            std::string("power [kW]")));
    return rows;
}

}  // namespace

std::vector<Function> build() {
    const Table engine = examples::engine();
    return {
        {
            .name = "BUILD.POINT",
            .summary = "Operating point of engine and parts at a wanted power",
            .parameters = {engine_parameter(),
                           number("power", "crank power wanted", Quantity::power, "kW",
                                  {0.0, 5000.0, true, false})
                               .of(figures::brake_power),
                           number("speed", "engine speed", Quantity::angular_speed, "rpm",
                                  between(200, 25000))
                               .of(figures::engine_speed),
                           fuel_parameter(), weather_parameter(),
                           parts_parameter().optional("a compressor of 70 % efficiency, no losses"),
                           optional_map(), optional_turbine_map()},
            .result =
                Result::labelled("operating point from fuel flow to boost, and the share used of each part"),
            .method = "Fuel flow from efficiency and heating value, air flow from lambda and stoichiometry, "
                      "manifold pressure by speed–density. Compressor efficiency, temperatures and pressure "
                      "losses depend on one another and are solved together.",
            .sources = {"Heywood 1988", "Dixon & Hall 2014", "Colebrook 1939"},
            .example = {{engine, 300.0, 6500.0, 0.0, examples::weather(), examples::parts()},
                        1.662905669,
                        1e-6,
                        10,
                        1},
            .compute = point,
            .accuracy = "inverse of BUILD.LIMITS within the tolerance of the solver; otherwise as accurate "
                        "as the inputs",
            .remembered = true,
        },
        {
            .name = "BUILD.LIMITS",
            .summary = "Power that each part carries, and the limiting part",
            .parameters = {engine_parameter(), parts_parameter(), fuel_parameter(), weather_parameter(),
                           number("power", "crank power wanted, for the share used", Quantity::power, "kW",
                                  {0.0, 5000.0, true, false})
                               .of(figures::brake_power)
                               .optional("that of the limiting part"),
                           number("speed", "engine speed", Quantity::angular_speed, "rpm",
                                  between(200, 25000))
                               .of(figures::engine_speed)
                               .optional("the redline of the engine block"),
                           optional_map()},
            .result = Result::table("one row per part; the last row names the limiting part, or the part "
                                    "whose missing data limit the result, with the power wanted and the "
                                    "power up to which all parts are known to be sufficient",
                                    {{"part"},
                                     {"kind"},
                                     {"power it carries", Quantity::power, "kW", figures::brake_power},
                                     {"share used", figures::duty},
                                     {"demand", figures::stated_by_row},
                                     {"capacity", figures::stated_by_row},
                                     {"measured by"}}),
            .method =
                "BUILD.POINT solved for each part in turn, with all other parts in place. The end of a pump "
                "curve and the right and upper edges of a compressor map are not limits: beyond them the "
                "part is not known. The surge line and the limits stated in the parts table are limits.",
            .sources = {"Heywood 1988", "Dixon & Hall 2014", "Colebrook 1939"},
            .example = {{engine, examples::parts(), 0.0, examples::weather(), std::monostate{}, 6500.0},
                        462.1977199,
                        1e-6,
                        1,
                        2},
            .compute = limits,
            .remembered = true,
        },
        {
            .name = "BUILD.TABLE",
            .summary = "Power, limiting part, times, price and uncertainty for every stage and fuel",
            .parameters =
                {engine_parameter(), stages_parameter(), fuels_parameter(),
                 block("vehicle", "the car, for the times", vehicle_schema()).optional("no times"),
                 weather_parameter(),
                 measured_parameter().optional("the cycle is not calibrated; the uncertainty is large"),
                 number("delivered_power", "power of the car as delivered, for the price per kW gained",
                        Quantity::power, "kW", from(0))
                     .of(figures::brake_power)
                     .optional("price per kW of total power")},
            .result =
                Result::table("one row per stage and fuel",
                              {{"stage"},
                               {"fuel"},
                               {"torque", Quantity::torque, "N·m", figures::torque},
                               {"power", Quantity::power, "kW", figures::brake_power},
                               {"limited by"},
                               {"100-200 km/h", Quantity::time, "s", figures::run_time},
                               {"60-130 mph", Quantity::time, "s", figures::run_time},
                               {"quarter mile after rollout", Quantity::time, "s", figures::run_time},
                               {"price", figures::price},
                               {"price per kW gained", figures::price},
                               {"power low", Quantity::power, "kW", figures::power},
                               {"power high", Quantity::power, "kW", figures::brake_power},
                               {"100-200 km/h low", Quantity::time, "s", figures::moment},
                               {"100-200 km/h high", Quantity::time, "s", figures::run_time},
                               {"manifold pressure", Quantity::pressure, "kPa", figures::manifold_pressure},
                               {"spark angle", Quantity::angle, "°", figures::spark},
                               {"engine speed", Quantity::angular_speed, "rpm", figures::engine_speed},
                               {"gas temperature", Quantity::temperature, "°C", figures::gas_temperature},
                               {"peak pressure", Quantity::pressure, "bar", figures::peak_pressure},
                               {"50 % burned angle", Quantity::angle, "°", figures::crank_angle},
                               {"basis"},
                               {"gain over the stage before", Quantity::power, "kW", figures::power},
                               {"remark"}}),
            .method =
                "At five engine speeds, the smaller of what the parts carry (BUILD.LIMITS) and what knock, "
                "gas temperature, peak pressure and the latest 50 % burned angle allow (KNOCK.BOOST.LIMIT at "
                "the manifold temperature of the operating point). Rows of kind engine state the latter "
                "three; not stated they are 1050 °C as a probe before the turbine reads it, 35°, and 1.2 "
                "times the peak pressure of the measured calibration (140 bar without one), an assumption. A "
                "measured curve is given back at its own speeds; outside them octane offset, efficiency and "
                "volumetric efficiency of its ends hold. Other fuels and stages burn no later than the "
                "measured one did, or, where nothing was measured at that speed, would at the gas "
                "temperature of the nearest measured point. A second fuel sets K of the octane index if the "
                "sensitivities differ by 3 or more; without knock its peak pressure is the one that the "
                "engine bears. What was measured on further stages and fuels holds there and draws the "
                "others towards it. Times as in ROAD; the quarter mile is from rest, and timing starts after "
                "the rollout of the vehicle block (0 if omitted). Where a pump curve ends before the pump "
                "reaches its limit, the power up to there is given, limited by missing data. Water vapour "
                "takes its share of the manifold pressure; its slight effect on knock is neglected. Low and "
                "high are two standard uncertainties away. Each assumption is moved by one (octane index K "
                "0.3, exponents of the knock delay 0.2 and 0.4 and its temperature 600 K, evaporated share "
                "0.1, effectiveness of the charge cooler 0.05, burn duration 7°, wall heat factor 0.3, "
                "turbine area 10 %, measured spark 2°), the engine is calibrated again to the same "
                "measurement, and what that moves is added in quadrature to the measured power, efficiency 2 "
                "%, 1.5 octane numbers of another fuel, 2 of ethanol, the latest 50 % burned angle of "
                "another fuel or stage 1.5°, an assumed peak pressure 8 %, a stated one 3 %, ratings of "
                "parts 3 %; boost above 1.25 times the measured one 2 %, speed outside the measured ones 3 % "
                "for each 1000 rpm, another compression ratio 3 % for each unit. What was measured is as "
                "uncertain as the measured power. Where nothing was measured 8 octane numbers, gas "
                "temperature 11 %, efficiency 8 % and burn 5 % count, together some 35 %. Basis says which "
                "of these it is: measured, between what was measured, extrapolated, or a guess where nothing "
                "was. The remark says what holds a stage where it brings less than 3 % or less than the "
                "uncertainty of the gain, in which what moves both stages alike does not count; it is a "
                "sentence in the language of the office. Where a stage cannot run on a fuel, its row holds "
                "errors that say why. A cycle model is no substitute for knock detection, exhaust "
                "temperature and lambda measured on the rollers.",
            .sources = {"Heywood 1988", "Livengood & Wu 1955", "Douaud & Eyzat 1978", "Gillespie 1992",
                        "GUM"},
            .example =
                {{examples::measured_engine(), examples::stages(), examples::fuels()}, "Stage 1", 1, 0},
            .compute = stage_table,
            .remembered = true,
        },
        {
            .name = "BUILD.CALIBRATION",
            .summary = "What measured points set in the engine model, and whether it gives them back",
            .parameters = {engine_parameter(), stages_parameter(), fuels_parameter(), measured_parameter(),
                           weather_parameter()},
            .result =
                Result::table("one row per measured point",
                              {{"stage"},
                               {"fuel"},
                               {"engine speed", Quantity::angular_speed, "rpm", figures::engine_speed},
                               {"power measured", Quantity::power, "kW", figures::brake_power},
                               {"power predicted", Quantity::power, "kW", figures::brake_power},
                               {"limited by"},
                               {"octane offset", figures::octane_offset},
                               {"efficiency factor", figures::efficiency_factor},
                               {"volumetric efficiency", figures::volumetric_efficiency},
                               {"50 % burned angle", Quantity::angle, "°", figures::crank_angle},
                               {"gas temperature", Quantity::temperature, "°C", figures::gas_temperature},
                               {"peak pressure", Quantity::pressure, "bar", figures::peak_pressure},
                               {"octane index K", figures::octane_index_k},
                               {"burn duration", Quantity::angle, "°", figures::burn_duration},
                               {"exhaust heat transfer", figures::exhaust_heat_transfer},
                               {"probe reads low by", figures::probe_reads_low},
                               {"remark"}}),
            .method =
                "The calibrated engine from which BUILD.TABLE predicts. At each point the octane offset with "
                "which knock begins at the measured spark (KNOCK.CALIBRATE) and the factor that gives the "
                "measured power (CYCLE.EFFICIENCY.FACTOR), both at the measured lambda and manifold "
                "temperature; volumetric efficiency, 50 % burned angle and gas temperature, where measured, "
                "set filling, burn duration and heat transfer of the exhaust first. A measured volumetric "
                "efficiency is divided by what the exhaust pressure leaves of the filling. Then each point "
                "is "
                "predicted, limits of parts and stated ones included. A remark says where a point was not "
                "used, where knock did not begin, and where limits contradict the measurement. No substitute "
                "for knock detection, exhaust temperature and lambda measured on the rollers.",
            .sources = {"Heywood 1988", "Livengood & Wu 1955", "Douaud & Eyzat 1978", "Kalghatgi 2001"},
            .example = {{examples::measured_engine(), examples::stages(), examples::fuels(),
                         examples::measured_pull()},
                        158.0,
                        1e-3,
                        4,
                        4},
            .compute = calibration,
            .accuracy = "a measured power is given back within some 0.1 % where knock began",
            .remembered = true,
        },
    };
}

}  // namespace pullsheet::catalogue::families
