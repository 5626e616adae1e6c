// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/fuel.hpp"

#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/shared.hpp"
#include "core/catalogue/fuel_block.hpp"
#include "core/fuel/blend.hpp"
#include "core/fuel/charge_cooling.hpp"
#include "core/fuel/exhaust_lambda.hpp"
#include "core/fuel/flex_fuel_sensor.hpp"
#include "core/fuel/octane.hpp"
#include "core/fuel/stoichiometry.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter fuel_temperature() {
    return number("temperature", "temperature of the fuel", Quantity::temperature, "°C",
                  Si(fuel::possible::temperature))
        .otherwise(15)
        .established(Si(fuel::established::temperature));
}

Parameter ethanol(Text name, Text meaning) {
    return share(name, meaning);
}

Parameter atoms(Text name, Text meaning) {
    return plain(name, meaning, Quantity::number, between(0, 1000));
}

Parameter octane_number(Text name, Text meaning) {
    return plain(name, meaning, Quantity::number, fuel::possible::octane);
}

Parameter exhaust_share(Text name, Text meaning, Interval range) {
    return share(name, meaning, range);
}

// Adapts core functions whose only argument is the fuel.
template <double (*property)(const fuel::Fuel&)>
Answer of_fuel(Call& call) {
    return property(call.fuel(0));
}

std::vector<Function> properties() {
    return {
        {
            .name = "FUEL.STOICH",
            .summary = "Stoichiometric air–fuel ratio",
            .parameters = {fuel_parameter()},
            .result = Result::plain("kg of dry air per kg of fuel", Quantity::ratio).of(figures::stoich),
            .method =
                "Element balance of the blend with the dry air of ISO 2533; components averaged by mass.",
            .formula = "L_st = (1 + y/4 - z/2)/x_O2·M_a/(M_C + y·M_H + z·M_O)",
            .symbols = "y and z hydrogen and oxygen atoms per carbon atom of the blend, x_O2 share of oxygen "
                       "in dry air, M molar masses, M_a that of dry air",
            .sources = {"Heywood 1988", "ISO 2533"},
            .example = {{0.1}, 14.0098596, 1e-8},
            .compute = [](Call& call) -> Answer { return fuel::stoich(call.fuel(0)); },
            .accuracy = "the air model alone changes it by up to 0.7 %, the hydrogen content of pump petrol "
                        "by as much again",
        },
        {
            .name = "FUEL.STOICH.FORMULA",
            .summary = "Stoichiometric air–fuel ratio from the atoms of the fuel",
            .parameters = {atoms("carbon", "atoms of carbon").of(figures::atoms),
                           atoms("hydrogen", "atoms of hydrogen").of(figures::atoms),
                           atoms("oxygen", "atoms of oxygen").of(figures::atoms).otherwise(0)},
            .result = Result::plain("kg of dry air per kg of fuel", Quantity::ratio).of(figures::stoich),
            .method =
                "Element balance: (c + h/4 − o/2) molecules of oxygen per formula unit, dry air of ISO 2533.",
            .formula = "L_st = (c + h/4 - o/2)/x_O2·M_a/(c·M_C + h·M_H + o·M_O)",
            .symbols = "c, h, o atoms, x_O2 share of oxygen in dry air, M molar masses, M_a that of dry air",
            .sources = {"Heywood 1988", "ISO 2533"},
            .example = {{2.0, 6.0, 1.0}, 9.004156471, 1e-8},
            .compute = [](Call& call) -> Answer {
                return fuel::stoich_formula({call.si(0), call.si(1), call.si(2)});
            },
        },
        {
            .name = "FUEL.DENSITY",
            .summary = "Density of a blend",
            .parameters = {fuel_parameter(), fuel_temperature()},
            .result = Result::number("density", Quantity::density, "kg/m³").of(figures::fuel_density),
            .method = "The volumes of the components add (excess volume neglected); ethanol by OIML R 22, "
                      "gasoline from its density at 15 °C by API MPMS 11.1, table 54B.",
            .formula = "ρ = (e·ρ_E + (1 - e)·ρ_G)/(e·ρ_E/ρ_E(t) + (1 - e)/k(t))",
            .symbols = "e ethanol share by volume, ρ_E and ρ_G densities of ethanol and gasoline at 15 °C, "
                       "ρ_E(t) that of ethanol at the temperature, k(t) volume correction of gasoline",
            .sources = {"OIML R 22", "API MPMS 11.1"},
            .example = {{1.0, 20.0}, 789.2391, 1e-6},
            .compute = [](Call& call) -> Answer { return fuel::density(call.fuel(0), call.si(1)); },
            .accuracy = "blends: the neglected excess volume is below 0.3 %",
        },
        {
            .name = "FUEL.HEATING.VALUE",
            .summary = "Lower heating value by mass",
            .parameters = {fuel_parameter()},
            .result = Result::number("lower heating value", Quantity::energy_per_mass, "MJ/kg")
                          .of(figures::heating_value),
            .method = "Mean of the components by mass; ethanol 26.8 MJ/kg, reference gasoline 43.4 MJ/kg.",
            .formula = "H = w·H_E + (1 - w)·H_G",
            .symbols = "w ethanol by mass, E ethanol, G gasoline",
            .sources = {"Çengel & Boles 2015", "AFDC"},
            .example = {{1.0}, 26.8},
            .compute = of_fuel<fuel::heating_value>,
        },
        {
            .name = "FUEL.ENERGY.DENSITY",
            .summary = "Lower heating value by volume",
            .parameters = {fuel_parameter(), fuel_temperature()},
            .result = Result::number("lower heating value of a litre", Quantity::energy_per_volume, "MJ/L")
                          .of(figures::energy_density),
            .method = "Heating value by mass times the density.",
            .formula = "H_V = H·ρ",
            .symbols = "H lower heating value by mass, ρ density",
            .sources = {"Çengel & Boles 2015", "OIML R 22"},
            .example = {{0.0}, 32.333},
            .compute = [](Call& call) -> Answer { return fuel::energy_density(call.fuel(0), call.si(1)); },
        },
        {
            .name = "FUEL.OXYGEN",
            .summary = "Oxygen in the fuel by mass",
            .parameters = {fuel_parameter()},
            .result = Result::plain("share by mass", Quantity::share).of(figures::share),
            .method = "Oxygen of the ethanol part; the gasoline part counts as free of oxygen.",
            .formula = "w_O = w·M_O/M_E",
            .symbols = "w ethanol by mass, M_O 15.999 g/mol, M_E molar mass of ethanol",
            .sources = {"IUPAC 2021"},
            .example = {{0.1}, 0.03675017333, 1e-8},
            .compute = of_fuel<fuel::oxygen>,
        },
        {
            .name = "FUEL.ETHANOL.MASS",
            .summary = "Ethanol in the fuel by mass",
            .parameters = {fuel_parameter()},
            .result = Result::plain("share by mass", Quantity::share).of(figures::share),
            .method = "Volume share converted with the densities at 15 °C.",
            .formula = "w = e·ρ_E/(e·ρ_E + (1 - e)·ρ_G)",
            .symbols = "e ethanol share by volume, ρ_E and ρ_G densities of ethanol and gasoline at 15 °C",
            .sources = {"OIML R 22"},
            .example = {{0.85}, 0.8578659952, 1e-8},
            .compute = of_fuel<fuel::ethanol_mass>,
        },
        {
            .name = "FUEL.LATENT.HEAT",
            .summary = "Latent heat of evaporation",
            .parameters = {fuel_parameter()},
            .result = Result::number("latent heat at 25 °C", Quantity::energy_per_mass, "kJ/kg")
                          .of(figures::latent_heat),
            .method = "Mean of the components by mass; ethanol 919 kJ/kg, reference gasoline 350 kJ/kg.",
            .formula = "r = w·r_E + (1 - w)·r_G",
            .symbols = "w ethanol by mass, E ethanol, G gasoline",
            .sources = {"Çengel & Boles 2015"},
            .example = {{1.0}, 919.0},
            .compute = of_fuel<fuel::latent_heat>,
        },
        {
            .name = "FUEL.OCTANE",
            .summary = "Octane number of a blend with ethanol",
            .parameters = {octane_number("base_ron", "octane number of the gasoline part; RON, not AKI")
                               .of(figures::octane),
                           ethanol("ethanol_share", "ethanol share by volume"),
                           octane_number("ethanol_ron", "blending octane number of ethanol")
                               .of(figures::octane)
                               .otherwise(108)},
            .result =
                Result::plain("octane number of the blend, of the same kind as the inputs", Quantity::number)
                    .of(figures::octane),
            .method = "Linear on the molar share of ethanol.",
            .formula = "N = (1 - x)·N_G + x·N_E; x = (w/M_E)/(w/M_E + (1 - w)/M_G)",
            .symbols = "x molar share of ethanol, N octane numbers, M molar masses, w ethanol by mass, E "
                       "ethanol, G gasoline",
            .sources = {"Anderson 2010", "Anderson 2012"},
            .example = {{91.0, 0.1, 108.5}, 94.71756, 1e-6},
            .compute = [](Call& call) -> Answer { return fuel::octane(call.si(0), call.si(1), call.si(2)); },
            .accuracy = "blends of real base gasolines depart from the line by several octane numbers",
        },
        {
            .name = "FUEL.AKI",
            .summary = "Anti-knock index, the number on a North American pump",
            .parameters = {octane_number("ron", "research octane number").of(figures::octane),
                           octane_number("mon", "motor octane number").of(figures::octane)},
            .result = Result::plain("anti-knock index", Quantity::number).of(figures::octane),
            .method = "(RON + MON) / 2. A \"93\" on such a pump is about 98 RON.",
            .formula = "AKI = (RON + MON)/2",
            .symbols = "RON research, MON motor octane number",
            .sources = {"16 CFR 306"},
            .example = {{98.0, 88.0}, 93.0},
            .compute = [](Call& call) -> Answer {
                check_octane_numbers(call.si(0), call.si(1), "mon", call.language(), call.warnings);
                return fuel::aki(call.si(0), call.si(1));
            },
        },
        {
            .name = "FUEL.CHARGE.COOLING",
            .summary = "Charge cooling by evaporating fuel, upper limit",
            .parameters =
                {fuel_parameter(), lambda(),
                 share("evaporated", "share of the fuel that evaporates in the charge").otherwise(1),
                 number("temperature", "charge temperature before evaporation", Quantity::temperature, "°C",
                        Si(fuel::possible::charge_temperature))
                     .otherwise(40)
                     .established(Si(fuel::established::charge_temperature))},
            .result = Result::number("temperature drop", Quantity::temperature_change, "K")
                          .of(figures::charge_cooling),
            .method = "Enthalpy balance of charge and fuel without heat from the walls: an upper limit.",
            .formula = "ΔT = f·x·r/(c_a + f·((1 - x)·c_l + x·c_v)); f = 1/(λ·L_st)",
            .symbols =
                "x share evaporated, r latent heat at the temperature of the charge, c heat capacities of "
                "air (a), liquid (l) and vapour (v) of the fuel, λ lambda, L_st stoichiometric ratio",
            .sources = {"Çengel & Boles 2015", "Heywood 1988"},
            .example = {{0.85, 0.85, 1.0, 40.0}, 83.78618062, 1e-8},
            .compute = [](Call& call) -> Answer {
                return fuel::charge_cooling(call.fuel(0), call.si(1), call.si(2), call.si(3));
            },
        },
    };
}

std::vector<Function> blends() {
    return {
        {
            .name = "FUEL.BLEND.ETHANOL",
            .summary = "Ethanol share of mixed fuels",
            .parameters = {series("volumes", "volumes of the fuels mixed", Quantity::volume, "L")
                               .of(figures::fuel_volume),
                           share_series("ethanol_shares", "their ethanol shares by volume")},
            .result = Result::plain("ethanol share by volume", Quantity::share).of(figures::share),
            .method = "Ideal mixing of volumes.",
            .formula = "e = Σ(V_i·e_i)/Σ(V_i)",
            .symbols = "V_i volumes, e_i their ethanol shares",
            .sources = {"common practice"},
            .example = {{examples::column({30, 20}), examples::column({0.05, 0.8})}, 0.35},
            .compute = [](Call& call) -> Answer {
                return fuel::blend_ethanol(call.series(0), call.series(1));
            },
        },
        {
            .name = "FUEL.BLEND.ADD",
            .summary = "Volume to add to a tank to reach an ethanol share",
            .parameters = {number("tank_volume", "fuel in the tank", Quantity::volume, "L", above(0))
                               .of(figures::fuel_volume),
                           ethanol("tank_ethanol", "its ethanol share by volume"),
                           ethanol("added_ethanol", "ethanol share of the fuel added"),
                           ethanol("target_ethanol", "ethanol share wanted")},
            .result = Result::number("volume to add", Quantity::volume, "L").of(figures::fuel_volume),
            .method = "Balance of ethanol; volumes add.",
            .formula = "V = V_t·(e - e_t)/(e_a - e)",
            .symbols = "V_t and e_t volume and ethanol share of the tank, e_a of the fuel added, e wanted",
            .sources = {"common practice"},
            .example = {{30.0, 0.05, 0.8, 0.3}, 15.0},
            .compute = [](Call& call) -> Answer {
                return fuel::blend_add(call.si(0), call.si(1), call.si(2), call.si(3));
            },
        },
        {
            .name = "FUEL.BLEND.FILL",
            .summary = "Volumes of two fuels that fill the tank at an ethanol share",
            .parameters = {number("tank_capacity", "capacity of the tank", Quantity::volume, "L", above(0))
                               .of(figures::fuel_volume),
                           number("tank_volume", "fuel in the tank", Quantity::volume, "L", from(0))
                               .of(figures::fuel_volume),
                           ethanol("tank_ethanol", "its ethanol share by volume"),
                           ethanol("ethanol_a", "ethanol share of fuel a"),
                           ethanol("ethanol_b", "ethanol share of fuel b"),
                           ethanol("target_ethanol", "ethanol share wanted in the full tank")},
            .result = Result::table("the volume of each fuel",
                                    {{"fuel"}, {"volume", Quantity::volume, "L", figures::fuel_volume}}),
            .method = "Balance of ethanol and volume. If the target is out of reach, the error states the "
                      "range that can be reached.",
            .formula = "V_a + V_b = V_c - V_t; V_a·e_a + V_b·e_b + V_t·e_t = V_c·e",
            .symbols = "V_c capacity, V_t and e_t volume and ethanol share in the tank, e_a and e_b of the "
                       "fuels, e wanted",
            .sources = {"common practice"},
            .example = {{60.0, 10.0, 0.05, 0.05, 0.8, 0.3}, 20.0, 1e-9, 2, 1},
            .compute = [](Call& call) -> Answer {
                const auto filling =
                    fuel::blend_fill(call.si(0), call.si(1), call.si(2), call.si(3), call.si(4), call.si(5));
                return Rows{row(std::string("a"), filling.a), row(std::string("b"), filling.b)};
            },
        },
        {
            .name = "FUEL.LAMBDA",
            .summary = "Lambda from an air–fuel ratio",
            .parameters = {plain("air_fuel_ratio", "kg of air per kg of fuel", Quantity::ratio,
                                 between(0.5, 100))
                               .of(figures::air_fuel_ratio),
                           fuel_parameter()},
            .result = Result::plain("lambda", Quantity::ratio).of(figures::lambda),
            .method = "Air–fuel ratio / stoichiometric ratio of this fuel. A gauge that shows 14.7 at lambda "
                      "1 is scaled for petrol, whichever fuel is burned.",
            .formula = "λ = L/L_st",
            .symbols = "L air–fuel ratio, L_st stoichiometric ratio",
            .sources = {"Heywood 1988"},
            .example = {{12.5, 0.0}, 0.8560317924, 1e-8},
            .compute = [](Call& call) -> Answer { return fuel::lambda(call.si(0), call.fuel(1)); },
        },
        {
            .name = "FUEL.AIR.FUEL.RATIO",
            .summary = "Air–fuel ratio from lambda",
            .parameters = {plain("lambda", "air–fuel ratio / stoichiometric air–fuel ratio", Quantity::ratio,
                                 fuel::possible::lambda)
                               .of(figures::lambda),
                           fuel_parameter()},
            .result = Result::plain("kg of air per kg of fuel", Quantity::ratio).of(figures::air_fuel_ratio),
            .method = "Lambda times the stoichiometric ratio of this fuel.",
            .formula = "L = λ·L_st",
            .symbols = "λ lambda, L_st stoichiometric ratio",
            .sources = {"Heywood 1988"},
            .example = {{1.0, 0.85}, 9.799837545, 1e-8},
            .compute = [](Call& call) -> Answer { return fuel::air_fuel_ratio(call.si(0), call.fuel(1)); },
        },
        {
            .name = "FUEL.EXHAUST.LAMBDA",
            .summary = "Lambda from the composition of dry exhaust gas",
            .parameters = {exhaust_share("co2", "carbon dioxide by volume", fuel::possible::exhaust_co2),
                           exhaust_share("co", "carbon monoxide by volume", fuel::possible::exhaust_co),
                           exhaust_share("o2", "oxygen by volume", fuel::possible::exhaust_o2),
                           exhaust_share("hydrocarbons", "hydrocarbons by volume, as hexane",
                                         fuel::possible::exhaust_hydrocarbons)
                               .of(figures::hydrocarbons),
                           exhaust_share("nitric_oxide", "nitric oxide by volume",
                                         fuel::possible::exhaust_nitric_oxide)
                               .otherwise(0),
                           fuel_parameter()},
            .result = Result::plain("lambda", Quantity::ratio).of(figures::lambda),
            .method = "Brettschneider's balance with H/C and O/C of the blend, water-gas constant 3.5, "
                      "hydrocarbons as hexane. An exhaust leak falsifies the result.",
            .formula = "λ = (CO2 + CO/2 + O2 + NO/2 + (y/4·K·CO2/(K·CO2 + CO) - z/2)·(CO2 + CO))/((1 + y/4 - "
                       "z/2)·(CO2 + CO + 6·HC))",
            .symbols = "shares by volume of the dry gas, HC as hexane; y and z hydrogen and oxygen atoms per "
                       "carbon atom of the fuel, K 3.5",
            .sources = {"Brettschneider 1979"},
            .example = {{"11.568576 %", "5.608220 %", 0.0, 0.0}, 0.85, 1e-6},
            .compute = [](Call& call) -> Answer {
                return fuel::exhaust_lambda({.co2 = call.si(0),
                                             .co = call.si(1),
                                             .o2 = call.si(2),
                                             .hydrocarbons = call.si(3),
                                             .nitric_oxide = call.si(4)},
                                            call.fuel(5));
            },
        },
        {
            .name = "FUEL.SENSOR.ETHANOL",
            .summary = "Ethanol share from the frequency of a flex-fuel sensor",
            .parameters = {number("frequency", "frequency of the sensor's signal", Quantity::frequency, "Hz",
                                  fuel::possible::sensor_frequency)
                               .established(fuel::established::sensor_frequency)},
            .result = Result::plain("ethanol share by volume", Quantity::share).of(figures::share),
            .method = "50 Hz is 0 %, 150 Hz is 100 %, linear between.",
            .formula = "e = (f - 50)/100",
            .symbols = "f frequency in Hz",
            .sources = {"common practice"},
            .example = {{"135 Hz"}, 0.85},
            .compute = [](Call& call) -> Answer { return fuel::sensor_ethanol(call.si(0)); },
        },
        {
            .name = "FUEL.FLOW",
            .summary = "Fuel flow required for a brake power",
            .parameters =
                {number("power", "brake power", Quantity::power, "kW", from(0)).of(figures::brake_power),
                 fuel_parameter(), brake_efficiency()},
            .result = Result::number("fuel flow", Quantity::mass_flow, "kg/h").of(figures::fuel_flow),
            .method = "Power / (efficiency × lower heating value).",
            .formula = "ṁ_f = P/(η·H)",
            .symbols = "P power, η efficiency, H lower heating value",
            .sources = {"Heywood 1988"},
            .example = {{300.0, 0.0}, 82.949309, 1e-7},
            .compute = [](Call& call) -> Answer { return fuel::flow(call.si(0), call.fuel(1), call.si(2)); },
        },
        {
            .name = "FUEL.VOLUME.FLOW",
            .summary = "Volume flow of a fuel from its mass flow",
            .parameters = {number("fuel_flow", "fuel flow", Quantity::mass_flow, "kg/h", from(0))
                               .of(figures::fuel_flow),
                           fuel_parameter(), fuel_temperature()},
            .result = Result::number("volume flow", Quantity::volume_flow, "L/h").of(figures::pump_flow),
            .method = "Mass flow / density at the fuel temperature.",
            .formula = "Q = ṁ_f/ρ",
            .symbols = "ṁ_f fuel flow, ρ density of the fuel at its temperature",
            .sources = {"OIML R 22", "API MPMS 11.1"},
            .example = {{74.5, 0.0}, 100.0},
            .compute = [](Call& call) -> Answer {
                return fuel::volume_flow(call.si(0), call.fuel(1), call.si(2));
            },
        },
    };
}

}  // namespace

std::vector<Function> fuel() {
    std::vector<Function> all = properties();
    for (Function& function : blends()) all.push_back(std::move(function));
    return all;
}

}  // namespace pullsheet::catalogue::families
