// SPDX-License-Identifier: Apache-2.0
#include "harness/json_rows.hpp"

#include <algorithm>
#include <functional>
#include <iterator>
#include <map>
#include <new>
#include <nlohmann/json.hpp>
#include <set>
#include <system_error>

#include "harness/parsed_row.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Cell;
using catalogue::Language;
using catalogue::Table;
using Event = ParseEvent;

constexpr std::size_t longest_json_row = std::size_t{16} << 20;

std::string not_an_object(Language language) {
    return std::string(
        translated(language, "this is not an object; a row is an object with the parameters as keys"));
}

// What the parser says.
struct Refusal {
    std::string line;  ///< empty: no place is known
    std::string column;
    std::string reason;  ///< the parser's words, and what may help

    // "[json.exception.parse_error.101] parse error at line 2, column 5: …"
    Refusal(const std::exception& error, Language language) : reason(error.what()) {
        const std::string_view before_line = " at line ";
        const std::string_view before_column = ", column ";
        const auto place = reason.find(before_line);
        const auto comma = reason.find(before_column, place);
        const auto colon = reason.find(": ", comma);
        if (place != std::string::npos && comma != std::string::npos && colon != std::string::npos) {
            const auto first = place + before_line.size();
            line = reason.substr(first, comma - first);
            column = reason.substr(comma + before_column.size(), colon - comma - before_column.size());
            reason.erase(0, colon + 2);
        }
        const bool goes_on = reason.find("; expected end of input") != std::string::npos;
        if (reason.find("unexpected end of input") != std::string::npos ||
            reason.find("missing closing quote") != std::string::npos)
            reason = say(language, "{reason}; the file may have been cut off", {{"reason", reason}});
        if (goes_on)
            reason = say(language, "{reason}; where an object stands on each line, say --input-format jsonl",
                         {{"reason", reason}});
    }
};

// The same as a sentence; the line of the file, if it was parsed line by line.
std::string said_of_file(const std::string& name, const Refusal& refusal, const std::string& line,
                         Language language) {
    if (!refusal.line.empty())
        return said_at(name, line.empty() ? refusal.line : line, refusal.column, refusal.reason, language);
    if (!line.empty())
        return say(language, "{file}, line {line}, {reason}",
                   {{"file", name}, {"line", line}, {"reason", refusal.reason}});
    return name + ", " + refusal.reason;
}

std::string no_object(const std::string& name, Language language) {
    return say(language, "{file} holds no object; the keys of the first must name the parameters",
               {{"file", name}});
}

// Why the table would be too large, as one of few long rows and many short ones is; empty if it is not.
std::string too_large(std::size_t rows, std::size_t columns, Language language) {
    if (rows * columns <= most_values_of_a_table) return {};
    return say(language, "a table of {rows} × {columns} cells; at most {count} are read",
               {{"rows", std::to_string(rows)},
                {"columns", std::to_string(columns)},
                {"count", std::to_string(most_values_of_a_table)}});
}

ArrayValues values_of(const Json& array) {
    ArrayValues values;
    const auto add = [&](const Json& value, bool is_in_row) {
        if (value.is_structured())
            values.add_deeper();
        else
            values.add(value, is_in_row);
    };
    for (const Json& element : array) {
        if (!element.is_array()) {
            add(element, false);
            continue;
        }
        values.add_row();
        for (const Json& value : element) add(value, true);
    }
    return values;
}

// Puts the fields of each object under the titles of the first.
class Rows {
  public:
    Rows(std::string name, RowFormat format, Language language, RowSink& sink)
        : name_(std::move(name)), format_(format), language_(language), sink_(sink) {}

    // Both return false when no more rows are wanted.
    bool object(ParsedRow& parsed, std::size_t line) {
        const ParseBounds& bounds = parsed.bounds();
        return row(parsed.fields(), bounds.keys(), bounds.doubled(), bounds.dropped(), line);
    }
    bool broken(std::string fault, std::size_t line) {
        std::vector<ParsedRow::Field> none;
        return row(none, {}, std::move(fault), {}, line);
    }

    bool is_first() const { return titles_.empty(); }

  private:
    // In the first object, `fault` leaves no titles, and `dropped` does.
    bool row(std::vector<ParsedRow::Field>& fields, const Record& keys, std::string fault,
             const std::string& dropped, std::size_t line) {
        if (titles_.empty()) {
            if (fault.empty() && keys.empty())
                fault = translated(language_, "it has no keys; they must name the parameters");
            if (!fault.empty())
                throw FileNotReadable(say(language_, "{file}, object {number}: {reason}",
                                          {{"file", name_}, {"number", "1"}, {"reason", fault}}));
            for (const std::string& key : keys) {
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
        row.fault = fault.empty() ? dropped : std::move(fault);
        try {
            for (ParsedRow::Field& field : fields) {
                std::string refused;
                const auto known = position_.find(field.key);
                if (known == position_.end())
                    refused = say(language_,
                                  "the key \"{key}\" is not in the first object; add it there, as null if it "
                                  "has no value",
                                  {{"key", field.key}});
                else
                    refused = put(row, known->second, field);
                if (row.fault.empty()) row.fault = std::move(refused);
            }
        } catch (const std::bad_alloc&) {
            row.tables.clear();
            row.fault = too_little_memory(language_);
        }
        return sink_.row(row);
    }
    // Returns why the value is none.
    std::string put(Row& row, std::size_t position, ParsedRow::Field& field) const {
        if (field.is_object)
            return say(language_,
                       "the key \"{key}\" is an object; a value is a number, a text or an array of them",
                       {{"key", field.key}});
        if (!field.array) {
            row.json[position] = std::move(field.json);
            row.fields[position] = std::move(field.text);
            return {};
        }
        if (const auto reason = too_large(field.array->rows(), field.array->columns(), language_);
            !reason.empty())
            return say(language_, "the key \"{key}\": {reason}", {{"key", field.key}, {"reason", reason}});
        auto table = std::move(*field.array).table();
        if (!table)
            return say(language_,
                       "the key \"{key}\" is an array that is no column and no table of single values",
                       {{"key", field.key}});
        row.tables.emplace_back(position, std::move(*table));
        return {};
    }

    std::string name_;
    RowFormat format_;
    Language language_;
    RowSink& sink_;
    Record titles_;
    std::map<std::string, std::size_t, std::less<>> position_;
    std::size_t count_ = 0;
};

// The characters of a file, counted: the parser keeps a text until it is closed.
class Characters {
  public:
    Characters(std::istream& in, const std::string& name, Language language)
        : in_(in), name_(name), language_(language) {}

    // A value is complete: the count starts again.
    void begin() { count_ = 0; }

    // What the parser reads from; the one that stands for the end has no file.
    class Iterator {
      public:
        using iterator_category = std::input_iterator_tag;
        using value_type = char;
        using difference_type = std::ptrdiff_t;
        using pointer = const char*;
        using reference = char;

        explicit Iterator(Characters* characters = nullptr) : characters_(characters) {}
        char operator*() const { return static_cast<char>(characters_->in_.rdbuf()->sgetc()); }
        Iterator& operator++() {
            characters_->next();
            return *this;
        }
        bool operator==(const Iterator& other) const { return is_at_end() == other.is_at_end(); }
        bool operator!=(const Iterator& other) const { return !(*this == other); }

      private:
        bool is_at_end() const {
            return !characters_ || characters_->in_.rdbuf()->sgetc() == std::istream::traits_type::eof();
        }
        Characters* characters_;
    };

  private:
    void next() {
        in_.rdbuf()->sbumpc();
        if (++count_ > longest_json_row)
            throw FileNotReadable(
                say(language_,
                    "{file}: a row is longer than 16 MiB; a bracket or a quotation mark may not be "
                    "closed",
                    {{"file", name_}}));
    }

    std::istream& in_;
    const std::string& name_;
    Language language_;
    std::size_t count_ = 0;
};

struct Enough {};

// The next line without its end; false at the end of the file.
bool next_line(std::istream& in, std::string& line, const std::string& name, std::size_t number,
               Language language) {
    line.clear();
    if (in.peek() == std::istream::traits_type::eof()) return false;
    for (auto c = in.rdbuf()->sbumpc(); c != std::istream::traits_type::eof() && c != '\n';
         c = in.rdbuf()->sbumpc()) {
        line += static_cast<char>(c);
        if (line.size() > longest_json_row)
            throw FileNotReadable(say(language,
                                      "{file}, line {line} is longer than 16 MiB; say --input-format json if "
                                      "the file is one array",
                                      {{"file", name}, {"line", std::to_string(number)}}));
    }
    return true;
}

}  // namespace

std::string json_text(std::string_view text) {
    return Json(text).dump(-1, ' ', false, Json::error_handler_t::replace);
}

void read_json_rows(std::istream& in, const std::string& name, Language language, RowSink& sink) {
    Rows rows(name, RowFormat::json, language, sink);
    Characters characters(in, name, language);
    int depth_of_rows = 0;
    const auto new_row = [&] { return ParsedRow(language, depth_of_rows, [&] { sink.flush(); }); };
    ParsedRow row = new_row();
    // What is handed on is not kept: the parser holds one object at a time.
    const auto on_event = [&](int depth, Event event, Json& parsed) {
        if (event == Event::array_start && depth == 0) {
            depth_of_rows = 1;
            row = new_row();
            return true;
        }
        const bool begins = event == Event::object_start || event == Event::array_start;
        const bool kept = row.take(depth, event, parsed);
        if (depth != depth_of_rows || begins) return kept;
        characters.begin();
        const bool goes_on =
            event == Event::object_end ? rows.object(row, 0) : rows.broken(not_an_object(language), 0);
        row = new_row();
        if (!goes_on) throw Enough{};
        return false;
    };
    try {
        if (in.peek() == std::istream::traits_type::eof() && !in.bad())
            throw WrongUse(say(language, "{file} is empty; the keys of its objects must name the parameters",
                               {{"file", name}}));
        // The array that is left when its rows are taken out is empty.
        const Json rest = Json::parse(Characters::Iterator(&characters), Characters::Iterator(), on_event);
    } catch (const Enough&) {
    } catch (const nlohmann::detail::exception& error) {
        throw FileNotReadable(said_of_file(name, Refusal(error, language), {}, language));
    } catch (const std::system_error&) {
        throw FileNotReadable(not_to_its_end(name, language));
    }
    if (rows.is_first()) throw WrongUse(no_object(name, language));
}

void read_json_lines(std::istream& in, const std::string& name, Language language, RowSink& sink) {
    Rows rows(name, RowFormat::json_lines, language, sink);
    std::string line;
    for (std::size_t number = 1; next_line(in, line, name, number, language); ++number) {
        if (number == 1 && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
        if (line.find_first_not_of(" \t\r") == std::string::npos) continue;
        ParsedRow row(language, 0, [&] { sink.flush(); });
        bool goes_on = true;
        std::optional<Json> parsed;
        std::string fault;
        try {
            parsed = Json::parse(line, [&](int depth, Event event, const Json& value) {
                return row.take(depth, event, value);
            });
        } catch (const nlohmann::detail::exception& error) {
            const Refusal refusal(error, language);
            fault = refusal.column.empty()
                        ? say(language, "this line cannot be read: {reason}", {{"reason", refusal.reason}})
                        : say(language, "this line is not JSON, column {column}: {reason}",
                              {{"column", refusal.column}, {"reason", refusal.reason}});
            if (rows.is_first())
                throw FileNotReadable(
                    say(language,
                        "{file}, line {line}: {reason}; where one array or object spans lines, say "
                        "--input-format json",
                        {{"file", name}, {"line", std::to_string(number)}, {"reason", fault}}));
        } catch (const std::bad_alloc&) {
            if (rows.is_first()) throw;
            fault = too_little_memory(language);
        }
        if (!parsed)
            goes_on = rows.broken(fault, number);
        else if (!parsed->is_object())
            goes_on = rows.broken(not_an_object(language), number);
        else
            goes_on = rows.object(row, number);
        if (!goes_on) return;
    }
    if (in.bad()) throw FileNotReadable(not_to_its_end(name, language));
    if (rows.is_first()) throw WrongUse(no_object(name, language));
}

Table read_json_table(std::istream& in, const std::string& name, bool is_lines, Language language) {
    Json json = Json::array();
    std::size_t number = 0;
    ParseBounds bounds(language, most_values_of_a_table);
    std::set<std::string, std::less<>> keys;  // of an object; one in another is no table anyway
    const auto refuse = [&](const std::string& reason) {
        if (!reason.empty())
            throw FileNotReadable(say(language, "{file}: {reason}", {{"file", name}, {"reason", reason}}));
    };
    try {
        Characters characters(in, name, language);
        const auto on_event = [&](int depth, Event event, const Json& value) {
            characters.begin();
            const bool kept = bounds.keeps(depth, event, value);
            refuse(bounds.dropped());
            if (event == Event::object_start) keys.clear();
            if (event == Event::key) {
                const auto& key = value.get_ref<const std::string&>();
                if (!keys.insert(key).second) refuse(doubled_key(key, language));
            }
            return kept;
        };
        if (is_lines) {
            for (std::string line; next_line(in, line, name, ++number, language);)
                if (line.find_first_not_of(" \t\r") != std::string::npos)
                    json.push_back(Json::parse(line, on_event));
        } else {
            json = Json::parse(Characters::Iterator(&characters), Characters::Iterator(), on_event);
        }
    } catch (const nlohmann::detail::exception& error) {
        throw FileNotReadable(said_of_file(name, Refusal(error, language),
                                           is_lines ? std::to_string(number) : std::string(), language));
    } catch (const std::system_error&) {
        throw FileNotReadable(not_to_its_end(name, language));
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
                    throw FileNotReadable(
                        say(language, "{file}, object {number}: the key \"{key}\" is not in the first object",
                            {{"file", name}, {"number", std::to_string(r + 1)}, {"key", key}}));
            rows.push_back(std::move(row));
        }
        json = std::move(rows);
    }
    ArrayValues values = values_of(json);
    refuse(too_large(values.rows(), values.columns(), language));
    auto table = std::move(values).table();
    if (!table)
        throw FileNotReadable(
            say(language, "{file}: the JSON is no column and no table of single values", {{"file", name}}));
    return std::move(*table);
}

}  // namespace pullsheet::harness
