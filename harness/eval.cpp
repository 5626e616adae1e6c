// SPDX-License-Identifier: Apache-2.0
#include "harness/eval.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/describe.hpp"
#include "harness/argument.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Failure;
using catalogue::FailureKind;
using catalogue::Function;
using catalogue::Outcome;
using catalogue::Table;
using catalogue::Value;
using Json = nlohmann::ordered_json;

std::vector<Value> read_arguments(const Function& function, const EvalRequest& request,
                                  const Streams& streams) {
    ArgumentReader reader(streams, request.input);
    std::vector<Value> arguments;
    for (const std::string& word : request.arguments) {
        const auto* parameter = parameter_at(function, arguments.size());
        // One argument too many is left to the catalogue, which says how many it takes.
        arguments.push_back(word == "-" ? Value{} : parameter ? reader.read(*parameter, word) : Value(word));
    }
    if (!request.unit.empty()) {
        const std::size_t position = unit_position(function, streams.language);
        if (arguments.size() <= position) arguments.resize(position + 1);
        if (!std::holds_alternative<std::monostate>(arguments[position]))
            throw WrongUse(say(streams.language, "{function}: the unit of the result is given twice",
                               {{"function", std::string(function.name.view())}}));
        arguments[position] = request.unit;
    }
    return arguments;
}

Json rows_json(const Table& table, int digits) {
    Json rows = Json::array();
    for (std::size_t r = 0; r < table.rows(); ++r) {
        Json row = Json::array();
        for (std::size_t c = 0; c < table.columns(); ++c) row.push_back(cell_json(table.at(r, c), digits));
        rows.push_back(std::move(row));
    }
    return rows;
}

void write_json(std::ostream& out, const Function& function, const std::vector<Value>& arguments,
                const Outcome& outcome, int digits) {
    Json json;
    json["function"] = function.name.view();
    if (const auto* failure = std::get_if<Failure>(&outcome.value)) {
        json["error"] = failure->sentence;
    } else if (const auto* table = std::get_if<Table>(&outcome.value)) {
        json["rows"] = rows_json(*table, digits);
        if (const auto errors = error_sentences(*table); !errors.empty()) json["errors"] = errors;
    } else if (const auto* number = std::get_if<double>(&outcome.value)) {
        json["value"] = cell_json(*number, digits);
        if (const auto unit = result_unit(function, arguments); !unit.empty()) json["unit"] = unit;
    } else {
        json["value"] = std::get<std::string>(outcome.value);
    }
    json["warnings"] = outcome.warnings;
    out << json_line(json) << '\n';
}

}  // namespace

int eval(const EvalRequest& request, const Output& output, const Streams& streams) {
    const Function& function = function_named(request.name, streams.language);
    const std::vector<Value> arguments = read_arguments(function, request, streams);
    const Outcome outcome = evaluate(function, arguments, streams.language);

    for (const auto& warning : outcome.warnings)
        streams.error << say(streams.language, "warning: {sentence}", {{"sentence", warning}}) << '\n';
    if (output.format == Format::json) write_json(streams.out, function, arguments, outcome, output.digits);

    if (const auto* failure = std::get_if<Failure>(&outcome.value)) {
        streams.error << failure->sentence << '\n';
        return failure->kind == FailureKind::wrong_argument ? wrong_use : some_failed;
    }
    if (const auto* table = std::get_if<Table>(&outcome.value)) {
        if (output.format != Format::json) write_table(streams.out, *table, output);
        const auto errors = error_sentences(*table);
        for (const auto& sentence : errors) streams.error << sentence << '\n';
        return errors.empty() ? done : some_failed;
    }
    if (output.format != Format::json) {
        const Table single{{std::holds_alternative<double>(outcome.value)
                                ? catalogue::Cell(std::get<double>(outcome.value))
                                : catalogue::Cell(std::get<std::string>(outcome.value))}};
        write_table(streams.out, single, output);
    }
    return done;
}

}  // namespace pullsheet::harness
