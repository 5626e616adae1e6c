// SPDX-License-Identifier: Apache-2.0
#include "harness/parsed_row.hpp"

#include <algorithm>
#include <new>

namespace pullsheet::harness {
namespace {

using catalogue::Cell;
using catalogue::Language;
using catalogue::Table;

constexpr std::size_t many_values = std::size_t{1} << 14;
constexpr std::size_t most_keys = 10000;
// A row is an object of values and of tables, which are arrays of arrays; what is nested deeper is neither,
// and a thousand brackets in each other would exhaust the stack.
constexpr int deepest = 16;

void put_single(ParsedRow::Field& field, const Json& value) {
    field.json = value.dump();
    if (value.is_string())
        field.text = value.get<std::string>();
    else if (!value.is_null())
        field.text = field.json;
}

}  // namespace

std::optional<Cell> cell_of(const Json& value) {
    if (value.is_null()) return Cell{};
    if (value.is_number()) return value.get<double>();
    if (value.is_string()) return value.get<std::string>();
    if (value.is_boolean()) return Cell(value.get<bool>() ? "true" : "false");
    return std::nullopt;
}

std::string doubled_key(const std::string& key, Language language) {
    return say(language, "the key \"{key}\" occurs twice", {{"key", key}});
}

std::string too_little_memory(Language language) {
    return std::string(translated(language, "the row needs more memory than there is"));
}

bool ParseBounds::keeps(int depth, ParseEvent event, const Json& parsed) {
    const bool begins = event == ParseEvent::object_start || event == ParseEvent::array_start;
    if (begins && depth - depth_ >= deepest) {
        refuse(say(language_, "it is nested more than {depth} deep", {{"depth", std::to_string(deepest)}}));
        return false;
    }
    if (event == ParseEvent::key && depth == depth_ + 1)
        return keeps_key(parsed.get_ref<const std::string&>());
    if (!begins && event != ParseEvent::value) return true;
    if (++values_ == many_values && on_large_) on_large_();
    if (values_ > most_) {
        refuse(say(language_, "it holds more than {count} values; a bracket may not be closed",
                   {{"count", std::to_string(most_)}}));
        return false;
    }
    return true;
}

bool ParseBounds::keeps_key(const std::string& key) {
    if (keys_.size() >= most_keys) {
        refuse(say(language_, "it has more than {count} keys", {{"count", std::to_string(most_keys)}}));
        return false;
    }
    if (known_.insert(key).second)
        keys_.push_back(key);
    else if (doubled_.empty())
        doubled_ = doubled_key(key, language_);
    return true;
}

void ArrayValues::add_row() {
    lengths_.push_back(0);
    has_rows_ = true;
}

void ArrayValues::add(const Json& value, bool is_in_row) {
    if (is_deeper_) return;
    if (is_in_row)
        ++lengths_.back();
    else
        has_single_values_ = true;
    cells_.push_back(*cell_of(value));
}

std::size_t ArrayValues::columns() const {
    if (!has_rows_) return cells_.empty() ? 0 : 1;
    return std::max<std::size_t>(1, *std::max_element(lengths_.begin(), lengths_.end()));
}

std::optional<Table> ArrayValues::table() && {
    if (is_deeper_ || (has_rows_ && has_single_values_)) return std::nullopt;
    const std::size_t wide = columns();
    const std::size_t high = rows();
    if (!has_rows_ || cells_.size() == high * wide) return Table(high, wide, std::move(cells_));
    Table table(high, wide);
    std::size_t next = 0;
    for (std::size_t r = 0; r < high; ++r)
        for (std::size_t c = 0; c < lengths_[r]; ++c) table.at(r, c) = std::move(cells_[next++]);
    return table;
}

bool ParsedRow::take(int depth, ParseEvent event, const Json& parsed) {
    if (!bounds_.keeps(depth, event, parsed)) return false;
    const int level = depth - depth_;
    if (is_given_up_ && level > 1) return false;
    try {
        return put(level, event, parsed);
    } catch (const std::bad_alloc&) {
        is_given_up_ = true;
        for (Field& field : fields_)
            if (field.array) field.array = ArrayValues{};
        bounds_.refuse(too_little_memory(language_));
        return false;
    }
}

// `level`: 0 is the row, 1 its fields, 2 the elements of an array, 3 those of a row of it.
bool ParsedRow::put(int level, ParseEvent event, const Json& parsed) {
    if (level == 0) return true;
    if (event == ParseEvent::key) {
        if (level > 1) return false;
        fields_.push_back({.key = parsed.get_ref<const std::string&>()});
        return true;
    }
    if (fields_.empty()) return false;  // the row is no object
    Field& field = fields_.back();
    switch (event) {
        case ParseEvent::value:
            if (level == 1)
                put_single(field, parsed);
            else if (field.array && level <= 3)
                field.array->add(parsed, level == 3);
            return false;
        case ParseEvent::array_start:
            if (level == 1)
                field.array.emplace();
            else if (field.array && level == 2)
                field.array->add_row();
            else if (field.array)
                field.array->add_deeper();
            return true;
        case ParseEvent::object_start:
            if (level == 1)
                field.is_object = true;
            else if (field.array)
                field.array->add_deeper();
            return true;
        default: return false;
    }
}

}  // namespace pullsheet::harness
