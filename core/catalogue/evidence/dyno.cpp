// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

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
    const std::string_view humid = "the cited formula, evaluated once more with the vapour pressure of IAPWS";
    return {
        identity("DYNO.FACTOR", {"ISO 1585", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), iso_1585, reference),
        identity("DYNO.FACTOR", {"ECE R85", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), r85, reference),
        identity("DYNO.FACTOR", {"80/1269/EEC", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), directive,
                 reference),
        identity("DYNO.FACTOR", {"JIS D 1001", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), jis, reference),
        identity("DYNO.FACTOR", {"SAE J1349", 25.0, 99.0, 0.0}, 1.0, Tolerance::exact(), j1349, reference),
        identity("DYNO.FACTOR", {"SAE J607", "60 °F", "29.92 inHg", 0.0}, 1.0, Tolerance::exact(), j607,
                 reference),
        identity("DYNO.FACTOR", {"DIN 70020", 20.0, "1013 mbar", 0.0}, 1.0, Tolerance::exact(), din,
                 reference),

        identity("DYNO.FACTOR", {"ISO 1585", 15.0, 101.325, 0.0}, 0.9528138, Tolerance::printed(7), iso_1585,
                 again),
        identity("DYNO.FACTOR", {"ECE R85", 15.0, 101.325, 0.0}, 0.9528138, Tolerance::printed(7), r85,
                 again),
        identity("DYNO.FACTOR", {"SAE J1349", 15.0, 101.325, 0.0}, 0.9534143, Tolerance::printed(7), j1349,
                 again),
        identity("DYNO.FACTOR", {"SAE J607", 15.0, 101.325, 0.0}, 0.9989955, Tolerance::printed(7), j607,
                 again),
        identity("DYNO.FACTOR", {"DIN 70020", 15.0, 101.325, 0.0}, 0.9911862, Tolerance::printed(7), din,
                 again),
        identity("DYNO.FACTOR", {"SAE J607", 25.0, 99.0, 0.0}, 1.0400472, Tolerance::printed(7), j607, again),
        // A humid day: DIN 70020 takes the total pressure, so that humidity does not move it.
        identity("DYNO.FACTOR", {"DIN 70020", 35.0, 100.0, 0.6}, 1.0386064, Tolerance::printed(7), din,
                 again),
        identity("DYNO.FACTOR", {"ISO 1585", 35.0, 100.0, 0.6}, 1.0501918, Tolerance::relative(2e-6),
                 iso_1585, humid),
        identity("DYNO.FACTOR", {"SAE J1349", 35.0, 100.0, 0.6}, 1.0491528, Tolerance::relative(2e-6), j1349,
                 humid),
        identity("DYNO.FACTOR", {"SAE J607", 35.0, 100.0, 0.6}, 1.0833614, Tolerance::relative(2e-6), j607,
                 humid),
        identity("DYNO.FACTOR", {"ISO 1585", 30.0, 84.0, 0.3}, 1.2529337, Tolerance::relative(2e-6), iso_1585,
                 humid),

        identity("DYNO.FACTOR.DIESEL", {"ISO 1585", 25.0, 99.0, 50.0, 1.0, 0.0}, 1.0, Tolerance::exact(),
                 iso_1585, reference),
        identity("DYNO.FACTOR.DIESEL", {"ISO 1585", 15.0, 101.325, 50.0, 1.0, 0.0}, 0.9693881,
                 Tolerance::printed(7), iso_1585, again),
        identity("DYNO.FACTOR.DIESEL", {"ECE R85", 15.0, 101.325, 100.0, 2.0, 0.0}, 0.9564601,
                 Tolerance::printed(7), r85, again),
        identity("DYNO.FACTOR.DIESEL", {"ECE R85", 15.0, 101.325, 140.0, 2.0, 0.0}, 0.9222503,
                 Tolerance::printed(7), r85, again),
        identity("DYNO.FACTOR.DIESEL", {"ECE R85", 15.0, 101.325, 60.0, 2.0, 0.0}, 0.9799687,
                 Tolerance::printed(7), r85, again),
        identity("DYNO.FACTOR.DIESEL", {"ECE R85", 35.0, 100.0, 100.0, 2.0, 0.6}, 1.0448845,
                 Tolerance::relative(2e-6), r85, humid),
    };
}

}  // namespace pullsheet::catalogue::evidence
