// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "core/catalogue/catalogue.hpp"

namespace pullsheet::fuzz {

/// Ends the process with the sentence: an input was found that breaks a promise.
[[noreturn]] void broken(const std::string& sentence);

/// A call as it would be written in a formula; long ranges are cut.
std::string written(const catalogue::Function& function, const std::vector<catalogue::Value>& arguments);

/// Breaks off unless the value is finite, a text, or a failure with a sentence, in each of its cells.
void expect_sound(const catalogue::Function& function, const catalogue::Outcome& outcome);

/// Breaks off unless both hold the same numbers, texts and kinds of failure; sentences and, where `texts` is
/// false, texts may differ.
void expect_same(const catalogue::Function& function, const catalogue::Value& one,
                 const catalogue::Value& other, bool texts, std::string_view what);

/// Seconds of the processor that this process has used.
double seconds();

}  // namespace pullsheet::fuzz
