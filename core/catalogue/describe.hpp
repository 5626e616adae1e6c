// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/block.hpp"
#include "core/catalogue/checks.hpp"
#include "core/catalogue/function.hpp"
#include "core/catalogue/sentences.hpp"

/// The description of an entry, the same for the function wizard of Calc, the command line, the function
/// guide, the reference and the manual page.
namespace pullsheet::catalogue {

/// The conditions of a parameter or of a label of a block beyond name, meaning and unit. A text is empty
/// where there is none.
struct Conditions {
    std::string takes;  ///< what it takes, if not one plain value: "a table with a header row"
    std::vector<std::string_view> choices;  ///< the texts or units of which it is one
    std::string allowed;                    ///< "-50 to 60 °C"; outside: an error
    std::string established;                ///< likewise; outside: a warning
    std::string usual;                      ///< likewise
    std::string omitted;                    ///< what stands for it when it is left out
    bool required = true;
};

Conditions conditions(const Function& function, const Parameter& parameter,
                      Language language = Language::english);
Conditions conditions(const Label& label, Language language = Language::english);

/// The conditions as one line: "allowed: -50 to 60 °C; omitted: 15 °C". Whether it may be omitted is left out
/// where `is_said` elsewhere.
std::string in_one_line(const Conditions& conditions, Language language = Language::english,
                        bool is_said = false);

/// "possible: -100 to 1000 °C; in practice: -40 to 260 °C"; empty for a figure without bounds.
std::string bounds_in_words(const Figure* figure, Language language = Language::english);

/// " [kPa]", or nothing where there is no unit.
std::string in_brackets(std::string_view unit);

/// "AIR.DENSITY(temperature [°C]; pressure [kPa]; humidity = 0; unit)"
std::string signature(const Function& function, Language language = Language::english);

/// The blocks that a function takes, each once.
std::vector<const BlockSchema*> blocks_of(const Function& function);

/// The unit of the result of a call with these arguments; empty for plain numbers.
std::string_view result_unit(const Function& function, const std::vector<Value>& arguments);

/// The deviation of a function from the values of one source.
struct Seen {
    std::string_view source;
    std::string_view note;  ///< as in Check
    Evidence evidence;
    std::size_t values = 0;  ///< how many values of that source are computed
    double deviation = 0.0;  ///< the largest, relative; absolute for zeros
    bool agrees = true;      ///< within the tolerance of every one of them
};

/// Runs every check of the function; one entry per source, in the order of the checks.
std::vector<Seen> seen(const Function& function);

/// "2 printed values met within 0.003 %: ISO 2533:1975, Standard Atmosphere"
std::string in_one_line(const Seen& seen, Language language = Language::english);

}  // namespace pullsheet::catalogue
