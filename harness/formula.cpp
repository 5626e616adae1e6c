// SPDX-License-Identifier: Apache-2.0
#include "harness/formula.hpp"

#include <algorithm>

#include "core/catalogue/reader.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Cell;
using catalogue::Language;
using catalogue::Table;
using catalogue::Value;

std::string typed(const Cell& cell, Language language) {
    if (const auto* number = std::get_if<double>(&cell))
        return catalogue::with_decimal_mark(catalogue::exact_text(*number), language);
    std::string quoted;
    if (const auto* text = std::get_if<std::string>(&cell)) {
        quoted = "\"";
        for (const char c : *text) quoted.append(c == '"' ? 2 : 1, c);
        quoted += '"';
    }
    return quoted;
}

std::string typed(const Table& table, Language language) {
    const std::string_view between_columns = language == Language::german ? " . " : ", ";
    std::string text = "{";
    for (std::size_t r = 0; r < table.rows(); ++r) {
        if (r > 0) text += '|';
        for (std::size_t c = 0; c < table.columns(); ++c) {
            if (c > 0) text += between_columns;
            // An array of a formula has no empty cells.
            const Cell& cell = table.at(r, c);
            text += std::holds_alternative<std::monostate>(cell) ? "\"\"" : typed(cell, language);
        }
    }
    return text + '}';
}

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(' ');
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

// Parts of the text between separators that stand neither in quotation marks nor in brackets. `is_separator`
// gets the text and a position in it.
template <class IsSeparator>
std::vector<std::string_view> split(std::string_view text, IsSeparator is_separator) {
    std::vector<std::string_view> parts;
    bool quoted = false;
    int depth = 0;
    std::size_t begin = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '"') quoted = !quoted;
        if (quoted) continue;
        if (text[i] == '{' || text[i] == '(') ++depth;
        if (text[i] == '}' || text[i] == ')') --depth;
        if (depth > 0 || !is_separator(text, i)) continue;
        parts.push_back(trimmed(text.substr(begin, i - begin)));
        begin = i + 1;
    }
    parts.push_back(trimmed(text.substr(begin)));
    return parts;
}

std::vector<std::string_view> split_at(std::string_view text, char separator) {
    return split(text, [separator](std::string_view all, std::size_t i) { return all[i] == separator; });
}

}  // namespace

std::string typed_formula(std::string_view function, const std::vector<Value>& arguments, Language language) {
    std::size_t count = arguments.size();
    while (count > 0 && std::holds_alternative<std::monostate>(arguments[count - 1])) --count;
    std::string text = "=";
    text.append(function).append("(");
    for (std::size_t i = 0; i < count; ++i) {
        if (i > 0) text += "; ";
        if (const auto* table = std::get_if<Table>(&arguments[i]))
            text += typed(*table, language);
        else if (const auto* number = std::get_if<double>(&arguments[i]))
            text += typed(Cell(*number), language);
        else if (const auto* string = std::get_if<std::string>(&arguments[i]))
            text += typed(Cell(*string), language);
    }
    return text + ')';
}

std::optional<std::vector<std::string>> words_of_formula(const std::string& word, Language language) {
    if (!word.starts_with('=')) return std::nullopt;
    const std::string_view formula = trimmed(std::string_view(word).substr(1));
    const auto open = formula.find('(');
    const auto refuse = [&] {
        return WrongUse(say(language,
                            "\"{formula}\" is not a call of one function, as in =AIR.DENSITY(22; 97.9; 0.55)",
                            {{"formula", word}}));
    };
    if (open == std::string_view::npos || !formula.ends_with(')')) throw refuse();
    const std::string_view inside = trimmed(formula.substr(open + 1, formula.size() - open - 2));
    std::vector<std::string> words{std::string(trimmed(formula.substr(0, open)))};
    if (inside.empty()) return words;
    std::vector<std::string_view> arguments = split_at(inside, ';');
    // As an English Calc shows it.
    if (arguments.size() == 1 && language == Language::english) arguments = split_at(inside, ',');
    for (const std::string_view argument : arguments) {
        if (argument.find('(') != std::string_view::npos && !argument.starts_with('"')) throw refuse();
        words.emplace_back(argument.empty() ? "-" : argument);
    }
    return words;
}

bool is_inline_array(std::string_view word) {
    return word.size() > 1 && word.front() == '{' && word.back() == '}';
}

Table inline_array(const std::string& word, Language language) {
    const std::string_view inside = std::string_view(word).substr(1, word.size() - 2);
    std::vector<std::string_view> rows = split_at(inside, '|');
    const bool has_bars = rows.size() > 1;
    if (!has_bars) rows = split_at(inside, ';');
    const auto ends_column = [&](std::string_view text, std::size_t i) {
        const bool blank_follows = i + 1 == text.size() || text[i + 1] == ' ';
        switch (text[i]) {
            case ';': return true;
            case ',': return blank_follows || language == Language::english;
            case '.': return blank_follows && (i == 0 || text[i - 1] == ' ');
            default: return false;
        }
    };
    std::vector<std::vector<Cell>> cells;
    std::size_t columns = 0;
    for (const std::string_view row : rows) {
        cells.emplace_back();
        for (const std::string_view part : split(row, ends_column)) {
            catalogue::NumberText number;
            if (part.empty())
                cells.back().emplace_back();
            else if (part.front() == '"')
                cells.back().emplace_back(without_quotes(std::string(part)));
            else if (catalogue::split_number(part, number) && number.tidy && number.unit.empty())
                cells.back().emplace_back(number.number);
            else
                throw WrongUse(say(language,
                                   "\"{part}\" in {array} is neither a number nor a text in quotation marks",
                                   {{"part", std::string(part)}, {"array", word}}));
        }
        columns = std::max(columns, cells.back().size());
    }
    Table table(cells.size(), columns);
    for (std::size_t r = 0; r < cells.size(); ++r)
        for (std::size_t c = 0; c < cells[r].size(); ++c) table.at(r, c) = std::move(cells[r][c]);
    return table;
}

std::string without_quotes(const std::string& word) {
    if (word.size() < 2 || word.front() != '"' || word.back() != '"') return word;
    std::string text;
    for (std::size_t i = 1; i + 1 < word.size(); ++i) {
        text += word[i];
        if (word[i] == '"' && i + 2 < word.size() && word[i + 1] == '"') ++i;
    }
    return text;
}

}  // namespace pullsheet::harness
