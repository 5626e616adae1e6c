// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "tests/fuzz/input.hpp"

namespace pullsheet::fuzz {

/// A call built from an input.
struct BuiltCall {
    const catalogue::Function* function;
    std::vector<catalogue::Value> arguments;
};

/// The key under which an input names a function: a hash of the name, so that a kept input means the same
/// call when functions are added.
std::uint16_t key_of(std::string_view function);

/// The function that the next two bytes choose.
const catalogue::Function& function_of(Input& input);

/// Builds a call: the first two bytes choose the function, its example gives the arguments, and each further
/// group of bytes changes one of them (a number, a text with a unit, a word of the trade or bytes that are
/// none, a cell, row or column of a block, table or range, an omission, a failure). So most calls come close
/// to one that is valid.
BuiltCall build_call(Input& input);

}  // namespace pullsheet::fuzz
