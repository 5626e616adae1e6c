// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/parts_table.hpp"

#include <map>
#include <string_view>

#include "core/catalogue/block.hpp"
#include "core/injection/injector.hpp"

namespace pullsheet::catalogue {
namespace {

constexpr Interval flow_range{0.0, 1e5, true, false};

build::PipePlace place_of(const std::string& written, std::string_view row, Language language) {
    const std::string place = normal_label(written);
    if (place.empty() || place == "charge") return build::PipePlace::charge;
    if (place == "intake") return build::PipePlace::intake;
    if (place == "hot") return build::PipePlace::hot;
    if (place == "exhaust") return build::PipePlace::exhaust;
    throw Refused{FailureKind::wrong_argument,
                  say(language, Phrase::pipe_place, {{"parameter", std::string(row)}, {"value", written}})};
}

build::Part part_from(const PartRow& row, const boost::CompressorMap* map, std::string_view shown,
                      Language language) {
    const auto value = [&](std::size_t i) { return row.values[i].value(); };
    const std::string_view kind = row.kind->name;
    if (kind == "injectors") {
        build::Injectors injectors{};
        injectors.rated_flow = value(0);
        injectors.count = value(1);
        injectors.rated_pressure = value(2);
        injectors.fuel_pressure = value(3);
        injectors.max_duty = value(4);
        injectors.dead_time = value(5);
        return injectors;
    }
    if (kind == "pump") {
        build::Pump pump{.curve = {{value(1)}, {value(0)}}};
        pump.count = value(2);
        pump.fuel_pressure = value(3);
        pump.margin = value(4);
        return pump;
    }
    if (kind == "high-pressure pump") {
        build::HighPressurePump pump{};
        pump.diameter = value(0);
        pump.lift = value(1);
        pump.lobes = value(2);
        pump.filling = value(3);
        pump.reserve = value(4);
        pump.cam_ratio = value(5);
        return pump;
    }
    if (kind == "compressor") {
        build::Compressor compressor{};
        if (map) compressor.map = *map;
        compressor.max_corrected_flow = row.values[0];
        compressor.efficiency = value(1);
        compressor.max_pressure_ratio = row.values[2];
        compressor.max_shaft_speed = row.values[3];
        compressor.count = value(4);
        return compressor;
    }
    if (kind == "charge cooler") {
        build::ChargeCooler cooler{};
        cooler.effectiveness = value(0);
        cooler.pressure_loss = value(1);
        cooler.reference_flow = value(2);
        cooler.coolant_temperature = row.values[3];
        cooler.max_charge_temperature = row.values[4];
        return cooler;
    }
    if (kind == "pipe") {
        build::Pipe pipe{};
        pipe.geometry.diameter = value(0);
        pipe.place = place_of(row.place, shown, language);
        pipe.geometry.length = value(2);
        pipe.geometry.loss_coefficient = value(3);
        pipe.max_mach = value(4);
        pipe.gas_temperature = value(5);
        pipe.count = value(6);
        return pipe;
    }
    if (kind == "clutch") return build::Clutch{value(0)};
    if (kind == "gearbox") return build::Gearbox{value(0)};
    build::EngineStrength strength{};
    strength.max_power = row.values[0];
    strength.max_torque = row.values[1];
    strength.max_bmep = row.values[2];
    return strength;
}

}  // namespace

const std::vector<PartKind>& part_kinds() {
    static const std::vector<PartKind> kinds = {
        {"injectors",
         "one set; they carry the fuel that flows at the largest duty",
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
          PartValue{"fuel pressure over the manifold", Quantity::pressure_difference, "bar",
                    between(0.5, 1000), 3.0, false, Over::manifold}
              .of(figures::pump_pressure),
          {"largest duty", Quantity::share, "", {0.0, 1.0, true, false}, 0.85, false},
          PartValue{"dead time", Quantity::time, "ms", between(0, 10), 0.0, false}.of(figures::dead_time)}},
        {"pump",
         "fuel pump; further rows of the same part add points to its curve, which is not known beyond the "
         "last "
         "pressure; below the first the flow there is taken",
         {PartValue{"flow", Quantity::volume_flow, "L/h", flow_range, {}, true}.of(figures::pump_flow),
          PartValue{"at a pressure of", Quantity::pressure_difference, "bar", between(0, 400), {}, true}.of(
              figures::pump_pressure),
          {"count", Quantity::count, "", between(1, 10), 1.0, false},
          PartValue{"fuel pressure over the manifold", Quantity::pressure_difference, "bar",
                    between(0.5, 400), 3.0, false, Over::manifold}
              .of(figures::pump_pressure),
          {"margin", Quantity::share, "", between(0, 1), 0.1, false}}},
        {"high-pressure pump",
         "cam-driven plunger pump of direct injection",
         {PartValue{"plunger diameter", Quantity::length, "mm", between(1, 50), {}, true}.of(
              figures::plunger_length),
          PartValue{"lift", Quantity::length, "mm", between(0.5, 30), {}, true}.of(figures::plunger_length),
          {"lobes", Quantity::count, "", between(1, 12), {}, true},
          {"filling", Quantity::share, "", {0.0, 1.0, true, false}, 0.9, false},
          {"reserve for control", Quantity::share, "", between(0, 0.9), 0.1, false},
          PartValue{"cam speed over engine speed", Quantity::ratio, "", between(0.1, 4), 0.5, false}.of(
              figures::cam_ratio)}},
        {"compressor",
         "by its largest corrected flow (25 °C, 100 kPa), or by the map",
         {PartValue{"largest corrected flow", Quantity::mass_flow, "g/s", flow_range, {}, false}.of(
              figures::corrected_flow),
          PartValue{"efficiency", Quantity::share, "", {0.0, 1.0, true, false}, 0.70, false}.of(
              figures::compressor_efficiency),
          PartValue{"largest pressure ratio", Quantity::ratio, "", between(1, 10), {}, false}.of(
              figures::pressure_ratio),
          PartValue{"largest shaft speed", Quantity::angular_speed, "rpm", between(1000, 500000), {}, false}
              .of(figures::shaft_speed),
          {"count", Quantity::count, "", between(1, 4), 1.0, false}}},
        {"charge cooler",
         "it carries the power at which the charge reaches the temperature allowed",
         {PartValue{"effectiveness", Quantity::share, "", between(0, 1), {}, true}.of(figures::effectiveness),
          PartValue{"pressure loss", Quantity::pressure_difference, "kPa", between(0, 200), 0.0, false,
                    Over::point}
              .of(figures::pressure_loss),
          PartValue{"at a flow of", Quantity::mass_flow, "g/s", flow_range, 100.0, false}.of(
              figures::air_flow),
          PartValue{"coolant temperature", Quantity::temperature, "°C", between(-40, 150), {}, false}.of(
              figures::coolant_temperature),
          PartValue{"largest charge temperature", Quantity::temperature, "°C", between(-40, 250), {}, false}
              .of(figures::charge_temperature)}},
        {"pipe",
         "it carries the power at which its Mach number reaches the largest allowed; place: intake, hot, "
         "charge or exhaust",
         {PartValue{"inside diameter", Quantity::length, "mm", between(5, 500), {}, true}.of(
              figures::pipe_diameter),
          {"place", Quantity::number, "", finite, {}, false},
          PartValue{"length", Quantity::length, "m", between(0, 100), 0.0, false}.of(figures::pipe_length),
          PartValue{"loss coefficient", Quantity::ratio, "", between(0, 1000), 0.0, false}.of(
              figures::loss_coefficient),
          PartValue{"largest Mach number", Quantity::ratio, "", {0.0, 1.0, true, false}, 0.4, false}.of(
              figures::mach),
          PartValue{"gas temperature (exhaust)", Quantity::temperature, "°C", between(-40, 1300), 800.0,
                    false}
              .of(figures::gas_temperature),
          {"count", Quantity::count, "", between(1, 8), 1.0, false}}},
        {"clutch",
         "by its maker's torque",
         {PartValue{"largest torque", Quantity::torque, "N·m", {0.0, 1e5, true, false}, {}, true}.of(
             figures::part_torque)}},
        {"gearbox",
         "by its maker's input torque",
         {PartValue{"largest torque", Quantity::torque, "N·m", {0.0, 1e5, true, false}, {}, true}.of(
             figures::part_torque)}},
        {"engine",
         "what the bottom end is trusted with: any of the three",
         {PartValue{"largest power", Quantity::power, "kW", {0.0, 1e4, true, false}, {}, false}.of(
              figures::brake_power),
          PartValue{"largest torque", Quantity::torque, "N·m", {0.0, 1e5, true, false}, {}, false}.of(
              figures::part_torque),
          PartValue{"largest mean effective pressure",
                    Quantity::pressure_difference,
                    "bar",
                    {0.0, 200, true, false},
                    {},
                    false,
                    Over::point}
              .of(figures::part_mean_pressure)}},
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
            line.append(translated(language, value.name));
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

PartRow read_part_row(const Table& table, std::size_t row, std::size_t name_column, std::size_t kind_column,
                      std::size_t first_value, std::size_t end, std::string_view parameter, Language language,
                      Warnings& warnings) {
    PartRow result;
    result.name = cell_text(table.at(row, name_column));
    const std::string kind = cell_text(table.at(row, kind_column));
    std::vector<std::string_view> names;
    result.kind = nullptr;
    for (const PartKind& known : part_kinds()) {
        names.push_back(known.name);
        if (normal_label(known.name) == normal_label(kind)) result.kind = &known;
    }
    const std::string shown =
        say(language, Phrase::part_named, {{"parameter", std::string(parameter)}, {"name", result.name}});
    if (!result.kind)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::part_kind,
                          {{"parameter", shown}, {"value", kind}, {"choices", joined(names)}})};
    for (std::size_t i = 0; i < result.kind->values.size(); ++i) {
        const PartValue& value = result.kind->values[i];
        const std::size_t column = first_value + 2 * i;
        const Cell content = column < end ? table.at(row, column) : Cell{};
        const Cell unit_cell = column + 1 < end ? table.at(row, column + 1) : Cell{};
        if (value.name == "place") {
            result.place = cell_text(content);
            result.values.emplace_back();
            continue;
        }
        const Unit* unit = value.unit.empty() ? nullptr : find_unit(value.unit);
        std::string name = shown;
        name.append(", ").append(translated(language, value.name));
        const auto* zero = std::get_if<double>(&content);
        const bool left_empty = is_blank(content) || (zero && *zero == 0.0 && !value.range.contains(0.0));
        if (left_empty) {
            if (value.required)
                throw Refused{
                    FailureKind::wrong_argument,
                    say(language, Phrase::empty,
                        {{"parameter", name},
                         {"wanted",
                          say(language, Phrase::wanted,
                              {{"allowed", allowed_text(value.range, value.quantity, unit, language)}})}})};
            result.values.push_back(value.default_value && unit ? std::optional<double>(unit->to_si(
                                                                      *value.default_value, value.quantity))
                                                                : value.default_value);
            continue;
        }
        Cell with_unit = content;
        const std::string unit_text = cell_text(unit_cell);
        if (!is_blank(unit_cell) && unit_text != "-" && unit_text != "1")
            if (const auto* number = std::get_if<double>(&content))
                with_unit = with_decimal_mark(exact_text(*number), language) + " " + unit_text;
        result.values.emplace_back(
            read_number(with_unit,
                        Wanted{name, value.quantity, unit, value.range, nullptr, value.over,
                               value.test_density, true, value.usual ? &*value.usual : nullptr},
                        language, warnings));
    }
    return result;
}

NamedParts assemble_parts(const std::vector<PartRow>& rows, const boost::CompressorMap* map,
                          std::string_view parameter, Language language) {
    struct PumpPoints {
        std::size_t part;
        std::vector<double> pressures, flows;
    };
    NamedParts result;
    std::map<std::string_view, PumpPoints> pumps;  // by name
    for (const PartRow& row : rows) {
        const bool pump = row.kind->name == "pump";
        if (pump) {
            // A further row of the same pump is a further point of its curve.
            const auto [known, is_new] = pumps.try_emplace(row.name, PumpPoints{result.parts.size(), {}, {}});
            known->second.flows.push_back(row.values[0].value());
            known->second.pressures.push_back(row.values[1].value());
            if (!is_new) continue;
        }
        const std::string shown =
            say(language, Phrase::part_named, {{"parameter", std::string(parameter)}, {"name", row.name}});
        result.parts.push_back(part_from(row, map, shown, language));
        result.names.push_back(row.name);
        result.kinds.push_back(row.kind->name);
    }
    for (const auto& [name, points] : pumps)
        std::get<build::Pump>(result.parts[points.part]).curve = {points.pressures, points.flows};
    return result;
}

NamedParts read_parts(const Table& table, const boost::CompressorMap* map, std::string_view parameter,
                      Language language, Warnings& warnings) {
    if (table.columns() < 3)
        throw Refused{FailureKind::wrong_argument, say(language, Phrase::parts_columns,
                                                       {{"parameter", std::string(parameter)},
                                                        {"columns", std::to_string(table.columns())}})};
    std::vector<PartRow> rows;
    for (std::size_t r = 0; r < table.rows(); ++r) {
        if (is_blank(table.at(r, 0)) && is_blank(table.at(r, 1))) continue;
        if (r == 0 && normal_label(cell_text(table.at(0, 1))) == "kind") continue;  // the header row
        rows.push_back(read_part_row(table, r, 0, 1, 2, table.columns(), parameter, language, warnings));
    }
    return assemble_parts(rows, map, parameter, language);
}

}  // namespace pullsheet::catalogue
