// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <pugixml.hpp>
#include <string>

#include "addin/customer_copy/content.hpp"

namespace pullsheet::addin::customer_copy {

/// The sheets of the source document, each read at its first use.
class Sheets {
  public:
    Sheets(pugi::xml_node spreadsheet, const Styles& styles) : spreadsheet_(spreadsheet), styles_(styles) {}
    pugi::xml_node table(const std::string& name) const;
    const Grid* grid(const std::string& name);

  private:
    pugi::xml_node spreadsheet_;
    const Styles& styles_;
    std::map<std::string, Grid> grids_;
};

/// Redraws a chart of the document ("office:document" in its frame) in the copy, from its displayed values.
/// These are stored in columns of the chart sheet. Returns the ranges that the new chart refers to.
std::string carry_chart(pugi::xml_node from, pugi::xml_node to, const std::string& sheet, Content& content,
                        Sheets& sheets);

}  // namespace pullsheet::addin::customer_copy
