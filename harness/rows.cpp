// SPDX-License-Identifier: Apache-2.0
#include "harness/rows.hpp"

#include <iconv.h>

#include <algorithm>
#include <boost/locale/utf.hpp>
#include <charconv>
#include <cmath>
#include <stdexcept>

#include "harness/json_rows.hpp"
#include "harness/output.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Cell;
using catalogue::Language;
using catalogue::Table;

// A range is held in memory as a whole; no sheet of a shop has so many cells.
constexpr std::size_t most_cells_of_a_table = std::size_t{1} << 22;

bool is_ascii(std::string_view text) {
    return std::all_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

// Windows-1252 into UTF-8.
class Converter {
  public:
    explicit Converter(Language language) : state_(iconv_open("UTF-8", "WINDOWS-1252")) {
        // NOLINTNEXTLINE: the documented value of a failure
        if (state_ == reinterpret_cast<iconv_t>(-1))
            throw std::runtime_error(
                std::string(translated(language, "Windows-1252 cannot be read on this system")));
    }
    ~Converter() { iconv_close(state_); }
    Converter(const Converter&) = delete;
    Converter& operator=(const Converter&) = delete;

    void convert(std::string& text) {
        if (is_ascii(text)) return;
        std::string result(3 * text.size(), '\0');
        char* from = text.data();
        char* to = result.data();
        std::size_t left = text.size();
        std::size_t room = result.size();
        // A byte that the code page leaves open is kept, and found later.
        while (left > 0 && iconv(state_, &from, &left, &to, &room) == static_cast<std::size_t>(-1)) {
            *to++ = *from++;
            --left;
            --room;
        }
        result.resize(result.size() - room);
        text = std::move(result);
    }

  private:
    iconv_t state_;
};

RowFormat format_of(std::istream& in, const std::string& name, const InputFormat& format) {
    if (format.format) return *format.format;
    if (const auto by_name = row_format_of_file(name)) return *by_name;
    const auto first = in.peek();
    return first == '[' ? RowFormat::json : first == '{' ? RowFormat::json_lines : RowFormat::csv;
}

std::optional<char> delimiter_of(RowFormat format) {
    return format == RowFormat::tsv ? std::optional('\t') : std::nullopt;
}

void refuse_encoding(const std::string& name, const InputFormat& format, Language language) {
    if (format.is_windows_1252)
        throw WrongUse(say(language, "{file}: JSON is always UTF-8; leave --encoding out", {{"file", name}}));
}

std::string not_utf8(Language language) {
    return std::string(translated(
        language, "these bytes are not UTF-8; save the file as UTF-8, or say --encoding windows-1252"));
}

FileNotReadable not_utf8_at(const std::string& name, std::size_t line, std::size_t column,
                            Language language) {
    return FileNotReadable(
        said_at(name, std::to_string(line), std::to_string(column + 1), not_utf8(language), language));
}

}  // namespace

void read_rows(std::istream& in, const std::string& name, const InputFormat& wanted, Language language,
               RowSink& sink) {
    const RowFormat format = format_of(in, name, wanted);
    if (format == RowFormat::json || format == RowFormat::json_lines) {
        refuse_encoding(name, wanted, language);
        if (format == RowFormat::json) return read_json_rows(in, name, language, sink);
        return read_json_lines(in, name, language, sink);
    }
    CsvReader reader(in, name, language, delimiter_of(format));
    std::optional<Converter> converter;
    if (wanted.is_windows_1252) converter.emplace(language);
    Row row;
    if (!reader.next(row.fields))
        throw WrongUse(
            say(language, "{file} is empty; the first row must name the parameters", {{"file", name}}));
    for (std::size_t c = 0; c < row.fields.size(); ++c) {
        if (converter) converter->convert(row.fields[c]);
        if (!is_utf8(row.fields[c])) throw not_utf8_at(name, reader.line(), c, language);
    }
    const Record titles = row.fields;
    sink.titles(titles, format, reader.delimiter());
    while (reader.next(row.fields)) {
        ++row.number;
        row.line = reader.line();
        row.fault.clear();
        for (std::size_t c = 0; c < row.fields.size(); ++c) {
            if (converter) converter->convert(row.fields[c]);
            if (row.fault.empty() && !is_utf8(row.fields[c]))
                row.fault = c < titles.size()
                                ? say(language, "column {column} ({title}): {reason}",
                                      {{"column", std::to_string(c + 1)},
                                       {"title", titles[c]},
                                       {"reason", not_utf8(language)}})
                                : say(language, "column {column}: {reason}",
                                      {{"column", std::to_string(c + 1)}, {"reason", not_utf8(language)}});
        }
        if (!sink.row(row)) return;
    }
}

Table read_table(std::istream& in, const std::string& name, const InputFormat& wanted, Language language) {
    const RowFormat format = format_of(in, name, wanted);
    if (format == RowFormat::json || format == RowFormat::json_lines) {
        refuse_encoding(name, wanted, language);
        return read_json_table(in, name, format == RowFormat::json_lines, language);
    }
    CsvReader reader(in, name, language, delimiter_of(format));
    std::optional<Converter> converter;
    if (wanted.is_windows_1252) converter.emplace(language);
    std::vector<Record> records;
    std::size_t columns = 0;
    std::size_t fields = 0;
    for (Record record; reader.next(record);) {
        columns = std::max(columns, record.size());
        fields += record.size();
        if (std::max(fields, columns * (records.size() + 1)) > most_cells_of_a_table)
            throw FileNotReadable(say(language, "{file}: a range of more than {count} cells is not read",
                                      {{"file", name}, {"count", std::to_string(most_cells_of_a_table)}}));
        for (std::size_t c = 0; c < record.size(); ++c) {
            if (converter) converter->convert(record[c]);
            if (!is_utf8(record[c])) throw not_utf8_at(name, reader.line(), c, language);
        }
        records.push_back(std::move(record));
    }
    Table table(records.size(), columns);
    for (std::size_t r = 0; r < records.size(); ++r)
        for (std::size_t c = 0; c < records[r].size(); ++c)
            table.at(r, c) = cell_from(std::move(records[r][c]));
    return table;
}

Cell cell_from(std::string field) {
    if (field.empty()) return {};
    double number = 0.0;
    const char* end = field.data() + field.size();
    const auto [stopped, error] = std::from_chars(field.data(), end, number);
    if (error == std::errc{} && stopped == end && std::isfinite(number)) return number;
    return field;
}

std::string json_field(const std::string& field) {
    if (field.empty()) return "null";
    const std::size_t first = field.front() == '-' ? 1 : 0;
    const auto digit = [&](std::size_t i) { return i < field.size() && field[i] >= '0' && field[i] <= '9'; };
    const bool has_leading_zero = digit(first) && field[first] == '0' && digit(first + 1);
    double number = 0.0;
    const char* end = field.data() + field.size();
    const auto [stopped, error] = std::from_chars(field.data(), end, number);
    if (error != std::errc{} || stopped != end || !std::isfinite(number) || has_leading_zero)
        return json_text(field);
    // ".5" and "5." are numbers that JSON writes otherwise.
    const auto point = field.find('.');
    const bool is_json = digit(first) && (point == std::string::npos || digit(point + 1));
    return is_json ? field : number_text(number, 17);
}

bool is_utf8(std::string_view text) {
    if (is_ascii(text)) return true;
    using Utf8 = boost::locale::utf::utf_traits<char>;
    const char* from = text.data();
    const char* const end = from + text.size();
    while (from < end)
        if (!boost::locale::utf::is_valid_codepoint(Utf8::decode(from, end))) return false;
    return true;
}

}  // namespace pullsheet::harness
