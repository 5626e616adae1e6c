// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {
namespace {

std::vector<Value> conversion(double value, const char* from, const char* to) {
    return {value, std::string(from), std::string(to)};
}

// A factor as the guide prints it.
Check as_printed(const char* from, const char* to, double expected, int decimals, std::string_view place) {
    const Reference guide{citation("NIST SP 811"),
                          "a transcription of B.9 in the source of a library of units"};
    return printed("UNIT.CONVERT", conversion(1.0, from, to), expected, decimals, guide, place);
}

// What GNU units answers, to the digits it was asked for.
Check by_gnu_units(double value, const char* from, const char* to, double expected) {
    return independent("UNIT.CONVERT", conversion(value, from, to), expected, Tolerance::relative(1e-13),
                       "GNU Units 2.22, run as units -t -d 14");
}

Check exactly(double value, const char* from, const char* to, double expected, std::string_view source) {
    return identity("UNIT.CONVERT", conversion(value, from, to), expected, Tolerance::exact(), source);
}

}  // namespace

std::vector<Check> unit() {
    const std::string_view yard_and_pound = "International yard and pound agreement, 1959: by definition";
    const std::string_view cgpm_1901 =
        "3rd General Conference on Weights and Measures, 1901, resolution 2 (standard gravity): by "
        "definition";
    const std::string_view si_brochure = citation("SI Brochure 2019");
    return {
        as_printed("lb", "kg", 0.4535924, 7, "B.9, mass"),
        as_printed("ft", "m", 0.3048, 4, "B.9, length"),
        as_printed("in", "m", 0.0254, 4, "B.9, length"),
        as_printed("mi", "m", 1609.344, 3, "B.9, length"),
        as_printed("lbf", "N", 4.448222, 6, "B.9, force"),
        as_printed("hp", "W", 745.6999, 4, "B.9, power"),
        as_printed("PS", "W", 735.4988, 4, "B.9, power"),
        as_printed("psi", "Pa", 6894.757, 3, "B.9, pressure"),
        as_printed("inHg", "Pa", 3386.389, 3, "B.9, pressure"),
        as_printed("mmHg", "Pa", 133.3224, 4, "B.9, pressure"),
        as_printed("atm", "Pa", 101325.0, 0, "B.9, pressure"),
        as_printed("gal", "L", 3.785412, 6, "B.9, volume"),

        by_gnu_units(1.0, "lb-ft", "N·m", 1.3558179483314),
        by_gnu_units(1.0, "hp", "W", 745.69987158227),
        by_gnu_units(1.0, "hp", "PS", 1.013869665424),
        by_gnu_units(1.0, "PS", "hp", 0.98632007061953),
        by_gnu_units(1.0, "psi", "Pa", 6894.7572931684),
        by_gnu_units(1.0, "mmHg", "Pa", 133.322387415),
        by_gnu_units(1.0, "inHg", "Pa", 3386.388640341),
        by_gnu_units(29.92, "inHg", "kPa", 101.320748119),
        by_gnu_units(1.0, "lb/h", "kg/s", 0.00012599788055556),
        by_gnu_units(1.0, "lb/min", "kg/s", 0.0075598728333333),
        by_gnu_units(1.0, "g/s", "lb/h", 7.9366414386556),
        by_gnu_units(1.0, "kg/h", "lb/h", 2.2046226218488),
        by_gnu_units(1000.0, "cc/min", "L/h", 60.0),
        by_gnu_units(1.0, "gal", "L", 3.785411784),
        by_gnu_units(1.0, "BTU/lb", "kJ/kg", 2.326),
        by_gnu_units(1.0, "lb/(hp·h)", "g/kWh", 608.27738784176),
        by_gnu_units(60.0, "mph", "km/h", 96.56064),
        by_gnu_units(0.25, "mi", "m", 402.336),
        by_gnu_units(60.0, "°F", "°C", 15.555555555556),

        exactly(1.0, "lb", "kg", 0.45359237, yard_and_pound),
        exactly(1.0, "in", "mm", 25.4, yard_and_pound),
        exactly(1.0, "lbf", "N", 4.4482216152605, yard_and_pound),
        exactly(1.0, "kgf·m", "N·m", 9.80665, cgpm_1901),
        exactly(1.0, "g0", "m/s²", 9.80665, cgpm_1901),
        exactly(1.0, "PS", "W", 735.49875, cgpm_1901),
        exactly(1.0, "bar", "Pa", 1e5, si_brochure),
        exactly(1.0, "mph", "m/s", 0.44704, yard_and_pound),
        exactly(77.0, "°F", "°C", 25.0, si_brochure),
        exactly(0.0, "°C", "K", 273.15, si_brochure),
    };
}

}  // namespace pullsheet::catalogue::evidence
