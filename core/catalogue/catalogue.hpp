// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/evaluate.hpp"
#include "core/catalogue/function.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/sources.hpp"

namespace pullsheet::catalogue {

/// The version of the project.
std::string_view version();

/// All functions, in the order of the families.
std::span<const Function> functions();

/// The families in their order ("UNIT", "AIR" …).
std::vector<std::string_view> family_names();

/// The function of that name (upper or lower case, blanks ignored), or nullptr.
const Function* find_function(std::string_view name);

/// The sentence for a name that is not in the catalogue, with the nearest known name.
std::string unknown_function(std::string_view name, Language language = Language::english);

}  // namespace pullsheet::catalogue
