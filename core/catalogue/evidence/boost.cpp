// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

std::vector<Check> compressor() {
    const std::string_view dixon = citation("Dixon & Hall 2014");
    const std::string_view fluids = "The Python library fluids, run as isentropic_T_rise_compression";
    return {
        independent("COMPRESSOR.TEMPERATURE", {13.65, 8.0, 1.0, "K"}, 519.5230938, Tolerance::printed(7),
                    fluids),
        independent("COMPRESSOR.TEMPERATURE", {13.65, 8.0, 0.78, "K"}, 585.1629408, Tolerance::printed(7),
                    fluids),
        identity("COMPRESSOR.TEMPERATURE", {20.0, 2.0, 0.75, "K"}, 378.755137, Tolerance::printed(6), dixon,
                 again),
        identity("COMPRESSOR.TEMPERATURE", {25.0, 2.5, 0.70, "K"}, 425.614757, Tolerance::printed(6), dixon,
                 again),
        identity("COMPRESSOR.TEMPERATURE", {15.0, 3.0, 1.0, "K"}, 394.401885, Tolerance::printed(6), dixon,
                 again),
        identity("COMPRESSOR.EFFICIENCY", {20.0, 105.605137, 2.0}, 0.75, Tolerance::printed(8), dixon, again),
        identity("COMPRESSOR.POWER", {200.0, 20.0, 2.0, 0.75, "W"}, 17206.633, Tolerance::printed(3), dixon,
                 again),
        identity("COMPRESSOR.POWER", {200.0, 25.0, 2.5, 0.70, "W"}, 25620.416, Tolerance::printed(3), dixon,
                 again),
        identity("COMPRESSOR.POWER", {200.0, 15.0, 3.0, 1.0, "W"}, 21356.629, Tolerance::printed(3), dixon,
                 again),
        identity("COMPRESSOR.PRESSURE.RATIO", {0.8, 100.0, 3.0, 8.0}, 1.93814433, Tolerance::printed(8),
                 dixon, again),
        identity("COMPRESSOR.CORRECTED.FLOW", {250.0, 31.85, 96.0}, 263.39122, Tolerance::printed(5), dixon,
                 again),
        identity("COMPRESSOR.CORRECTED.FLOW", {250.0, 31.85, 96.0, 15.0, 101.325}, 271.47260,
                 Tolerance::printed(5), dixon, again),
    };
}

std::vector<Check> charge() {
    const std::string_view incropera = citation("Incropera & DeWitt 2007");
    return {
        identity("CHARGE.TEMPERATURE", {136.85, 31.85, 0.72}, 61.25, Tolerance::printed(4), incropera, again),
        identity("CHARGE.EFFECTIVENESS", {136.85, 61.25, 31.85}, 0.72, Tolerance::printed(8), incropera,
                 again),
    };
}

std::vector<Check> turbine() {
    const std::string_view heywood = citation("Heywood 1988");
    const std::string_view watson = citation("Watson & Janota 1982");
    const std::string_view dixon = citation("Dixon & Hall 2014");
    const std::string_view wahlstrom = citation("Wahlström & Eriksson 2011");
    return {
        // One nozzle, choked: ṁ·√(R·T)/(A·p) = √κ·(2/(κ + 1))^((κ + 1)/(2·(κ − 1))).
        identity("TURBINE.FLOW", {26.85, 400.0, 100.0, 10.0, 1.0, "kg/s"}, 0.911750900, Tolerance::printed(8),
                 heywood, again),
        identity("TURBINE.FLOW", {950.0, 236.0, 105.0, 12.0}, 307.4155, Tolerance::printed(4), watson, again),
        identity("TURBINE.FLOW", {950.0, 236.0, 105.0, 12.0, 1.0}, 319.690864, Tolerance::printed(6), heywood,
                 again),
        identity("TURBINE.FLOW", {850.0, 150.0, 105.0, 12.0}, 162.540016, Tolerance::printed(6), watson,
                 again),
        identity("TURBINE.FLOW", {850.0, 150.0, 105.0, 12.0, 1.0}, 198.984246, Tolerance::printed(6), heywood,
                 again),
        identity("TURBINE.INLET.PRESSURE", {318.0, 950.0, 105.0, 12.0}, 242.737391, Tolerance::printed(6),
                 watson, again),
        identity("TURBINE.INLET.PRESSURE", {318.0, 950.0, 105.0, 12.0, 0.0, 1.0}, 234.751782,
                 Tolerance::printed(6), heywood, again),
        identity("TURBINE.INLET.PRESSURE", {150.0, 900.0, 105.0, 12.0, 0.5}, 148.0443,
                 Tolerance::relative(1e-5), watson, again),
        identity("TURBINE.INLET.PRESSURE", {150.0, 900.0, 105.0, 12.0, 0.5, 1.0}, 134.9582,
                 Tolerance::relative(1e-5), watson, again),
        identity("TURBINE.AREA", {160.0, 900.0, 180.0, 104.0}, 8.76704609, Tolerance::printed(8), watson,
                 again),
        identity("TURBINE.AREA", {160.0, 900.0, 180.0, 104.0, 1.0}, 7.73852442, Tolerance::printed(8),
                 heywood, again),
        identity("TURBINE.CORRECTED.FLOW", {307.4155, 950.0, 236.0}, 271.932377, Tolerance::relative(2e-7),
                 dixon, again),
        identity("TURBINE.CORRECTED.FLOW", {319.690864, 950.0, 236.0}, 282.790869, Tolerance::printed(6),
                 dixon, again),
        identity("TURBINE.POWER", {318.0, 950.0, 2.25, 0.68}, 56.5662199, Tolerance::printed(7), heywood,
                 again),
        identity("TURBINE.PRESSURE.RATIO", {318.0, 950.0, 56.5662199, 0.68}, 2.25, Tolerance::printed(7),
                 heywood, again),
        identity("TURBINE.PRESSURE.RATIO", {214.0, 849.85, 20.4618443, 0.7}, 1.55361642,
                 Tolerance::printed(8), heywood, again),
        identity("TURBINE.BLADE.SPEED.RATIO", {70.0, 128000.0, 950.0, 2.25}, 0.648606164,
                 Tolerance::printed(9), dixon, again),
        identity("TURBINE.EFFICIENCY", {0.55, 0.72, 0.68}, 0.693685121, Tolerance::printed(9), wahlstrom,
                 again),
    };
}

std::vector<Check> pipe() {
    const Reference naca{citation("NACA 1135"), "a transcription of table I"};
    const std::string_view there_and_back = "the case of PIPE.MACH, backwards";
    return {
        identity("PIPE.VELOCITY", {150.0, 60.0, 50.0, 148.4}, 33.16126045, Tolerance::printed(8),
                 citation("Çengel & Boles 2015"), again),
        // Choked flow of 50 mm at 100 kPa and 300 K is 458.15324 g/s; at Mach 0.3 the table has A/A*
        // = 2.0351, p/p₀ = 0.9395 and T/T₀ = 0.9823.
        printed("PIPE.MACH", {225.125665, 50.0, 21.54, 93.95}, 0.3, 2, naca, "table I, M = 0.30"),
        identity("PIPE.DIAMETER", {225.125665, 0.3, 21.54, 93.95}, 50.0, Tolerance::relative(1e-4), naca.work,
                 there_and_back),
        identity("PIPE.PRESSURE.LOSS", {150.0, 60.0, 1.5, 50.0, 148.4, 0.0, 0.05, "Pa"}, 454.394252,
                 Tolerance::printed(6), citation("Colebrook 1939"), again),
    };
}

}  // namespace pullsheet::catalogue::evidence
