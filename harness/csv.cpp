// SPDX-License-Identifier: Apache-2.0
#include "harness/csv.hpp"

#include <csv.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <new>

#include "harness/streams.hpp"

namespace pullsheet::harness {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

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

// A tab between tab-separated fields is no blank to be trimmed.
int is_blank_but_tab(unsigned char c) {
    return c == ' ';
}

}  // namespace

// The C parser with the record it is filling. Its callbacks must not throw.
struct CsvReader::Parser {
    csv_parser c{};
    Record record;
    std::deque<Record>* records = nullptr;
    std::size_t lines = 0;
    bool out_of_memory = false;

    Parser() { csv_init(&c, CSV_STRICT | CSV_STRICT_FINI); }
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
            parser.records->push_back(std::move(parser.record));
            parser.record.clear();
        } catch (const std::bad_alloc&) {
            parser.out_of_memory = true;
        }
    }
};

CsvReader::CsvReader(std::istream& in, std::string name, std::optional<char> delimiter)
    : in_(in), name_(std::move(name)), parser_(std::make_unique<Parser>()) {
    parser_->records = &records_;
    // Enough of the beginning to see the first line; what was read is parsed first.
    std::string beginning(std::size_t{1} << 16, '\0');
    in_.read(beginning.data(), static_cast<std::streamsize>(beginning.size()));
    beginning.resize(static_cast<std::size_t>(in_.gcount()));
    if (beginning.starts_with(byte_order_mark)) beginning.erase(0, byte_order_mark.size());
    delimiter_ = delimiter ? *delimiter : likely_delimiter(beginning);
    csv_set_delim(&parser_->c, static_cast<unsigned char>(delimiter_));
    if (delimiter_ == '\t') csv_set_space_func(&parser_->c, is_blank_but_tab);
    parse(beginning);
}

CsvReader::~CsvReader() = default;

void CsvReader::parse(std::string_view chunk) {
    const std::size_t parsed = csv_parse(&parser_->c, chunk.data(), chunk.size(), Parser::on_field,
                                         Parser::on_record, parser_.get());
    const std::string_view good = chunk.substr(0, std::min(parsed, chunk.size()));
    parser_->lines += static_cast<std::size_t>(std::count(good.begin(), good.end(), '\n'));
    if (parsed != chunk.size()) {
        broken_ =
            parser_->out_of_memory || csv_error(&parser_->c) != CSV_EPARSE
                ? name_ + ": " + csv_strerror(csv_error(&parser_->c))
                : name_ + ", line " + std::to_string(parser_->lines + 1) +
                      ": a quotation mark stands inside a field; put the field in quotation marks and double "
                      "the one inside";
        at_end_ = true;
        return;
    }
    if (in_.bad()) {
        broken_ = name_ + " cannot be read to its end";
        at_end_ = true;
        return;
    }
    if (!in_.eof()) return;
    at_end_ = true;
    if (csv_fini(&parser_->c, Parser::on_field, Parser::on_record, parser_.get()) != 0)
        broken_ = name_ + ": a quotation mark is opened and never closed";
}

bool CsvReader::next(Record& record) {
    std::array<char, std::size_t{1} << 16> chunk;
    while (records_.empty() && !at_end_) {
        in_.read(chunk.data(), static_cast<std::streamsize>(chunk.size()));
        parse({chunk.data(), static_cast<std::size_t>(in_.gcount())});
    }
    if (parser_->out_of_memory) throw std::bad_alloc();
    if (records_.empty()) {
        if (!broken_.empty()) throw FileNotReadable(broken_);
        return false;
    }
    record = std::move(records_.front());
    records_.pop_front();
    return true;
}

void write_record(std::ostream& out, const Record& record, char delimiter) {
    std::string quoted;
    bool first = true;
    for (const std::string& field : record) {
        if (!first) out.put(delimiter);
        first = false;
        const bool needs_quotes = field.find_first_of("\"\r\n") != std::string::npos ||
                                  field.find(delimiter) != std::string::npos ||
                                  (!field.empty() && (field.front() == ' ' || field.back() == ' ')) ||
                                  (record.size() == 1 && field.empty());
        if (!needs_quotes) {
            out << field;
            continue;
        }
        quoted.resize(2 * field.size() + 2);
        const std::size_t size = csv_write(quoted.data(), quoted.size(), field.data(), field.size());
        out.write(quoted.data(), static_cast<std::streamsize>(size));
    }
    out.put('\n');
}

bool is_tsv_name(std::string_view path) {
    const std::filesystem::path extension = std::filesystem::path(path).extension();
    return extension == ".tsv" || extension == ".TSV" || extension == ".tab";
}

std::unique_ptr<std::istream> open_file(const std::string& path) {
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored))
        throw FileNotReadable(path + " cannot be read: it is a folder");
    errno = 0;
    auto file = std::make_unique<std::ifstream>(path, std::ios::binary);
    if (!*file)
        throw FileNotReadable(path +
                              " cannot be read: " + (errno ? std::strerror(errno) : "it cannot be opened"));
    return file;
}

}  // namespace pullsheet::harness
