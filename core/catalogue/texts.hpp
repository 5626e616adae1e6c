// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pullsheet::catalogue {

/// An English text of the catalogue that is looked up by translated(), and where it is said.
struct CatalogueText {
    std::string_view english;
    std::string where;  ///< for who translates it: "AIR.DENSITY, method"
};

/// All texts that the catalogue holds as data, in its order; one that is said in several places stands there
/// several times. Texts written in the code where they are said ("gauge pressure") are not among them.
std::vector<CatalogueText> texts();

}  // namespace pullsheet::catalogue
