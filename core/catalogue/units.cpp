// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/units.hpp"

#include <algorithm>
#include <array>
#include <boost/algorithm/string/erase.hpp>
#include <boost/algorithm/string/replace.hpp>
#include <unordered_map>

#include "core/constants.hpp"

namespace pullsheet::catalogue {
namespace {

// Exact definitions: SI Brochure (9th edition, 2019), NIST SP 811 (2008) appendix B; the conventional columns
// of mercury at 0 °C (13 595.1 kg/m³) as there.
constexpr double pound = 0.45359237;
constexpr double foot = 0.3048;
constexpr double inch = 0.0254;
constexpr double mile = 1609.344;
constexpr double gallon_us = 231.0 * inch * inch * inch;
constexpr double pound_force = pound * standard_gravity;
constexpr double metric_horsepower = 75.0 * standard_gravity;
constexpr double mechanical_horsepower = 550.0 * foot * pound_force;
constexpr double mercury_millimetre = 13.5951 * standard_gravity;
constexpr double btu = 1055.05585262;

struct Row {
    Unit unit;
    /// Further spellings, separated by blanks, in normal form (see `normal_form`).
    std::string_view spellings;
};

constexpr Row rows[] = {
    {{"%", Quantity::share, 0.01}, "percent pct"},

    {{"N·m", Quantity::torque, 1.0}, ""},
    {{"lb-ft", Quantity::torque, pound_force* foot}, "lbfft ftlb ftlbf"},
    {{"kgf·m", Quantity::torque, standard_gravity}, "kgm mkg kgfm"},

    {{"kW", Quantity::power, 1000.0}, ""},
    {{"W", Quantity::power, 1.0}, ""},
    {{"PS", Quantity::power, metric_horsepower}, "cv ch"},
    {{"hp", Quantity::power, mechanical_horsepower}, "bhp"},

    {{"rpm", Quantity::angular_speed, 2.0 * pi / 60.0}, "1/min r/min rev/min u/min min-1"},
    {{"rad/s", Quantity::angular_speed, 1.0}, ""},

    {{"km/h", Quantity::speed, 1.0 / 3.6}, "kmh kph"},
    {{"mph", Quantity::speed, 0.44704}, "mi/h"},
    {{"m/s", Quantity::speed, 1.0}, ""},

    {{"m/s²", Quantity::acceleration, 1.0}, ""},
    {{"g0", Quantity::acceleration, standard_gravity}, ""},

    {{"°C", Quantity::temperature, 1.0, zero_celsius}, "c celsius"},
    {{"°F", Quantity::temperature, 5.0 / 9.0, 459.67}, "f fahrenheit"},
    {{"K", Quantity::temperature, 1.0}, "kelvin"},

    {{"kPa", Quantity::pressure, 1000.0}, ""},
    {{"bar", Quantity::pressure, 1e5}, ""},
    {{"psi", Quantity::pressure, pound_force / (inch * inch)}, ""},
    {{"hPa", Quantity::pressure, 100.0}, ""},
    {{"mbar", Quantity::pressure, 100.0}, ""},
    {{"Pa", Quantity::pressure, 1.0}, ""},
    {{"inHg", Quantity::pressure, 25.4 * mercury_millimetre}, ""},
    {{"mmHg", Quantity::pressure, mercury_millimetre}, ""},
    {{"atm", Quantity::pressure, 101325.0}, ""},

    {{"g/s", Quantity::mass_flow, 0.001}, ""},
    {{"kg/s", Quantity::mass_flow, 1.0}, ""},
    {{"kg/h", Quantity::mass_flow, 1.0 / 3600.0}, "kg/hr"},
    {{"lb/min", Quantity::mass_flow, pound / 60.0}, "lbs/min"},
    {{"lb/h", Quantity::mass_flow, pound / 3600.0}, "lb/hr lbs/h lbs/hr"},

    {{"cc/min", Quantity::volume_flow, 1e-6 / 60.0}, "ccm cm3/min ml/min"},
    {{"L/min", Quantity::volume_flow, 0.001 / 60.0}, "lpm dm3/min"},
    {{"L/h", Quantity::volume_flow, 0.001 / 3600.0}, "l/hr lph dm3/h"},
    {{"gal/h", Quantity::volume_flow, gallon_us / 3600.0}, "gal/hr gph"},
    {{"m³/s", Quantity::volume_flow, 1.0}, ""},

    {{"g/kWh", Quantity::specific_consumption, 0.001 / 3.6e6}, ""},
    {{"lb/(hp·h)", Quantity::specific_consumption, pound / (mechanical_horsepower * 3600.0)}, "lb/hphr"},
    {{"kg/J", Quantity::specific_consumption, 1.0}, ""},

    {{"kg", Quantity::mass, 1.0}, ""},
    {{"g", Quantity::mass, 0.001}, "gram"},
    {{"lb", Quantity::mass, pound}, "lbs"},

    {{"m", Quantity::length, 1.0}, ""},
    {{"mm", Quantity::length, 0.001}, ""},
    {{"cm", Quantity::length, 0.01}, ""},
    {{"km", Quantity::length, 1000.0}, ""},
    {{"in", Quantity::length, inch}, "inch \""},
    {{"ft", Quantity::length, foot}, "feet foot"},
    {{"mi", Quantity::length, mile}, "mile miles"},

    {{"m²", Quantity::area, 1.0}, ""},
    {{"cm²", Quantity::area, 1e-4}, ""},
    {{"mm²", Quantity::area, 1e-6}, ""},
    {{"in²", Quantity::area, inch* inch}, "sqin"},
    {{"ft²", Quantity::area, foot* foot}, "sqft"},

    {{"L", Quantity::volume, 0.001}, "litre liter dm3"},
    {{"cc", Quantity::volume, 1e-6}, "cm3 ml ccm3"},
    {{"gal", Quantity::volume, gallon_us}, "usgal"},
    {{"m³", Quantity::volume, 1.0}, ""},

    {{"kg/m³", Quantity::density, 1.0}, "g/l"},
    {{"g/cc", Quantity::density, 1000.0}, "g/cm3 kg/l g/ml"},
    {{"lb/ft³", Quantity::density, pound / (foot * foot * foot)}, "lb/cuft"},

    {{"MJ/kg", Quantity::energy_per_mass, 1e6}, ""},
    {{"kJ/kg", Quantity::energy_per_mass, 1e3}, ""},
    {{"J/kg", Quantity::energy_per_mass, 1.0}, ""},
    {{"BTU/lb", Quantity::energy_per_mass, 2326.0}, ""},

    {{"MJ/L", Quantity::energy_per_volume, 1e9}, ""},
    {{"J/m³", Quantity::energy_per_volume, 1.0}, ""},
    {{"BTU/gal", Quantity::energy_per_volume, btu / gallon_us}, ""},

    {{"g/mol", Quantity::molar_mass, 0.001}, ""},
    {{"kg/mol", Quantity::molar_mass, 1.0}, ""},

    {{"kJ", Quantity::energy, 1000.0}, ""},
    {{"J", Quantity::energy, 1.0}, ""},

    {{"N", Quantity::force, 1.0}, ""},
    {{"kN", Quantity::force, 1000.0}, ""},
    {{"lbf", Quantity::force, pound_force}, ""},

    {{"s", Quantity::time, 1.0}, "sec"},
    {{"ms", Quantity::time, 0.001}, ""},
    {{"min", Quantity::time, 60.0}, ""},
    {{"h", Quantity::time, 3600.0}, "hr"},

    {{"Hz", Quantity::frequency, 1.0}, ""},
    {{"kHz", Quantity::frequency, 1000.0}, ""},

    {{"kg·m²", Quantity::inertia, 1.0}, ""},

    {{"°", Quantity::angle, pi / 180.0}, "degree degrees"},
    {{"rad", Quantity::angle, 1.0}, ""},

    {{"mg/(L·cycle)", Quantity::mass_per_volume_and_cycle, 0.001}, "mg/l mg/lcycle"},
};

// Lower case, without blanks, dots, hyphens, stars and brackets; superscripts as digits, ° as "deg".
std::string normal_form(std::string_view written) {
    std::string text(written);
    if (std::any_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) >= 0x80; })) {
        ::boost::algorithm::replace_all(text, "¹", "1");
        ::boost::algorithm::replace_all(text, "²", "2");
        ::boost::algorithm::replace_all(text, "³", "3");
        ::boost::algorithm::replace_all(text, "°", "deg");
        ::boost::algorithm::replace_all(text, "º", "deg");
        for (const auto drop : {"·", "⋅", "•", "\u00a0", "\u202f", "−", "–", "⁻"})
            ::boost::algorithm::erase_all(text, drop);
    }
    std::string result;
    for (const char c : text) {
        if (c == ' ' || c == '\t' || c == '*' || c == '.' || c == '(' || c == ')' || c == '-' || c == '^' ||
            c == '_')
            continue;
        result += (c >= 'A' && c <= 'Z') ? static_cast<char>(c - 'A' + 'a') : c;
    }
    if (result == "min1") result = "min-1";
    return result;
}

class UnitIndex {
  public:
    UnitIndex() {
        for (const Row& row : rows) {
            add(row.unit.symbol, row.unit);
            std::string_view rest = row.spellings;
            while (!rest.empty()) {
                const auto blank = rest.find(' ');
                add(rest.substr(0, blank), row.unit);
                rest = blank == std::string_view::npos ? std::string_view{} : rest.substr(blank + 1);
            }
            if (row.unit.quantity == Quantity::temperature && row.unit.symbol != "K")
                add(std::string("deg").append(row.unit.symbol.substr(row.unit.symbol.size() - 1)), row.unit);
            if (row.unit.quantity == Quantity::pressure) {
                add_pressure(row.unit, PressureKind::absolute, {"a", "abs", "absolute"});
                add_pressure(row.unit, PressureKind::gauge, {"g", "gauge"});
                add_pressure(row.unit, PressureKind::difference, {"d", "diff", "difference"});
            }
        }
        // A unit in its printed spelling needs no normalisation.
        for (const auto& [name, unit] : by_name_)
            by_symbol_.emplace(unit.symbol, &by_name_.at(normal_form(unit.symbol)));
    }

    const Unit* find(std::string_view text) const {
        if (const auto printed = by_symbol_.find(text); printed != by_symbol_.end()) return printed->second;
        const auto found = by_name_.find(normal_form(text));
        return found == by_name_.end() ? nullptr : &found->second;
    }

  private:
    void add(std::string_view name, const Unit& unit) { by_name_.emplace(normal_form(name), unit); }

    void add_pressure(const Unit& plain, PressureKind kind,
                      std::initializer_list<std::string_view> suffixes) {
        Unit unit = plain;
        unit.pressure_kind = kind;
        // The printed symbol stays in the table below, which outlives every unit.
        for (const Symbols& symbols : pressure_symbols)
            if (symbols.plain == plain.symbol)
                unit.symbol = kind == PressureKind::absolute ? symbols.absolute
                              : kind == PressureKind::gauge  ? symbols.gauge
                                                             : symbols.difference;
        for (const auto suffix : suffixes) add(std::string(plain.symbol) + std::string(suffix), unit);
    }

    struct Symbols {
        std::string_view plain, absolute, gauge, difference;
    };
    static constexpr std::array<Symbols, 9> pressure_symbols{{{"kPa", "kPaa", "kPag", "kPad"},
                                                              {"bar", "bara", "barg", "bard"},
                                                              {"psi", "psia", "psig", "psid"},
                                                              {"hPa", "hPaa", "hPag", "hPad"},
                                                              {"mbar", "mbara", "mbarg", "mbard"},
                                                              {"Pa", "Paa", "Pag", "Pad"},
                                                              {"inHg", "inHga", "inHgg", "inHgd"},
                                                              {"mmHg", "mmHga", "mmHgg", "mmHgd"},
                                                              {"atm", "atma", "atmg", "atmd"}}};

    std::unordered_map<std::string, Unit> by_name_;
    std::unordered_map<std::string_view, const Unit*> by_symbol_;
};

}  // namespace

Quantity unit_quantity(Quantity quantity) {
    switch (quantity) {
        case Quantity::temperature_change: return Quantity::temperature;
        case Quantity::pressure_difference: return Quantity::pressure;
        default: return quantity;
    }
}

const Unit* find_unit(std::string_view text) {
    static const UnitIndex index;
    return index.find(text);
}

std::vector<std::string_view> unit_symbols(Quantity quantity) {
    std::vector<std::string_view> symbols;
    const Quantity wanted = unit_quantity(quantity);
    for (const Row& row : rows)
        if (row.unit.quantity == wanted) symbols.push_back(row.unit.symbol);
    return symbols;
}

std::string_view quantity_name(Quantity quantity) {
    switch (quantity) {
        case Quantity::number: return "number";
        case Quantity::share: return "share";
        case Quantity::ratio: return "ratio";
        case Quantity::count: return "count";
        case Quantity::torque: return "torque";
        case Quantity::power: return "power";
        case Quantity::angular_speed: return "engine speed";
        case Quantity::speed: return "speed";
        case Quantity::acceleration: return "acceleration";
        case Quantity::temperature: return "temperature";
        case Quantity::temperature_change: return "temperature difference";
        case Quantity::pressure: return "pressure";
        case Quantity::pressure_difference: return "pressure difference";
        case Quantity::mass_flow: return "mass flow";
        case Quantity::volume_flow: return "volume flow";
        case Quantity::specific_consumption: return "specific consumption";
        case Quantity::mass: return "mass";
        case Quantity::length: return "length";
        case Quantity::area: return "area";
        case Quantity::volume: return "volume";
        case Quantity::density: return "density";
        case Quantity::energy_per_mass: return "energy per mass";
        case Quantity::energy_per_volume: return "energy per volume";
        case Quantity::molar_mass: return "molar mass";
        case Quantity::energy: return "energy";
        case Quantity::force: return "force";
        case Quantity::time: return "time";
        case Quantity::frequency: return "frequency";
        case Quantity::inertia: return "moment of inertia";
        case Quantity::angle: return "angle";
        case Quantity::mass_per_volume_and_cycle: return "fuel per litre and cycle";
    }
    return "number";
}

}  // namespace pullsheet::catalogue
