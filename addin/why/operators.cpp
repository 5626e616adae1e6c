// SPDX-License-Identifier: Apache-2.0
#include "addin/why/operators.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <charconv>
#include <cmath>

#include "addin/convert.hpp"

namespace pullsheet::addin {
namespace {

using catalogue::Cell;
using catalogue::Failure;
using catalogue::FailureKind;
using catalogue::Language;
using catalogue::say;
using catalogue::Table;
using catalogue::translated;
using catalogue::Value;

std::string text_in(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) return fmt::format("{:.15g}", *number);
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    return {};
}

Cell finite(double number) {
    if (std::isfinite(number)) return number;
    return Failure{};
}

Cell compared(const std::string& op, const Cell& a, const Cell& b) {
    const auto empty_as = [](const Cell& cell, const Cell& other) -> Cell {
        if (!std::holds_alternative<std::monostate>(cell)) return cell;
        return std::holds_alternative<std::string>(other) ? Cell(std::string()) : Cell(0.0);
    };
    const Cell left = empty_as(a, b);
    const Cell right = empty_as(b, a);
    int order = 0;
    if (left.index() != right.index()) {
        order = left.index() < right.index() ? -1 : 1;  // numbers come before texts
    } else if (const auto* number = std::get_if<double>(&left)) {
        const double other = std::get<double>(right);
        order = *number < other ? -1 : *number > other ? 1 : 0;
    } else {
        order = to_unicode(std::get<std::string>(left))
                    .compareToIgnoreAsciiCase(to_unicode(std::get<std::string>(right)));
    }
    const bool holds = op == "="    ? order == 0
                       : op == "<>" ? order != 0
                       : op == "<"  ? order < 0
                       : op == ">"  ? order > 0
                       : op == "<=" ? order <= 0
                                    : order >= 0;
    return holds ? 1.0 : 0.0;
}

Cell combined_cells(const std::string& op, const Cell& a, const Cell& b, Language language) {
    for (const Cell* cell : {&a, &b})
        if (std::holds_alternative<Failure>(*cell)) return *cell;
    if (op == "&") return text_in(a) + text_in(b);
    if (op[0] == '=' || op[0] == '<' || op[0] == '>') return compared(op, a, b);
    const auto x = number_in(a);
    const auto y = number_in(b);
    if (!x) return text_for_number(a, language);
    if (!y) return text_for_number(b, language);
    switch (op[0]) {
        case '+': return finite(*x + *y);
        case '-': return finite(*x - *y);
        case '*': return finite(*x * *y);
        case '/':
            if (*y != 0.0) return finite(*x / *y);
            return Failure{FailureKind::wrong_argument,
                           std::string(translated(language, "division by zero"))};
        default: return finite(std::pow(*x, *y));
    }
}

Cell changed_cell(const std::string& op, const Cell& a, Language language) {
    if (std::holds_alternative<Failure>(a) || op == "+") return a;
    const auto x = number_in(a);
    if (!x) return text_for_number(a, language);
    return op == "%" ? *x / 100.0 : -*x;
}

// An operator over two values, element by element where one of them is a table.
template <class Operation>
Value element_wise(const Value& a, const Value& b, Language language, Operation operation) {
    const auto* left = std::get_if<Table>(&a);
    const auto* right = std::get_if<Table>(&b);
    if (!left && !right) return catalogue::to_value(operation(single(a), single(b)));
    const std::size_t rows = std::max(left ? left->rows() : 1, right ? right->rows() : 1);
    const std::size_t columns = std::max(left ? left->columns() : 1, right ? right->columns() : 1);
    // The broadcast of a column and a row has as many cells as the product of their lengths, which may exceed
    // the memory.
    if (is_too_large(static_cast<std::int64_t>(rows), static_cast<std::int64_t>(columns))) return Failure{};
    Table table(rows, columns);
    for (std::size_t r = 0; r < rows; ++r)
        for (std::size_t c = 0; c < columns; ++c) {
            const auto at = [&](const Table* range, const Value& value) {
                return range ? single(picked(*range, static_cast<int>(r), static_cast<int>(c), language))
                             : single(value);
            };
            table.at(r, c) = operation(at(left, a), at(right, b));
        }
    return table;
}

}  // namespace

std::optional<double> number_in(const Cell& cell) {
    if (std::holds_alternative<std::monostate>(cell)) return 0.0;
    if (const auto* number = std::get_if<double>(&cell)) return *number;
    if (const auto* text = std::get_if<std::string>(&cell)) {
        double number = 0.0;
        const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), number);
        if (!text->empty() && error == std::errc{} && end == text->data() + text->size()) return number;
    }
    return std::nullopt;
}

Cell text_for_number(const Cell& cell, Language language) {
    return Failure{FailureKind::wrong_argument,
                   say(language, "\"{text}\" is a text where a number is wanted", {{"text", text_in(cell)}})};
}

bool are_equal(const Cell& a, const Cell& b) {
    return std::get<double>(compared("=", a, b)) != 0.0;
}

Value changed(const std::string& op, const Value& value, Language language) {
    return element_wise(value, Value{}, language,
                        [&](const Cell& cell, const Cell&) { return changed_cell(op, cell, language); });
}

Value combined(const std::string& op, const Value& a, const Value& b, Language language) {
    return element_wise(a, b, language, [&](const Cell& left, const Cell& right) {
        return combined_cells(op, left, right, language);
    });
}

Cell single(const Value& value) {
    return std::visit(
        [](const auto& content) -> Cell {
            if constexpr (std::is_same_v<std::decay_t<decltype(content)>, Table>)
                return content.empty() ? Cell{} : content.at(0, 0);
            else
                return content;
        },
        value);
}

Value picked(const Table& table, int row, int column, Language language) {
    const auto r = table.rows() == 1 ? 0 : static_cast<std::size_t>(row);
    const auto c = table.columns() == 1 ? 0 : static_cast<std::size_t>(column);
    if (r < table.rows() && c < table.columns()) return catalogue::to_value(table.at(r, c));
    return outside_result(table.rows(), table.columns(), language);
}

Failure outside_result(std::size_t rows, std::size_t columns, Language language) {
    return {FailureKind::no_data,
            say(language, "the array formula covers more cells than its result has ({rows} × {columns})",
                {{"rows", std::to_string(rows)}, {"columns", std::to_string(columns)}})};
}

}  // namespace pullsheet::addin
