// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/value.hpp"

namespace pullsheet::harness {

enum class Format { people, csv, tsv, json };

/// How data is written.
struct Output {
    Format format = Format::people;
    int digits = 10;

    char delimiter() const { return format == Format::tsv ? '\t' : ','; }
};

/// A number with that many significant digits and a decimal point, whatever the locale.
std::string number_text(double value, int digits);

/// A cell as text: empty for an empty cell and for an error, whose sentence goes to standard error.
std::string cell_text(const catalogue::Cell& cell, int digits);

/// A cell as JSON; an error is null.
nlohmann::ordered_json cell_json(const catalogue::Cell& cell, int digits);

/// JSON on one line; bytes that are no UTF-8 are replaced.
std::string json_line(const nlohmann::ordered_json& json);

/// The table as CSV, TSV or, for people, in aligned columns (numbers to the right; an error is shown as
/// "error").
void write_table(std::ostream& out, const catalogue::Table& table, const Output& output);

/// Texts in aligned columns; a column stands to the right where `to_right` says so. Rows are as long as
/// `to_right`.
void write_columns(std::ostream& out, const std::vector<std::vector<std::string>>& rows,
                   const std::vector<bool>& to_right);

/// The sentences of all errors in the table, in order, each once.
std::vector<std::string> error_sentences(const catalogue::Table& table);

/// A value as it would be written in a formula, with all its digits: 1.5, "PS", {1;2|3;4}.
std::string formula_text(const catalogue::Value& value);

/// Arguments as they would be written in a formula, omitted ones at the end left out.
std::string formula_text(std::string_view function, const std::vector<catalogue::Value>& arguments);

}  // namespace pullsheet::harness
