// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

std::vector<Check> compressor() {
    const std::string_view dixon = citation("Dixon & Hall 2014");
    const std::string_view fluids = "The Python library fluids, run as isentropic_T_rise_compression";
    const Reference rajput{
        "R. K. Rajput, A Textbook of Internal Combustion Engines",
        "FOSSEE, Python Textbook Companions, A_textbook_of_Internal_Combustion_Engines_by_R._K._Rajput"};
    const Reference keswani{
        "H. B. Keswani, Internal Combustion Engines",
        "FOSSEE, Python Textbook Companions, Internal_Combustion_Engines_by_H._B._Keswani"};
    const std::string_view tenth = "a tenth of the example's flow";
    const std::string_view both = "isentropic efficiency 0.7 times mechanical efficiency 0.9";
    return {
        independent("COMPRESSOR.TEMPERATURE", {"300 K", 2.5, 0.72, "K"}, 424.69300942, Tolerance::printed(8),
                    fluids),
        printed("COMPRESSOR.TEMPERATURE", {"288 K", 5.0, 0.8, "K"}, 498.0, 0, keswani,
                "example 25.5, page 397"),
        printed("COMPRESSOR.POWER", {1650.0, "293 K", 4.0, 0.8}, 295.161, 3, rajput,
                "example 20.41, page 781: 2951.61 kW", tenth),
        printed("COMPRESSOR.POWER", {1214.187, "325 K", 1.6, 0.63}, 90.47, 2, rajput,
                "example 16.1, page 525", both),

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
    const Reference incropera_read{
        "F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer",
        "FOSSEE, Python Textbook Companions, "
        "Fundamentals_of_Heat_and_Mass_Transfer_by_Incropera,_DeWitt,_Bergman,_Lavine"};
    const Reference cengel{
        "Y. A. Çengel, Heat and Mass Transfer: A Practical Approach",
        "FOSSEE, Python Textbook Companions, Heat_And_Mass_Transfer_-_A_Practical_Approach_by_Y._A._Cengel"};
    const Reference theodore{
        "L. Theodore, Heat Transfer Applications for the Practicing Engineer",
        "FOSSEE, Python Textbook Companions, Heat_Transfer_Applications_for_the_Practicing_Engineer"};
    const std::string_view heated = "a heated stream: the same ratio of temperature differences";
    return {
        printed("CHARGE.EFFECTIVENESS", {300.0, 100.0, 35.0}, 0.75, 2, incropera_read,
                "example 11.3, page 692"),
        printed("CHARGE.EFFECTIVENESS", {20.0, 80.0, 160.0}, 0.429, 3, cengel, "example 11-8", heated),
        printed("CHARGE.EFFECTIVENESS", {"35 °F", "75 °F", "110 °F"}, 0.533, 3, theodore,
                "illustrative example 16.22, page 356", heated),

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
    const Reference dixon_read{
        "S. L. Dixon, Fluid Mechanics, Thermodynamics of Turbomachinery",
        "FOSSEE, Python Textbook Companions, Fluid_Mechanics,Thermodynamics_of_Turbomachinery_by_S.L.Dixon"};
    const std::string_view other_gas =
        "the example's gas has 1.15 kJ/(kg·K) and 1.33, the function's 1.15 and 1.34";
    const std::string_view air_instead =
        "the example's gas is air of 1.4, the function's exhaust gas of 1.34";
    const Reference cimbala{
        "Y. A. Çengel, J. M. Cimbala, Fluid Mechanics: Fundamentals and Applications",
        "FOSSEE, Python Textbook Companions, "
        "Fluid_Mechanics-Fundamentals_&_Applications_by_Yunus_A._Cengel_&_John_M_Cimbala"};
    const Tolerance two_percent = Tolerance::relative(0.025);
    return {
        printed("TURBINE.POWER", {1000.0, 850.0, 3.11, 0.87}, 275.24, 2, dixon_read, "example 4.2, page 105")
            .within(two_percent, other_gas),
        printed("TURBINE.FLOW", {"884 K", 1045.0, 400.0, 50.0, 1.0, "kg/s"}, 7.11, 2, cimbala,
                "example 12-4, page 648, choked")
            .within(two_percent, air_instead),
        printed("TURBINE.FLOW", {"884 K", 1045.0, 700.0, 50.0, 1.0, "kg/s"}, 6.77, 2, cimbala,
                "example 12-4, page 648, not choked")
            .within(two_percent, air_instead),
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
    const Reference cimbala{
        "Y. A. Çengel, J. M. Cimbala, Fluid Mechanics: Fundamentals and Applications",
        "FOSSEE, Python Textbook Companions, "
        "Fluid_Mechanics-Fundamentals_&_Applications_by_Yunus_A._Cengel_&_John_M_Cimbala"};
    const std::string_view as_flow = "as the flow of 200 m/s through 50 mm at 100 kPa";
    const std::string_view fluids =
        "The Python library fluids 1.0.22, run as friction_factor(Re, eD, Method='Colebrook') at 287.05 "
        "J/(kg·K)";
    return {
        independent("PIPE.PRESSURE.LOSS", {150.0, 60.0, 1.5, 50.0, 148.4, 0.0, 0.05, "Pa"}, 454.389709,
                    Tolerance::relative(2e-5), fluids),
        printed("PIPE.MACH", {451.3583, 50.0, 30.0, 100.0}, 0.573, 3, cimbala, "example 2-4, page 50",
                as_flow),
        identity("PIPE.VELOCITY", {150.0, 60.0, 50.0, 148.4}, 33.16126045, Tolerance::printed(8),
                 citation("Çengel & Boles 2015"), again),
        // Choked flow of 50 mm at 100 kPa and 300 K is 458.1532 g/s; divided by the table's A/A*, at its p/p₀
        // and T/T₀.
        printed("PIPE.MACH", {78.6961, 50.0, "299.40 K", 99.30}, 0.10, 2, naca, "table I, M = 0.10"),
        printed("PIPE.MACH", {154.5987, 50.0, "297.63 K", 97.25}, 0.20, 2, naca, "table I, M = 0.20"),
        printed("PIPE.MACH", {225.125665, 50.0, 21.54, 93.95}, 0.3, 2, naca, "table I, M = 0.30"),
        printed("PIPE.MACH", {341.956, 50.0, "285.72 K", 84.30}, 0.50, 2, naca, "table I, M = 0.50"),
        identity("PIPE.DIAMETER", {225.125665, 0.3, 21.54, 93.95}, 50.0, Tolerance::relative(1e-4), naca.work,
                 there_and_back),
        identity("PIPE.PRESSURE.LOSS", {150.0, 60.0, 1.5, 50.0, 148.4, 0.0, 0.05, "Pa"}, 454.394252,
                 Tolerance::printed(6), citation("Colebrook 1939"), again),
    };
}

}  // namespace pullsheet::catalogue::evidence
