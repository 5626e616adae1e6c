// SPDX-License-Identifier: Apache-2.0
#include "harness/show.hpp"

#include <fmt/format.h>
#include <fmt/ostream.h>

#include <algorithm>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/reader.hpp"
#include "harness/argument.hpp"
#include "harness/output.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::BlockSchema;
using catalogue::Column;
using catalogue::Function;
using catalogue::Kind;
using catalogue::Label;
using catalogue::Language;
using catalogue::Parameter;
using catalogue::ResultKind;

constexpr int shown_digits = 6;

std::string in_brackets(std::string_view unit) {
    return unit.empty() ? std::string() : fmt::format(" [{}]", unit);
}

std::string default_text(std::optional<double> value, std::string_view unit) {
    return fmt::format("{}{}{}", number_text(*value, shown_digits), unit.empty() ? "" : " ", unit);
}

// DYNO.FACTOR(standard; temperature [°C]; pressure [kPa]; humidity = 0)
std::string signature(const Function& function) {
    std::string text(function.name.view());
    text += '(';
    for (const Parameter& parameter : function.parameters) {
        if (&parameter != &function.parameters.front()) text += "; ";
        text.append(parameter.name).append(in_brackets(parameter.unit));
        if (parameter.default_value) text += " = " + number_text(*parameter.default_value, shown_digits);
        if (parameter.kind == Kind::list) text += " …";
    }
    return text + ')';
}

std::string_view what_it_takes(Kind kind) {
    switch (kind) {
        case Kind::number:
        case Kind::choice:
        case Kind::text:
        case Kind::unit:
            return {};
        case Kind::fuel:
            return "a share or a block";
        case Kind::series:
            return "a row or column of numbers";
        case Kind::block:
            return "a block: label, value, unit, standard uncertainty";
        case Kind::table:
            return "a table with a header row";
        case Kind::any:
            return "a value or a range";
        case Kind::list:
            return "any number of arguments";
        case Kind::cell:
            return "a cell of a sheet, in Calc only";
    }
    return {};
}

// What is allowed, where it was established, what stands for an omitted argument: one line.
std::string conditions(const Function& function, const Parameter& parameter) {
    std::vector<std::string> parts;
    if (const auto takes = what_it_takes(parameter.kind); !takes.empty()) parts.emplace_back(takes);
    if (parameter.kind == Kind::choice)
        parts.push_back(fmt::format("one of \"{}\"", fmt::join(parameter.choices, "\", \"")));
    if (parameter.kind == Kind::unit)
        parts.push_back("one of " + catalogue::joined(catalogue::unit_symbols(function.result.quantity)));
    const bool is_numeric =
        parameter.kind == Kind::number || parameter.kind == Kind::fuel || parameter.kind == Kind::series;
    const auto allowed = [&](Interval interval) {
        return catalogue::allowed_text(interval, parameter.quantity, parameter.default_unit,
                                       Language::english);
    };
    if (is_numeric) parts.push_back("allowed: " + allowed(parameter.range));
    if (parameter.established_range)
        parts.push_back("established for " + allowed(*parameter.established_range));
    if (!parameter.required)
        parts.push_back(parameter.default_value
                            ? "omitted: " + default_text(parameter.default_value, parameter.unit)
                        : parameter.default_text.empty() ? std::string("may be omitted")
                                                         : "omitted: " + std::string(parameter.default_text));
    return fmt::format("{}", fmt::join(parts, "; "));
}

void show_block(std::ostream& out, std::string_view parameter, const BlockSchema& schema) {
    fmt::print(out, "\nLabels of the block {} ({})\n", parameter, schema.name.view());
    for (const Label& label : schema.labels) {
        std::vector<std::string> parts;
        if (!label.is_text)
            parts.push_back("allowed: " + catalogue::allowed_text(
                                              label.range, label.quantity,
                                              label.unit.empty() ? nullptr : catalogue::find_unit(label.unit),
                                              Language::english));
        if (label.established_range)
            parts.push_back(
                "established for " +
                catalogue::allowed_text(*label.established_range, label.quantity,
                                        label.unit.empty() ? nullptr : catalogue::find_unit(label.unit),
                                        Language::english));
        parts.push_back(label.required        ? std::string("must be given")
                        : label.default_value ? "omitted: " + default_text(label.default_value, label.unit)
                                              : std::string("may be omitted"));
        fmt::print(out, "  {}{}  {}\n      {}\n", label.name, in_brackets(label.unit), label.meaning,
                   fmt::join(parts, "; "));
    }
    for (const auto& group : schema.one_of) fmt::print(out, "  Only one of: {}\n", catalogue::joined(group));
}

void show_example(std::ostream& out, const Function& function) {
    const auto& example = function.example;
    fmt::print(out, "\nExample\n  ={}\n", formula_text(function.name, example.arguments));
    std::string where;
    if (function.result.kind == ResultKind::table)
        where = fmt::format("row {}, column {}: ", example.row + 1, example.column + 1);
    const std::string unit = std::holds_alternative<double>(example.expected)
                                 ? result_unit(function, example.arguments)
                                 : std::string();
    fmt::print(out, "  {}{}{}{}\n", where, cell_text(example.expected, 10), unit.empty() ? "" : " ", unit);
}

}  // namespace

int show(const std::string& name, const Streams& streams) {
    const Function& function = function_named(name);
    std::ostream& out = streams.out;
    fmt::print(out, "{}\n  {}\n", signature(function), function.summary.view());

    if (!function.parameters.empty()) fmt::print(out, "\nParameters\n");
    for (const Parameter& parameter : function.parameters) {
        fmt::print(out, "  {}{}  {}\n", parameter.name, in_brackets(parameter.unit), parameter.meaning);
        if (const std::string text = conditions(function, parameter); !text.empty())
            fmt::print(out, "      {}\n", text);
    }

    fmt::print(out, "\nResult{}\n  {}\n", in_brackets(function.result.unit), function.result.meaning);
    for (const Column& column : function.result.columns)
        fmt::print(out, "  column {}{}\n", column.name, in_brackets(column.unit));

    std::vector<const BlockSchema*> shown;
    for (const Parameter& parameter : function.parameters) {
        if (!parameter.schema || std::find(shown.begin(), shown.end(), parameter.schema) != shown.end())
            continue;
        shown.push_back(parameter.schema);
        show_block(out, parameter.name, *parameter.schema);
    }

    fmt::print(out, "\nMethod\n  {}\n", function.method.view());
    if (!function.accuracy.empty()) fmt::print(out, "\nAccuracy\n  {}\n", function.accuracy);
    fmt::print(out, "\nSources\n");
    for (const auto key : function.sources.keys) fmt::print(out, "  {}\n", catalogue::citation(key));
    show_example(out, function);
    return done;
}

}  // namespace pullsheet::harness
