// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/catalogue/function.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/warnings.hpp"

namespace pullsheet::catalogue {

/// An argument (or a result unit) that was refused, with the sentence that says why.
struct Refused {
    FailureKind kind;
    std::string sentence;
};

/// The requirements on a number, for reading one cell. Everything is in `unit`, or plain where `unit` is
/// nullptr.
struct Wanted {
    std::string_view name;
    Quantity quantity;
    const Unit* unit;
    Interval range;
    const Interval* established = nullptr;
    Over over = Over::surroundings;  ///< of a pressure difference
    /// Of a volume flow: the density with which a mass flow is read as one, kg/m³; 0: it is refused.
    double test_density = 0.0;
    bool says_test_density = true;  ///< with a warning
    const Interval* usual = nullptr;
};

/// The requirements on the argument of a parameter; `name` is its name in sentences.
Wanted wanted(const Parameter& parameter, std::string_view name);

/// A number in the default unit of a parameter, SI.
double si_of(const Parameter& parameter, double number);

/// The fast path: the SI value of a finite number within all ranges; nothing for any other content, which
/// read_number reads or refuses with a sentence. `Content` is a Value or a Cell.
template <class Content>
std::optional<double> plain_number(const Parameter& parameter, const Content& content,
                                   const Warnings& warnings) {
    const auto* number = std::get_if<double>(&content);
    if (!number || !parameter.range.contains(*number) || !std::isfinite(*number)) return std::nullopt;
    if (warnings.wanted())
        for (const auto* interval : {&parameter.established_range, &parameter.usual_range})
            if (*interval && !(*interval)->contains(*number)) return std::nullopt;
    return si_of(parameter, *number);
}

/// Reads a number or a text with a unit into SI. Adds a warning outside the established range.
double read_number(const Cell& content, const Wanted& wanted, Language language, Warnings& warnings);

/// Splits "22 psi" into the number and the unit that follows it; fractions of inches and miles are numbers
/// too ("1/4 mi", "2 1/2 in", "¼ mi"). False if it does not begin with a number.
/// `tidy` is false if the number was written with more than one decimal mark.
struct NumberText {
    double number = 0.0;
    std::string_view unit;
    bool tidy = true;
};
bool split_number(std::string_view text, NumberText& result);

/// A heading and its unit in brackets: "power [kW]".
struct HeadingText {
    std::string_view name;
    std::string_view unit;  ///< empty without one
};
HeadingText split_heading(std::string_view heading);

/// What is allowed, in words: "−100 to 100 °C".
std::string allowed_text(Interval range, Quantity quantity, const Unit* unit, Language language);

/// The unit written as `text` for a result of `quantity`; one of a mass flow for a volume flow only where
/// `takes_mass_flow`. Throws Refused if it does not fit.
const Unit* read_result_unit(const Cell& content, Quantity quantity, Language language,
                             bool takes_mass_flow = false);

/// The symbols of the units that a number or a result of `quantity` may carry.
std::vector<std::string_view> units_taken(Quantity quantity, bool takes_mass_flow);

/// The content of a cell as text: its text, or its number in short notation; empty for anything else.
std::string cell_text(const Cell& cell, Language language = Language::english);

/// "°C, °F, K"; with semicolons where a word holds a comma
std::string joined(const std::vector<std::string_view>& words);

}  // namespace pullsheet::catalogue
