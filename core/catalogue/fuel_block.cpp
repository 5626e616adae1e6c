// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/fuel_block.hpp"

#include <algorithm>

#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {

const BlockSchema& fuel_schema() {
    namespace possible = fuel::possible;
    static const fuel::Gasoline reference;
    static const BlockSchema schema{
        .name = "fuel",
        .labels =
            {
                Label("ethanol share", "ethanol by volume at 15 °C", Quantity::share, "", unit_share),
                Label("carbon share", "carbon by mass in the gasoline part", Quantity::share, "",
                      possible::carbon_share)
                    .optional(),
                Label("hydrogen per carbon", "hydrogen atoms per carbon atom in the gasoline part",
                      Quantity::ratio, "", possible::hydrogen_per_carbon)
                    .otherwise(reference.hydrogen_per_carbon)
                    .established(fuel::established::hydrogen_per_carbon),
                Label("density", "density of the gasoline part at 15 °C", Quantity::density, "kg/m³",
                      possible::density)
                    .otherwise(reference.density)
                    .established(fuel::established::density),
                Label("heating value", "lower heating value of the gasoline part", Quantity::energy_per_mass,
                      "MJ/kg", between(30, 50))
                    .of(figures::gasoline_heating_value)
                    .otherwise(reference.heating_value / 1e6),
                Label("latent heat", "latent heat of the gasoline part", Quantity::energy_per_mass, "kJ/kg",
                      between(100, 600))
                    .of(figures::gasoline_latent_heat)
                    .otherwise(reference.latent_heat / 1e3),
                Label("molar mass", "mean molar mass of the gasoline part", Quantity::molar_mass, "g/mol",
                      between(50, 200))
                    .of(figures::molar_mass)
                    .otherwise(reference.molar_mass * 1e3),
                Label("RON", "research octane number of the gasoline part, not AKI", Quantity::number, "",
                      possible::octane)
                    .of(figures::octane)
                    .otherwise(reference.ron),
                Label("MON",
                      "motor octane number of the gasoline part; with a RON and without a MON: 10 less",
                      Quantity::number, "", possible::octane)
                    .of(figures::octane)
                    .otherwise(reference.mon),
                Label("price per litre", "price of a litre of the blend", Quantity::number, "", from(0))
                    .of(figures::price)
                    .optional(),
                Label("name", "what the fuel is called").optional(),
            },
        .one_of = {{"carbon share", "hydrogen per carbon"}},
    };
    return schema;
}

void check_octane_numbers(double ron, double mon, std::string_view parameter, Language language,
                          Warnings& warnings) {
    constexpr double never = 5.0;  // light paraffins reach about 2
    if (!(mon > ron)) return;
    const std::string sentence = say(language, Phrase::mon_above_ron,
                                     {{"parameter", std::string(parameter)},
                                      {"value", number_text(mon, language)},
                                      {"other", number_text(ron, language)}});
    if (mon > ron + never) throw Refused{FailureKind::wrong_argument, sentence};
    if (warnings.wanted()) warnings.add(sentence);
}

fuel::Fuel fuel_from(const Block& block, std::string_view parameter, Language language, Warnings& warnings) {
    fuel::Fuel fuel;
    fuel.ethanol_share = block.number("ethanol share");
    fuel::Gasoline& gasoline = fuel.gasoline;
    gasoline.hydrogen_per_carbon = block.has("carbon share")
                                       ? fuel::hydrogen_per_carbon(block.number("carbon share"))
                                       : block.number("hydrogen per carbon");
    gasoline.density = block.number("density");
    gasoline.heating_value = block.number("heating value");
    gasoline.latent_heat = block.number("latent heat");
    gasoline.molar_mass = block.number("molar mass");
    gasoline.ron = block.number("RON");
    gasoline.mon = block.has("RON") && !block.has("MON")
                       ? std::max(0.0, gasoline.ron - (fuel::Gasoline{}.ron - fuel::Gasoline{}.mon))
                       : block.number("MON");
    if (block.has("MON") && block.has("RON"))
        check_octane_numbers(gasoline.ron, gasoline.mon, parameter, language, warnings);
    return fuel;
}

}  // namespace pullsheet::catalogue
