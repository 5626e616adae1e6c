// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/published/published.hpp"

namespace pullsheet::catalogue::published {

std::vector<Check> dyno() {
    const std::string_view iso_1585 = citation("ISO 1585");
    const std::string_view r85 = citation("UN R85");
    const std::string_view directive = citation("80/1269/EEC");
    const std::string_view jis = citation("JIS D 1001");
    const std::string_view j1349 = citation("SAE J1349");
    const std::string_view j607 = citation("SAE J607");
    const std::string_view din = citation("DIN 70020");
    const std::string_view reference = "the reference condition of the standard";
    // The saturation pressure of IAPWS, where the entry takes that of CIPM-2007.
    const std::string_view humid = "computed from the formula, vapour pressure by IAPWS";
    return {
        {"DYNO.FACTOR", {"ISO 1585", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), iso_1585, reference},
        {"DYNO.FACTOR", {"ECE R85", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), r85, reference},
        {"DYNO.FACTOR", {"80/1269/EEC", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), directive, reference},
        {"DYNO.FACTOR", {"JIS D 1001", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), jis, reference},
        {"DYNO.FACTOR", {"SAE J1349", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), j1349, reference},
        {"DYNO.FACTOR", {"SAE J607", "60 °F", "29.92 inHg", 0.0}, 1.0, Tolerance::exact(), j607, reference},
        {"DYNO.FACTOR", {"DIN 70020", 20.0, "1013 mbar", 0.0}, 1.0, Tolerance::exact(), din, reference},

        {"DYNO.FACTOR",
         {"ISO 1585", 15.0, 101.325, 0.0},
         0.9528138,
         Tolerance::printed(7),
         iso_1585,
         computed},
        {"DYNO.FACTOR", {"ECE R85", 15.0, 101.325, 0.0}, 0.9528138, Tolerance::printed(7), r85, computed},
        {"DYNO.FACTOR", {"SAE J1349", 15.0, 101.325, 0.0}, 0.9534143, Tolerance::printed(7), j1349, computed},
        {"DYNO.FACTOR", {"SAE J607", 15.0, 101.325, 0.0}, 0.9989955, Tolerance::printed(7), j607, computed},
        {"DYNO.FACTOR", {"DIN 70020", 15.0, 101.325, 0.0}, 0.9911862, Tolerance::printed(7), din, computed},
        {"DYNO.FACTOR", {"SAE J607", 25.0, 99.0, 0.0}, 1.0400472, Tolerance::printed(7), j607, computed},
        // A humid day: DIN 70020 takes the total pressure, so that humidity does not move it.
        {"DYNO.FACTOR", {"DIN 70020", 35.0, 100.0, 0.6}, 1.0386064, Tolerance::printed(7), din, computed},
        {"DYNO.FACTOR",
         {"ISO 1585", 35.0, 100.0, 0.6},
         1.0501918,
         Tolerance::relative(2e-6),
         iso_1585,
         humid},
        {"DYNO.FACTOR", {"SAE J1349", 35.0, 100.0, 0.6}, 1.0491528, Tolerance::relative(2e-6), j1349, humid},
        {"DYNO.FACTOR", {"SAE J607", 35.0, 100.0, 0.6}, 1.0833614, Tolerance::relative(2e-6), j607, humid},
        {"DYNO.FACTOR", {"ISO 1585", 30.0, 84.0, 0.3}, 1.2529337, Tolerance::relative(2e-6), iso_1585, humid},

        {"DYNO.FACTOR.DIESEL",
         {"ISO 1585", 25.0, 99.0, 50.0, 1.0, 0.0},
         1.0,
         Tolerance::exact(),
         iso_1585,
         reference},
        {"DYNO.FACTOR.DIESEL",
         {"ISO 1585", 15.0, 101.325, 50.0, 1.0, 0.0},
         0.9693881,
         Tolerance::printed(7),
         iso_1585,
         computed},
        {"DYNO.FACTOR.DIESEL",
         {"ECE R85", 15.0, 101.325, 100.0, 2.0, 0.0},
         0.9564601,
         Tolerance::printed(7),
         r85,
         computed},
        {"DYNO.FACTOR.DIESEL",
         {"ECE R85", 15.0, 101.325, 140.0, 2.0, 0.0},
         0.9222503,
         Tolerance::printed(7),
         r85,
         computed},
        {"DYNO.FACTOR.DIESEL",
         {"ECE R85", 15.0, 101.325, 60.0, 2.0, 0.0},
         0.9799687,
         Tolerance::printed(7),
         r85,
         computed},
        {"DYNO.FACTOR.DIESEL",
         {"ECE R85", 35.0, 100.0, 100.0, 2.0, 0.6},
         1.0448845,
         Tolerance::relative(2e-6),
         r85,
         humid},
    };
}

}  // namespace pullsheet::catalogue::published
