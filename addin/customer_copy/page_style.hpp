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

/// Is this one of the words of a list as an attribute has it?
bool has_word(std::string_view words, std::string_view word);

/// Takes the page style of a sheet of so many pages into the content: one for each sheet, since a header may
/// name it. Headers and footers that stand on no page are not carried.
void carry_page_style(const PageStyle& style, const Fields& fields, int pages, Content& content);

}  // namespace pullsheet::addin::customer_copy
