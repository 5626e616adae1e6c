// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

std::vector<Check> engine() {
    const std::string_view nist = citation("NIST SP 811");
    const std::string_view heywood =
        "J. B. Heywood, Internal Combustion Engine Fundamentals, McGraw-Hill, 1988, chapter 2";
    const std::string_view gas_constant = "the cited formula, evaluated once more with 287.05 J/(kg·K)";
    const Table gasoline_of_44 = {{std::string("ethanol share"), 0.0},
                                  {std::string("heating value"), 44.0, std::string("MJ/kg")}};
    const Reference rajput{
        "R. K. Rajput, A Textbook of Internal Combustion Engines",
        "FOSSEE, Python Textbook Companions, A_textbook_of_Internal_Combustion_Engines_by_R._K._Rajput"};
    const Reference mathur{
        "M. L. Mathur, R. P. Sharma, Internal Combustion Engine",
        "FOSSEE, Python Textbook Companions, Internal_Combustion_Engine_by_M._l._Mathur_and_R._P._Sharma"};
    const Reference pulkrabek{"W. W. Pulkrabek, Engineering Fundamentals of the Internal Combustion Engine"};
    const std::string_view rounded_gas_constant = "the example takes 287 J/(kg·K)";
    const auto fuel_of = [](double heating_value) {
        return Table{{std::string("ethanol share"), 0.0},
                     {std::string("heating value"), heating_value, std::string("MJ/kg")}};
    };
    return {
        printed("ENGINE.POWER", {175.0, 500.0}, 9.16, 2, rajput, "example 17.8, page 574"),
        printed("ENGINE.POWER", {186.0, 1900.0}, 37.01, 2, rajput, "example 17.38, page 596"),
        printed("ENGINE.BMEP", {1193.662, 25.0, 4.0, "bar"}, 6.0, 1, rajput,
                "example 17.7, page 573, backwards"),
        printed("ENGINE.EFFICIENCY", {64.8, 250.0, fuel_of(42.0)}, 0.3307, 4, rajput,
                "example 17.7, page 573"),
        printed("ENGINE.EFFICIENCY", {27.0, 78.0, fuel_of(44.0)}, 0.2364, 4, rajput,
                "example 17.19, page 583"),
        printed("ENGINE.TORQUE", {78.0, 3200.0}, 233.0, 0, mathur, "example 10.1, page 238"),
        printed("ENGINE.VOLUMETRIC.EFFICIENCY", {"324 kg/h", 4.2, 3200.0, 90.0, "305 K"}, 0.7816, 4, mathur,
                "example 10.1, page 238")
            .within(Tolerance::relative(2e-4), rounded_gas_constant),
        printed("ENGINE.PISTON.SPEED", {86.0, 3600.0}, 10.32, 2, pulkrabek, "example 2-1"),
        printed("ENGINE.DISPLACEMENT", {86.0, 86.0, 6.0, "L"}, 3.0, 1, pulkrabek, "example 2-1, backwards"),
        printed("ENGINE.POWER", {205.0, 3600.0}, 77.3, 1, pulkrabek, "example 2-2"),
        printed("ENGINE.BMEP", {205.0, 3.0, 4.0, "kPa"}, 859.0, 0, pulkrabek, "example 2-2"),

        identity("ENGINE.POWER", {350.0, 5500.0}, 201.585529, Tolerance::printed(6), nist, again),
        identity("ENGINE.POWER", {350.0, 5500.0, "PS"}, 274.080042, Tolerance::printed(6), nist, again),
        identity("ENGINE.POWER", {350.0, 5500.0, "hp"}, 270.330647, Tolerance::printed(6), nist, again),
        identity("ENGINE.POWER", {"250 lb-ft", 6000.0, "hp"}, 285.599332, Tolerance::printed(6), nist, again),
        // The constants that the trade multiplies by.
        identity("ENGINE.TORQUE", {1.0, 1.0}, 9549.2965855137, Tolerance::printed(10), nist, again),
        identity("ENGINE.TORQUE", {"1 hp", 1.0, "lb-ft"}, 5252.1131220325, Tolerance::printed(10), nist,
                 again),
        identity("ENGINE.TORQUE", {"1 PS", 1.0, "kgf·m"}, 716.1972439135, Tolerance::printed(10), nist,
                 again),
        identity("ENGINE.SPEED", {"1 PS", 1.0}, 7023.4957020246, Tolerance::printed(10), nist, again),

        identity("ENGINE.DISPLACEMENT", {86.0, 86.0, 1.0, "cc"}, 499.557214, Tolerance::printed(6), heywood,
                 again),
        identity("ENGINE.COMPRESSION.RATIO", {86.0, 86.0, 44.0, 87.5, 1.0, 0.25, 3.2}, 10.13845248,
                 Tolerance::printed(8), heywood, again),
        identity("ENGINE.PISTON.SPEED", {86.0, 7000.0}, 20.066667, Tolerance::printed(6), heywood, again),
        identity("ENGINE.PISTON.SPEED", {92.8, 6500.0}, 20.106667, Tolerance::printed(6), heywood, again),
        identity("ENGINE.PISTON.ACCELERATION", {86.0, 143.5, 6000.0}, 22062.521, Tolerance::printed(3),
                 heywood, again),
        identity("ENGINE.BMEP", {320.0, 1.984}, 20.26834, Tolerance::printed(5), heywood, again),
        identity("ENGINE.BMEP", {60.0, 0.5, 2.0}, 7.5398224, Tolerance::printed(7), heywood, again),
        identity("ENGINE.AIR.FLOW", {1.984, 5500.0, 180.0, 45.0, 1.0}, 179.22812, Tolerance::relative(2e-5),
                 heywood, gas_constant),
        identity("ENGINE.AIR.FLOW", {1.984, 6000.0, 100.0, 25.0, 0.92}, 106.63681, Tolerance::relative(2e-5),
                 heywood, gas_constant),
        identity("ENGINE.VOLUMETRIC.EFFICIENCY", {179.22812, 1.984, 5500.0, 180.0, 45.0}, 1.0,
                 Tolerance::relative(2e-5), heywood, gas_constant),
        identity("ENGINE.MANIFOLD.PRESSURE", {179.22812, 1.984, 5500.0, 45.0, 1.0}, 180.0,
                 Tolerance::relative(2e-5), heywood, gas_constant),
        identity("ENGINE.BSFC", {25.0, 100.0}, 250.0, Tolerance::exact(), heywood, again),
        identity("ENGINE.EFFICIENCY", {25.0, 100.0, gasoline_of_44}, 0.32727273, Tolerance::printed(8),
                 heywood, again),
    };
}

}  // namespace pullsheet::catalogue::evidence
