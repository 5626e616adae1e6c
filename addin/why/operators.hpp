// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "core/catalogue/sentences.hpp"
#include "core/catalogue/value.hpp"

/// The operators of a formula, as Calc computes them.
namespace pullsheet::addin {

/// A number as an operator takes it: 0 for an empty cell, nothing for a text that is no number.
std::optional<double> number_in(const catalogue::Cell& cell);
catalogue::Cell text_for_number(const catalogue::Cell& cell, catalogue::Language language);

/// True if Calc considers them equal: an empty cell equals 0 and "", and the case of ASCII letters is
/// ignored.
bool are_equal(const catalogue::Cell& a, const catalogue::Cell& b);

/// "-", "+" or "%" of a value, element by element of a table.
catalogue::Value changed(const std::string& op, const catalogue::Value& value, catalogue::Language language);
/// An operator over two values, element by element where one of them is a table.
catalogue::Value combined(const std::string& op, const catalogue::Value& a, const catalogue::Value& b,
                          catalogue::Language language);

/// The value as one cell: of a table the first.
catalogue::Cell single(const catalogue::Value& value);
/// The element of a table that an array formula shows there; a row or column of one is repeated.
catalogue::Value picked(const catalogue::Table& table, int row, int column, catalogue::Language language);
catalogue::Failure outside_result(std::size_t rows, std::size_t columns, catalogue::Language language);

}  // namespace pullsheet::addin
