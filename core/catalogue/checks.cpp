// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/checks.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue {

Tolerance Tolerance::printed(int decimals) {
    return absolute(0.5 / std::pow(10.0, decimals));
}

Check Check::at(std::size_t in_row, std::size_t in_column) && {
    row = in_row;
    column = in_column;
    return std::move(*this);
}

Check Check::change(std::vector<Value> from_arguments, double for_step) && {
    from = std::move(from_arguments);
    step = for_step;
    return std::move(*this);
}

Check Check::within(Tolerance wider, std::string_view reason) && {
    tolerance = wider;
    note = reason;
    is_wider = true;
    return std::move(*this);
}

Check printed(std::string_view function, std::vector<Value> arguments, double expected, int decimals,
              const Reference& reference, std::string_view place, std::string_view note) {
    std::string source(reference.work);
    if (!place.empty()) source.append(", ").append(place);
    return {function,          std::move(arguments), expected,       Tolerance::printed(decimals),
            Evidence::printed, std::move(source),    reference.read, note};
}

Check independent(std::string_view function, std::vector<Value> arguments, double expected,
                  Tolerance tolerance, std::string_view source, std::string_view note) {
    return {
        function, std::move(arguments), expected, tolerance, Evidence::independent, std::string(source), {},
        note};
}

Check identity(std::string_view function, std::vector<Value> arguments, double expected, Tolerance tolerance,
               std::string_view source, std::string_view note) {
    return {function,           std::move(arguments), expected, tolerance,
            Evidence::identity, std::string(source),  {},       note};
}

Counts count(std::span<const Check> checks) {
    Counts counts;
    for (const Check& check : checks) {
        switch (check.evidence) {
            case Evidence::printed:
                if (check.is_wider) {
                    ++counts.wider;
                    break;
                }
                ++counts.printed;
                if (check.function == "UNIT.CONVERT") ++counts.conversions;
                if (check.read.empty()) ++counts.remembered;
                break;
            case Evidence::independent: ++counts.independent; break;
            case Evidence::identity: ++counts.identities; break;
        }
    }
    return counts;
}

Counts least_counts() {
    return {.printed = 97, .conversions = 20, .remembered = 26, .independent = 39};
}

bool is_enough(const Counts& counts) {
    const Counts least = least_counts();
    return counts.printed >= least.printed && counts.conversions <= least.conversions &&
           counts.remembered <= least.remembered && counts.independent >= least.independent;
}

std::span<const Check> checks() {
    static const std::vector<Check> all = [] {
        std::vector<Check> result;
        for (auto family :
             {evidence::unit,   evidence::air,          evidence::dyno,      evidence::engine,
              evidence::fuel,   evidence::injector,     evidence::pump,      evidence::compressor,
              evidence::charge, evidence::turbine,      evidence::pipe,      evidence::tyre,
              evidence::pull,   evidence::pull_printed, evidence::roller,    evidence::road,
              evidence::cycle,  evidence::knock,        evidence::agreement, evidence::uncertainty})
            for (Check& check : family()) result.push_back(std::move(check));
        return result;
    }();
    return all;
}

namespace {

// One number of a result: a scalar, or the cell of a table that the check names.
struct Number {
    std::optional<double> value;
    std::string sentence;  // why there is none
};

Number number_of(const Check& check, const Function& function, const std::vector<Value>& arguments,
                 Language language) {
    const auto said = [&](std::string_view sentence) {
        return Number{{}, std::string(check.function).append(": ").append(sentence)};
    };
    const Outcome outcome = evaluate(function, arguments, language);
    Value value = outcome.value;
    if (const auto* table = std::get_if<Table>(&outcome.value)) {
        if (check.row >= table->rows() || check.column >= table->columns())
            return said(translated(language, "the table has no such cell"));
        value = to_value(table->at(check.row, check.column));
    }
    if (const auto* failure = std::get_if<Failure>(&value)) return {{}, failure->sentence};
    if (const auto* number = std::get_if<double>(&value)) return {*number, {}};
    return said(translated(language, "the answer is no number"));
}

}  // namespace

CheckResult run(const Check& check, Language language) {
    const Function* function = find_function(check.function);
    if (!function) return {{}, 0.0, false, unknown_function(check.function, language)};
    const Number answer = number_of(check, *function, check.arguments, language);
    if (!answer.value) return {{}, 0.0, false, answer.sentence};
    double computed = *answer.value;
    if (!check.from.empty()) {
        const Number before = number_of(check, *function, check.from, language);
        if (!before.value) return {{}, 0.0, false, before.sentence};
        computed = (computed - *before.value) / check.step;
    }
    double deviation = computed - check.expected;
    if (check.tolerance.is_relative) deviation /= std::abs(check.expected);
    // A printed value rounded at a tie deviates by exactly the tolerance, apart from floating-point rounding.
    const double slack = 1e-9 * check.tolerance.value;
    return {computed, deviation, std::abs(deviation) <= check.tolerance.value + slack, {}};
}

}  // namespace pullsheet::catalogue
