// SPDX-License-Identifier: Apache-2.0
// Prints the catalogue as the tests in Calc need it: every function with its parameters and its worked example.
#include <cmath>
#include <iostream>
#include <nlohmann/json.hpp>

#include "core/catalogue/catalogue.hpp"

namespace {

using namespace pullsheet;
using namespace pullsheet::catalogue;
using nlohmann::json;

json to_json(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) return *number;
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    return nullptr;
}

json to_json(const Value& value) {
    if (const auto* table = std::get_if<Table>(&value)) {
        json rows = json::array();
        for (std::size_t r = 0; r < table->rows(); ++r) {
            json row = json::array();
            for (std::size_t c = 0; c < table->columns(); ++c) row.push_back(to_json(table->at(r, c)));
            rows.push_back(row);
        }
        return rows;
    }
    if (const auto* number = std::get_if<double>(&value)) return *number;
    if (const auto* text = std::get_if<std::string>(&value)) return *text;
    return nullptr;
}

json limit(double value) { return std::isfinite(value) ? json(value) : json(nullptr); }

json to_json(const Interval& interval) {
    return {{"low", limit(interval.low)}, {"high", limit(interval.high)}};
}

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
    return "";
}

std::string_view name_of(ResultKind kind) {
    switch (kind) {
        case ResultKind::number: return "number";
        case ResultKind::text: return "text";
        case ResultKind::table: return "table";
    }
    return "";
}

json to_json(const Parameter& parameter) {
    return {{"name", parameter.name},
            {"meaning", parameter.meaning},
            {"kind", name_of(parameter.kind)},
            {"unit", parameter.unit},
            {"range", to_json(parameter.range)},
            {"established", parameter.established_range ? to_json(*parameter.established_range) : json(nullptr)},
            {"required", parameter.required},
            {"default", parameter.default_value ? json(*parameter.default_value) : json(nullptr)}};
}

json to_json(const Function& function) {
    json parameters = json::array();
    for (const Parameter& parameter : function.parameters) parameters.push_back(to_json(parameter));
    json arguments = json::array();
    for (const Value& argument : function.example.arguments) arguments.push_back(to_json(argument));
    return {{"name", function.name.view()},
            {"identifier", function.identifier()},
            {"summary", function.summary.view()},
            {"parameters", parameters},
            {"result", {{"kind", name_of(function.result.kind)}, {"unit", function.result.unit}}},
            {"example",
             {{"arguments", arguments},
              {"expected", to_json(function.example.expected)},
              {"tolerance", function.example.tolerance},
              {"row", function.example.row},
              {"column", function.example.column}}}};
}

}  // namespace

int main() {
    json all = json::array();
    for (const Function& function : functions()) all.push_back(to_json(function));
    std::cout << all.dump(1) << '\n';
}
