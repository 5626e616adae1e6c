// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "addin/book.hpp"

namespace pullsheet::addin {

/// Puts into every cell of the copy that holds a formula what the same cell of the original shows: its number
/// in its number format, its text, or the name of its error as a text.
void replace_formulas(const Book& copy, const Book& original);

}  // namespace pullsheet::addin
