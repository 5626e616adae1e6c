// SPDX-License-Identifier: Apache-2.0
#include "harness/csv.hpp"

#include <csv.h>

#include <algorithm>
#include <array>
#include <new>

#include "harness/input.hpp"
#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

// A quotation mark that is never closed takes in all that follows; no row of a shop is that long.
constexpr std::size_t longest_row = std::size_t{16} << 20;

// Comma or semicolon, whichever the first line has more of outside quotation marks. A comma between two
// digits may be a decimal mark and does not count.
char likely_delimiter(std::string_view beginning) {
    const auto is_digit = [&](std::size_t i) {
        return i < beginning.size() && beginning[i] >= '0' && beginning[i] <= '9';
    };
    bool quoted = false;
    std::ptrdiff_t balance = 0;
    for (std::size_t i = 0; i < beginning.size(); ++i) {
        const char c = beginning[i];
        if (c == '"') quoted = !quoted;
        if (quoted) continue;
        if (c == '\n' || c == '\r') break;
        if (c == ';') ++balance;
        if (c == ',' && !(i > 0 && is_digit(i - 1) && is_digit(i + 1))) --balance;
    }
    return balance > 0 ? ';' : ',';
}

// The delimiter that a first line "sep=;" names, 0 if there is no such line. `size` is its length with its
// end.
char named_delimiter(std::string_view beginning, std::size_t& size) {
    const std::string_view key = "sep=";
    const std::size_t end = beginning.find('\n');
    std::string_view line = beginning.substr(0, end);
    if (line.ends_with('\r')) line.remove_suffix(1);
    if (line.size() != key.size() + 1 || !line.starts_with(key)) return 0;
    size = end == std::string_view::npos ? beginning.size() : end + 1;
    return line.back();
}

bool is_decimal_comma(std::string_view field) {
    const auto comma = field.find(',');
    return comma != std::string_view::npos && comma > 0 && comma + 1 < field.size() &&
           field.find_first_not_of("0123456789,-+") == std::string_view::npos &&
           field.find(',', comma + 1) == std::string_view::npos;
}

// A tab between tab-separated fields is no blank to be trimmed.
int is_blank_but_tab(unsigned char c) {
    return c == ' ';
}

}  // namespace

CsvBeginning csv_beginning(std::string_view beginning) {
    CsvBeginning result;
    std::size_t size = 0;
    const char named = named_delimiter(beginning, size);
    result.has_separator_line = named != 0;
    if (named != 0) beginning.remove_prefix(size);
    result.delimiter = named != 0 ? named : likely_delimiter(beginning);
    std::string_view rest = beginning;
    while (!rest.empty() && result.delimiter != ',') {
        const char ends[] = {result.delimiter, '\n', '\r', '"', '\0'};
        const std::size_t end = rest.find_first_of(ends);
        if (is_decimal_comma(rest.substr(0, end))) result.has_decimal_comma = true;
        if (end == std::string_view::npos) break;
        rest.remove_prefix(end + 1);
    }
    return result;
}

// The C parser with the record it is filling. Its callbacks must not throw.
struct CsvReader::Parser {
    csv_parser c{};
    Record record;
    std::deque<std::pair<Record, std::size_t>> records;  ///< with the lines in which they begin
    std::size_t line = 1;                                ///< that is being read
    std::size_t begun_in = 0;  ///< the line in which the record begins; 0 between records
    std::size_t length = 0;    ///< of the record so far
    bool out_of_memory = false;

    Parser() {
        csv_init(&c, CSV_STRICT | CSV_STRICT_FINI);
        csv_set_blk_size(&c, std::size_t{1} << 16);  // its buffer grows by this, not by 128 bytes
    }
    ~Parser() { csv_free(&c); }
    Parser(const Parser&) = delete;
    Parser& operator=(const Parser&) = delete;

    static void on_field(void* data, std::size_t size, void* self) noexcept {
        auto& parser = *static_cast<Parser*>(self);
        try {
            parser.record.emplace_back(static_cast<const char*>(data), size);
        } catch (const std::bad_alloc&) {
            parser.out_of_memory = true;
        }
    }
    static void on_record(int, void* self) noexcept {
        auto& parser = *static_cast<Parser*>(self);
        try {
            const std::size_t fields = parser.record.size();
            parser.records.emplace_back(std::move(parser.record), parser.begun_in);
            parser.record.clear();
            parser.record.reserve(fields);
            parser.begun_in = 0;
            parser.length = 0;
        } catch (const std::bad_alloc&) {
            parser.out_of_memory = true;
        }
    }
};

CsvReader::CsvReader(std::istream& in, std::string name, catalogue::Language language,
                     std::optional<char> delimiter)
    : in_(in), name_(std::move(name)), language_(language), parser_(std::make_unique<Parser>()) {
    // Enough of the beginning to see the first line; what was read is parsed first.
    std::string beginning;
    std::array<char, std::size_t{1} << 16> chunk;
    while (beginning.size() < chunk.size() && beginning.find('\n') == std::string::npos) {
        const std::size_t count = read_some(in_, chunk.data(), chunk.size());
        if (count == 0) break;
        beginning.append(chunk.data(), count);
    }
    if (beginning.starts_with("\xFF\xFE") || beginning.starts_with("\xFE\xFF"))
        throw FileNotReadable(
            say(language_, "{file} is written in UTF-16; save it as UTF-8", {{"file", name_}}));
    if (beginning.starts_with(byte_order_mark)) beginning.erase(0, byte_order_mark.size());
    std::size_t size = 0;
    if (const char named = named_delimiter(beginning, size)) {
        delimiter_ = named;
        beginning.erase(0, size);
        ++parser_->line;
    } else {
        delimiter_ = delimiter ? *delimiter : likely_delimiter(beginning);
    }
    csv_set_delim(&parser_->c, static_cast<unsigned char>(delimiter_));
    if (delimiter_ == '\t') csv_set_space_func(&parser_->c, is_blank_but_tab);
    parse(beginning);
}

CsvReader::~CsvReader() = default;

// The parser does not count lines: it is fed one line at a time.
void CsvReader::parse(std::string_view chunk) {
    while (!chunk.empty() && !at_end_) {
        const std::size_t end_of_line = chunk.find('\n');
        const std::size_t size = end_of_line == std::string_view::npos ? chunk.size() : end_of_line + 1;
        parse_line(chunk.substr(0, size));
        if (end_of_line != std::string_view::npos) ++parser_->line;
        chunk.remove_prefix(size);
    }
    if (at_end_) return;
    if (in_.bad()) return end(not_to_its_end(name_, language_));
    if (!in_.eof()) return;
    at_end_ = true;
    const std::size_t begun_in = parser_->begun_in;
    if (csv_fini(&parser_->c, Parser::on_field, Parser::on_record, parser_.get()) != 0)
        end_at(begun_in, translated(language_,
                                    "a quotation mark is opened and never closed; the file may have been "
                                    "cut off"));
}

void CsvReader::parse_line(std::string_view piece) {
    Parser& parser = *parser_;
    if (parser.begun_in == 0 && piece.find_first_not_of(" \t\r\n") != std::string_view::npos)
        parser.begun_in = parser.line;
    // Tabs alone are fields, too.
    if (parser.begun_in == 0 && delimiter_ == '\t' && piece.find('\t') != std::string_view::npos)
        parser.begun_in = parser.line;
    parser.length += piece.size();
    const std::size_t parsed =
        csv_parse(&parser.c, piece.data(), piece.size(), Parser::on_field, Parser::on_record, &parser);
    if (parsed != piece.size()) {
        if (parser.out_of_memory || csv_error(&parser.c) != CSV_EPARSE)
            return end(name_ + ": " + csv_strerror(csv_error(&parser.c)));
        return end_at(parser.line, translated(language_,
                                              "a quotation mark stands inside a field; put the field in "
                                              "quotation marks and double the one inside"));
    }
    if (parser.length > longest_row)
        end_at(parser.begun_in, translated(language_,
                                           "the row that begins here is longer than 16 MiB; a quotation "
                                           "mark may not be closed"));
}

void CsvReader::end(const std::string& sentence) {
    broken_ = sentence;
    at_end_ = true;
}

// In the field that is being read.
void CsvReader::end_at(std::size_t line, std::string_view reason) {
    end(said_at(name_, std::to_string(line), std::to_string(parser_->record.size() + 1), reason, language_));
}

bool CsvReader::next(Record& record) {
    std::array<char, std::size_t{1} << 16> chunk;
    while (parser_->records.empty() && !at_end_) {
        const std::size_t count = read_some(in_, chunk.data(), chunk.size());
        parse({chunk.data(), count});
    }
    if (parser_->out_of_memory) throw std::bad_alloc();
    if (parser_->records.empty()) {
        if (!broken_.empty()) throw FileNotReadable(broken_);
        return false;
    }
    record = std::move(parser_->records.front().first);
    line_ = parser_->records.front().second;
    parser_->records.pop_front();
    return true;
}

void add_field(std::string& text, std::string_view field, char delimiter) {
    const bool needs_quotes = field.find_first_of("\"\r\n") != std::string_view::npos ||
                              field.find(delimiter) != std::string_view::npos ||
                              (!field.empty() && (field.front() == ' ' || field.back() == ' '));
    if (!needs_quotes) {
        text += field;
        return;
    }
    const std::size_t before = text.size();
    text.resize(before + 2 * field.size() + 2);
    const std::size_t size =
        csv_write(text.data() + before, text.size() - before, field.data(), field.size());
    text.resize(before + size);
}

void add_record(std::string& text, const Record& record, char delimiter) {
    for (std::size_t i = 0; i < record.size(); ++i) {
        if (i > 0) text += delimiter;
        add_field(text, record[i], delimiter);
    }
    // A blank line would be no row.
    if (record.size() == 1 && record.front().empty()) text += "\"\"";
    text += '\n';
}

void write_record(std::ostream& out, const Record& record, char delimiter) {
    std::string text;
    add_record(text, record, delimiter);
    out << text;
}

}  // namespace pullsheet::harness
