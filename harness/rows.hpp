// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <istream>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/catalogue/value.hpp"
#include "harness/csv.hpp"
#include "harness/input.hpp"

namespace pullsheet::harness {

/// One row of a file, whatever its format.
struct Row {
    Record fields;                  ///< the texts; a longer row than the titles is too long
    std::vector<std::string> json;  ///< from JSON: each field as it stands there; null for an array
    std::vector<std::pair<std::size_t, catalogue::Table>> tables;  ///< from JSON: the fields that are arrays
    std::size_t number = 0;  ///< of the row, counted from 1, without the titles
    std::size_t line = 0;    ///< in which it begins, counted from 1; 0: not known
    std::string fault;       ///< why it cannot be read; empty if it can
};

/// What is done with the rows of a file, as they are read.
class RowSink {
  public:
    virtual ~RowSink() = default;
    /// The titles, before the first row; `delimiter` stands between the fields of CSV and TSV.
    virtual void titles(const Record& titles, RowFormat format, char delimiter) = 0;
    /// The next row; false: no more rows are wanted.
    virtual bool row(Row& row) = 0;
    /// A row that needs much memory follows: what is done so far must not be lost with it.
    virtual void flush() = 0;
};

/// Reads rows with titles: the first row of CSV and TSV; the keys of the first object of JSON (an array of
/// objects) and of JSON Lines (an object a line). One row is held at a time. A broken row of JSON Lines is
/// handed on with its fault; what breaks the rest of a file throws FileNotReadable, after the good rows were
/// handed on. Faults are said in `language`.
void read_rows(std::istream& in, const std::string& name, const InputFormat& format,
               catalogue::Language language, RowSink& sink);

/// Reads a block or range without titles: the fields of CSV and TSV; an array of rows, of objects (their keys
/// become the first row) or of single values (a column) of JSON; an object as labels with values. Throws
/// FileNotReadable with a sentence in `language`.
catalogue::Table read_table(std::istream& in, const std::string& name, const InputFormat& format,
                            catalogue::Language language);

/// A field as a cell: empty, a number (with a decimal point), or a text.
catalogue::Cell cell_from(std::string field);

/// The text as JSON, in quotation marks; bytes that are no UTF-8 are replaced.
std::string json_text(std::string_view text);

/// A field of a file as JSON: a number as it is written if JSON writes it so, an empty field as null,
/// anything else as a text ("007" is no number).
std::string json_field(const std::string& field);

/// True if the bytes are UTF-8.
bool is_utf8(std::string_view text);

}  // namespace pullsheet::harness
