// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string_view>

namespace pullsheet::catalogue::languages {

/// A text and its translation.
struct Translation {
    std::string_view english;
    std::string_view translated;
};

/// The texts of de.po, sorted by the English ones. Made by table.py when the project is built.
std::span<const Translation> german();

}  // namespace pullsheet::catalogue::languages
