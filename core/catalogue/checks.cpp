// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/checks.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/published/published.hpp"

namespace pullsheet::catalogue {

Tolerance Tolerance::printed(int decimals) {
    return absolute(0.5 / std::pow(10.0, decimals));
}

std::span<const Check> checks() {
    static const std::vector<Check> all = [] {
        std::vector<Check> result;
        for (auto family : {published::unit, published::air, published::dyno, published::engine,
                            published::fuel, published::injector, published::pump, published::compressor,
                            published::charge, published::turbine, published::pipe, published::tyre,
                            published::pull, published::agreement, published::uncertainty})
            for (Check& check : family()) result.push_back(std::move(check));
        return result;
    }();
    return all;
}

CheckResult run(const Check& check, Language language) {
    const auto said = [&](std::string_view sentence) {
        return std::string(check.function).append(": ").append(sentence);
    };
    const Function* function = find_function(check.function);
    if (!function) return {{}, 0.0, false, unknown_function(check.function, language)};
    const Outcome outcome = evaluate(*function, check.arguments, language);
    Value value = outcome.value;
    if (const auto* table = std::get_if<Table>(&outcome.value)) {
        if (check.row >= table->rows() || check.column >= table->columns())
            return {{}, 0.0, false, said(translated(language, "the table has no such cell"))};
        value = to_value(table->at(check.row, check.column));
    }
    if (const auto* failure = std::get_if<Failure>(&value)) return {{}, 0.0, false, failure->sentence};
    const auto* number = std::get_if<double>(&value);
    if (!number) return {{}, 0.0, false, said(translated(language, "the answer is no number"))};
    double deviation = *number - check.expected;
    if (check.tolerance.is_relative) deviation /= std::abs(check.expected);
    // A published value that was rounded at a tie lies exactly at the limit, give or take a rounding of
    // doubles.
    const double slack = 1e-9 * check.tolerance.value;
    return {*number, deviation, std::abs(deviation) <= check.tolerance.value + slack, {}};
}

}  // namespace pullsheet::catalogue
