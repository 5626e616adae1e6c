// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

std::vector<Check> air() {
    const std::string_view picard = citation("Picard 2008");
    const std::string_view iso_2533 = citation("ISO 2533");
    const Reference ashrae_air{"ASHRAE Handbook, Fundamentals, 2017, chapter 1, table 1",
                               "the tests of PsychroLib, tests/test_psychrolib_si.py"};
    const Reference ashrae_water{"ASHRAE Handbook, Fundamentals, 2017, chapter 1, table 3",
                                 "the tests of PsychroLib, tests/test_psychrolib_si.py"};
    const Reference us_1976{"U.S. Standard Atmosphere, 1976, NOAA, NASA, U.S. Air Force, table I",
                            "the tests of the Python library fluids, tests/test_atmosphere.py"};
    const std::string_view two_fits =
        "the table rests on the fit of Hyland and Wexler, the function on that of CIPM-2007";
    const std::string_view geometric =
        "the table counts geometric altitude, the function geopotential altitude";
    const Tolerance fits = Tolerance::relative(300e-6);
    const auto iso = [&](std::string_view function, double altitude, const char* unit, double value,
                         int decimals, std::string_view place) {
        return printed(function, {altitude, std::string(unit)}, value, decimals, us_1976, place, geometric);
    };
    const Reference steam{"Y. A. Çengel, M. A. Boles, Thermodynamics: An Engineering Approach, table A-4"};
    const Reference air_table{
        "Y. A. Çengel, M. A. Boles, Thermodynamics / Heat Transfer, properties of air at 1 atm, table A-15"};
    const std::string_view last_digit =
        "the formulation of IAPWS, which the table follows, lies 5e-5 above that of CIPM-2007";
    const std::string_view ideal_gas = "the table takes an ideal gas of 0.287 kJ/(kg·K)";
    const Tolerance one_per_mille = Tolerance::relative(1e-3);
    const std::string_view if97 = "The Python library iapws 1.5.2 (IAPWS-IF97, region 4), run as _PSat_T";
    const std::string_view psychrolib = "The npm package psychrolib 1.1.1, run as GetRelHumFromTDewPoint";
    return {
        independent("AIR.VAPOUR.PRESSURE", {10.0, 1.0, "Pa"}, 1228.18387, Tolerance::relative(1e-4), if97),
        independent("AIR.VAPOUR.PRESSURE", {25.0, 1.0, "Pa"}, 3169.74685, Tolerance::relative(1e-4), if97),
        independent("AIR.VAPOUR.PRESSURE", {40.0, 1.0, "Pa"}, 7384.42749, Tolerance::relative(1e-4), if97),
        independent("AIR.HUMIDITY", {25.0, 12.0}, 0.44256717, Tolerance::relative(4e-4), psychrolib),
        independent("AIR.HUMIDITY", {35.0, 20.0}, 0.41557902, Tolerance::relative(4e-4), psychrolib),
        printed("AIR.VAPOUR.PRESSURE", {5.0, 1.0}, 0.8725, 4, steam, "5 °C"),
        printed("AIR.VAPOUR.PRESSURE", {10.0, 1.0}, 1.2281, 4, steam, "10 °C"),
        printed("AIR.VAPOUR.PRESSURE", {15.0, 1.0}, 1.7057, 4, steam, "15 °C"),
        printed("AIR.VAPOUR.PRESSURE", {20.0, 1.0}, 2.3392, 4, steam, "20 °C"),
        printed("AIR.VAPOUR.PRESSURE", {25.0, 1.0}, 3.1698, 4, steam, "25 °C"),
        printed("AIR.VAPOUR.PRESSURE", {35.0, 1.0}, 5.6291, 4, steam, "35 °C")
            .within(Tolerance::relative(6e-5), last_digit),
        printed("AIR.VAPOUR.PRESSURE", {40.0, 1.0}, 7.3851, 4, steam, "40 °C")
            .within(Tolerance::relative(6e-5), last_digit),
        printed("AIR.DENSITY", {0.0, 101.325, 0.0}, 1.292, 3, air_table, "0 °C")
            .within(one_per_mille, ideal_gas),
        printed("AIR.DENSITY", {20.0, 101.325, 0.0}, 1.204, 3, air_table, "20 °C")
            .within(one_per_mille, ideal_gas),
        printed("AIR.DENSITY", {40.0, 101.325, 0.0}, 1.127, 3, air_table, "40 °C"),
        printed("AIR.VAPOUR.PRESSURE", {5.0, 1.0, "Pa"}, 872.6, 1, ashrae_water, "5 °C")
            .within(fits, two_fits),
        printed("AIR.VAPOUR.PRESSURE", {25.0, 1.0, "Pa"}, 3169.7, 1, ashrae_water, "25 °C")
            .within(fits, two_fits),
        printed("AIR.VAPOUR.PRESSURE", {50.0, 1.0, "Pa"}, 12351.3, 1, ashrae_water, "50 °C")
            .within(fits, two_fits),
        identity("AIR.VAPOUR.PRESSURE", {20.0, 1.0, "Pa"}, 2339.1632, Tolerance::printed(4), picard, again),
        identity("AIR.VAPOUR.PRESSURE", {35.0, 1.0, "Pa"}, 5628.8646, Tolerance::printed(4), picard, again),

        identity("AIR.DENSITY", {20.0, 101.325, 0.5}, 1.19931390, Tolerance::printed(8), picard, again),
        identity("AIR.DENSITY", {25.0, 100.0, 0.4}, 1.16321866, Tolerance::printed(8), picard, again),
        identity("AIR.DENSITY", {18.0, 95.0, 0.7}, 1.13059874, Tolerance::printed(8), picard, again),
        identity("AIR.DENSITY", {15.0, 101.325, 0.0}, 1.22552134, Tolerance::printed(8), picard, again),
        identity("AIR.DENSITY", {27.0, 80.0, 0.3}, 0.92405599, Tolerance::printed(8), picard, again),

        identity("AIR.STANDARD.PRESSURE", {0.0}, 101.325, Tolerance::exact(), iso_2533),
        printed("AIR.STANDARD.PRESSURE", {-500.0}, 107.478, 3, ashrae_air, "-500 m"),
        printed("AIR.STANDARD.PRESSURE", {500.0}, 95.461, 3, ashrae_air, "500 m"),
        printed("AIR.STANDARD.PRESSURE", {1000.0}, 89.875, 3, ashrae_air, "1000 m"),
        printed("AIR.STANDARD.PRESSURE", {4000.0}, 61.640, 3, ashrae_air, "4000 m"),
        iso("AIR.STANDARD.PRESSURE", -2000.629, "Pa", 127780.0, -1, "-2 km"),
        iso("AIR.STANDARD.PRESSURE", 1999.371, "Pa", 79501.0, 0, "2 km"),
        iso("AIR.STANDARD.PRESSURE", 3997.485, "Pa", 61660.0, 0, "4 km"),
        iso("AIR.STANDARD.PRESSURE", 5994.342, "Pa", 47218.0, 0, "6 km"),
        iso("AIR.STANDARD.PRESSURE", 7989.945, "Pa", 35652.0, 0, "8 km"),
        iso("AIR.STANDARD.TEMPERATURE", 1999.371, "K", 275.15, 2, "2 km"),
        iso("AIR.STANDARD.TEMPERATURE", 3997.485, "K", 262.17, 2, "4 km"),
        iso("AIR.STANDARD.TEMPERATURE", 7989.945, "K", 236.22, 2, "8 km"),
        identity("AIR.STANDARD.TEMPERATURE", {0.0, "K"}, 288.15, Tolerance::exact(), iso_2533),

        identity("AIR.PRESSURE.ALTITUDE", {95.0}, 540.3371, Tolerance::printed(4), iso_2533, again),
        identity("AIR.PRESSURE.ALTITUDE", {90.0}, 988.5001, Tolerance::printed(4), iso_2533, again),
        identity("AIR.PRESSURE.ALTITUDE", {85.0}, 1457.2995, Tolerance::printed(4), iso_2533, again),
        identity("AIR.PRESSURE.ALTITUDE", {103.0}, -138.5066, Tolerance::printed(4), iso_2533, again),
        identity("AIR.DENSITY.ALTITUDE", {35.0, 101.325, 0.0}, 693.513, Tolerance::printed(3), iso_2533,
                 again),
        identity("AIR.DENSITY.ALTITUDE", {15.0, 101.325, 0.0}, 0.0, Tolerance::absolute(1e-3), iso_2533),
    };
}

}  // namespace pullsheet::catalogue::evidence
