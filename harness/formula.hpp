// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/sentences.hpp"
#include "core/catalogue/value.hpp"

namespace pullsheet::harness {

/// A call as it is typed into a cell of a Calc in `language`, omitted arguments at the end left out. English:
/// =F(1.5; {1, 2|3, 4}); German: =F(1,5; {1 . 2|3 . 4}).
std::string typed_formula(std::string_view function, const std::vector<catalogue::Value>& arguments,
                          catalogue::Language language);

/// The words of a call that is written as a formula, "=AIR.DENSITY(22; 97.9; 0.55)": the name, then the
/// arguments, "-" for one that is left out. Nothing for a word that is none. Throws WrongUse for a formula
/// that is no single call.
std::optional<std::vector<std::string>> words_of_formula(const std::string& word,
                                                         catalogue::Language language);

/// True for "{…}", an array as a formula writes it.
bool is_inline_array(std::string_view word);

/// The cells of "{30|15}". Rows stand between | or, where there is none, between semicolons; columns between
/// semicolons, between commas (in German: commas followed by a blank) or between points with blanks around
/// them. Numbers may have a decimal point or comma. Throws WrongUse.
catalogue::Table inline_array(const std::string& word, catalogue::Language language);

/// "PS" → PS; any other word as it is.
std::string without_quotes(const std::string& word);

}  // namespace pullsheet::harness
