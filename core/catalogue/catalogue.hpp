// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/function.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/value.hpp"

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

/// The value of a call with its warnings. A failed call has a Failure as its value.
struct Outcome {
    Value value;
    std::vector<std::string> warnings;
    std::optional<std::size_t>
        refused{};  ///< of a failed call: the position of the parameter refused, if it was one
};

/// Evaluates a function: reads the arguments, repeats a scalar function over ranges, computes, and writes the
/// result in the unit asked for. Never throws for any argument (std::bad_alloc excepted); every number it
/// returns is finite.
Outcome evaluate(const Function& function, std::span<const Value> arguments,
                 Language language = Language::english);

/// The value of the same call alone, for a caller that shows no warnings: quicker where there would be some.
Value value_of(const Function& function, std::span<const Value> arguments,
               Language language = Language::english);

/// The full citation of a key of the bibliography, or an empty text.
std::string_view citation(std::string_view key);

/// All keys of the bibliography.
std::vector<std::string_view> citation_keys();

}  // namespace pullsheet::catalogue
