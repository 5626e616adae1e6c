// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/published/published.hpp"

namespace pullsheet::catalogue::published {

std::vector<Check> tyre() {
    const std::string_view etrto = citation("ETRTO");
    const std::string_view rolling =
        "3.05 diameters roll off freely, not checked against the printed text; under drive up to 1 % less";
    return {
        {"TYRE.RADIUS", {"255/35 R19", "mm"}, 320.91, Tolerance::relative(0.01), etrto, rolling},
        {"TYRE.RADIUS", {"205/55 R16", "mm"}, 306.74, Tolerance::relative(0.01), etrto, rolling},
    };
}

}  // namespace pullsheet::catalogue::published
