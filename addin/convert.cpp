// SPDX-License-Identifier: Apache-2.0
#include "addin/convert.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
using catalogue::Cell;
using catalogue::Failure;
using catalogue::FailureKind;
using catalogue::Table;
using catalogue::Value;

// A single content: nothing, a number, or a text.
Cell to_cell(const uno::Any& any) {
    switch (any.getValueTypeClass()) {
        case uno::TypeClass_DOUBLE: return *static_cast<const double*>(any.getValue());
        case uno::TypeClass_STRING: return to_utf8(*static_cast<const rtl::OUString*>(any.getValue()));
        case uno::TypeClass_BOOLEAN: return *static_cast<const sal_Bool*>(any.getValue()) ? 1.0 : 0.0;
        default: {
            double number = 0.0;  // every other numeric type fits
            if (any >>= number) return number;
            return {};
        }
    }
}

template <class T>
Value to_table(const uno::Sequence<uno::Sequence<T>>& rows) {
    std::size_t columns = 0;
    for (sal_Int32 r = 0; r < rows.getLength(); ++r)
        columns = std::max(columns, static_cast<std::size_t>(rows[r].getLength()));
    if (is_too_large(rows.getLength(), static_cast<std::int64_t>(columns)))
        return too_large(rows.getLength(), static_cast<std::int64_t>(columns));
    Table table(static_cast<std::size_t>(rows.getLength()), columns);
    for (sal_Int32 r = 0; r < rows.getLength(); ++r) {
        const T* row = rows[r].getConstArray();
        for (sal_Int32 c = 0; c < rows[r].getLength(); ++c) {
            Cell& cell = table.at(static_cast<std::size_t>(r), static_cast<std::size_t>(c));
            if constexpr (std::is_same_v<T, uno::Any>)
                cell = to_cell(row[c]);
            else
                cell = static_cast<double>(row[c]);
        }
    }
    return table;
}

double to_number(double number) {
    return std::isfinite(number) ? number : error_value(error_code(FailureKind::no_solution));
}

uno::Any to_any(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) return uno::Any(to_number(*number));
    if (const auto* text = std::get_if<std::string>(&cell)) return uno::Any(to_unicode(*text));
    if (const auto* failure = std::get_if<Failure>(&cell))
        return uno::Any(error_value(error_code(failure->kind)));
    return uno::Any(rtl::OUString());  // Calc would show a void element as 0
}

bool holds_numbers_only(const Table& table) {
    for (std::size_t r = 0; r < table.rows(); ++r)
        for (std::size_t c = 0; c < table.columns(); ++c)
            if (!std::holds_alternative<double>(table.at(r, c)) &&
                !std::holds_alternative<Failure>(table.at(r, c)))
                return false;
    return true;
}

// For a cell that holds one of the two.
double to_number_or_error(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) return to_number(*number);
    return error_value(error_code(std::get<Failure>(cell).kind));
}

template <class T, class Convert>
uno::Sequence<uno::Sequence<T>> to_rows(const Table& table, Convert convert) {
    uno::Sequence<uno::Sequence<T>> rows(static_cast<sal_Int32>(table.rows()));
    auto* row = rows.getArray();
    for (std::size_t r = 0; r < table.rows(); ++r) {
        row[r].realloc(static_cast<sal_Int32>(table.columns()));
        auto* cells = row[r].getArray();
        for (std::size_t c = 0; c < table.columns(); ++c) cells[c] = convert(table.at(r, c));
    }
    return rows;
}

}  // namespace

bool is_too_large(std::int64_t rows, std::int64_t columns) {
    constexpr std::int64_t most = 20'000'000;
    return rows * columns > most;
}

Failure too_large(std::int64_t rows, std::int64_t columns, catalogue::Language language) {
    return {FailureKind::wrong_argument,
            catalogue::say(language,
                           "a range of {rows} × {columns} cells is given; at most 20 million cells are taken",
                           {{"rows", std::to_string(rows)}, {"columns", std::to_string(columns)}})};
}

int error_code(FailureKind kind) {
    switch (kind) {
        case FailureKind::wrong_argument: return 502;
        case FailureKind::no_solution: return 523;
        case FailureKind::no_data: return 32767;
    }
    return 502;
}

double error_value(int code) {
    return std::bit_cast<double>(std::uint64_t{0x7FF8000000000000} | static_cast<std::uint64_t>(code));
}

Value to_value(const uno::Any& any) {
    if (any.getValueTypeClass() == uno::TypeClass_DOUBLE) return *static_cast<const double*>(any.getValue());
    if (any.getValueTypeClass() == uno::TypeClass_VOID) return {};
    if (any.getValueTypeClass() == uno::TypeClass_SEQUENCE) {
        UnoTable cells;
        if (any >>= cells) return to_table(cells);
        uno::Sequence<uno::Sequence<double>> numbers;
        if (any >>= numbers) return to_table(numbers);
        uno::Sequence<uno::Sequence<sal_Int32>> integers;
        if (any >>= integers) return to_table(integers);
        return Failure{FailureKind::wrong_argument, "the argument is of a kind that no cell holds"};
    }
    return catalogue::to_value(to_cell(any));
}

uno::Any to_any(const Value& value) {
    if (const auto* number = std::get_if<double>(&value)) return uno::Any(to_number(*number));
    const auto* table = std::get_if<Table>(&value);
    if (!table)
        return std::visit(
            [](const auto& content) -> uno::Any {
                if constexpr (std::is_same_v<std::decay_t<decltype(content)>, Table>)
                    return {};
                else
                    return to_any(Cell(content));
            },
            value);
    if (table->empty()) return uno::Any(error_value(error_code(FailureKind::no_data)));
    // A column of numbers and errors is returned as plain doubles, because the office copies the result four
    // times before it reaches the sheet.
    if (holds_numbers_only(*table)) return uno::Any(to_rows<double>(*table, to_number_or_error));
    return uno::Any(to_rows<uno::Any>(*table, [](const Cell& cell) { return to_any(cell); }));
}

}  // namespace pullsheet::addin
