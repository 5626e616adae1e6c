// SPDX-License-Identifier: Apache-2.0
#include "harness/argument.hpp"

#include "harness/formula.hpp"
#include "harness/rows.hpp"

namespace pullsheet::harness {

using catalogue::Function;
using catalogue::Kind;
using catalogue::Language;
using catalogue::Parameter;
using catalogue::Table;
using catalogue::Value;

Value ArgumentReader::read(const Parameter& parameter, const std::string& word) {
    if (word.size() > 1 && word.front() == '@') return table(word.substr(1));
    if (is_inline_array(word)) return inline_array(word, streams_.language);
    if (const std::string text = without_quotes(word); text != word) return text;
    switch (parameter.kind) {
        case Kind::choice:
        case Kind::text:
        case Kind::unit: return word;
        default: return word.empty() ? Value(word) : to_value(cell_from(word));
    }
}

const Table& ArgumentReader::table(const std::string& path) {
    const auto known = tables_.find(path);
    if (known != tables_.end()) return known->second;
    const auto file = path == "-" ? nullptr : open_file(path, streams_.language);
    if (before_reading)
        before_reading(shown_name(path, streams_.language), file_behind(file ? *file : streams_.in));
    Table table = read_table(file ? *file : streams_.in, shown_name(path, streams_.language), format_,
                             streams_.language);
    // A column may name a file in every row: those of other rows are forgotten when they are too many
    // together. Standard input cannot be read again.
    kept_cells_ += table.rows() * table.columns();
    if (kept_cells_ > most_kept_cells) {
        std::erase_if(tables_, [](const auto& other) { return other.first != "-"; });
        kept_cells_ = table.rows() * table.columns();
    }
    return tables_.emplace(path, std::move(table)).first->second;
}

const Function& function_named(std::string_view name, Language language) {
    const Function* function = catalogue::find_function(name);
    if (!function)
        throw WrongUse(say(language, "{sentence} (pullsheet list shows all)",
                           {{"sentence", catalogue::unknown_function(name, language)}}));
    return *function;
}

std::size_t unit_position(const Function& function, Language language) {
    for (std::size_t i = 0; i < function.parameters.size(); ++i)
        if (function.parameters[i].kind == Kind::unit) return i;
    throw WrongUse(say(language, "{function}: the result has no unit that could be chosen",
                       {{"function", std::string(function.name.view())}}));
}

const Parameter* parameter_at(const Function& function, std::size_t i) {
    if (i < function.parameters.size()) return &function.parameters[i];
    return function.takes_list() ? &function.parameters.back() : nullptr;
}

}  // namespace pullsheet::harness
