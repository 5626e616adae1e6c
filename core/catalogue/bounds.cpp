// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/bounds.hpp"

#include <algorithm>
#include <cmath>

#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {
namespace {

const Unit* unit_of(const Figure& figure) {
    return figure.unit.empty() ? nullptr : find_unit(figure.unit);
}

bool holds(Interval interval, double value) {
    constexpr double rounding = 1e-9;
    if (interval.contains(value)) return true;
    const auto is_at = [&](double limit) {
        return std::isfinite(limit) && std::abs(value - limit) <= rounding * std::max(1.0, std::abs(limit));
    };
    return (!interval.low_open && is_at(interval.low)) || (!interval.high_open && is_at(interval.high));
}

double in_own_unit(const Figure& figure, double si) {
    const Unit* unit = unit_of(figure);
    return unit ? unit->from_si(si, figure.quantity) : si;
}

std::string allowed(Interval interval, const Figure& figure, Language language) {
    // A computed share is shown as a number; "85 % or 0.85" is a hint for inputs.
    const Quantity quantity = figure.quantity == Quantity::share ? Quantity::ratio : figure.quantity;
    return allowed_text(interval, quantity, unit_of(figure), language);
}

}  // namespace

Interval in_unit(Interval interval, const Figure& figure, Quantity quantity, std::string_view unit) {
    if (unit == figure.unit) return interval;
    const Unit* own = unit_of(figure);
    const Unit* wanted = unit.empty() ? nullptr : find_unit(unit);
    const auto convert = [&](double value) {
        if (!std::isfinite(value)) return value;
        const double si = own ? own->to_si(value, figure.quantity) : value;
        const double converted = wanted ? wanted->from_si(si, quantity) : si;
        // Limits are rounded to nine decimals, more than the accuracy of any of them, which removes the
        // rounding error of the conversion.
        return std::round(converted * 1e9) / 1e9;
    };
    return {convert(interval.low), convert(interval.high), interval.low_open, interval.high_open};
}

Interval intersection(Interval a, Interval b) {
    Interval both = a;
    if (b.low > a.low || (b.low == a.low && b.low_open)) {
        both.low = b.low;
        both.low_open = b.low_open;
    }
    if (b.high < a.high || (b.high == a.high && b.high_open)) {
        both.high = b.high;
        both.high_open = b.high_open;
    }
    return both;
}

bool is_possible(const Figure& figure, double si) {
    return holds(figure.possible, in_own_unit(figure, si));
}

bool is_usual(const Figure& figure, double si) {
    return holds(figure.usual, in_own_unit(figure, si));
}

std::string in_words(const Figure& figure, double si, Language language) {
    return number_text(in_own_unit(figure, si), unit_of(figure), language);
}

std::string possible_in_words(const Figure& figure, Language language) {
    return allowed(figure.possible, figure, language);
}

std::string usual_in_words(const Figure& figure, Language language) {
    return allowed(figure.usual, figure, language);
}

}  // namespace pullsheet::catalogue
