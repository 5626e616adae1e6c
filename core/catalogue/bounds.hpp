// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "core/catalogue/figures.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/units.hpp"

/// Comparison of numbers with the possible and the usual range of their figures. Every check for impossible
/// or unusual results is made here.
namespace pullsheet::catalogue {

/// The interval of a figure given in `unit` ("": no unit) for a number of `quantity`.
Interval in_unit(Interval interval, const Figure& figure, Quantity quantity, std::string_view unit);

/// The intersection of two intervals.
Interval intersection(Interval a, Interval b);

/// True if `si` is possible; a number at a limit is inside despite the rounding of a conversion.
bool is_possible(const Figure& figure, double si);
/// True if `si` is usual in practice.
bool is_usual(const Figure& figure, double si);

/// "1840 °C", in the unit of the figure.
std::string in_words(const Figure& figure, double si, Language language);
/// "-100 to 1000 °C"
std::string possible_in_words(const Figure& figure, Language language);
std::string usual_in_words(const Figure& figure, Language language);

}  // namespace pullsheet::catalogue
