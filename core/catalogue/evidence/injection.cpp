// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

std::vector<Check> injector() {
    const std::string_view orifice = citation("Bernoulli");
    const std::string_view practice = citation("common practice");
    return {
        identity("INJECTOR.FLOW", {550.0, 3.0, 4.0}, 635.0853, Tolerance::printed(4), orifice, again),
        identity("INJECTOR.FLOW", {550.0, 3.0, 2.813}, 532.58254, Tolerance::printed(5), orifice, again),
        identity("INJECTOR.FLOW", {440.0, 3.0, 3.0, 684.0, 745.0}, 421.6019, Tolerance::printed(4), orifice,
                 again),
        identity("INJECTOR.DUTY", {33.390411, 4.0, 550.0, 0.0, 6500.0, 0.85}, 0.385582, Tolerance::printed(6),
                 practice, again),
        identity("INJECTOR.SIZE", {99.0, 4.0}, 651.4015, Tolerance::printed(4), practice, again),
    };
}

std::vector<Check> pump() {
    const std::string_view practice = citation("common practice");
    return {
        identity("PUMP.PLUNGER.FLOW", {10.0, 4.0, 4.0, 6000.0, 1.0, 0.5, "L/min"}, 3.7699112,
                 Tolerance::printed(7), practice, again),
        identity("PUMP.PLUNGER.FLOW", {10.0, 4.0, 4.0, 6000.0, 0.85, 0.5, "L/min"}, 3.2044245,
                 Tolerance::printed(7), practice, again),
        identity("PUMP.PLUNGER.FLOW", {8.0, 3.5, 3.0, 5500.0, 1.0, 0.5, "L/min"}, 1.4514158,
                 Tolerance::printed(7), practice, again),
    };
}

}  // namespace pullsheet::catalogue::evidence
