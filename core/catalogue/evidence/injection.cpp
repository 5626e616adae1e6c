// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

std::vector<Check> injector() {
    const std::string_view orifice = citation("Bernoulli");
    const std::string_view practice = citation("common practice");
    const Reference nozzles{
        "Hydraulic Institute, Engineering Data Library, theoretical discharge of nozzles in US gallons per "
        "minute",
        "the page of the institute, edl.pumps.org"};
    const std::string_view tenths = "flows in tenths of a gallon per minute; the ratio counts";
    const std::string_view whole = "flows in gallons per minute; the ratio counts";
    const auto nozzle = [&](double at_10_psi, const char* pressure, double expected, int decimals,
                            std::string_view place, std::string_view note) {
        return printed("INJECTOR.FLOW", {at_10_psi, "10 psi", std::string(pressure), 1000.0, 1000.0},
                       expected, decimals, nozzles, place, note);
    };
    return {
        nozzle(236.0, "15 psi", 289.0, 0, "1/2 inch, 10 and 15 psi", tenths),
        nozzle(236.0, "20 psi", 334.0, 0, "1/2 inch, 10 and 20 psi", tenths),
        nozzle(236.0, "25 psi", 373.0, 0, "1/2 inch, 10 and 25 psi", tenths),
        nozzle(236.0, "30 psi", 409.0, 0, "1/2 inch, 10 and 30 psi", tenths),
        nozzle(94.0, "20 psi", 133.0, 0, "1 inch, 10 and 20 psi", whole),
        nozzle(94.0, "30 psi", 163.0, 0, "1 inch, 10 and 30 psi", whole),

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
    const Reference esposito{
        "A. Esposito, Fluid Power with Applications",
        "FOSSEE, Python Textbook Companions, Fluid_Power_With_Applications_by_A._Esposito"};
    const Reference bansal{"R. K. Bansal, A Textbook of Fluid Mechanics and Hydraulic Machines",
                           "civinnovate.com, the solved problem"};
    const Reference bansal_remembered{"R. K. Bansal, A Textbook of Fluid Mechanics and Hydraulic Machines"};
    const std::string_view axial =
        "an axial piston pump: the lift is the piston circle times the tangent of its angle";
    const std::string_view scaled = "all lengths a fifth of the example's, flow a 125th";
    return {
        printed("PUMP.PLUNGER.FLOW", {15.0, 22.04087, 9.0, 1000.0, 0.94, 1.0, "L/min"}, 33.0, 1, esposito,
                "example 5.7, page 183: 0.55 L/s", axial),
        printed("PUMP.PLUNGER.FLOW", {50.0, 100.0, 1.0, 30.0, 1.0, 1.0, "L/min"}, 5.89, 2, bansal,
                "250 × 500 mm, 30 rpm: 0.01227 m³/s", scaled),
        printed("PUMP.PLUNGER.FLOW", {40.0, 80.0, 1.0, 50.0, 1.0, 1.0, "L/min"}, 5.03, 2, bansal_remembered,
                "example 20.1, 200 × 400 mm, 50 rpm: 0.01047 m³/s", scaled),

        identity("PUMP.PLUNGER.FLOW", {10.0, 4.0, 4.0, 6000.0, 1.0, 0.5, "L/min"}, 3.7699112,
                 Tolerance::printed(7), practice, again),
        identity("PUMP.PLUNGER.FLOW", {10.0, 4.0, 4.0, 6000.0, 0.85, 0.5, "L/min"}, 3.2044245,
                 Tolerance::printed(7), practice, again),
        identity("PUMP.PLUNGER.FLOW", {8.0, 3.5, 3.0, 5500.0, 1.0, 0.5, "L/min"}, 1.4514158,
                 Tolerance::printed(7), practice, again),
    };
}

}  // namespace pullsheet::catalogue::evidence
