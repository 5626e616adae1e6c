// SPDX-License-Identifier: Apache-2.0
#include "harness/output.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/catalogue/sentences.hpp"
#include "harness/csv.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Cell;
using catalogue::Failure;
using catalogue::Table;
using catalogue::Value;

// The columns a text takes on the screen: its characters, not its bytes.
std::size_t width(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

void write_aligned(std::ostream& out, const Table& table, int digits) {
    std::vector<Record> rows(table.rows(), Record(table.columns()));
    // A column of numbers, its title included, stands to the right.
    std::vector<bool> to_right(table.columns(), false);
    for (std::size_t r = 0; r < table.rows(); ++r)
        for (std::size_t c = 0; c < table.columns(); ++c) {
            const Cell& cell = table.at(r, c);
            rows[r][c] = std::holds_alternative<Failure>(cell) ? "error" : cell_text(cell, digits);
            if (std::holds_alternative<double>(cell)) to_right[c] = true;
        }
    write_columns(out, rows, to_right);
}

}  // namespace

std::string number_text(double value, int digits) {
    return fmt::format("{:.{}g}", value + 0.0, digits);
}

std::string cell_text(const Cell& cell, int digits) {
    if (const auto* number = std::get_if<double>(&cell)) return number_text(*number, digits);
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    return {};
}

nlohmann::ordered_json cell_json(const Cell& cell, int digits) {
    // The printed number, not the exact one: parsed back, so that JSON writes it in its shortest
    // form.
    if (const auto* number = std::get_if<double>(&cell))
        return nlohmann::ordered_json::parse(number_text(*number, digits));
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    return nullptr;
}

std::string json_line(const nlohmann::ordered_json& json) {
    return json.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

void write_table(std::ostream& out, const Table& table, const Output& output) {
    if (output.format == Format::people) {
        write_aligned(out, table, output.digits);
        return;
    }
    Record record(table.columns());
    for (std::size_t r = 0; r < table.rows(); ++r) {
        for (std::size_t c = 0; c < table.columns(); ++c)
            record[c] = cell_text(table.at(r, c), output.digits);
        write_record(out, record, output.delimiter());
    }
}

void write_columns(std::ostream& out, const std::vector<Record>& rows, const std::vector<bool>& to_right) {
    std::vector<std::size_t> widths(to_right.size(), 0);
    for (const Record& row : rows)
        for (std::size_t c = 0; c < row.size(); ++c) widths[c] = std::max(widths[c], width(row[c]));
    for (const Record& row : rows) {
        std::string line;
        for (std::size_t c = 0; c < row.size(); ++c) {
            const std::string gap(widths[c] - width(row[c]), ' ');
            if (c > 0) line += "  ";
            line += to_right[c] ? gap + row[c] : row[c] + gap;
        }
        line.erase(line.find_last_not_of(' ') + 1);
        out << line << '\n';
    }
}

std::vector<std::string> error_sentences(const Table& table) {
    std::vector<std::string> sentences;
    for (std::size_t r = 0; r < table.rows(); ++r)
        for (std::size_t c = 0; c < table.columns(); ++c)
            if (const auto* failure = std::get_if<Failure>(&table.at(r, c)))
                if (std::find(sentences.begin(), sentences.end(), failure->sentence) == sentences.end())
                    sentences.push_back(failure->sentence);
    return sentences;
}

std::string formula_text(const Value& value) {
    if (const auto* number = std::get_if<double>(&value)) return catalogue::exact_text(*number);
    if (const auto* text = std::get_if<std::string>(&value)) {
        std::string quoted = "\"";
        for (const char c : *text) quoted.append(c == '"' ? 2 : 1, c);
        return quoted + '"';
    }
    if (const auto* table = std::get_if<Table>(&value)) {
        std::string text = "{";
        for (std::size_t r = 0; r < table->rows(); ++r)
            for (std::size_t c = 0; c < table->columns(); ++c) {
                if (r + c > 0) text += c > 0 ? ";" : "|";
                text += formula_text(to_value(table->at(r, c)));
            }
        return text + "}";
    }
    return {};
}

std::string formula_text(std::string_view function, const std::vector<Value>& arguments) {
    std::size_t count = arguments.size();
    while (count > 0 && std::holds_alternative<std::monostate>(arguments[count - 1])) --count;
    std::string text(function);
    text += '(';
    for (std::size_t i = 0; i < count; ++i) {
        if (i > 0) text += "; ";
        text += formula_text(arguments[i]);
    }
    return text + ')';
}

}  // namespace pullsheet::harness
