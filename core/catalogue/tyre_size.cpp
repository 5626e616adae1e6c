// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/tyre_size.hpp"

#include <regex>
#include <string>

#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {

TyreSize read_tyre_size(std::string_view written, std::string_view parameter, Language language) {
    static const std::regex size(R"(^\s*P?\s*(\d{3})\s*/\s*(\d{2})\s*-?\s*Z?R?F?\s*-?\s*(\d{2}(?:[.,]5)?)\b.*$)",
                                 std::regex::icase);
    const std::string text(written.substr(0, 64));
    std::smatch parts;
    if (!std::regex_match(text, parts, size))
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::tyre_size, {{"parameter", std::string(parameter)}, {"value", text}})};
    NumberText rim;
    split_number(parts[3].str(), rim);
    return {std::stod(parts[1]) / 1000.0, std::stod(parts[2]) / 100.0, rim.number * 0.0254};
}

}  // namespace pullsheet::catalogue
