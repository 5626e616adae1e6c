// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/published/published.hpp"

namespace pullsheet::catalogue::published {
namespace {

constexpr std::string_view yard_and_pound =
    "International yard and pound agreement, 1959 (NIST Special Publication 811, appendix B)";
constexpr std::string_view cgpm_1901 =
    "3rd General Conference on Weights and Measures, 1901, resolution 2 (standard gravity)";

Check exactly(double value, const char* from, const char* to, double expected, std::string_view source,
              std::string_view note = {}) {
    return {"UNIT.CONVERT", {value, std::string(from), std::string(to)},
            expected,       Tolerance::exact(),
            source,         note};
}

Check printed(double value, const char* from, const char* to, double expected, int decimals,
              std::string_view source, std::string_view note = {}) {
    return {"UNIT.CONVERT", {value, std::string(from), std::string(to)},
            expected,       Tolerance::printed(decimals),
            source,         note};
}

}  // namespace

std::vector<Check> unit() {
    const std::string_view nist = citation("NIST SP 811");
    const std::string_view si_brochure = citation("SI Brochure 2019");
    return {
        exactly(1.0, "lb", "kg", 0.45359237, yard_and_pound),
        exactly(1.0, "ft", "m", 0.3048, yard_and_pound),
        exactly(1.0, "in", "mm", 25.4, yard_and_pound),
        exactly(1.0, "mi", "m", 1609.344, yard_and_pound),
        exactly(0.25, "mi", "m", 402.336, yard_and_pound),
        exactly(1.0, "lbf", "N", 4.4482216152605, nist),
        exactly(1.0, "lb-ft", "N·m", 1.3558179483314004, nist, computed),
        exactly(1.0, "kgf·m", "N·m", 9.80665, cgpm_1901),
        exactly(1.0, "g0", "m/s²", 9.80665, cgpm_1901),
        exactly(1.0, "PS", "W", 735.49875, nist),
        printed(1.0, "PS", "W", 735.4988, 4, nist, from_memory),
        exactly(1.0, "hp", "W", 745.69987158227022, nist, computed),
        printed(1.0, "hp", "W", 745.6999, 4, nist, from_memory),
        printed(1.0, "hp", "PS", 1.01386966542, 11, nist, computed),
        printed(1.0, "PS", "hp", 0.98632007062, 11, nist, computed),
        exactly(1.0, "psi", "Pa", 6894.757293168361, nist, computed),
        printed(1.0, "psi", "Pa", 6894.757, 3, nist, from_memory),
        exactly(1.0, "bar", "Pa", 1e5, si_brochure),
        exactly(1.0, "atm", "Pa", 101325.0, nist),
        exactly(1.0, "mmHg", "Pa", 133.322387415, nist, computed),
        exactly(1.0, "inHg", "Pa", 3386.388640341, nist, computed),
        printed(29.92, "inHg", "kPa", 101.320748, 6, nist, computed),
        exactly(1.0, "lb/h", "kg/s", 0.45359237 / 3600.0, yard_and_pound, computed),
        printed(1.0, "lb/min", "kg/s", 0.00755987283333333, 17, yard_and_pound, computed),
        printed(1.0, "g/s", "lb/h", 7.936641439, 9, yard_and_pound, computed),
        printed(1.0, "kg/h", "lb/h", 2.204622622, 9, yard_and_pound, computed),
        exactly(1000.0, "cc/min", "L/h", 60.0, si_brochure),
        exactly(1.0, "gal", "L", 3.785411784, nist),
        exactly(1.0, "BTU/lb", "kJ/kg", 2.326, nist),
        printed(1.0, "lb/(hp·h)", "g/kWh", 608.2773878, 7, nist, computed),
        exactly(1.0, "mph", "m/s", 0.44704, yard_and_pound),
        exactly(60.0, "mph", "m/s", 26.8224, yard_and_pound),
        exactly(60.0, "mph", "km/h", 96.56064, yard_and_pound),
        exactly(77.0, "°F", "°C", 25.0, nist),
        exactly(0.0, "°C", "K", 273.15, si_brochure),
        printed(60.0, "°F", "K", 288.7056, 4, nist, computed),
    };
}

}  // namespace pullsheet::catalogue::published
