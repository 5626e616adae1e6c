// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/parts_table.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <string_view>

#include "core/catalogue/block.hpp"
#include "core/injection/injector.hpp"

namespace pullsheet::catalogue {
namespace {

plan::PipePlace place_of(const std::string& written, std::string_view row, Language language) {
    const std::string place = normal_label(written);
    if (place.empty() || place == "charge") return plan::PipePlace::charge;
    if (place == "intake") return plan::PipePlace::intake;
    if (place == "hot") return plan::PipePlace::hot;
    if (place == "exhaust") return plan::PipePlace::exhaust;
    throw Refused{FailureKind::wrong_argument,
                  say(language, Phrase::pipe_place, {{"parameter", std::string(row)}, {"value", written}})};
}

plan::Part part_from(const PartRow& row, const boost::CompressorMap* map, std::string_view shown,
                     Language language) {
    const auto value = [&](std::size_t i) { return row.values[i].value(); };
    const std::string_view kind = row.kind->name;
    if (kind == "injectors") {
        plan::Injectors injectors{};
        injectors.rated_flow = value(0);
        injectors.count = value(1);
        injectors.rated_pressure = value(2);
        injectors.fuel_pressure = value(3);
        injectors.max_duty = value(4);
        injectors.dead_time = value(5);
        return injectors;
    }
    if (kind == "pump") {
        plan::Pump pump{.curve = {{value(1)}, {value(0)}}};
        pump.count = value(2);
        pump.fuel_pressure = value(3);
        pump.margin = value(4);
        return pump;
    }
    if (kind == "high-pressure pump") {
        plan::HighPressurePump pump{};
        pump.diameter = value(0);
        pump.lift = value(1);
        pump.lobes = value(2);
        pump.filling = value(3);
        pump.margin = value(4);
        pump.cam_ratio = value(5);
        return pump;
    }
    if (kind == "compressor") {
        plan::Compressor compressor{};
        if (map) compressor.map = *map;
        compressor.max_corrected_flow = row.values[0];
        compressor.efficiency = value(1);
        compressor.max_pressure_ratio = row.values[2];
        compressor.max_shaft_speed = row.values[3];
        compressor.count = value(4);
        compressor.wheel_diameter = row.values[5];
        return compressor;
    }
    if (kind == "charge cooler") {
        plan::ChargeCooler cooler{};
        cooler.effectiveness = value(0);
        cooler.pressure_loss = value(1);
        cooler.reference_flow = value(2);
        cooler.coolant_temperature = row.values[3];
        cooler.max_charge_temperature = row.values[4];
        return cooler;
    }
    if (kind == "pipe") {
        plan::PlacedPipe pipe{};
        pipe.geometry.diameter = value(0);
        pipe.place = place_of(row.place, shown, language);
        pipe.geometry.length = value(2);
        pipe.geometry.loss_coefficient = value(3);
        pipe.max_mach = value(4);
        pipe.gas_temperature = value(5);
        pipe.count = value(6);
        return pipe;
    }
    if (kind == "turbine") {
        boost::Turbine turbine{};
        turbine.effective_area = value(0);
        turbine.efficiency = value(1);
        turbine.pulse_amplitude = value(2);
        turbine.wastegate_area = row.values[3];
        turbine.wheel_diameter = row.values[4];
        turbine.optimum_blade_speed_ratio = value(5);
        turbine.inertia = row.values[6];
        turbine.largest_area = row.values[7];
        turbine.count = value(8);
        turbine.max_gas_temperature = row.values[9];
        return turbine;
    }
    if (kind == "exhaust system") {
        boost::ExhaustSystem system{};
        system.pressure_loss = value(0);
        system.reference_flow = value(1);
        system.reference_temperature = value(2);
        system.laminar_share = value(3);
        return system;
    }
    if (kind == "boost control") return plan::BoostControl{row.values[0], row.values[1], row.values[2]};
    if (kind == "clutch") return plan::Clutch{value(0)};
    if (kind == "gearbox") return plan::Gearbox{value(0)};
    plan::EngineStrength strength{};
    strength.max_power = row.values[0];
    strength.max_torque = row.values[1];
    strength.max_bmep = row.values[2];
    strength.max_peak_pressure = row.values[3];
    strength.max_gas_temperature = row.values[4];
    strength.latest_half_burned = row.values[5];
    strength.compression_ratio = row.values[6];
    return strength;
}

/// The headings of a table whose values stand in the order of their kind: value, unit, value 2, unit …
bool says_nothing_but_place(std::string_view heading) {
    const std::string word = normal_label(heading);
    if (word.empty() || word == "unit") return true;
    constexpr std::array ordinals{"",      "second",  "third",  "fourth", "fifth",
                                  "sixth", "seventh", "eighth", "ninth",  "tenth"};
    for (const std::string_view ordinal : ordinals)
        if (word == std::string(ordinal) + "value") return true;
    return word.starts_with("value") &&
           word.find_first_not_of("0123456789", std::string_view("value").size()) == std::string::npos;
}

const PartValue* known_value(std::string_view name) {
    for (const PartKind& kind : part_kinds())
        for (const PartValue& value : kind.values)
            if (normal_label(value.name) == normal_label(name)) return &value;
    return nullptr;
}

/// A number or a text that somebody wrote; an empty cell of a range may arrive as 0.
bool holds_something(const Cell& cell) {
    const auto* number = std::get_if<double>(&cell);
    return !is_blank(cell) && !(number && *number == 0.0);
}

/// Refuses what stands in a column that the kind of the row does not take: it would not be used.
void refuse_foreign_values(const Table& table, std::size_t row, const PartColumns& columns,
                           const PartKind& kind, std::string_view shown, Language language) {
    const auto refuse = [&](std::size_t column, std::string label) {
        throw Refused{FailureKind::wrong_argument, say(language, Phrase::part_value_foreign,
                                                       {{"parameter", std::string(shown)},
                                                        {"kind", std::string(kind.name)},
                                                        {"label", std::move(label)},
                                                        {"value", cell_text(table.at(row, column))}})};
    };
    for (std::size_t i = 2 * kind.values.size(); i < columns.in_order.size(); ++i)
        if (holds_something(table.at(row, columns.in_order[i])))
            refuse(columns.in_order[i], "value " + std::to_string(i / 2 + 1));
    for (const auto& named : columns.named) {
        const std::string& name = named.first;
        const auto& place = named.second;
        const bool is_taken = std::ranges::any_of(
            kind.values, [&](const PartValue& value) { return normal_label(value.name) == name; });
        if (!is_taken && holds_something(table.at(row, place.value)))
            refuse(place.value, std::string(known_value(name)->name));
    }
    for (const std::size_t column : columns.without_heading)
        if (holds_something(table.at(row, column)))
            throw Refused{FailureKind::wrong_argument, say(language, Phrase::column_without_heading,
                                                           {{"parameter", std::string(shown)},
                                                            {"column", std::to_string(column + 1)},
                                                            {"value", cell_text(table.at(row, column))}})};
}

}  // namespace

PartColumns PartColumns::without_headings(const Table& table) {
    PartColumns columns;
    columns.own = {{"part", 0}, {"kind", 1}};
    for (std::size_t c = 2; c < table.columns(); ++c) columns.in_order.push_back(c);
    return columns;
}

PartColumns::Place PartColumns::place_of(std::size_t i, const PartValue& value) const {
    if (named.empty())
        return {2 * i < in_order.size() ? in_order[2 * i] : nowhere,
                2 * i + 1 < in_order.size() ? in_order[2 * i + 1] : nowhere,
                {}};
    const auto found = named.find(normal_label(value.name));
    return found == named.end() ? Place{nowhere, nowhere, {}} : found->second;
}

PartColumns read_part_columns(const Table& table, const std::vector<std::string_view>& own,
                              std::string_view parameter, Language language) {
    PartColumns columns;
    const auto doubled = [&](std::string_view label) {
        return Refused{FailureKind::wrong_argument,
                       say(language, Phrase::column_doubled,
                           {{"parameter", std::string(parameter)}, {"label", std::string(label)}})};
    };
    std::vector<std::size_t> rest;
    for (std::size_t c = 0; c < table.columns(); ++c) {
        const std::string heading = cell_text(table.at(0, c));
        const auto known = std::ranges::find_if(
            own, [&](std::string_view name) { return normal_label(name) == normal_label(heading); });
        if (known == own.end())
            rest.push_back(c);
        else if (!columns.own.try_emplace(std::string(*known), c).second)
            throw doubled(*known);
    }
    const auto heading_at = [&](std::size_t c) { return cell_text(table.at(0, c)); };
    if (std::ranges::all_of(rest, [&](std::size_t c) { return says_nothing_but_place(heading_at(c)); })) {
        // What stands before the kind has no place in the order of its values.
        const auto kind = columns.own.find("kind");
        for (const std::size_t c : rest)
            (kind != columns.own.end() && c > kind->second ? columns.in_order : columns.without_heading)
                .push_back(c);
        return columns;
    }
    PartColumns::Place* last = nullptr;
    for (const std::size_t c : rest) {
        const std::string heading = heading_at(c);
        if (is_blank(table.at(0, c))) {
            columns.without_heading.push_back(c);
            continue;
        }
        // A column "unit" belongs to the value before it.
        if (normal_label(heading) == "unit" && last && c == last->value + 1) {
            last->unit = c;
            continue;
        }
        const auto [name, unit] = split_heading(heading);
        const PartValue* value = known_value(name);
        if (!value) {
            std::vector<std::string_view> names(own);
            for (const PartKind& kind : part_kinds())
                for (const PartValue& known : kind.values)
                    if (std::ranges::find(names, known.name) == names.end()) names.push_back(known.name);
            const auto near = nearest(name, names);
            throw Refused{FailureKind::wrong_argument,
                          say(language, near.empty() ? Phrase::column_unknown : Phrase::column_unknown_near,
                              {{"parameter", std::string(parameter)},
                               {"label", heading},
                               {"labels", joined(names)},
                               {"near", std::string(near)}})};
        }
        const Cell heading_unit = is_blank(std::string(unit)) ? Cell{} : Cell(std::string(unit));
        const auto [placed, is_new] = columns.named.try_emplace(
            normal_label(value->name), PartColumns::Place{c, PartColumns::nowhere, heading_unit});
        if (!is_new) throw doubled(value->name);
        last = &placed->second;
    }
    return columns;
}

PartRow read_part_row(const Table& table, std::size_t row, const PartColumns& columns,
                      std::string_view parameter, Language language, Warnings& warnings) {
    PartRow result;
    result.name = cell_text(table.at(row, columns.own.at("part")));
    const std::string kind = cell_text(table.at(row, columns.own.at("kind")));
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
    refuse_foreign_values(table, row, columns, *result.kind, shown, language);
    for (std::size_t i = 0; i < result.kind->values.size(); ++i) {
        const PartValue& value = result.kind->values[i];
        const PartColumns::Place place = columns.place_of(i, value);
        const Cell content = place.value < table.columns() ? table.at(row, place.value) : Cell{};
        Cell unit_cell = place.unit < table.columns() ? table.at(row, place.unit) : Cell{};
        if (is_blank(unit_cell)) unit_cell = place.heading_unit;
        if (value.name == "place") {
            result.place = cell_text(content);
            result.values.emplace_back();
            continue;
        }
        const Unit* unit = value.unit.empty() ? nullptr : find_unit(value.unit);
        std::string name = shown;
        name.append(", ").append(value.name);
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
        std::get<plan::Pump>(result.parts[points.part]).curve = {points.pressures, points.flows};
    return result;
}

NamedParts read_parts(const Table& table, const boost::CompressorMap* map, std::string_view parameter,
                      Language language, Warnings& warnings) {
    if (table.columns() < 3)
        throw Refused{FailureKind::wrong_argument, say(language, Phrase::parts_columns,
                                                       {{"parameter", std::string(parameter)},
                                                        {"columns", std::to_string(table.columns())}})};
    bool has_headings = false;
    for (std::size_t c = 0; table.rows() > 0 && c < table.columns(); ++c)
        has_headings = has_headings || normal_label(cell_text(table.at(0, c))) == "kind";
    const PartColumns columns = has_headings ? read_part_columns(table, {"part", "kind"}, parameter, language)
                                             : PartColumns::without_headings(table);
    if (!columns.own.contains("part"))
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::column_missing,
                          {{"parameter", std::string(parameter)}, {"label", "part"}})};
    std::vector<PartRow> rows;
    for (std::size_t r = has_headings ? 1 : 0; r < table.rows(); ++r) {
        if (is_blank(table.at(r, columns.own.at("part"))) && is_blank(table.at(r, columns.own.at("kind"))))
            continue;
        rows.push_back(read_part_row(table, r, columns, parameter, language, warnings));
    }
    return assemble_parts(rows, map, parameter, language);
}

}  // namespace pullsheet::catalogue
