// SPDX-License-Identifier: Apache-2.0
#include "harness/show.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <nlohmann/json.hpp>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/describe.hpp"
#include "core/catalogue/reader.hpp"
#include "harness/argument.hpp"
#include "harness/description.hpp"
#include "harness/output.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::BlockSchema;
using catalogue::Column;
using catalogue::Function;
using catalogue::in_brackets;
using catalogue::in_one_line;
using catalogue::Label;
using catalogue::Parameter;
using catalogue::ResultKind;
using catalogue::Seen;

void show_block(std::ostream& out, const BlockSchema& schema) {
    fmt::print(out, "\nLabels of the block: {}\n", schema.name.view());
    for (const Label& label : schema.labels)
        fmt::print(out, "  {}{}  {}\n      {}\n", label.name, in_brackets(label.unit), label.meaning,
                   in_one_line(conditions(label)));
    for (const auto& group : schema.one_of) fmt::print(out, "  Only one of: {}\n", catalogue::joined(group));
}

void show_example(std::ostream& out, const Function& function) {
    const auto& example = function.example;
    fmt::print(out, "\nExample\n  ={}\n", formula_text(function.name, example.arguments));
    std::string where;
    if (function.result.kind == ResultKind::table)
        where = fmt::format("row {}, column {}: ", example.row + 1, example.column + 1);
    const std::string unit = std::holds_alternative<double>(example.expected)
                                 ? std::string(catalogue::result_unit(function, example.arguments))
                                 : std::string();
    fmt::print(out, "  {}{}{}{}\n", where, cell_text(example.expected, 10), unit.empty() ? "" : " ", unit);
}

void show_for_people(const Function& function, std::ostream& out) {
    fmt::print(out, "{}\n  {}\n", signature(function), function.summary.view());

    if (!function.parameters.empty()) fmt::print(out, "\nParameters\n");
    for (const Parameter& parameter : function.parameters) {
        fmt::print(out, "  {}{}  {}\n      {}\n", parameter.name, in_brackets(parameter.unit),
                   parameter.meaning, in_one_line(conditions(function, parameter)));
        for (const std::string& line : parameter.details) fmt::print(out, "      {}\n", line);
    }

    fmt::print(out, "\nResult{}\n  {}\n", in_brackets(function.result.unit), function.result.meaning);
    for (const Column& column : function.result.columns)
        fmt::print(out, "  column {}{}\n", column.name, in_brackets(column.unit));

    for (const BlockSchema* schema : blocks_of(function)) show_block(out, *schema);

    fmt::print(out, "\nMethod\n  {}\n", function.method.view());
    if (!function.formula.empty()) fmt::print(out, "  {}\n  ({})\n", function.formula, function.symbols);
    const std::vector<Seen> accuracy = seen(function);
    if (!function.accuracy.empty() || !accuracy.empty()) fmt::print(out, "\nAccuracy\n");
    if (!function.accuracy.empty()) fmt::print(out, "  {}\n", function.accuracy);
    for (const Seen& line : accuracy) fmt::print(out, "  {}\n", in_one_line(line));
    fmt::print(out, "\nSources\n");
    for (const auto key : function.sources.keys) fmt::print(out, "  {}\n", catalogue::citation(key));
    show_example(out, function);
}

}  // namespace

int show(const std::string& name, const Output& output, const Streams& streams) {
    const Function& function = function_named(name);
    if (output.format == Format::json)
        streams.out << json_line(description(function)) << '\n';
    else
        show_for_people(function, streams.out);
    return done;
}

}  // namespace pullsheet::harness
