// SPDX-License-Identifier: Apache-2.0
#include "addin/menu_entries.hpp"

namespace pullsheet::addin {

using catalogue::translated;

std::vector<std::string_view> template_names() {
    return {"customer-quote", "dyno-day", "fuel-system", "air-path", "road-runs", "fuel-potential"};
}

std::vector<MenuEntry> menu_entries(catalogue::Language language) {
    const auto entry = [](std::string_view title, std::string_view command) {
        return MenuEntry{std::string(title), std::string(command_protocol) + std::string(command), {}};
    };
    const MenuEntry line;
    MenuEntry from_template{std::string(translated(language, "New from template")), {}, {}};
    from_template.below = {
        entry(translated(language, "Customer quote"), "new?customer-quote"),
        entry(translated(language, "Dyno day"), "new?dyno-day"),
        entry(translated(language, "Fuel system"), "new?fuel-system"),
        entry(translated(language, "Air path"), "new?air-path"),
        entry(translated(language, "Road runs"), "new?road-runs"),
        entry(translated(language, "Fuel potential"), "new?fuel-potential"),
    };
    return {from_template,
            line,
            entry(translated(language, "Why this error?"), "why"),
            entry(translated(language, "Customer copy…"), "copy"),
            line,
            entry(translated(language, "Function guide"), "guide"),
            entry(translated(language, "About Pullsheet"), "about")};
}

}  // namespace pullsheet::addin
