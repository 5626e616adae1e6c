// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <pugixml.hpp>
#include <string>

#include "addin/customer_copy/styles.hpp"

namespace pullsheet::addin::customer_copy {

/// The texts that stand for fields: "text:title" → the title of the document.
using Fields = std::map<std::string, std::string>;

/// Copies the visible text of paragraphs with its formatting, without links, notes or fields. `live` are the
/// fields that the office fills in when it prints (page numbers, the day).
void carry_paragraphs(pugi::xml_node from, pugi::xml_node to, NewStyles& styles, const Fields& fields,
                      bool live);

/// The visible text of the paragraphs, line by line.
std::string text_of(pugi::xml_node from);

}  // namespace pullsheet::addin::customer_copy
