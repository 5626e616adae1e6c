// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/published/published.hpp"

namespace pullsheet::catalogue::published {

std::vector<Check> fuel() {
    const std::string_view heywood =
        "J. B. Heywood, Internal Combustion Engine Fundamentals, McGraw-Hill, 1988, table D.4";
    const std::string_view afdc = citation("AFDC");
    const std::string_view oiml = citation("OIML R 22");
    const std::string_view api = citation("API MPMS 11.1");
    const std::string_view anderson = citation("Anderson 2012");
    const std::string_view brettschneider = citation("Brettschneider 1979");
    const std::string_view practice = citation("common practice");
    const std::string_view en_228 =
        "EN 228, Automotive fuels, unleaded petrol: oxygen with 10 % ethanol, at most 3.7 % by mass";
    const std::string_view other_air =
        "not checked against the printed text; the table's air has 20.95 % oxygen and 28.96 g/mol";
    const std::string_view market = "a market fuel; the reference gasoline holds within 0.5 %";
    const std::string_view balance = "the gas was computed by an equilibrium balance of its own";
    return {
        {"FUEL.STOICH.FORMULA", {8.0, 18.0}, 15.13, Tolerance::relative(1e-3), heywood, other_air},
        {"FUEL.STOICH.FORMULA", {7.0, 16.0}, 15.17, Tolerance::relative(1e-3), heywood, other_air},
        {"FUEL.STOICH.FORMULA", {7.0, 8.0}, 13.50, Tolerance::relative(1e-3), heywood, other_air},
        {"FUEL.STOICH.FORMULA", {2.0, 6.0, 1.0}, 9.00, Tolerance::relative(1e-3), heywood, other_air},
        {"FUEL.STOICH.FORMULA", {1.0, 4.0, 1.0}, 6.47, Tolerance::relative(1e-3), heywood, other_air},
        {"FUEL.STOICH", {1.0}, 9.0, Tolerance::printed(1), afdc},
        {"FUEL.STOICH", {0.0}, 14.7, Tolerance::relative(0.01), afdc, "the hydrogen of petrol varies"},

        {"FUEL.DENSITY", {1.0, 20.0}, 789.24, Tolerance::printed(2), oiml, from_memory},
        {"FUEL.DENSITY", {1.0, -20.0}, 823.1202, Tolerance::printed(4), oiml, computed},
        {"FUEL.DENSITY", {1.0, 15.0}, 793.5057, Tolerance::printed(4), oiml, computed},
        {"FUEL.DENSITY", {1.0, 40.0}, 771.9323, Tolerance::printed(4), oiml, computed},
        {"FUEL.DENSITY", {0.0, 45.0}, 717.6127, Tolerance::printed(4), api, computed},
        {"FUEL.DENSITY", {0.85, 15.0}, 786.2299, Tolerance::printed(4), oiml, computed},
        {"FUEL.ETHANOL.MASS", {0.1}, 0.105822, Tolerance::printed(6), oiml, computed},
        {"FUEL.ETHANOL.MASS", {0.85}, 0.857866, Tolerance::printed(6), oiml, computed},
        {"FUEL.OXYGEN", {0.1}, 0.037, Tolerance::printed(3), en_228, "a limit that belongs to 10 % ethanol"},

        {"FUEL.ENERGY.DENSITY", {0.0, 15.0, "BTU/gal"}, 116090.0, Tolerance::relative(0.005), afdc, market},
        {"FUEL.ENERGY.DENSITY", {1.0, 15.0, "BTU/gal"}, 76330.0, Tolerance::relative(0.005), afdc},
        {"FUEL.HEATING.VALUE", {0.0, "BTU/lb"}, 18676.0, Tolerance::relative(0.005), afdc, market},
        {"FUEL.HEATING.VALUE",
         {1.0, "BTU/lb"},
         11585.0,
         Tolerance::relative(0.01),
         afdc,
         "ethanol's heating value differs by 0.5 % between sources"},
        {"FUEL.LATENT.HEAT", {1.0, "BTU/lb"}, 396.0, Tolerance::relative(0.005), afdc},

        {"FUEL.OCTANE", {91.0, 0.1, 108.5}, 94.71756, Tolerance::printed(5), anderson, computed},
        {"FUEL.OCTANE", {91.0, 0.3, 108.5}, 99.92322, Tolerance::printed(5), anderson, computed},
        {"FUEL.OCTANE", {91.0, 0.85, 108.5}, 107.31407, Tolerance::printed(5), anderson, computed},
        {"FUEL.AKI", {98.0, 88.0}, 93.0, Tolerance::exact(), citation("16 CFR 306")},

        {"FUEL.EXHAUST.LAMBDA",
         {"15.293113 %", 0.0, 0.0, 0.0},
         1.0,
         Tolerance::relative(1e-8),
         brettschneider,
         balance},
        {"FUEL.EXHAUST.LAMBDA",
         {"13.175491 %", 0.0, "2.900255 %", 0.0},
         1.15,
         Tolerance::relative(1e-7),
         brettschneider,
         balance},
        {"FUEL.EXHAUST.LAMBDA",
         {"11.568576 %", "5.608220 %", 0.0, 0.0},
         0.85,
         Tolerance::relative(1e-7),
         brettschneider,
         balance},
        {"FUEL.EXHAUST.LAMBDA",
         {"9.779878 %", "8.387558 %", 0.0, 0.0},
         0.78,
         Tolerance::relative(1e-7),
         brettschneider,
         balance},

        {"FUEL.SENSOR.ETHANOL", {50.0}, 0.0, Tolerance::absolute(1e-12), practice},
        {"FUEL.SENSOR.ETHANOL", {150.0}, 1.0, Tolerance::exact(), practice},
        {"FUEL.AIR.FUEL.RATIO",
         {1.0, 0.85},
         9.8,
         Tolerance::printed(1),
         practice,
         "what a gauge shows for E85"},
    };
}

}  // namespace pullsheet::catalogue::published
