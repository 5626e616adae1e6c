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

namespace pullsheet::harness {

/// The fields of one row.
using Record = std::vector<std::string>;

/// Reads CSV (RFC 4180) record by record; the file may be larger than memory. Blank lines are skipped, blanks
/// around unquoted fields too.
class CsvReader {
  public:
    /// `name` is what an error calls the file. Without a delimiter, the first line decides between comma and
    /// semicolon (as written where the comma is the decimal mark).
    CsvReader(std::istream& in, std::string name, std::optional<char> delimiter = std::nullopt);
    ~CsvReader();
    CsvReader(const CsvReader&) = delete;
    CsvReader& operator=(const CsvReader&) = delete;

    /// The next record; false at the end. Throws FileNotReadable for a quotation mark that is not closed or
    /// stands where none may.
    bool next(Record& record);

    char delimiter() const { return delimiter_; }

  private:
    struct Parser;
    void parse(std::string_view chunk);

    std::istream& in_;
    std::string name_;
    char delimiter_ = ',';
    std::unique_ptr<Parser> parser_;
    std::deque<Record> records_;
    bool at_end_ = false;
    std::string broken_;  ///< why the rest cannot be read; said when the good records are used up
};

/// Writes a record and ends the line; fields are quoted only where they must be.
void write_record(std::ostream& out, const Record& record, char delimiter);

/// True for the names of tab-separated files.
bool is_tsv_name(std::string_view path);

/// Opens a file for reading. Throws FileNotReadable.
std::unique_ptr<std::istream> open_file(const std::string& path);

}  // namespace pullsheet::harness
