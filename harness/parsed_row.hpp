// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/catalogue/value.hpp"
#include "harness/rows.hpp"
#include "harness/streams.hpp"

/// What the JSON parser says of a row or a table, event by event, within bounds.
namespace pullsheet::harness {

using Json = nlohmann::ordered_json;
using ParseEvent = Json::parse_event_t;

// More than any row or table holds: a bracket or a quotation mark may not be closed.
inline constexpr std::size_t most_values = std::size_t{1} << 20;
inline constexpr std::size_t most_values_of_a_table = std::size_t{1} << 22;

/// A number, text, truth value or null as a cell; nothing for an array or object.
std::optional<catalogue::Cell> cell_of(const Json& value);

std::string doubled_key(const std::string& key, catalogue::Language language);
std::string too_little_memory(catalogue::Language language);

/// The bounds of a row or a table while it is parsed. What exceeds them is dropped as it is read. The keys
/// are checked here, since the parser keeps only the last of two equal ones.
class ParseBounds {
  public:
    /// `depth` is that of the row or table in the file; `on_large` is called when it turns out to be large.
    ParseBounds(catalogue::Language language, std::size_t most, int depth = 0,
                std::function<void()> on_large = {})
        : language_(language), most_(most), depth_(depth), on_large_(std::move(on_large)) {}

    /// What an event of the parser answers: is the value kept?
    bool keeps(int depth, ParseEvent event, const Json& parsed);
    void refuse(std::string why) {
        if (dropped_.empty()) dropped_ = std::move(why);
    }
    /// Why something was dropped; empty if nothing was.
    const std::string& dropped() const { return dropped_; }
    /// Why the keys are not those of a row; empty if they are.
    const std::string& doubled() const { return doubled_; }
    /// In their order.
    const Record& keys() const { return keys_; }

  private:
    bool keeps_key(const std::string& key);

    catalogue::Language language_;
    std::size_t most_;
    int depth_;
    std::function<void()> on_large_;
    std::size_t values_ = 0;
    std::set<std::string, std::less<>> known_;
    Record keys_;
    std::string dropped_;
    std::string doubled_;
};

/// The values of an array, in the order of the file: a column, or rows of single values.
class ArrayValues {
  public:
    void add_row();
    /// A value of the array, or of its last row.
    void add(const Json& value, bool is_in_row);
    /// What is neither; no value is kept from there on.
    void add_deeper() { is_deeper_ = true; }

    std::size_t rows() const { return has_rows_ ? lengths_.size() : cells_.size(); }
    std::size_t columns() const;
    /// Nothing if it is neither a column nor a table.
    std::optional<catalogue::Table> table() &&;

  private:
    std::vector<catalogue::Cell> cells_;
    std::vector<std::size_t> lengths_;  ///< of the rows
    bool has_rows_ = false;
    bool has_single_values_ = false;
    bool is_deeper_ = false;
};

/// One row while it is parsed. Its values are taken from the parser one by one, and the parser keeps no
/// array: its library allocates to destroy one, and ends the program where there is no more memory.
class ParsedRow {
  public:
    struct Field {
        std::string key;
        std::string json = "null";  ///< a single value as the file has it
        std::string text{};         ///< the same without quotation marks; empty for null
        bool is_object = false;
        std::optional<ArrayValues> array{};
    };

    /// `depth` is that of the row in the file; `on_large` is called when it turns out to be large.
    ParsedRow(catalogue::Language language, int depth, std::function<void()> on_large)
        : language_(language), depth_(depth), bounds_(language, most_values, depth, std::move(on_large)) {}

    /// What an event of the parser answers: is the value kept? Where there is no more memory, the row is
    /// given up, and `bounds` says so.
    bool take(int depth, ParseEvent event, const Json& parsed);
    std::vector<Field>& fields() { return fields_; }
    const ParseBounds& bounds() const { return bounds_; }

  private:
    bool put(int level, ParseEvent event, const Json& parsed);

    catalogue::Language language_;
    int depth_;
    ParseBounds bounds_;
    std::vector<Field> fields_;
    bool is_given_up_ = false;
};

}  // namespace pullsheet::harness
