// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

std::vector<Check> tyre() {
    const Reference etrto{citation("ETRTO")};
    const std::string_view rolling = "3.05 diameters roll off freely; under drive up to 1 % less";
    return {
        printed("TYRE.RADIUS", {"255/35 R19", "mm"}, 320.91, 2, etrto, "rolling circumference")
            .within(Tolerance::relative(0.01), rolling),
        printed("TYRE.RADIUS", {"205/55 R16", "mm"}, 306.74, 2, etrto, "rolling circumference")
            .within(Tolerance::relative(0.01), rolling),
    };
}

}  // namespace pullsheet::catalogue::evidence
