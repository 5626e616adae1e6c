// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/catalogue/function.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/value.hpp"

namespace pullsheet::catalogue {

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

/// The value of the same call without warnings, for a caller that does not show them. It is faster where
/// warnings would arise.
Value value_of(const Function& function, std::span<const Value> arguments,
               Language language = Language::english);

}  // namespace pullsheet::catalogue
