// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <pugixml.hpp>

namespace pullsheet::addin::customer_copy {

/// Declares the names of the OpenDocument format at the beginning of a document.
void declare_names(pugi::xml_node document);

}  // namespace pullsheet::addin::customer_copy
