// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <pugixml.hpp>
#include <string>

#include "addin/customer_copy/styles.hpp"

namespace pullsheet::addin::customer_copy {

/// The texts that stand for fields: "text:title" → the title of the document.
using Fields = std::map<std::string, std::string>;

/// Carries what is read in paragraphs and the looks of its parts: no link, note or field. `live` are the
/// fields that the office fills in when it prints (page numbers, the day).
void carry_paragraphs(pugi::xml_node from, pugi::xml_node to, NewStyles& styles, const Fields& fields,
                      bool live);

/// What is read in the paragraphs, line by line.
std::string text_of(pugi::xml_node from);

}  // namespace pullsheet::addin::customer_copy
