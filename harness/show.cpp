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
#include "harness/formula.hpp"
#include "harness/output.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::BlockSchema;
using catalogue::Column;
using catalogue::Function;
using catalogue::in_brackets;
using catalogue::in_one_line;
using catalogue::Label;
using catalogue::Language;
using catalogue::Parameter;
using catalogue::Phrase;
using catalogue::ResultKind;
using catalogue::say;
using catalogue::Seen;
using catalogue::translated;

void show_block(std::ostream& out, const BlockSchema& schema, Language language) {
    fmt::print(out, "\n{}: {}\n", translated(language, "Labels of the block"), schema.name.view());
    for (const Label& label : schema.labels)
        fmt::print(out, "  {}{}  {}\n      {}\n", label.name, in_brackets(label.unit),
                   translated(language, label.meaning), in_one_line(conditions(label, language), language));
    for (const auto& group : schema.one_of)
        fmt::print(out, "  {}: {}\n", translated(language, "Only one of"), catalogue::joined(group));
}

void show_example(std::ostream& out, const Function& function, Language language) {
    const auto& example = function.example;
    fmt::print(out, "\n{}\n  {}\n", translated(language, "Example"),
               typed_formula(function.name.view(), example.arguments, language));
    std::string value = cell_text(example.expected, 10);
    if (std::holds_alternative<double>(example.expected))
        value = catalogue::with_decimal_mark(value, language);
    if (std::holds_alternative<double>(example.expected))
        if (const auto unit = catalogue::result_unit(function, example.arguments); !unit.empty())
            value.append(" ").append(unit);
    if (function.result.kind == ResultKind::table)
        value = say(language, Phrase::element,
                    {{"row", std::to_string(example.row + 1)},
                     {"column", std::to_string(example.column + 1)},
                     {"sentence", value}});
    fmt::print(out, "  {}\n", value);
}

void show_for_people(const Function& function, std::ostream& out, Language language) {
    fmt::print(out, "{}\n  {}\n", signature(function, language), translated(language, function.summary));

    if (!function.parameters.empty()) fmt::print(out, "\n{}\n", translated(language, "Parameters"));
    for (const Parameter& parameter : function.parameters) {
        fmt::print(out, "  {}{}  {}\n      {}\n", parameter.name, in_brackets(parameter.unit),
                   translated(language, parameter.meaning),
                   in_one_line(conditions(function, parameter, language), language));
        if (parameter.details)
            for (const std::string& line : parameter.details(language)) fmt::print(out, "      {}\n", line);
    }

    fmt::print(out, "\n{}{}\n  {}\n", translated(language, "Result"), in_brackets(function.result.unit),
               translated(language, function.result.meaning));
    const auto show_bounds = [&](const catalogue::Figure* figure) {
        if (const std::string bounds = catalogue::bounds_in_words(figure, language); !bounds.empty())
            fmt::print(out, "      {}\n", bounds);
    };
    show_bounds(function.result.figure);
    for (const Column& column : function.result.columns) {
        fmt::print(out, "  {} {}{}\n", translated(language, "column"), column.name, in_brackets(column.unit));
        show_bounds(column.figure);
    }

    for (const BlockSchema* schema : blocks_of(function)) show_block(out, *schema, language);

    fmt::print(out, "\n{}\n  {}\n", translated(language, "Method"), translated(language, function.method));
    if (!function.formula.empty())
        fmt::print(out, "  {}\n  ({})\n",
                   catalogue::with_decimal_mark(std::string(function.formula), language),
                   translated(language, function.symbols));
    const std::vector<Seen> accuracy = seen(function);
    if (!function.accuracy.empty() || !accuracy.empty())
        fmt::print(out, "\n{}\n", translated(language, "Accuracy"));
    if (!function.accuracy.empty()) fmt::print(out, "  {}\n", translated(language, function.accuracy));
    for (const Seen& line : accuracy) fmt::print(out, "  {}\n", in_one_line(line, language));
    fmt::print(out, "\n{}\n", translated(language, "Sources"));
    for (const auto key : function.sources.keys)
        fmt::print(out, "  {}\n", translated(language, catalogue::citation(key)));
    show_example(out, function, language);
}

}  // namespace

int show(const std::string& name, const Output& output, const Streams& streams) {
    const Function& function = function_named(name, streams.language);
    if (output.format == Format::json)
        streams.out << json_line(description(function)) << '\n';
    else
        show_for_people(function, streams.out, streams.language);
    return done;
}

}  // namespace pullsheet::harness
