// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>
#include <vector>

namespace pullsheet::catalogue {

/// The full citation of a key of the bibliography, or an empty text.
std::string_view citation(std::string_view key);

/// All keys of the bibliography.
std::vector<std::string_view> citation_keys();

}  // namespace pullsheet::catalogue
