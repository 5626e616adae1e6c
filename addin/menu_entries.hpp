// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::addin {

/// The protocol of every menu command, followed by "why", "copy" and so on.
inline constexpr std::string_view command_protocol = "vnd.pullsheet:";

/// A line of the menu: a command, a line between groups (no title), or a menu of its own.
struct MenuEntry {
    std::string title;
    std::string command;
    std::vector<MenuEntry> below;
};

/// The sheets that the menu opens as new documents, without the ending of their files.
std::vector<std::string_view> template_names();

/// The lines of the menu "Pullsheet" in a language.
std::vector<MenuEntry> menu_entries(catalogue::Language language);

}  // namespace pullsheet::addin
