// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/published/published.hpp"

namespace pullsheet::catalogue::published {

std::vector<Check> compressor() {
    const std::string_view dixon = citation("Dixon & Hall 2014");
    const std::string_view fluids =
        "C. Bell, fluids, a Python library: documented example of isentropic_T_rise_compression";
    return {
        {"COMPRESSOR.TEMPERATURE", {13.65, 8.0, 1.0, "K"}, 519.5230938, Tolerance::printed(7), fluids},
        {"COMPRESSOR.TEMPERATURE", {13.65, 8.0, 0.78, "K"}, 585.1629408, Tolerance::printed(7), fluids},
        {"COMPRESSOR.TEMPERATURE",
         {20.0, 2.0, 0.75, "K"},
         378.755137,
         Tolerance::printed(6),
         dixon,
         computed},
        {"COMPRESSOR.TEMPERATURE",
         {25.0, 2.5, 0.70, "K"},
         425.614757,
         Tolerance::printed(6),
         dixon,
         computed},
        {"COMPRESSOR.TEMPERATURE", {15.0, 3.0, 1.0, "K"}, 394.401885, Tolerance::printed(6), dixon, computed},
        {"COMPRESSOR.EFFICIENCY", {20.0, 105.605137, 2.0}, 0.75, Tolerance::printed(8), dixon, computed},
        {"COMPRESSOR.POWER",
         {200.0, 20.0, 2.0, 0.75, "W"},
         17206.633,
         Tolerance::printed(3),
         dixon,
         computed},
        {"COMPRESSOR.POWER",
         {200.0, 25.0, 2.5, 0.70, "W"},
         25620.416,
         Tolerance::printed(3),
         dixon,
         computed},
        {"COMPRESSOR.POWER", {200.0, 15.0, 3.0, 1.0, "W"}, 21356.629, Tolerance::printed(3), dixon, computed},
        {"COMPRESSOR.PRESSURE.RATIO",
         {0.8, 100.0, 3.0, 8.0},
         1.93814433,
         Tolerance::printed(8),
         dixon,
         computed},
        {"COMPRESSOR.CORRECTED.FLOW",
         {250.0, 31.85, 96.0},
         263.39122,
         Tolerance::printed(5),
         dixon,
         computed},
        {"COMPRESSOR.CORRECTED.FLOW",
         {250.0, 31.85, 96.0, 15.0, 101.325},
         271.47260,
         Tolerance::printed(5),
         dixon,
         computed},
    };
}

std::vector<Check> charge() {
    const std::string_view incropera = citation("Incropera & DeWitt 2007");
    return {
        {"CHARGE.TEMPERATURE", {136.85, 31.85, 0.72}, 61.25, Tolerance::printed(4), incropera, computed},
        {"CHARGE.EFFECTIVENESS", {136.85, 61.25, 31.85}, 0.72, Tolerance::printed(8), incropera, computed},
    };
}

std::vector<Check> turbine() {
    return {
        {"TURBINE.PRESSURE.RATIO",
         {20.4618443, 214.0, 849.85, 0.7},
         1.55361642,
         Tolerance::printed(8),
         citation("Heywood 1988"),
         computed},
    };
}

std::vector<Check> pipe() {
    const std::string_view naca = citation("NACA 1135");
    const std::string_view table = "of table I, four printed digits";
    return {
        {"PIPE.VELOCITY",
         {150.0, 60.0, 50.0, 148.4},
         33.16126045,
         Tolerance::printed(8),
         citation("Çengel & Boles 2015"),
         computed},
        // Choked flow of 50 mm at 100 kPa and 300 K is 458.15324 g/s; at Mach 0.3 the table has A/A*
        // = 2.0351, p/p₀ = 0.9395 and T/T₀ = 0.9823.
        {"PIPE.MACH", {225.125665, 50.0, 21.54, 93.95}, 0.3, Tolerance::relative(2e-4), naca, table},
        {"PIPE.DIAMETER", {225.125665, 0.3, 21.54, 93.95}, 50.0, Tolerance::relative(1e-4), naca, table},
        {"PIPE.PRESSURE.LOSS",
         {150.0, 60.0, 1.5, 50.0, 148.4, 0.0, 0.05, "Pa"},
         454.394252,
         Tolerance::printed(6),
         citation("Colebrook 1939"),
         computed},
    };
}

}  // namespace pullsheet::catalogue::published
