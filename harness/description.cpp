// SPDX-License-Identifier: Apache-2.0
#include "harness/description.hpp"

#include <CLI/CLI.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/describe.hpp"
#include "harness/output.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::BlockSchema;
using catalogue::Cell;
using catalogue::Conditions;
using catalogue::Function;
using catalogue::Kind;
using catalogue::Label;
using catalogue::Parameter;
using catalogue::ResultKind;
using catalogue::Table;
using catalogue::Value;
using Json = nlohmann::ordered_json;

std::string_view name_of(Kind kind) {
    switch (kind) {
        case Kind::number: return "number";
        case Kind::choice: return "choice";
        case Kind::text: return "text";
        case Kind::fuel: return "fuel";
        case Kind::series: return "series";
        case Kind::block: return "block";
        case Kind::table: return "table";
        case Kind::any: return "any";
        case Kind::list: return "list";
        case Kind::cell: return "cell";
        case Kind::unit: return "unit";
    }
    return {};
}

std::string_view name_of(ResultKind kind) {
    switch (kind) {
        case ResultKind::number: return "number";
        case ResultKind::text: return "text";
        case ResultKind::table: return "table";
    }
    return {};
}

Json exact(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) return *number;
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    return nullptr;
}

Json exact(const Value& value) {
    if (const auto* table = std::get_if<Table>(&value)) {
        Json rows = Json::array();
        for (std::size_t r = 0; r < table->rows(); ++r) {
            Json row = Json::array();
            for (std::size_t c = 0; c < table->columns(); ++c) row.push_back(exact(table->at(r, c)));
            rows.push_back(std::move(row));
        }
        return rows;
    }
    if (const auto* number = std::get_if<double>(&value)) return *number;
    if (const auto* text = std::get_if<std::string>(&value)) return *text;
    return nullptr;
}

Json limit(double value) {
    return std::isfinite(value) ? Json(value) : Json(nullptr);
}

Json limits(const Interval& interval) {
    return {{"low", limit(interval.low)}, {"high", limit(interval.high)}};
}

// What parameters and labels have in common.
template <class Described>
void add_conditions(Json& json, const Described& described, const Conditions& conditions) {
    json["required"] = conditions.required;
    json["takes"] = conditions.takes;
    json["choices"] = conditions.choices;
    json["allowed"] = conditions.allowed;
    json["range"] = limits(described.range);
    json["established"] = described.established_range ? limits(*described.established_range) : Json(nullptr);
    json["established_for"] = conditions.established;
    json["usual"] = described.usual_range ? limits(*described.usual_range) : Json(nullptr);
    json["unwarned"] = conditions.established.empty() ? conditions.usual : conditions.established;
    json["default"] = described.default_value ? Json(*described.default_value) : Json(nullptr);
    json["omitted"] = conditions.omitted;
}

Json describe(const Function& function, const Parameter& parameter) {
    Json json = {{"name", parameter.name},
                 {"meaning", parameter.meaning},
                 {"kind", name_of(parameter.kind)},
                 {"unit", parameter.unit},
                 {"quantity", catalogue::quantity_name(parameter.quantity)},
                 {"units", catalogue::unit_symbols(parameter.quantity)}};
    add_conditions(json, parameter, conditions(function, parameter));
    json["block"] = parameter.schema ? Json(parameter.schema->name.view()) : Json(nullptr);
    json["details"] =
        parameter.details ? parameter.details(catalogue::Language::english) : std::vector<std::string>{};
    return json;
}

Json describe(const BlockSchema& schema) {
    Json labels = Json::array();
    for (const Label& label : schema.labels) {
        Json json = {{"name", label.name}, {"meaning", label.meaning}, {"unit", label.unit}};
        add_conditions(json, label, conditions(label));
        labels.push_back(std::move(json));
    }
    return {{"name", schema.name.view()}, {"labels", labels}, {"one_of", schema.one_of}};
}

Json describe(const catalogue::Figure* figure) {
    if (!figure || figure->is_open()) return nullptr;
    return {{"unit", figure->unit},
            {"possible", limits(figure->possible)},
            {"usual", limits(figure->usual)},
            {"basis", figure->basis}};
}

Json describe(const catalogue::Result& result) {
    Json columns = Json::array();
    for (const auto& column : result.columns)
        columns.push_back(
            {{"name", column.name}, {"unit", column.unit}, {"bounds", describe(column.figure)}});
    return {{"kind", name_of(result.kind)},
            {"meaning", result.meaning},
            {"unit", result.unit},
            {"quantity", catalogue::quantity_name(result.quantity)},
            {"units", catalogue::unit_symbols(result.quantity)},
            {"bounds", describe(result.figure)},
            {"columns", std::move(columns)}};
}

Json describe(const catalogue::Example& example, const Function& function) {
    Json arguments = Json::array();
    for (const Value& argument : example.arguments) arguments.push_back(exact(argument));
    const bool is_number = std::holds_alternative<double>(example.expected);
    return {{"formula", "=" + formula_text(function.name, example.arguments)},
            {"arguments", std::move(arguments)},
            {"expected", exact(example.expected)},
            {"unit", is_number ? result_unit(function, example.arguments) : std::string_view()},
            {"tolerance", example.tolerance},
            {"row", example.row},
            {"column", example.column}};
}

}  // namespace

Json description(const Function& function) {
    Json parameters = Json::array();
    for (const Parameter& parameter : function.parameters)
        parameters.push_back(describe(function, parameter));
    Json blocks = Json::array();
    for (const BlockSchema* schema : blocks_of(function)) blocks.push_back(describe(*schema));
    Json accuracy = Json::array();
    for (const auto& line : seen(function))
        accuracy.push_back({{"text", in_one_line(line)},
                            {"source", line.source},
                            {"note", line.note},
                            {"values", line.values},
                            {"deviation", line.deviation},
                            {"agrees", line.agrees}});
    Json sources = Json::array();
    for (const auto key : function.sources.keys)
        sources.push_back({{"key", key}, {"citation", catalogue::citation(key)}});
    return {{"name", function.name.view()},
            {"family", function.family()},
            {"identifier", function.identifier()},
            {"summary", function.summary.view()},
            {"signature", signature(function)},
            {"parameters", std::move(parameters)},
            {"result", describe(function.result)},
            {"blocks", std::move(blocks)},
            {"method", function.method.view()},
            {"formula", function.formula},
            {"symbols", function.symbols},
            {"accuracy", function.accuracy},
            {"seen", std::move(accuracy)},
            {"sources", std::move(sources)},
            {"example", describe(function.example, function)}};
}

Json describe_commands(const CLI::App& app) {
    Json options = Json::array();
    Json arguments = Json::array();
    for (const CLI::Option* option : app.get_options()) {
        const bool is_positional = option->get_positional();
        if (!is_positional && option->get_group().empty()) continue;
        Json names = Json::array();
        for (const auto& name : option->get_snames()) names.push_back("-" + name);
        for (const auto& name : option->get_lnames()) names.push_back("--" + name);
        Json json = {{"names", std::move(names)},
                     {"text", option->get_description()},
                     {"takes_value", option->get_items_expected_max() > 0}};
        if (is_positional) {
            json["name"] = option->get_name();
            json["required"] = option->get_required();
        }
        (is_positional ? arguments : options).push_back(std::move(json));
    }
    Json commands = Json::array();
    for (const CLI::App* command : app.get_subcommands({})) commands.push_back(describe_commands(*command));
    return {{"name", app.get_name()},        {"text", app.get_description()},
            {"footer", app.get_footer()},    {"arguments", std::move(arguments)},
            {"options", std::move(options)}, {"commands", std::move(commands)}};
}

}  // namespace pullsheet::harness
