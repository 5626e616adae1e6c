// SPDX-License-Identifier: Apache-2.0
#include "harness/json_rows.hpp"

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <system_error>

#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Cell;
using catalogue::Table;
using Json = nlohmann::ordered_json;
using Event = Json::parse_event_t;

// More than any row holds: a bracket may not be closed.
constexpr std::size_t most_values = std::size_t{1} << 20;
constexpr std::size_t longest_line = std::size_t{16} << 20;

constexpr std::string_view not_an_object =
    "this is no object; a row is an object with the parameters as keys";

// "[json.exception.parse_error.101] parse error at line 2, column 5: …" → "line 2, column 5: …"
std::string place_and_reason(const std::exception& error) {
    const std::string what = error.what();
    const auto place = what.find(" at line ");
    std::string sentence = place == std::string::npos ? what : what.substr(place + 4);
    if (sentence.find("unexpected end of input") != std::string::npos ||
        sentence.find("missing closing quote") != std::string::npos)
        sentence += "; the file may have been cut off";
    if (sentence.find("; expected end of input") != std::string::npos)
        sentence += "; where an object stands on each line, say --input-format jsonl";
    return sentence;
}

// The same for the text of one line, whose number is said by others: "column 5: …"
std::string place_in_line(const std::exception& error) {
    const std::string sentence = place_and_reason(error);
    return sentence.starts_with("line 1, ") ? sentence.substr(8) : sentence;
}

// A number, text, truth value or null as a cell; nothing for an array or object.
std::optional<Cell> cell_of(const Json& value) {
    if (value.is_null()) return Cell{};
    if (value.is_number()) return value.get<double>();
    if (value.is_string()) return value.get<std::string>();
    if (value.is_boolean()) return Cell(value.get<bool>() ? "true" : "false");
    return std::nullopt;
}

// An array of single values is a column, one of arrays a table; nothing if it is neither.
std::optional<Table> table_of(const Json& array) {
    std::size_t columns = array.empty() ? 0 : 1;
    for (const Json& row : array)
        if (row.is_array()) columns = std::max(columns, row.size());
    Table table(array.size(), columns);
    for (std::size_t r = 0; r < array.size(); ++r) {
        const bool is_row = array[r].is_array();
        if (is_row != array[0].is_array()) return std::nullopt;
        for (std::size_t c = 0; c < (is_row ? array[r].size() : 1); ++c) {
            auto cell = cell_of(is_row ? array[r][c] : array[r]);
            if (!cell) return std::nullopt;
            table.at(r, c) = std::move(*cell);
        }
    }
    return table;
}

// Puts the fields of each object under the titles of the first.
class Rows {
  public:
    Rows(std::string name, RowFormat format, RowSink& sink)
        : name_(std::move(name)), format_(format), sink_(sink) {}

    // Both return false when no more rows are wanted.
    bool object(const Json& object, std::string fault, std::size_t line) {
        if (titles_.empty()) {
            if (fault.empty() && object.empty()) fault = "it has no keys; they must name the parameters";
            if (!fault.empty()) throw FileNotReadable(name_ + ", object 1: " + fault);
            for (const auto& [key, value] : object.items()) {
                position_[key] = titles_.size();
                titles_.push_back(key);
            }
            sink_.titles(titles_, format_, ',');
        }
        Row row;
        row.fields.resize(titles_.size());
        row.json.assign(titles_.size(), "null");
        row.line = line;
        row.number = ++count_;
        row.fault = std::move(fault);
        for (const auto& [key, value] : object.items()) {
            std::string refused;
            const auto known = position_.find(key);
            if (known == position_.end())
                refused =
                    "does not stand in the first object; let it stand there, too, as null if it has no value";
            else
                refused = put(row, known->second, value);
            if (!refused.empty() && row.fault.empty()) row.fault = "the key \"" + key + "\" " + refused;
        }
        return sink_.row(row);
    }
    bool broken(std::string fault, std::size_t line) {
        return object(Json::object(), std::move(fault), line);
    }

    bool is_first() const { return titles_.empty(); }

  private:
    // Returns why the value is none.
    static std::string put(Row& row, std::size_t position, const Json& value) {
        row.json[position] = value.dump();
        if (value.is_string()) {
            row.fields[position] = value.get<std::string>();
        } else if (!value.is_null()) {
            row.fields[position] = row.json[position];
        }
        if (value.is_object()) return "is an object; a value is a number, a text or an array of them";
        if (!value.is_array()) return {};
        auto table = table_of(value);
        if (!table) return "is an array that is no column and no table of single values";
        row.tables.emplace_back(position, std::move(*table));
        return {};
    }

    std::string name_;
    RowFormat format_;
    RowSink& sink_;
    Record titles_;
    std::map<std::string, std::size_t, std::less<>> position_;
    std::size_t count_ = 0;
};

// The keys of the object being read: the parser keeps only the last of two equal ones.
class Keys {
  public:
    void clear() {
        keys_.clear();
        doubled_.clear();
    }
    void add(const std::string& key) {
        if (std::find(keys_.begin(), keys_.end(), key) != keys_.end() && doubled_.empty())
            doubled_ = "the key \"" + key + "\" stands twice";
        keys_.push_back(key);
    }
    const std::string& doubled() const { return doubled_; }

  private:
    Record keys_;
    std::string doubled_;
};

struct Enough {};

// The next line without its end; false at the end of the file.
bool next_line(std::istream& in, std::string& line, const std::string& name, std::size_t number) {
    line.clear();
    if (in.peek() == std::istream::traits_type::eof()) return false;
    for (auto c = in.rdbuf()->sbumpc(); c != std::istream::traits_type::eof() && c != '\n';
         c = in.rdbuf()->sbumpc()) {
        line += static_cast<char>(c);
        if (line.size() > longest_line)
            throw FileNotReadable(name + ", line " + std::to_string(number) +
                                  " is longer than 16 MiB; say --input-format json "
                                  "if the file is one array");
    }
    return true;
}

}  // namespace

std::string json_text(std::string_view text) {
    return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

void read_json_rows(std::istream& in, const std::string& name, RowSink& sink) {
    Rows rows(name, RowFormat::json, sink);
    Keys keys;
    int depth_of_rows = 0;
    std::size_t values = 0;
    // What is handed on is not kept: the parser holds one object at a time.
    const auto on_event = [&](int depth, Event event, Json& parsed) {
        if (event == Event::array_start && depth == 0) depth_of_rows = 1;
        const bool begins = event == Event::object_start || event == Event::array_start;
        if (++values > most_values)
            throw FileNotReadable(
                name + ": an object holds more than a million values; a bracket may not be closed");
        if (depth == depth_of_rows + 1 && event == Event::key) keys.add(parsed.get_ref<const std::string&>());
        if (depth != depth_of_rows || begins) return true;
        values = 0;
        const bool goes_on = event == Event::object_end ? rows.object(parsed, keys.doubled(), 0)
                                                        : rows.broken(std::string(not_an_object), 0);
        keys.clear();
        if (!goes_on) throw Enough{};
        return false;
    };
    try {
        if (in.peek() == std::istream::traits_type::eof() && !in.bad())
            throw WrongUse(name + " is empty; the keys of its objects must name the parameters");
        // The array that is left when its rows are taken out is empty.
        const Json rest = Json::parse(in, on_event);
    } catch (const Enough&) {
    } catch (const nlohmann::detail::exception& error) {
        throw FileNotReadable(name + ", " + place_and_reason(error));
    } catch (const std::system_error&) {
        throw FileNotReadable(name + " cannot be read to its end");
    }
    if (rows.is_first())
        throw WrongUse(name + " holds no object; the keys of the first must name the parameters");
}

void read_json_lines(std::istream& in, const std::string& name, RowSink& sink) {
    Rows rows(name, RowFormat::json_lines, sink);
    Keys keys;
    std::string line;
    for (std::size_t number = 1; next_line(in, line, name, number); ++number) {
        if (number == 1 && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
        if (line.find_first_not_of(" \t\r") == std::string::npos) continue;
        keys.clear();
        bool goes_on = true;
        try {
            const Json parsed = Json::parse(line, [&](int depth, Event event, Json& key) {
                if (event == Event::key && depth == 1) keys.add(key.get_ref<const std::string&>());
                return true;
            });
            goes_on = parsed.is_object() ? rows.object(parsed, keys.doubled(), number)
                                         : rows.broken(std::string(not_an_object), number);
        } catch (const nlohmann::detail::parse_error& error) {
            const std::string fault = "this line is no JSON, " + place_in_line(error);
            if (rows.is_first())
                throw FileNotReadable(name + ", line " + std::to_string(number) + ": " + fault +
                                      "; where one array or object spans lines, say --input-format json");
            goes_on = rows.broken(fault, number);
        }
        if (!goes_on) return;
    }
    if (in.bad()) throw FileNotReadable(name + " cannot be read to its end");
    if (rows.is_first())
        throw WrongUse(name + " holds no object; the keys of the first must name the parameters");
}

Table read_json_table(std::istream& in, const std::string& name, bool is_lines) {
    Json json = Json::array();
    std::size_t number = 0;
    try {
        if (is_lines) {
            for (std::string line; next_line(in, line, name, ++number);)
                if (line.find_first_not_of(" \t\r") != std::string::npos) json.push_back(Json::parse(line));
        } else {
            json = Json::parse(in);
        }
    } catch (const nlohmann::detail::exception& error) {
        throw FileNotReadable(name + ", " +
                              (is_lines ? "line " + std::to_string(number) + ", " + place_in_line(error)
                                        : place_and_reason(error)));
    } catch (const std::system_error&) {
        throw FileNotReadable(name + " cannot be read to its end");
    }
    if (json.is_object()) {
        // Labels with their values: a block.
        Json rows = Json::array();
        for (const auto& [key, value] : json.items()) {
            Json row = Json::array({key});
            if (value.is_array())
                row.insert(row.end(), value.begin(), value.end());
            else
                row.push_back(value);
            rows.push_back(std::move(row));
        }
        json = std::move(rows);
    } else if (!json.is_array()) {
        json = Json::array({json});
    } else if (!json.empty() && json[0].is_object()) {
        Json titles = Json::array();
        for (const auto& [key, value] : json[0].items()) titles.push_back(key);
        Json rows = Json::array({titles});
        for (std::size_t r = 0; r < json.size(); ++r) {
            Json row = Json::array();
            for (const auto& title : titles) {
                const auto key = title.get<std::string>();
                row.push_back(json[r].is_object() && json[r].contains(key) ? json[r][key] : Json());
            }
            for (const auto& [key, value] : json[r].items())
                if (!json[0].contains(key))
                    throw FileNotReadable(name + ", object " + std::to_string(r + 1) + ": the key \"" + key +
                                          "\" does not stand in the first object");
            rows.push_back(std::move(row));
        }
        json = std::move(rows);
    }
    auto table = table_of(json);
    if (!table) throw FileNotReadable(name + ": the JSON is no column and no table of single values");
    return std::move(*table);
}

}  // namespace pullsheet::harness
