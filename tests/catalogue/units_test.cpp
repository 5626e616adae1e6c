// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/units.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/constants.hpp"

namespace pullsheet::catalogue {
namespace {

double si(double value, const char* unit) {
    const Unit* found = find_unit(unit);
    EXPECT_NE(found, nullptr) << unit;
    return found ? found->to_si(value, found->quantity) : std::nan("");
}

void expect_exact(double value, const char* unit, double expected) {
    EXPECT_NEAR(si(value, unit), expected, 1e-12 * std::abs(expected)) << value << " " << unit;
}

// International yard and pound agreement (1959): yard = 0.9144 m, pound = 0.45359237 kg.
TEST(YardAndPound1959Identities, ExactDefinitions) {
    expect_exact(1, "lb", 0.45359237);
    expect_exact(1, "ft", 0.3048);
    expect_exact(1, "in", 0.0254);
    expect_exact(1, "mi", 1609.344);
    expect_exact(0.25, "mi", 402.336);
    expect_exact(1, "mph", 0.44704);
    expect_exact(60, "mph", 26.8224);
    expect_exact(1, "lb/min", 0.45359237 / 60);
    expect_exact(1, "lb/h", 0.45359237 / 3600);
    expect_exact(1, "lb/ft³", 0.45359237 / (0.3048 * 0.3048 * 0.3048));
}

// 3rd General Conference on Weights and Measures (1901): standard gravity 9.80665 m/s².
TEST(Cgpm1901Identities, StandardGravity) {
    expect_exact(1, "g0", 9.80665);
    expect_exact(1, "kgf·m", 9.80665);
    expect_exact(1, "lbf", 4.4482216152605);
}

// NIST Special Publication 811 (2008), appendix B; the digits computed from the exact definitions there.
TEST(NistSp811Identities, AppendixB) {
    expect_exact(1, "PS", 735.49875);
    expect_exact(1, "hp", 745.69987158227022);
    expect_exact(1, "lb-ft", 1.3558179483314004);
    expect_exact(1, "psi", 6894.757293168361);
    expect_exact(1, "bar", 1e5);
    expect_exact(1, "atm", 101325);
    expect_exact(1, "mmHg", 133.322387415);
    expect_exact(1, "inHg", 3386.388640341);
    expect_exact(1, "gal", 3.785411784e-3);
    expect_exact(1, "BTU/lb", 2326);
    expect_exact(1, "lb/(hp·h)", 0.45359237 / (745.69987158227022 * 3600));
    expect_exact(1, "gal/h", 3.785411784e-3 / 3600);
    expect_exact(1, "BTU/gal", 1055.05585262 / 3.785411784e-3);
}

// SI Brochure (9th edition, 2019), tables 8 and 9.
TEST(SiBrochure2019Identities, UnitsBesideTheSi) {
    expect_exact(1, "min", 60);
    expect_exact(1, "h", 3600);
    expect_exact(180, "°", pi);
    expect_exact(1, "L", 1e-3);
    expect_exact(1, "kW", 1000);
    expect_exact(36, "km/h", 10);
    expect_exact(60, "rpm", 2 * pi);
    expect_exact(1000, "cc/min", 1e-3 / 60);
    expect_exact(1, "g/kWh", 1e-3 / 3.6e6);
    expect_exact(1, "MJ/L", 1e9);
    expect_exact(85, "%", 0.85);
}

TEST(SiBrochure2019Identities, CelsiusAndFahrenheit) {
    expect_exact(0, "°C", 273.15);
    EXPECT_NEAR(si(77, "°F"), 298.15, 1e-12 * 298.15);
    EXPECT_NEAR(si(-40, "°F"), si(-40, "°C"), 1e-12 * 233.15);
    EXPECT_NEAR(si(60, "°F"), 288.7055555555556, 1e-12 * 288.7);
    // A difference has no zero to be shifted.
    EXPECT_NEAR(find_unit("°F")->to_si(9, Quantity::temperature_change), 5.0, 1e-12);
    EXPECT_NEAR(find_unit("°C")->to_si(5, Quantity::temperature_change), 5.0, 1e-12);
}

TEST(UnitSpellings, AreTheSameUnit) {
    const std::pair<const char*, std::vector<const char*>> spellings[] = {
        {"N·m", {"Nm", "N m", "N-m", "nm", "N*m", "N⋅m"}},
        {"lb-ft", {"lbft", "lb ft", "lb·ft", "ft-lb", "ft lb", "LB-FT", "ft·lbf"}},
        {"kgf·m", {"kgm", "kgfm", "mkg", "kgf m"}},
        {"kW", {"KW", "kw", "Kw"}},
        {"PS", {"ps", "cv", "ch"}},
        {"hp", {"HP", "Hp", "bhp"}},
        {"rpm", {"RPM", "1/min", "min-1", "min⁻¹", "rev/min", "U/min", "r/min"}},
        {"km/h", {"kmh", "kph", "KM/H"}},
        {"mph", {"MPH", "mi/h"}},
        {"m/s²", {"m/s2", "m/s^2"}},
        {"°C", {"C", "deg C", "degC", "celsius", "° C", "ºC"}},
        {"°F", {"F", "deg F", "degF"}},
        {"K", {"kelvin"}},
        {"psi", {"PSI", "Psi"}},
        {"kPa", {"kpa", "KPA"}},
        {"mbar", {"MBAR"}},
        {"bara", {"bar a", "bar(a)", "bar abs", "bar absolute", "BARA"}},
        {"barg", {"bar g", "bar(g)", "bar gauge", "bar-g"}},
        {"bard", {"bar d", "bar(d)", "bar diff", "bar-d"}},
        {"psig", {"psi g", "PSIG"}},
        {"inHg", {"in Hg", "inhg", "in.Hg"}},
        {"kg/h", {"kg/hr"}},
        {"lb/min", {"lbs/min"}},
        {"cc/min", {"ccm", "cm³/min", "cm3/min", "ml/min", "mL/min"}},
        {"L/h", {"l/h", "lph", "l/hr"}},
        {"kg/m³", {"kg/m3", "kg/m^3", "g/L"}},
        {"g/cc", {"g/cm³", "g/cm3", "kg/L"}},
        {"cc", {"cm³", "cm3", "ml", "ccm³"}},
        {"MJ/kg", {"mj/kg"}},
        {"BTU/lb", {"Btu/lb", "btu/lb"}},
        {"lb/(hp·h)", {"lb/hp·h", "lb/hph", "lb/hp-hr", "lb/hp h"}},
        {"kg·m²", {"kgm2", "kg m2", "kg m²"}},
        {"°", {"deg", "degrees"}},
        {"%", {"percent"}},
        {"s", {"sec", "S"}},
        {"in", {"inch", "\""}},
        {"L", {"l", "litre", "liter"}},
    };
    for (const auto& [symbol, others] : spellings) {
        const Unit* unit = find_unit(symbol);
        ASSERT_NE(unit, nullptr) << symbol;
        EXPECT_EQ(unit->symbol, symbol);
        for (const char* other : others) {
            const Unit* found = find_unit(other);
            ASSERT_NE(found, nullptr) << other;
            EXPECT_EQ(found->symbol, unit->symbol) << other;
        }
    }
}

TEST(UnitTraps, HorsepowersAreNotTheSame) {
    EXPECT_NE(find_unit("PS")->factor, find_unit("hp")->factor);
    EXPECT_NEAR(si(1, "hp") / si(1, "PS"), 1.01386966542, 5e-12);
}

TEST(UnitTraps, PressuresSayWhereTheyCountFrom) {
    EXPECT_EQ(find_unit("bar")->pressure_kind, PressureKind::unsaid);
    EXPECT_EQ(find_unit("bara")->pressure_kind, PressureKind::absolute);
    EXPECT_EQ(find_unit("barg")->pressure_kind, PressureKind::gauge);
    EXPECT_EQ(find_unit("psia")->pressure_kind, PressureKind::absolute);
    EXPECT_EQ(find_unit("kPag")->pressure_kind, PressureKind::gauge);
    EXPECT_EQ(find_unit("bara")->factor, 1e5);
}

TEST(UnitTraps, UnknownOnesAreNotGuessed) {
    for (const char* text : {"", " ", "foo", "barr", "kgg", "horsepower?", "1", "-", "%%", "\xff"})
        EXPECT_EQ(find_unit(text), nullptr) << text;
}

TEST(UnitTable, SymbolsAreFoundAndEveryQuantityHasItsSiUnit) {
    for (int q = 0; q <= static_cast<int>(Quantity::mass_per_volume_and_cycle); ++q) {
        const auto quantity = static_cast<Quantity>(q);
        EXPECT_FALSE(quantity_name(quantity).empty());
        const auto symbols = unit_symbols(quantity);
        for (const auto symbol : symbols) {
            const Unit* unit = find_unit(symbol);
            ASSERT_NE(unit, nullptr) << symbol;
            EXPECT_EQ(unit->symbol, symbol) << "two units answer to one spelling";
            EXPECT_EQ(unit->quantity, unit_quantity(quantity)) << symbol;
            EXPECT_NEAR(unit->from_si(unit->to_si(12.5, quantity), quantity), 12.5, 1e-11) << symbol;
        }
    }
}

}  // namespace
}  // namespace pullsheet::catalogue
