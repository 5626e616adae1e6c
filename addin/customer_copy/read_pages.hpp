// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <pugixml.hpp>
#include <string>
#include <vector>

#include "addin/customer_copy/content.hpp"

namespace pullsheet::addin::customer_copy {

/// The content of the printed pages of these sheets. `document` is the document as written by the office;
/// `styles` are the styles of that document.
Content read_pages(pugi::xml_node document, const Styles& styles, const std::vector<std::string>& sheets,
                   const ConditionStyle& conditions, const Seen& seen, const std::string& file_name,
                   const NewStyles::Encode& encode);

}  // namespace pullsheet::addin::customer_copy
