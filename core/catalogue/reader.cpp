// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/reader.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

namespace pullsheet::catalogue {
namespace {

std::string_view trimmed(std::string_view text) {
    const auto is_space = [](std::string_view t, bool front) -> std::size_t {
        for (const std::string_view space : {" ", "\t", "\r", "\n", "\u00a0", "\u202f", "\u2009"}) {
            if (front ? t.starts_with(space) : t.ends_with(space)) return space.size();
        }
        return 0;
    };
    while (const auto n = is_space(text, true)) text.remove_prefix(n);
    while (const auto n = is_space(text, false)) text.remove_suffix(n);
    return text;
}

struct Fraction {
    std::string_view written;
    double value;
};
constexpr Fraction fractions[] = {{"¼", 0.25},  {"½", 0.5},   {"¾", 0.75}, {"⅛", 0.125},
                                  {"⅜", 0.375}, {"⅝", 0.625}, {"⅞", 0.875}};

std::size_t digits_at(std::string_view text) {
    std::size_t n = 0;
    while (n < text.size() && text[n] >= '0' && text[n] <= '9') ++n;
    return n;
}

// "1/4 mi" or "¼ mi" at the beginning of the text: its value, and how long it is; nothing where it is none.
// Neither a date ("1/4/26") nor a unit ("1/min") is a fraction.
std::optional<std::pair<double, std::size_t>> fraction_at(std::string_view text) {
    for (const Fraction& fraction : fractions)
        if (text.starts_with(fraction.written)) return std::pair{fraction.value, fraction.written.size()};
    const std::size_t above = digits_at(text);
    if (above == 0 || above > 4 || above == text.size() || text[above] != '/') return std::nullopt;
    const std::string_view rest = text.substr(above + 1);
    const std::size_t below = digits_at(rest);
    if (below == 0 || below > 4) return std::nullopt;
    if (below < rest.size() && (rest[below] == '/' || rest[below] == '.' || rest[below] == ','))
        return std::nullopt;
    double numerator = 0.0;
    double denominator = 0.0;
    std::from_chars(text.data(), text.data() + above, numerator);
    std::from_chars(rest.data(), rest.data() + below, denominator);
    if (denominator == 0.0) return std::nullopt;
    return std::pair{numerator / denominator, above + 1 + below};
}

}  // namespace

std::string cell_text(const Cell& cell, Language language) {
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    if (const auto* number = std::get_if<double>(&cell)) return number_text(*number, language);
    return {};
}

std::string joined(const std::vector<std::string_view>& words) {
    std::string result;
    for (const auto word : words) {
        if (!result.empty()) result += ", ";
        result += word;
    }
    return result;
}

bool split_number(std::string_view text, NumberText& result) {
    text = trimmed(text);
    std::string digits;
    std::size_t used = 0;
    if (text.starts_with("−")) {
        digits += '-';
        used = std::string_view("−").size();
    } else if (text.starts_with("+")) {
        used = 1;
    }
    const bool is_negative = !digits.empty() || text.starts_with("-");
    if (const auto fraction = fraction_at(text.substr(used + (text.starts_with("-") ? 1 : 0)))) {
        used += (text.starts_with("-") ? 1 : 0) + fraction->second;
        result.number = is_negative ? -fraction->first : fraction->first;
        result.tidy = true;
        result.unit = trimmed(text.substr(used));
        return true;
    }
    int marks = 0;
    bool exponent = false;
    bool any_digit = false;
    for (; used < text.size(); ++used) {
        const char c = text[used];
        if (c >= '0' && c <= '9') {
            digits += c;
            any_digit = true;
        } else if ((c == '.' || c == ',') && !exponent && used + 1 < text.size() && text[used + 1] >= '0' &&
                   text[used + 1] <= '9') {
            digits += '.';
            ++marks;
        } else if (c == '-' && digits.empty()) {
            digits += c;
        } else if ((c == 'e' || c == 'E') && any_digit && !exponent && used + 1 < text.size() &&
                   ((text[used + 1] >= '0' && text[used + 1] <= '9') ||
                    ((text[used + 1] == '-' || text[used + 1] == '+') && used + 2 < text.size() &&
                     text[used + 2] >= '0' && text[used + 2] <= '9'))) {
            digits += 'e';
            exponent = true;
            if (text[used + 1] == '-') digits += '-';
            if (text[used + 1] == '-' || text[used + 1] == '+') ++used;
        } else {
            break;
        }
    }
    if (!any_digit) return false;
    result.tidy = marks <= 1;
    if (result.tidy) {
        const auto [end, error] =
            std::from_chars(digits.data(), digits.data() + digits.size(), result.number);
        if (error == std::errc::result_out_of_range)
            result.number = std::numeric_limits<double>::infinity();
        else if (error != std::errc{} || end != digits.data() + digits.size())
            return false;
    }
    result.unit = trimmed(text.substr(used));
    // Inches are written so: 2 1/2 in.
    if (marks == 0 && !exponent)
        if (const auto fraction = fraction_at(result.unit); fraction && fraction->first < 1.0) {
            result.number += is_negative ? -fraction->first : fraction->first;
            result.unit = trimmed(result.unit.substr(fraction->second));
        }
    return true;
}

std::vector<std::string_view> units_taken(Quantity quantity, bool takes_mass_flow) {
    auto symbols = unit_symbols(quantity);
    if (takes_mass_flow) {
        const auto by_mass = unit_symbols(Quantity::mass_flow);
        symbols.insert(symbols.end(), by_mass.begin(), by_mass.end());
    }
    return symbols;
}

std::string allowed_text(Interval range, Quantity quantity, const Unit* unit, Language language) {
    std::string symbol;
    if (unit) symbol.append(1, ' ').append(unit->symbol);
    const bool low = std::isfinite(range.low);
    const bool high = std::isfinite(range.high);
    const std::string low_text = number_text(range.low, language);
    const std::string high_text = number_text(range.high, language);
    if (quantity == Quantity::share && low && high)
        return say(language, Phrase::allowed_share, {{"low", low_text}, {"high", high_text}});
    if (low && high)
        return say(language, Phrase::allowed_between,
                   {{"low", low_text}, {"high", high_text}, {"unit", symbol}});
    if (low)
        return say(language, range.low_open ? Phrase::allowed_above : Phrase::allowed_from,
                   {{"low", low_text}, {"unit", symbol}});
    if (high)
        return say(language, range.high_open ? Phrase::allowed_below : Phrase::allowed_up_to,
                   {{"high", high_text}, {"unit", symbol}});
    return say(language, Phrase::allowed_any) + symbol;
}

double read_number(const Cell& content, const Wanted& wanted, Language language, Warnings& warnings) {
    const auto refuse = [&](Phrase phrase, Fill fill) -> Refused {
        return {FailureKind::wrong_argument, say(language, phrase, fill)};
    };
    // A long column of empty cells fails a million times: what nobody reads is not put together.
    const bool is_unread = !warnings.wanted();
    const std::string_view name = wanted.name;
    const auto allowed = [&] { return allowed_text(wanted.range, wanted.quantity, wanted.unit, language); };
    const auto allowed_phrase = [&] { return say(language, Phrase::wanted, {{"allowed", allowed()}}); };
    if (const auto* failure = std::get_if<Failure>(&content))
        throw Refused{failure->kind, say(language, Phrase::error_in_argument,
                                         {{"parameter", std::string(name)}, {"value", failure->sentence}})};

    double value = 0.0;  // in wanted.unit, or SI-like plain number
    const Unit* unit = wanted.unit;
    std::string written;
    if (const auto* number = std::get_if<double>(&content)) {
        value = *number;
    } else if (const auto* text = std::get_if<std::string>(&content)) {
        if (is_blank(content)) {
            if (is_unread) throw Refused{FailureKind::wrong_argument, {}};
            throw refuse(Phrase::empty, {{"parameter", std::string(name)}, {"wanted", allowed_phrase()}});
        }
        written = std::string(trimmed(*text));
        NumberText parsed;
        if (!split_number(written, parsed)) {
            if (is_unread) throw Refused{FailureKind::wrong_argument, {}};
            if (wanted.quantity == Quantity::share && written.size() > 1 &&
                (written[0] == 'E' || written[0] == 'e') && written[1] >= '0' && written[1] <= '9')
                throw refuse(Phrase::fuel_name, {{"parameter", std::string(name)}, {"value", written}});
            throw refuse(
                Phrase::not_a_number,
                {{"parameter", std::string(name)}, {"value", written}, {"wanted", allowed_phrase()}});
        }
        if (!parsed.tidy)
            throw refuse(Phrase::bad_number, {{"parameter", std::string(name)}, {"value", written}});
        value = parsed.number;
        if (!parsed.unit.empty()) {
            unit = find_unit(parsed.unit);
            if (unit && unit->quantity == Quantity::mass_flow && wanted.test_density > 0.0) {
                value = wanted.unit->from_si(unit->to_si(value, Quantity::mass_flow) / wanted.test_density,
                                             wanted.quantity);
                unit = wanted.unit;
                if (warnings.wanted() && wanted.says_test_density)
                    warnings.add(say(language, Phrase::flow_by_mass,
                                     {{"parameter", std::string(name)},
                                      {"value", written},
                                      {"flow", number_text(value, wanted.unit, language)},
                                      {"density", number_text(wanted.test_density, language)}}));
            } else if (!unit || unit->quantity != unit_quantity(wanted.quantity)) {
                const auto symbols = units_taken(wanted.quantity, wanted.test_density > 0.0);
                if (symbols.empty())
                    throw refuse(Phrase::unit_not_wanted,
                                 {{"parameter", std::string(name)}, {"value", written}});
                if (!unit)
                    throw refuse(Phrase::unknown_unit, {{"parameter", std::string(name)},
                                                        {"value", written},
                                                        {"unit", std::string(parsed.unit)},
                                                        {"units", joined(symbols)}});
                throw refuse(Phrase::wrong_quantity,
                             {{"parameter", std::string(name)},
                              {"value", written},
                              {"unit", std::string(unit->symbol)},
                              {"quantity", std::string(translated(language, quantity_name(unit->quantity)))},
                              {"wanted", std::string(translated(language, quantity_name(wanted.quantity)))},
                              {"units", joined(symbols)}});
            }
            const Fill pressure = {
                {"parameter", std::string(name)}, {"value", written}, {"unit", std::string(unit->symbol)}};
            if (wanted.quantity == Quantity::pressure && unit->pressure_kind == PressureKind::difference)
                throw refuse(Phrase::difference_for_absolute, pressure);
            if (wanted.quantity == Quantity::pressure_difference &&
                unit->pressure_kind == PressureKind::gauge) {
                if (wanted.over == Over::point) throw refuse(Phrase::gauge_for_difference, pressure);
                if (wanted.over == Over::manifold && warnings.wanted())
                    warnings.add(say(language, Phrase::gauge_over_manifold, pressure));
            }
            if (wanted.quantity == Quantity::pressure && unit->pressure_kind == PressureKind::gauge)
                throw refuse(Phrase::gauge_for_absolute, pressure);
            if (wanted.quantity == Quantity::pressure_difference &&
                unit->pressure_kind == PressureKind::absolute)
                throw refuse(wanted.over == Over::surroundings ? Phrase::absolute_for_gauge
                                                               : Phrase::absolute_for_difference,
                             pressure);
            if (wanted.quantity == Quantity::share) {
                value *= unit->factor;
                unit = nullptr;
            }
        }
    } else {
        throw refuse(Phrase::missing, {{"parameter", std::string(name)}, {"wanted", allowed_phrase()}});
    }

    if (!std::isfinite(value))
        throw refuse(Phrase::not_finite_argument,
                     {{"parameter", std::string(name)}, {"wanted", allowed_phrase()}});

    // Compare in the default unit: that is where the range is written.
    double in_default = value;
    double si = value;
    if (unit) {
        si = unit->to_si(value, wanted.quantity);
        if (unit != wanted.unit) {
            in_default = wanted.unit->from_si(si, wanted.quantity);
            // A limit written in another unit is the same limit: forgive the rounding of the conversion.
            for (const double limit : {wanted.range.low, wanted.range.high})
                if (std::isfinite(limit) &&
                    std::abs(in_default - limit) <= 1e-12 * std::max(1.0, std::abs(limit))) {
                    in_default = limit;
                    si = wanted.unit->to_si(limit, wanted.quantity);
                }
        }
    }
    if (!wanted.range.contains(in_default)) {
        if (is_unread) throw Refused{FailureKind::wrong_argument, {}};
        const std::string said = written.empty() ? number_text(value, wanted.unit, language) : written;
        if (value == 0.0 && written.empty())
            throw refuse(Phrase::zero_or_empty, {{"parameter", std::string(name)}, {"allowed", allowed()}});
        if (wanted.quantity == Quantity::share && value > 1.0 && value <= 100.0 &&
            written.find('%') == std::string::npos)
            throw refuse(Phrase::percent_meant,
                         {{"parameter", std::string(name)}, {"value", number_text(value, language)}});
        throw refuse(Phrase::outside,
                     {{"parameter", std::string(name)}, {"value", said}, {"allowed", allowed()}});
    }
    const auto warn_outside = [&](const Interval* interval, Phrase phrase) {
        if (!interval || interval->contains(in_default)) return false;
        const std::string said = written.empty() ? number_text(value, wanted.unit, language) : written;
        warnings.add(say(language, phrase,
                         {{"parameter", std::string(name)},
                          {"value", said},
                          {"allowed", allowed_text(*interval, wanted.quantity, wanted.unit, language)}}));
        return true;
    };
    if (warnings.wanted() && !warn_outside(wanted.established, Phrase::established))
        warn_outside(wanted.usual, Phrase::unusual);
    return si;
}

const Unit* read_result_unit(const Cell& content, Quantity quantity, Language language,
                             bool takes_mass_flow) {
    const auto* text = std::get_if<std::string>(&content);
    const Unit* unit = text ? find_unit(*text) : nullptr;
    if (takes_mass_flow && unit && unit->quantity == Quantity::mass_flow) return unit;
    if (!unit)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::result_unit_unknown,
                          {{"unit", cell_text(content, language)},
                           {"units", joined(units_taken(quantity, takes_mass_flow))}})};
    const bool wrong_kind =
        (quantity == Quantity::pressure &&
         (unit->pressure_kind == PressureKind::gauge || unit->pressure_kind == PressureKind::difference)) ||
        (quantity == Quantity::pressure_difference && unit->pressure_kind == PressureKind::absolute);
    if (unit->quantity != unit_quantity(quantity) || wrong_kind) {
        const std::string_view is =
            !wrong_kind                                  ? translated(language, quantity_name(unit->quantity))
            : unit->pressure_kind == PressureKind::gauge ? translated(language, "gauge pressure")
            : unit->pressure_kind == PressureKind::difference ? translated(language, "pressure difference")
                                                              : translated(language, "absolute pressure");
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::result_unit_wrong,
                          {{"wanted", std::string(translated(language, quantity_name(quantity)))},
                           {"unit", std::string(unit->symbol)},
                           {"quantity", std::string(is)},
                           {"units", joined(units_taken(quantity, takes_mass_flow))}})};
    }
    return unit;
}

}  // namespace pullsheet::catalogue
