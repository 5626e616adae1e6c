// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <pugixml.hpp>
#include <string>
#include <vector>

#include "addin/customer_copy/content.hpp"
#include "addin/office.hpp"

namespace pullsheet::addin::customer_copy {

/// The styles that conditions give to the cells of these sheets now. The office evaluates the conditions:
/// each conditional style gets a unique colour, and the resulting colours of the cells are read.
ConditionStyle styles_by_condition(const Context& context, pugi::xml_node document,
                                   const std::vector<std::string>& sheets);

}  // namespace pullsheet::addin::customer_copy
