// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace pullsheet::catalogue {

/// An English text of the catalogue that is looked up by translated(), and its place.
struct CatalogueText {
    std::string_view english;
    std::string where;  ///< for the translator: "AIR.DENSITY, method"
};

/// All texts that the catalogue holds as data, in its order; a text used in several places is listed several
/// times. Texts inside the code ("gauge pressure") are not included.
std::vector<CatalogueText> texts();

}  // namespace pullsheet::catalogue
