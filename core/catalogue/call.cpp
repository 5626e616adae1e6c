// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/call.hpp"

#include <cmath>
#include <limits>

#include "core/catalogue/bounds.hpp"
#include "core/catalogue/fuel_block.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {
namespace {

/// The number of cells of a range that must be one row or one column.
std::size_t length_of(const Table& range, const Parameter& parameter, Language language) {
    if (range.rows() != 1 && range.columns() != 1)
        throw Refused{FailureKind::wrong_argument, say(language, Phrase::one_row_or_column,
                                                       {{"parameter", std::string(parameter.name)},
                                                        {"rows", std::to_string(range.rows())},
                                                        {"columns", std::to_string(range.columns())}})};
    return range.rows() * range.columns();
}

const Cell& nth_cell(const Table& range, std::size_t n) {
    return range.columns() == 1 ? range.at(n, 0) : range.at(0, n);
}

}  // namespace

std::string_view Call::text(std::size_t i) const {
    const Read& read = read_[i];
    if (read.cell) {
        const auto* text = std::get_if<std::string>(read.cell);
        return text ? std::string_view(*text) : std::string_view{};
    }
    const auto* text = read.value ? std::get_if<std::string>(read.value) : nullptr;
    return text ? std::string_view(*text) : std::string_view{};
}

fuel::Fuel Call::fuel(std::size_t i) {
    const Table* range = read_[i].given && !read_[i].cell ? std::get_if<Table>(read_[i].value) : nullptr;
    if (range)
        return fuel_from(read_block(*range, fuel_schema(), function_.parameters[i].name, language_, warnings),
                         function_.parameters[i].name, language_, warnings);
    fuel::Fuel fuel;
    fuel.ethanol_share = read_[i].number;
    return fuel;
}

Block Call::block(std::size_t i) {
    return read_block(std::get<Table>(*read_[i].value), *function_.parameters[i].schema,
                      function_.parameters[i].name, language_, warnings);
}

std::vector<double> Call::series(std::size_t i) {
    const Parameter& parameter = function_.parameters[i];
    const std::string name(parameter.name);
    std::vector<double> numbers;
    const auto read_cell = [&](const Cell& cell, std::size_t at) {
        if (const auto plain = plain_number(parameter, cell, warnings)) {
            numbers.push_back(*plain);
            return;
        }
        const auto* range = std::get_if<Table>(read_[i].value);
        const std::string shown =
            !range
                ? name
                : say(language_, range->columns() == 1 ? Phrase::element_of_column : Phrase::element_of_row,
                      {{"parameter", name}, {"position", std::to_string(at + 1)}});
        numbers.push_back(read_number(cell, wanted(parameter, shown), language_, warnings));
    };
    const Table* range = std::get_if<Table>(read_[i].value);
    if (!range) {
        std::visit(
            [&](const auto& content) {
                if constexpr (!std::is_same_v<std::decay_t<decltype(content)>, Table>) read_cell(content, 0);
            },
            *read_[i].value);
        return numbers;
    }
    const std::size_t n = length_of(*range, parameter, language_);
    numbers.reserve(n);
    for (std::size_t k = 0; k < n; ++k) read_cell(nth_cell(*range, k), k);
    return numbers;
}

std::vector<double> Call::raw_series(std::size_t i) {
    const Parameter& parameter = function_.parameters[i];
    const Table* range = std::get_if<Table>(read_[i].value);
    if (!range) return series(i);
    const std::size_t n = length_of(*range, parameter, language_);
    std::vector<double> numbers(n, std::numeric_limits<double>::quiet_NaN());
    Wanted in_row = wanted(parameter, parameter.name);
    in_row.established = in_row.usual = nullptr;
    for (std::size_t k = 0; k < n; ++k) {
        const Cell& cell = nth_cell(*range, k);
        if (const auto* number = std::get_if<double>(&cell)) {
            if (std::isfinite(*number)) numbers[k] = si_of(parameter, *number);
            continue;
        }
        if (is_blank(cell)) continue;
        try {
            numbers[k] = read_number(cell, in_row, language_, warnings);
        } catch (const Refused&) {
            // A heading or a remark in a pasted log becomes NaN, which the cleaning counts as not a number.
        }
    }
    return numbers;
}

Cell Call::held(std::string_view name, double si, const Figure& figure) {
    if (!std::isfinite(si) || figure.is_open()) return si;
    const auto said = [&](Phrase phrase, const std::string& allowed) {
        return say(language_, phrase,
                   {{"parameter", std::string(name)},
                    {"value", in_words(figure, si, language_)},
                    {"allowed", allowed}});
    };
    if (!is_possible(figure, si))
        return Failure{FailureKind::wrong_argument,
                       std::string(function_.name.view()) + ": " +
                           said(Phrase::figure_impossible, possible_in_words(figure, language_))};
    if (warnings.wanted() && !is_usual(figure, si))
        warnings.add(said(Phrase::figure_unusual, usual_in_words(figure, language_)));
    return si;
}

void Call::warn(const std::vector<Warning>& more) {
    if (!warnings.wanted()) return;
    for (const Warning& warning : more) warnings.add(say(language_, warning.reason, warning.details));
}

}  // namespace pullsheet::catalogue
