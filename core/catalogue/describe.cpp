// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/describe.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "core/catalogue/bounds.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {
namespace {

std::string_view what_it_takes(Kind kind) {
    switch (kind) {
        case Kind::number:
        case Kind::choice:
        case Kind::text:
        case Kind::unit: return {};
        case Kind::fuel: return marked("a share or a block");
        case Kind::series: return marked("a row or column of numbers");
        case Kind::block: return marked("a block: label, value, unit, standard uncertainty");
        case Kind::table: return marked("a table with a header row");
        case Kind::any: return marked("a value or a range");
        case Kind::list: return marked("any number of arguments");
        case Kind::cell: return marked("a cell of a sheet, in Calc only");
    }
    return {};
}

// The reference of a pressure (absolute, gauge or difference): both matching spellings are accepted.
std::string_view kind_of_pressure(Quantity quantity, Over over) {
    if (quantity == Quantity::pressure) return marked("absolute: bar or bara");
    if (quantity != Quantity::pressure_difference) return {};
    switch (over) {
        case Over::surroundings: return marked("above ambient pressure: bar or barg");
        case Over::manifold: return marked("above manifold pressure: bar or bard");
        case Over::point: return marked("a difference between two points: bar or bard");
    }
    return {};
}

// What an interval leaves of the allowed one; nothing where that says no more than "allowed".
std::optional<Interval> narrower(const std::optional<Interval>& interval, Interval allowed) {
    if (!interval) return std::nullopt;
    const Interval left = intersection(allowed, *interval);
    const bool says_more = left.low > allowed.low || left.high < allowed.high;
    return says_more ? std::optional(left) : std::nullopt;
}

// "within 0.003 %", with two digits; deviations below floating-point rounding are reported alike.
std::string within(double relative, Language language) {
    constexpr double rounding = 5e-12;
    if (relative < rounding) return std::string(translated(language, "exactly"));
    const double percent = 100.0 * relative;
    const int decimals = std::max(0, 1 - static_cast<int>(std::floor(std::log10(percent))));
    return fmt::format("{} {} %", translated(language, "within"),
                       with_decimal_mark(fmt::format("{:.{}f}", percent, decimals), language));
}

// What was met or missed, behind its number.
std::string_view verdict_on(const Seen& seen) {
    const bool one = seen.values == 1;
    if (!seen.agrees) return marked("values, some missed");
    switch (seen.evidence) {
        case Evidence::printed: return one ? marked("printed value met") : marked("printed values met");
        case Evidence::independent:
            return one ? marked("independent value met") : marked("independent values met");
        case Evidence::identity: break;
    }
    return one ? marked("identity holds") : marked("identities hold");
}

}  // namespace

Conditions conditions(const Function& function, const Parameter& parameter, Language language) {
    Conditions result;
    result.required = parameter.required;
    if (const auto takes = what_it_takes(parameter.kind); !takes.empty())
        result.takes = translated(language, takes);
    result.choices = parameter.kind == Kind::unit
                         ? units_taken(function.result.quantity, function.result.test_density > 0.0)
                         : parameter.choices;
    if (const auto kind = kind_of_pressure(parameter.quantity, parameter.over); !kind.empty()) {
        if (!result.takes.empty()) result.takes += "; ";
        result.takes += translated(language, kind);
    }
    const bool is_numeric =
        parameter.kind == Kind::number || parameter.kind == Kind::fuel || parameter.kind == Kind::series;
    const auto in_words = [&](Interval interval) {
        return allowed_text(interval, parameter.quantity, parameter.default_unit, language);
    };
    if (is_numeric) result.allowed = in_words(parameter.range);
    if (const auto within = narrower(parameter.established_range, parameter.range))
        result.established = in_words(*within);
    if (const auto within = narrower(parameter.usual_range, parameter.range))
        result.usual = in_words(*within);
    if (parameter.default_value)
        result.omitted = number_text(*parameter.default_value, parameter.default_unit, language);
    else if (!parameter.default_text.empty())
        result.omitted = translated(language, parameter.default_text);
    return result;
}

Conditions conditions(const Label& label, Language language) {
    Conditions result;
    result.required = label.required;
    const Unit* unit = label.unit.empty() ? nullptr : find_unit(label.unit);
    result.takes = translated(
        language, label.is_text ? marked("a text") : kind_of_pressure(label.quantity, Over::surroundings));
    const auto in_words = [&](Interval interval) {
        return allowed_text(interval, label.quantity, unit, language);
    };
    if (!label.is_text) result.allowed = in_words(label.range);
    if (const auto within = narrower(label.established_range, label.range))
        result.established = in_words(*within);
    if (const auto within = narrower(label.usual_range, label.range)) result.usual = in_words(*within);
    if (label.default_value) result.omitted = number_text(*label.default_value, unit, language);
    return result;
}

std::string in_one_line(const Conditions& conditions, Language language, bool is_said) {
    std::string line;
    const auto add = [&](std::string_view title, std::string_view text) {
        if (!line.empty()) line += "; ";
        if (!title.empty()) line.append(translated(language, title)).append(text.empty() ? "" : ": ");
        line += text;
    };
    if (!conditions.takes.empty()) add({}, conditions.takes);
    if (!conditions.choices.empty()) add(marked("one of"), joined(conditions.choices));
    if (!conditions.allowed.empty()) add(marked("allowed"), conditions.allowed);
    if (!conditions.established.empty()) add(marked("established for"), conditions.established);
    if (!conditions.usual.empty()) add(marked("in practice"), conditions.usual);
    if (is_said) return line;
    if (conditions.required)
        add(marked("required"), {});
    else if (conditions.omitted.empty())
        add(marked("optional"), {});
    else
        add(marked("if omitted"), conditions.omitted);
    return line;
}

std::string bounds_in_words(const Figure* figure, Language language) {
    if (!figure || figure->is_open()) return {};
    std::string line =
        fmt::format("{}: {}", translated(language, marked("possible")), possible_in_words(*figure, language));
    if (narrower(figure->usual, figure->possible))
        line += fmt::format("; {}: {}", translated(language, marked("in practice")),
                            usual_in_words(*figure, language));
    return line;
}

std::string in_brackets(std::string_view unit) {
    return unit.empty() ? std::string() : fmt::format(" [{}]", unit);
}

std::string signature(const Function& function, Language language) {
    std::string text(function.name.view());
    text += '(';
    for (const Parameter& parameter : function.parameters) {
        if (&parameter != &function.parameters.front()) text += "; ";
        text.append(parameter.name).append(in_brackets(parameter.unit));
        if (parameter.default_value) text += " = " + number_text(*parameter.default_value, language);
        if (parameter.kind == Kind::list) text += " …";
    }
    return text + ')';
}

std::vector<const BlockSchema*> blocks_of(const Function& function) {
    std::vector<const BlockSchema*> blocks;
    for (const Parameter& parameter : function.parameters)
        if (parameter.schema && std::find(blocks.begin(), blocks.end(), parameter.schema) == blocks.end())
            blocks.push_back(parameter.schema);
    return blocks;
}

std::string_view result_unit(const Function& function, const std::vector<Value>& arguments) {
    for (std::size_t i = 0; i < function.parameters.size() && i < arguments.size(); ++i)
        if (function.parameters[i].kind == Kind::unit)
            if (const auto* asked = std::get_if<std::string>(&arguments[i]))
                if (const auto* unit = find_unit(*asked)) return unit->symbol;
    return function.result.unit;
}

std::vector<Seen> seen(const Function& function) {
    std::vector<Seen> result;
    for (const Check& check : checks()) {
        if (check.function != function.name.view()) continue;
        auto line = std::find_if(result.begin(), result.end(), [&](const Seen& known) {
            return known.source == check.source && known.note == check.note &&
                   known.evidence == check.evidence;
        });
        if (line == result.end())
            line = result.insert(
                line, Seen{.source = check.source, .note = check.note, .evidence = check.evidence});
        const CheckResult ran = run(check);
        ++line->values;
        line->agrees = line->agrees && ran.agrees;
        if (!ran.computed) continue;
        const double difference = std::abs(*ran.computed - check.expected);
        line->deviation = std::max(
            line->deviation, check.expected == 0.0 ? difference : difference / std::abs(check.expected));
    }
    return result;
}

std::string in_one_line(const Seen& seen, Language language) {
    const std::string_view verdict = verdict_on(seen);
    std::string line = fmt::format("{} {} {}: {}", seen.values, translated(language, verdict),
                                   within(seen.deviation, language), seen.source);
    if (!seen.note.empty()) line += fmt::format(" ({})", translated(language, seen.note));
    return line;
}

}  // namespace pullsheet::catalogue
