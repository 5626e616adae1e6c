// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <pugixml.hpp>
#include <string_view>

#include "addin/customer_copy/content.hpp"
#include "addin/customer_copy/texts.hpp"

namespace pullsheet::addin::customer_copy {

/// The page style of a sheet, as the document has it.
struct PageStyle {
    pugi::xml_node master;  ///< headers and footers
    pugi::xml_node layout;  ///< the properties of its page
};

/// True if the word occurs in the blank-separated list of an attribute.
bool has_word(std::string_view words, std::string_view word);

/// Copies the page style of a sheet of so many pages into the content: one per sheet, since a header may name
/// the sheet. Headers and footers that appear on no page are not copied.
void carry_page_style(const PageStyle& style, const Fields& fields, int pages, Content& content);

}  // namespace pullsheet::addin::customer_copy
