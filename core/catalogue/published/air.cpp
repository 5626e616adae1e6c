// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/published/published.hpp"

namespace pullsheet::catalogue::published {

std::vector<Check> air() {
    const std::string_view picard = citation("Picard 2008");
    const std::string_view iso_2533 = citation("ISO 2533");
    const std::string_view ashrae_air =
        "ASHRAE Handbook, Fundamentals, 2017, chapter 1, table 1 (standard atmospheric data)";
    const std::string_view ashrae_water =
        "ASHRAE Handbook, Fundamentals, 2017, chapter 1, table 3 (saturation pressure of water)";
    const std::string_view us_1976 = "U.S. Standard Atmosphere, 1976, NOAA, NASA, U.S. Air Force, table I";
    const std::string_view other_formula = "another formula; it agrees within 300 parts per million";
    const std::string_view geometric = "geometric 2 and 4 km of the table, as geopotential altitude";
    return {
        // The formula of the entry is not that of the table.
        {"AIR.VAPOUR.PRESSURE", {5.0, 1.0}, 0.8726, Tolerance::relative(300e-6), ashrae_water, other_formula},
        {"AIR.VAPOUR.PRESSURE",
         {25.0, 1.0},
         3.1697,
         Tolerance::relative(300e-6),
         ashrae_water,
         other_formula},
        {"AIR.VAPOUR.PRESSURE",
         {50.0, 1.0},
         12.3513,
         Tolerance::relative(300e-6),
         ashrae_water,
         other_formula},
        {"AIR.VAPOUR.PRESSURE", {20.0, 1.0, "Pa"}, 2339.1632, Tolerance::printed(4), picard, computed},
        {"AIR.VAPOUR.PRESSURE", {35.0, 1.0, "Pa"}, 5628.8646, Tolerance::printed(4), picard, computed},

        {"AIR.DENSITY", {20.0, 101.325, 0.5}, 1.19931390, Tolerance::printed(8), picard, computed},
        {"AIR.DENSITY", {25.0, 100.0, 0.4}, 1.16321866, Tolerance::printed(8), picard, computed},
        {"AIR.DENSITY", {18.0, 95.0, 0.7}, 1.13059874, Tolerance::printed(8), picard, computed},
        {"AIR.DENSITY", {15.0, 101.325, 0.0}, 1.22552134, Tolerance::printed(8), picard, computed},
        {"AIR.DENSITY", {27.0, 80.0, 0.3}, 0.92405599, Tolerance::printed(8), picard, computed},

        {"AIR.STANDARD.PRESSURE", {0.0}, 101.325, Tolerance::exact(), iso_2533},
        {"AIR.STANDARD.PRESSURE", {-500.0}, 107.478, Tolerance::printed(3), ashrae_air},
        {"AIR.STANDARD.PRESSURE", {500.0}, 95.461, Tolerance::printed(3), ashrae_air},
        {"AIR.STANDARD.PRESSURE", {1000.0}, 89.875, Tolerance::printed(3), ashrae_air},
        {"AIR.STANDARD.PRESSURE", {4000.0}, 61.640, Tolerance::printed(3), ashrae_air},
        {"AIR.STANDARD.PRESSURE", {1999.371, "Pa"}, 79501.0, Tolerance::printed(0), us_1976, geometric},
        {"AIR.STANDARD.PRESSURE", {3997.485, "Pa"}, 61660.0, Tolerance::printed(-1), us_1976, geometric},
        {"AIR.STANDARD.TEMPERATURE", {0.0, "K"}, 288.15, Tolerance::exact(), iso_2533},
        {"AIR.STANDARD.TEMPERATURE", {1999.371, "K"}, 275.15, Tolerance::printed(2), us_1976, geometric},
        {"AIR.STANDARD.TEMPERATURE", {3997.485, "K"}, 262.17, Tolerance::printed(2), us_1976, geometric},

        {"AIR.PRESSURE.ALTITUDE", {95.0}, 540.3371, Tolerance::printed(4), iso_2533, computed},
        {"AIR.PRESSURE.ALTITUDE", {90.0}, 988.5001, Tolerance::printed(4), iso_2533, computed},
        {"AIR.PRESSURE.ALTITUDE", {85.0}, 1457.2995, Tolerance::printed(4), iso_2533, computed},
        {"AIR.PRESSURE.ALTITUDE", {103.0}, -138.5066, Tolerance::printed(4), iso_2533, computed},
        {"AIR.DENSITY.ALTITUDE", {35.0, 101.325, 0.0}, 693.513, Tolerance::printed(3), iso_2533, computed},
        {"AIR.DENSITY.ALTITUDE", {15.0, 101.325, 0.0}, 0.0, Tolerance::absolute(1e-3), iso_2533},
    };
}

}  // namespace pullsheet::catalogue::published
