// SPDX-License-Identifier: Apache-2.0
#include "tests/fuzz/arguments.hpp"

#include <cmath>
#include <limits>
#include <map>
#include <string>

#include "core/catalogue/block.hpp"
#include "core/catalogue/sentences.hpp"

namespace pullsheet::fuzz {
namespace {

using catalogue::BlockSchema;
using catalogue::Cell;
using catalogue::Failure;
using catalogue::FailureKind;
using catalogue::Function;
using catalogue::Kind;
using catalogue::Label;
using catalogue::Parameter;
using catalogue::Table;
using catalogue::Unit;
using catalogue::Value;

constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double special_numbers[] = {0.0,
                                      -0.0,
                                      1.0,
                                      -1.0,
                                      0.5,
                                      2.0,
                                      85.0,
                                      100.0,
                                      1e-9,
                                      1e9,
                                      1e15,
                                      -1e15,
                                      1e300,
                                      1e308,
                                      -1e308,
                                      5e-324,
                                      1e-308,
                                      infinity,
                                      -infinity,
                                      std::numeric_limits<double>::quiet_NaN(),
                                      2147483647.0,
                                      2147483648.0,
                                      -2147483649.0,
                                      4294967296.0,
                                      9007199254740993.0,
                                      1.8446744073709552e19};
/// Calls may have this many changes, and a table or range this many cells.
constexpr std::size_t most_changes = 12;
constexpr std::size_t most_cells = 6000;

/// Everything that the catalogue itself knows, to choose from.
struct Known {
    std::vector<std::string> words;  ///< labels, headers, choices, units, names, texts of the examples
    std::vector<Table> tables;       ///< of all examples
    std::map<std::uint16_t, const Function*> by_key;

    Known() {
        for (const Function& function : catalogue::functions()) {
            by_key.emplace(key_of(function.name.view()), &function);
            words.emplace_back(function.name.view());
            for (const auto& column : function.result.columns) words.emplace_back(column.name);
            for (const Parameter& parameter : function.parameters) {
                words.emplace_back(parameter.name);
                for (const auto choice : parameter.choices) words.emplace_back(choice);
                if (parameter.schema)
                    for (const Label& label : parameter.schema->labels) words.emplace_back(label.name);
                for (const auto symbol : catalogue::unit_symbols(parameter.quantity))
                    words.emplace_back(symbol);
            }
            for (const Value& value : function.example.arguments) {
                if (const auto* text = std::get_if<std::string>(&value)) words.push_back(*text);
                if (const auto* table = std::get_if<Table>(&value)) {
                    tables.push_back(*table);
                    for (std::size_t r = 0; r < table->rows(); ++r)
                        for (std::size_t c = 0; c < table->columns(); ++c)
                            if (const auto* text = std::get_if<std::string>(&table->at(r, c)))
                                words.push_back(*text);
                }
            }
        }
        std::sort(words.begin(), words.end());
        words.erase(std::unique(words.begin(), words.end()), words.end());
    }

    const Function& function(std::uint16_t key) const {
        const auto found = by_key.lower_bound(key);
        return found == by_key.end() ? *by_key.begin()->second : *found->second;
    }
};

const Known& known() {
    static const Known the_known;
    return the_known;
}

// How long a range may be that is answered element by element: what takes its time is not asked too often.
std::size_t most_elements(const Function& function) {
    const auto family = function.family();
    if (family == "CYCLE" || family == "KNOCK" || family == "BUILD") return 2;
    return family == "ROAD" || family == "FUNCTION" ? 8 : 64;
}

/// What a number should be like.
struct Aim {
    Quantity quantity = Quantity::number;
    const Unit* unit = nullptr;
    Interval range = pullsheet::finite;
    double example = 1.0;
};

double number_for(Input& input, const Aim& aim) {
    switch (input.below(9)) {
        case 0: return aim.example * (1.0 + 0.5 * input.signed_share());
        case 1: {
            const double share = input.share();
            if (std::isfinite(aim.range.low) && std::isfinite(aim.range.high))
                return aim.range.low + share * (aim.range.high - aim.range.low);
            const double scale = std::max(1e-3, std::abs(aim.example));
            return (std::isfinite(aim.range.low) ? aim.range.low : 0.0) +
                   scale * std::exp(12.0 * share - 6.0);
        }
        case 2: return special_numbers[input.below(std::size(special_numbers))];
        case 3: return input.any_double();
        case 4: {
            const double end = input.below(2) == 0 ? aim.range.low : aim.range.high;
            const std::size_t side = input.below(3);
            return side == 0 ? end : std::nextafter(end, side == 1 ? infinity : -infinity);
        }
        case 5: return static_cast<double>(input.byte()) - 64.0;
        case 6: return std::pow(10.0, 10.0 * input.signed_share()) * (input.below(4) == 3 ? -1.0 : 1.0);
        case 7: return aim.example * std::pow(2.0, 8.0 * input.signed_share());
        default: return std::round(aim.example) + static_cast<double>(input.below(7)) - 3.0;
    }
}

std::string word(Input& input) {
    return known().words[input.below(known().words.size())];
}

std::string changed_text(Input& input, std::string text) {
    switch (input.below(6)) {
        case 0: return text.substr(0, input.below(text.size() + 1));
        case 1:
            if (!text.empty()) text[input.below(text.size())] = static_cast<char>(input.byte());
            return text;
        case 2: return text.insert(input.below(text.size() + 1), input.text(8));
        case 3: {
            const std::size_t times = 1 + input.below(64);
            std::string result;
            for (std::size_t i = 0; i < times && result.size() < 4000; ++i) result += text;
            return result;
        }
        case 4: return text + " " + word(input);
        default: return word(input) + text;
    }
}

std::string text_for(Input& input, const Aim& aim, const std::string& example) {
    const auto with_unit = [&](const std::vector<std::string_view>& symbols) {
        std::string text = catalogue::exact_text(number_for(input, aim));
        if (!symbols.empty()) text.append(" ").append(symbols[input.below(symbols.size())]);
        return text;
    };
    switch (input.below(6)) {
        case 0: return with_unit(catalogue::unit_symbols(aim.quantity));
        case 1: return word(input);
        case 2: return changed_text(input, example);
        case 3: return catalogue::exact_text(number_for(input, aim)) + " " + word(input);
        case 4: return with_unit({"%", "E", "barg", "bara", "psig", "°"});
        default: return input.text(40);
    }
}

Cell cell_for(Input& input, const Aim& aim, const Cell& example) {
    Aim near = aim;
    if (const auto* number = std::get_if<double>(&example)) near.example = *number;
    const auto* text = std::get_if<std::string>(&example);
    switch (input.below(8)) {
        case 0:
        case 1:
        case 2: return number_for(input, near);
        case 3:
        case 4: return text_for(input, near, text ? *text : std::string("1"));
        case 5: return word(input);
        case 6: return std::monostate{};
        default:
            return Failure{input.below(2) == 0 ? FailureKind::no_data : FailureKind::no_solution, "none"};
    }
}

Table copied_rows(const Table& table, const std::vector<std::size_t>& rows) {
    Table result(rows.size(), table.columns());
    for (std::size_t r = 0; r < rows.size(); ++r)
        for (std::size_t c = 0; c < table.columns(); ++c) result.at(r, c) = table.at(rows[r], c);
    return result;
}

std::vector<std::size_t> all_rows(const Table& table) {
    std::vector<std::size_t> rows(table.rows());
    for (std::size_t r = 0; r < rows.size(); ++r) rows[r] = r;
    return rows;
}

Table changed_table(Input& input, Table table, const Aim& aim) {
    if (table.empty()) return table;
    const std::size_t row = input.below(table.rows());
    const std::size_t column = input.below(table.columns());
    auto rows = all_rows(table);
    switch (input.below(14)) {
        case 0:
        case 1:
        case 2: table.at(row, column) = cell_for(input, aim, table.at(row, column)); return table;
        case 3: rows.erase(rows.begin() + static_cast<std::ptrdiff_t>(row)); return copied_rows(table, rows);
        case 4:
            rows.insert(rows.begin() + static_cast<std::ptrdiff_t>(input.below(rows.size() + 1)), row);
            return copied_rows(table, rows);
        case 5: std::swap(rows[row], rows[input.below(rows.size())]); return copied_rows(table, rows);
        case 6:
            std::reverse(rows.begin() + static_cast<std::ptrdiff_t>(row), rows.end());
            return copied_rows(table, rows);
        case 7: {  // the rows again and again
            const std::size_t once = rows.size();
            const std::size_t times = 1 + input.byte();
            for (std::size_t i = 1; i < times && (rows.size() + once) * table.columns() < most_cells; ++i)
                for (std::size_t r = 0; r < once; ++r) rows.push_back(r);
            return copied_rows(table, rows);
        }
        case 8: {  // one column with all its numbers scaled or shifted
            const double factor = number_for(input, {Quantity::number, nullptr, pullsheet::finite, 1.0});
            const bool shift = input.below(2) == 1;
            for (std::size_t r = 0; r < table.rows(); ++r)
                if (auto* number = std::get_if<double>(&table.at(r, column)))
                    *number = shift ? *number + factor : *number * factor;
            return table;
        }
        case 9: {  // one column all the same, from a row on
            const Cell cell = cell_for(input, aim, table.at(row, column));
            for (std::size_t r = row; r < table.rows(); ++r) table.at(r, column) = cell;
            return table;
        }
        case 10: {  // a column less
            if (table.columns() < 2) return table;
            Table result(table.rows(), table.columns() - 1);
            for (std::size_t r = 0; r < table.rows(); ++r)
                for (std::size_t c = 0, to = 0; c < table.columns(); ++c)
                    if (c != column) result.at(r, to++) = table.at(r, c);
            return result;
        }
        case 11: {  // a column more
            if (table.columns() > 20) return table;
            Table result(table.rows(), table.columns() + 1);
            for (std::size_t r = 0; r < table.rows(); ++r)
                for (std::size_t c = 0; c < table.columns(); ++c) result.at(r, c) = table.at(r, c);
            result.at(row, table.columns()) = cell_for(input, aim, table.at(row, column));
            return result;
        }
        case 12: {  // turned on its side
            Table result(table.columns(), table.rows());
            for (std::size_t r = 0; r < table.rows(); ++r)
                for (std::size_t c = 0; c < table.columns(); ++c) result.at(c, r) = table.at(r, c);
            return result;
        }
        default: {  // numbers disturbed by a few per mille to many times themselves
            const double strength = std::pow(10.0, -3.0 * input.share());
            for (std::size_t r = 0; r < table.rows(); ++r)
                if (auto* number = std::get_if<double>(&table.at(r, column)))
                    *number *= 1.0 + strength * input.signed_share();
            return table;
        }
    }
}

// A label of the schema with a value that fits, as a further row or in place of the one that has it.
Table with_label(Input& input, Table table, const BlockSchema& schema) {
    const Label& label = schema.labels[input.below(schema.labels.size())];
    std::string name(label.name);
    if (const auto hash = name.find('#'); hash != std::string::npos)
        name.replace(hash, 1, std::to_string(input.byte()));
    if (table.columns() < 2 || table.columns() > 4) table = Table(0, 3);
    const Aim aim{label.quantity, catalogue::find_unit(label.unit), label.range,
                  label.default_value.value_or(1.0)};
    std::size_t row = 0;
    while (row < table.rows() && !(std::holds_alternative<std::string>(table.at(row, 0)) &&
                                   std::get<std::string>(table.at(row, 0)) == name))
        ++row;
    if (row == table.rows()) {
        auto rows = all_rows(table);
        Table longer(table.rows() + 1, table.columns());
        for (const std::size_t r : rows)
            for (std::size_t c = 0; c < table.columns(); ++c) longer.at(r, c) = table.at(r, c);
        table = std::move(longer);
    }
    table.at(row, 0) = name;
    table.at(row, 1) = label.is_text ? Cell(word(input)) : Cell(number_for(input, aim));
    if (table.columns() > 2) table.at(row, 2) = std::string(label.unit);
    return table;
}

Table range_of(Input& input, const Aim& aim, const Cell& example, std::size_t most) {
    const std::size_t shape = input.below(4);
    const std::size_t length = input.below(most + 1);
    const std::size_t rows = shape == 0 ? length : shape == 1 ? 1 : input.below(5);
    const std::size_t columns = shape == 0 ? 1 : shape == 1 ? length : input.below(5);
    Table table(rows, columns);
    // A ramp, disturbed where the input has more to say.
    const double start = number_for(input, aim);
    const double step = 0.1 * start * input.signed_share();
    for (std::size_t r = 0; r < rows; ++r)
        for (std::size_t c = 0; c < columns; ++c)
            table.at(r, c) = start + step * static_cast<double>(r * columns + c);
    for (std::size_t changes = input.below(4); changes > 0 && !table.empty(); --changes)
        table.at(input.below(rows), input.below(columns)) = cell_for(input, aim, example);
    return table;
}

bool repeats(const Parameter& parameter) {
    return parameter.kind == Kind::number || parameter.kind == Kind::choice || parameter.kind == Kind::text ||
           parameter.kind == Kind::fuel || parameter.kind == Kind::list;
}

const Parameter* parameter_at(const Function& function, std::size_t place) {
    if (place < function.parameters.size()) return &function.parameters[place];
    return function.takes_list() ? &function.parameters.back() : nullptr;
}

Value changed(Input& input, const Function& function, const Parameter* parameter, const Value& before) {
    Aim aim;
    if (parameter)
        aim = {parameter->quantity, parameter->default_unit, parameter->range,
               parameter->default_value.value_or(1.0)};
    Cell example = 1.0;
    if (const auto* number = std::get_if<double>(&before)) aim.example = *number;
    if (const auto* text = std::get_if<std::string>(&before)) example = *text;
    const auto* table = std::get_if<Table>(&before);
    const auto* text = std::get_if<std::string>(&before);
    const std::size_t most = parameter && repeats(*parameter) ? most_elements(function) : most_cells / 4;
    switch (input.below(16)) {
        default:
            if (table) return changed_table(input, *table, aim);
            if (parameter && !parameter->choices.empty())
                return std::string(parameter->choices[input.below(parameter->choices.size())]);
            if (text) return text_for(input, aim, *text);
            return number_for(input, aim);
        case 6:
        case 7:
            if (parameter && parameter->schema)
                return with_label(input, table ? *table : Table(0, 3), *parameter->schema);
            return table ? Value(changed_table(input, *table, aim))
                         : Value(text_for(input, aim, text ? *text : std::string("1")));
        case 8: return number_for(input, aim);
        case 9: return text_for(input, aim, text ? *text : std::string("1"));
        case 10: return std::monostate{};
        case 11: return Failure{FailureKind::no_data, "no data there"};
        case 12: return range_of(input, aim, example, most);
        case 13: return known().tables[input.below(known().tables.size())];
        case 14: return word(input);
        case 15:
            return table ? Value(changed_table(input, *table, aim))
                         : Value(catalogue::exact_text(number_for(input, aim)));
    }
}

// Ranges that are answered element by element are cut to what can be afforded.
void shorten(const Function& function, std::vector<Value>& arguments) {
    const std::size_t most = most_elements(function);
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        auto* table = std::get_if<Table>(&arguments[i]);
        const Parameter* parameter = parameter_at(function, i);
        if (!table || !parameter || !repeats(*parameter) || catalogue::looks_like_block(*table)) continue;
        const std::size_t columns = std::min(table->columns(), most);
        const std::size_t rows = columns > 1
                                     ? std::min(table->rows(), std::max<std::size_t>(most / columns, 1))
                                     : std::min(table->rows(), most);
        if (rows == table->rows() && columns == table->columns()) continue;
        Table cut(rows, columns);
        for (std::size_t r = 0; r < rows; ++r)
            for (std::size_t c = 0; c < columns; ++c) cut.at(r, c) = table->at(r, c);
        *table = std::move(cut);
    }
}

}  // namespace

std::uint16_t key_of(std::string_view function) {
    // FNV-1a, folded to two bytes.
    std::uint32_t hash = 2166136261u;
    for (const char c : function) hash = (hash ^ static_cast<std::uint8_t>(c)) * 16777619u;
    return static_cast<std::uint16_t>(hash ^ (hash >> 16));
}

const Function& function_of(Input& input) {
    return known().function(input.word());
}

BuiltCall build_call(Input& input) {
    const Function& function = function_of(input);
    std::vector<Value> arguments = function.example.arguments;
    for (std::size_t changes = 0; changes < most_changes && !input.at_end(); ++changes) {
        const std::size_t places = function.parameters.size() + (function.takes_list() ? 6 : 1);
        std::size_t place = input.below(places + 1);
        if (place == places) {  // fewer arguments
            if (!arguments.empty()) arguments.pop_back();
            continue;
        }
        if (arguments.size() <= place) arguments.resize(place + 1);
        arguments[place] = changed(input, function, parameter_at(function, place), arguments[place]);
    }
    shorten(function, arguments);
    return {&function, std::move(arguments)};
}

}  // namespace pullsheet::fuzz
