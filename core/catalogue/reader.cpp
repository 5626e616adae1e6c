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

}  // namespace

std::string cell_text(const Cell& cell) {
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    if (const auto* number = std::get_if<double>(&cell)) return number_text(*number);
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
    return true;
}

std::string allowed_text(Interval range, Quantity quantity, const Unit* unit, Language language) {
    std::string symbol;
    if (unit) symbol.append(1, ' ').append(unit->symbol);
    const bool low = std::isfinite(range.low);
    const bool high = std::isfinite(range.high);
    const std::string low_text = number_text(range.low);
    const std::string high_text = number_text(range.high);
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
            if (!unit || unit->quantity != unit_quantity(wanted.quantity)) {
                const auto symbols = unit_symbols(wanted.quantity);
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
            if (wanted.quantity == Quantity::pressure && unit->pressure_kind == PressureKind::gauge)
                throw refuse(Phrase::gauge_for_absolute, {{"parameter", std::string(name)},
                                                          {"value", written},
                                                          {"unit", std::string(unit->symbol)}});
            if (wanted.quantity == Quantity::pressure_difference &&
                unit->pressure_kind == PressureKind::absolute)
                throw refuse(Phrase::absolute_for_gauge, {{"parameter", std::string(name)},
                                                          {"value", written},
                                                          {"unit", std::string(unit->symbol)}});
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
        const std::string said = written.empty() ? number_text(value, wanted.unit) : written;
        if (value == 0.0 && written.empty())
            throw refuse(Phrase::zero_or_empty, {{"parameter", std::string(name)}, {"allowed", allowed()}});
        if (wanted.quantity == Quantity::share && value > 1.0 && value <= 100.0 &&
            written.find('%') == std::string::npos)
            throw refuse(Phrase::percent_meant,
                         {{"parameter", std::string(name)}, {"value", number_text(value)}});
        throw refuse(Phrase::outside,
                     {{"parameter", std::string(name)}, {"value", said}, {"allowed", allowed()}});
    }
    if (warnings.wanted() && wanted.established && !wanted.established->contains(in_default)) {
        const std::string said = written.empty() ? number_text(value, wanted.unit) : written;
        warnings.add(
            say(language, Phrase::established,
                {{"parameter", std::string(name)},
                 {"value", said},
                 {"allowed", allowed_text(*wanted.established, wanted.quantity, wanted.unit, language)}}));
    }
    return si;
}

const Unit* read_result_unit(const Cell& content, Quantity quantity, Language language) {
    const auto* text = std::get_if<std::string>(&content);
    const Unit* unit = text ? find_unit(*text) : nullptr;
    if (!unit)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::result_unit_unknown,
                          {{"unit", cell_text(content)}, {"units", joined(unit_symbols(quantity))}})};
    const bool wrong_kind =
        (quantity == Quantity::pressure && unit->pressure_kind == PressureKind::gauge) ||
        (quantity == Quantity::pressure_difference && unit->pressure_kind == PressureKind::absolute);
    if (unit->quantity != unit_quantity(quantity) || wrong_kind) {
        const std::string_view is = !wrong_kind ? translated(language, quantity_name(unit->quantity))
                                    : unit->pressure_kind == PressureKind::gauge
                                        ? translated(language, "gauge pressure")
                                        : translated(language, "absolute pressure");
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::result_unit_wrong,
                          {{"wanted", std::string(translated(language, quantity_name(quantity)))},
                           {"unit", std::string(unit->symbol)},
                           {"quantity", std::string(is)},
                           {"units", joined(unit_symbols(quantity))}})};
    }
    return unit;
}

}  // namespace pullsheet::catalogue
