// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"

namespace pullsheet::catalogue::evidence {

std::vector<Check> fuel() {
    const Reference heywood{citation("Heywood 1988")};
    const Reference afdc{citation("AFDC"), "a copy of the table"};
    const std::string_view oiml = citation("OIML R 22");
    const std::string_view api = citation("API MPMS 11.1");
    const std::string_view anderson = citation("Anderson 2012");
    const std::string_view practice = citation("common practice");
    const Reference en_228{"EN 228, Automotive fuels, unleaded petrol, table 1",
                           "Directive 2009/30/EC, annex II, which prints the same limit"};
    const std::string_view other_air = "the table's air has 20.95 % oxygen and 28.96 g/mol";
    const std::string_view market = "a market fuel; the reference gasoline holds within 0.5 %";
    const std::string_view ethanol_differs = "ethanol's heating value differs by 0.5 % between sources";
    const std::string_view latent_differs = "sources give 919 to 921 kJ/kg near 25 °C";
    const std::string_view balance =
        "Exhaust gas made forwards by a balance of the elements with the water-gas equilibrium of 3.5, in "
        "mpmath";
    const Reference joel{
        "R. Joel, Basic Engineering Thermodynamics",
        "FOSSEE, Python Textbook Companions, Basic_Engineering_Thermodynamics_by_Rayner_Joel"};
    const Reference mathur{
        "M. L. Mathur, R. P. Sharma, Internal Combustion Engine",
        "FOSSEE, Python Textbook Companions, Internal_Combustion_Engine_by_M._l._Mathur_and_R._P._Sharma"};
    const Reference cengel{citation("Çengel & Boles 2015"), "a copy of table A-27"};
    const Reference old_afdc{
        "United States Department of Energy, Alternative Fuels Data Center, Properties of Fuels",
        "a copy of the table"};
    const Reference ansel{
        "H. C. Ansel, M. J. Stoklosa, Pharmaceutical Calculations, dilution and alligation"};
    const Reference perry{"Perry's Chemical Engineers' Handbook, densities of ethanol and water"};
    const std::string_view other_ethanol = "the table's ethanol is 0.01 % lighter than that of OIML R 22";
    const Tolerance ethanol_density = Tolerance::relative(1.5e-4);
    const auto fuel_of = [](double heating_value) {
        return Table{{std::string("ethanol share"), 0.0},
                     {std::string("heating value"), heating_value, std::string("MJ/kg")}};
    };
    return {
        printed("FUEL.STOICH.FORMULA", {7.0, 16.0}, 15.18, 2, joel, "example 8.2, page 198"),
        printed("FUEL.FLOW", {1.0, fuel_of(44.8), 0.20}, 0.402, 3, mathur, "example 7.2, page 188"),
        printed("FUEL.FLOW", {1.0, fuel_of(43.1), 0.30}, 0.278, 3, mathur, "example 7.2, page 188"),
        printed("FUEL.LATENT.HEAT", {1.0}, 919.0, 0, cengel, "ethanol, enthalpy of vaporisation at 25 °C"),
        printed("FUEL.HEATING.VALUE", {1.0}, 26.81, 2, cengel, "ethanol, lower heating value")
            .within(Tolerance::relative(0.005), ethanol_differs),
        printed("FUEL.OXYGEN", {1.0}, 0.347, 3, old_afdc, "ethanol, oxygen by weight"),
        printed("FUEL.AKI", {108.0, 92.0}, 100.0, 0, old_afdc, "ethanol, (R + M)/2"),
        printed("FUEL.AKI", {88.0, 80.0}, 84.0, 0, old_afdc, "gasoline, lower end, (R + M)/2"),
        printed("FUEL.AKI", {98.0, 88.0}, 93.0, 0, old_afdc, "gasoline, upper end, (R + M)/2"),
        printed("FUEL.BLEND.ETHANOL", {Table{{3.0}, {1.0}, {1.0}}, Table{{0.4}, {0.6}, {0.7}}}, 0.5, 2, ansel,
                "3000 mL of 40 %, 1000 mL of 60 %, 1000 mL of 70 %"),
        printed("FUEL.BLEND.FILL", {45.0, 0.0, 0.0, 0.95, 0.5, 0.7}, 20.0, 0, ansel,
                "95 % and 50 % to 70 %: 20 parts to 25")
            .at(1, 1),
        printed("FUEL.BLEND.FILL", {45.0, 0.0, 0.0, 0.95, 0.5, 0.7}, 25.0, 0, ansel,
                "95 % and 50 % to 70 %: 20 parts to 25")
            .at(2, 1),
        printed("FUEL.DENSITY", {1.0, 10.0}, 797.84, 2, perry, "100 %, 10 °C")
            .within(ethanol_density, other_ethanol),
        printed("FUEL.DENSITY", {1.0, 30.0}, 780.75, 2, perry, "100 %, 30 °C")
            .within(ethanol_density, other_ethanol),

        printed("FUEL.STOICH.FORMULA", {8.0, 18.0}, 15.13, 2, heywood, "table D.4"),
        printed("FUEL.STOICH.FORMULA", {7.0, 16.0}, 15.17, 2, heywood, "table D.4")
            .within(Tolerance::relative(1e-3), other_air),
        printed("FUEL.STOICH.FORMULA", {7.0, 8.0}, 13.50, 2, heywood, "table D.4")
            .within(Tolerance::relative(1e-3), other_air),
        printed("FUEL.STOICH.FORMULA", {2.0, 6.0, 1.0}, 9.00, 2, heywood, "table D.4"),
        printed("FUEL.STOICH.FORMULA", {1.0, 4.0, 1.0}, 6.47, 2, heywood, "table D.4"),
        printed("FUEL.STOICH", {1.0}, 9.0, 0, afdc, "ethanol, air–fuel ratio"),
        printed("FUEL.STOICH", {0.0}, 14.7, 1, afdc, "gasoline, air–fuel ratio")
            .within(Tolerance::relative(0.01), "the hydrogen of petrol varies"),

        printed("FUEL.DENSITY", {1.0, 20.0}, 789.24, 2, Reference{oiml}, "table I, 100 % by mass, 20 °C"),
        identity("FUEL.DENSITY", {1.0, -20.0}, 823.1202, Tolerance::printed(4), oiml, again),
        identity("FUEL.DENSITY", {1.0, 15.0}, 793.5057, Tolerance::printed(4), oiml, again),
        identity("FUEL.DENSITY", {1.0, 40.0}, 771.9323, Tolerance::printed(4), oiml, again),
        identity("FUEL.DENSITY", {0.0, 45.0}, 717.6127, Tolerance::printed(4), api, again),
        identity("FUEL.DENSITY", {0.85, 15.0}, 786.2299, Tolerance::printed(4), oiml, again),
        identity("FUEL.ETHANOL.MASS", {0.1}, 0.105822, Tolerance::printed(6), oiml, again),
        identity("FUEL.ETHANOL.MASS", {0.85}, 0.857866, Tolerance::printed(6), oiml, again),
        printed("FUEL.OXYGEN", {0.1}, 0.037, 3, en_228, "oxygen content of petrol with 10 % ethanol",
                "a limit that belongs to 10 % ethanol"),

        printed("FUEL.ENERGY.DENSITY", {0.0, 15.0, "BTU/gal"}, 116090.0, -1, afdc,
                "gasoline, lower heating value")
            .within(Tolerance::relative(0.005), market),
        printed("FUEL.ENERGY.DENSITY", {1.0, 15.0, "BTU/gal"}, 76330.0, -1, afdc,
                "ethanol, lower heating value")
            .within(Tolerance::relative(0.005), ethanol_differs),
        printed("FUEL.HEATING.VALUE", {0.0, "BTU/lb"}, 18676.0, 0, afdc, "gasoline, lower heating value")
            .within(Tolerance::relative(0.005), market),
        printed("FUEL.HEATING.VALUE", {1.0, "BTU/lb"}, 11585.0, 0, afdc, "ethanol, lower heating value")
            .within(Tolerance::relative(0.01), ethanol_differs),
        printed("FUEL.LATENT.HEAT", {1.0, "BTU/lb"}, 396.0, 0, afdc, "ethanol, latent heat of vaporisation")
            .within(Tolerance::relative(0.005), latent_differs),

        identity("FUEL.OCTANE", {91.0, 0.1, 108.5}, 94.71756, Tolerance::printed(5), anderson, again),
        identity("FUEL.OCTANE", {91.0, 0.3, 108.5}, 99.92322, Tolerance::printed(5), anderson, again),
        identity("FUEL.OCTANE", {91.0, 0.85, 108.5}, 107.31407, Tolerance::printed(5), anderson, again),
        identity("FUEL.AKI", {98.0, 88.0}, 93.0, Tolerance::exact(), citation("16 CFR 306")),

        independent("FUEL.EXHAUST.LAMBDA", {"15.293113 %", 0.0, 0.0, 0.0}, 1.0, Tolerance::relative(1e-8),
                    balance),
        independent("FUEL.EXHAUST.LAMBDA", {"13.175491 %", 0.0, "2.900255 %", 0.0}, 1.15,
                    Tolerance::relative(1e-7), balance),
        independent("FUEL.EXHAUST.LAMBDA", {"11.568576 %", "5.608220 %", 0.0, 0.0}, 0.85,
                    Tolerance::relative(1e-7), balance),
        independent("FUEL.EXHAUST.LAMBDA", {"9.779878 %", "8.387558 %", 0.0, 0.0}, 0.78,
                    Tolerance::relative(1e-7), balance),

        identity("FUEL.SENSOR.ETHANOL", {50.0}, 0.0, Tolerance::absolute(1e-12), practice),
        identity("FUEL.SENSOR.ETHANOL", {150.0}, 1.0, Tolerance::exact(), practice),
        identity("FUEL.AIR.FUEL.RATIO", {1.0, 0.85}, 9.8, Tolerance::printed(1), practice,
                 "what a gauge shows for E85"),
    };
}

}  // namespace pullsheet::catalogue::evidence
