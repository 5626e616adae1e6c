// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <deque>
#include <istream>
#include <memory>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::harness {

/// The fields of one row.
using Record = std::vector<std::string>;

/// How a CSV file is written, as its beginning says.
struct CsvBeginning {
    char delimiter = ',';
    bool has_separator_line = false;  ///< the first line is "sep=;"
    bool has_decimal_comma = false;   ///< a field is a number with a comma
};

/// Comma or semicolon, or what a first line "sep=;" names. `beginning` is the file from its first byte on,
/// without a byte order mark.
CsvBeginning csv_beginning(std::string_view beginning);

/// Reads CSV (RFC 4180) record by record; the file may be larger than memory. Blank lines are skipped, blanks
/// around unquoted fields too, and a first line "sep=;", which names the delimiter.
class CsvReader {
  public:
    /// `name` is what an error calls the file, in a sentence of `language`. Without a delimiter, the first
    /// line decides between comma and semicolon (as written where the comma is the decimal mark).
    CsvReader(std::istream& in, std::string name, catalogue::Language language,
              std::optional<char> delimiter = std::nullopt);
    ~CsvReader();
    CsvReader(const CsvReader&) = delete;
    CsvReader& operator=(const CsvReader&) = delete;

    /// The next record; false at the end. Throws FileNotReadable for a quotation mark that is not closed or
    /// stands where none may, and for a row that is longer than any row can be.
    bool next(Record& record);

    /// The line of the file, counted from 1, in which the last record begins.
    std::size_t line() const { return line_; }

    char delimiter() const { return delimiter_; }

  private:
    struct Parser;
    void parse(std::string_view chunk);
    void parse_line(std::string_view piece);
    void end(const std::string& sentence);
    void end_at(std::size_t line, std::string_view reason);

    std::istream& in_;
    std::string name_;
    catalogue::Language language_;
    char delimiter_ = ',';
    std::unique_ptr<Parser> parser_;
    std::size_t line_ = 0;
    bool at_end_ = false;
    std::string broken_;  ///< why the rest cannot be read; said when the good records are used up
};

/// Adds a record and the end of its line; fields are quoted only where they must be.
void add_record(std::string& text, const Record& record, char delimiter);

/// Adds one field, quoted if it must be.
void add_field(std::string& text, std::string_view field, char delimiter);

/// Writes a record and ends the line.
void write_record(std::ostream& out, const Record& record, char delimiter);

}  // namespace pullsheet::harness
