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
/// the document read; the number format of the copy is returned by address. `as_text`: a number is copied as
/// its displayed text. `shown` is the displayed text where it differs from that in the file.
struct Shown {
    CellContent content;
    std::string number_format;
};
Shown shown_content(pugi::xml_node cell, const std::string& number_format, bool as_text, NewStyles& styles,
                    const Fields& fields, const std::optional<std::string>& shown = std::nullopt);

/// The content of the cell with all its digits, in that number format of the source document, so that the
/// office determines the displayed text.
Shown whole_content(pugi::xml_node cell, const std::string& number_format, NewStyles& styles);

}  // namespace pullsheet::addin::customer_copy
