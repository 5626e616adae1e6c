// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <pugixml.hpp>
#include <string>

#include "addin/customer_copy/content.hpp"
#include "addin/customer_copy/texts.hpp"

namespace pullsheet::addin::customer_copy {

/// Does the cell hold a number, a date or a truth value?
bool is_number(pugi::xml_node cell);

/// What the cell shows: a text, or a number rounded to the digits shown. `number_format` is that of
/// the document read; that of the copy is returned by its place. `as_text`: a number goes as the text that it
/// shows. `shown` is what it shows where this is not what the file says.
struct Shown {
    CellContent content;
    std::string number_format;
};
Shown shown_content(pugi::xml_node cell, const std::string& number_format, bool as_text, NewStyles& styles,
                    const Fields& fields, const std::optional<std::string>& shown = std::nullopt);

/// What the cell holds, with all its digits, in that number format of the document read: for the office to
/// say what it shows.
Shown whole_content(pugi::xml_node cell, const std::string& number_format, NewStyles& styles);

}  // namespace pullsheet::addin::customer_copy
