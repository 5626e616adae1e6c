// SPDX-License-Identifier: Apache-2.0
#include "harness/argument.hpp"

#include <charconv>
#include <cmath>

#include "harness/csv.hpp"

namespace pullsheet::harness {

using catalogue::Cell;
using catalogue::Function;
using catalogue::Kind;
using catalogue::Parameter;
using catalogue::Table;
using catalogue::Value;

Cell cell_from(std::string field) {
    if (field.empty()) return {};
    double number = 0.0;
    const char* end = field.data() + field.size();
    const auto [stopped, error] = std::from_chars(field.data(), end, number);
    if (error == std::errc{} && stopped == end && std::isfinite(number)) return number;
    return field;
}

Value ArgumentReader::read(const Parameter& parameter, const std::string& word) {
    if (word.size() > 1 && word.front() == '@') return table(word.substr(1));
    switch (parameter.kind) {
        case Kind::choice:
        case Kind::text:
        case Kind::unit:
            return word;
        default:
            return word.empty() ? Value(word) : to_value(cell_from(word));
    }
}

const Table& ArgumentReader::table(const std::string& path) {
    const auto known = tables_.find(path);
    if (known != tables_.end()) return known->second;
    const auto file = path == "-" ? nullptr : open_file(path);
    CsvReader reader(file ? *file : streams_.in, path == "-" ? "standard input" : path,
                     is_tsv_name(path) ? std::optional('\t') : std::nullopt);
    std::vector<Record> records;
    std::size_t columns = 0;
    for (Record record; reader.next(record);) {
        columns = std::max(columns, record.size());
        records.push_back(std::move(record));
    }
    Table table(records.size(), columns);
    for (std::size_t r = 0; r < records.size(); ++r)
        for (std::size_t c = 0; c < records[r].size(); ++c)
            table.at(r, c) = cell_from(std::move(records[r][c]));
    return tables_.emplace(path, std::move(table)).first->second;
}

const Function& function_named(std::string_view name) {
    const Function* function = catalogue::find_function(name);
    if (!function) throw WrongUse(catalogue::unknown_function(name) + " (pullsheet list shows all)");
    return *function;
}

std::size_t unit_position(const Function& function) {
    for (std::size_t i = 0; i < function.parameters.size(); ++i)
        if (function.parameters[i].kind == Kind::unit) return i;
    throw WrongUse(std::string(function.name.view()) + ": the result has no unit that could be chosen");
}

std::string result_unit(const Function& function, const std::vector<Value>& arguments) {
    for (std::size_t i = 0; i < function.parameters.size() && i < arguments.size(); ++i)
        if (function.parameters[i].kind == Kind::unit)
            if (const auto* asked = std::get_if<std::string>(&arguments[i]))
                if (const auto* unit = catalogue::find_unit(*asked)) return std::string(unit->symbol);
    return std::string(function.result.unit);
}

const Parameter* parameter_at(const Function& function, std::size_t i) {
    if (i < function.parameters.size()) return &function.parameters[i];
    return function.takes_list() ? &function.parameters.back() : nullptr;
}

}  // namespace pullsheet::harness
