// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/catalogue.hpp"

namespace pullsheet::catalogue {
namespace {

struct Entry {
    std::string_view key;
    std::string_view citation;
};

// The bibliography: one entry a source, in alphabetical order of the keys.
constexpr Entry entries[] = {
    {"NIST SP 811", "NIST Special Publication 811, Guide for the Use of the International System of Units, 2008 edition, "
                    "appendix B"},
    {"Pullsheet", "Pullsheet, this project's own definition"},
    {"SI Brochure 2019", "BIPM, The International System of Units (SI), 9th edition, 2019"},
};

}  // namespace

std::string_view citation(std::string_view key) {
    for (const Entry& entry : entries)
        if (entry.key == key) return entry.citation;
    return {};
}

std::vector<std::string_view> citation_keys() {
    std::vector<std::string_view> keys;
    for (const Entry& entry : entries) keys.push_back(entry.key);
    return keys;
}

}  // namespace pullsheet::catalogue
