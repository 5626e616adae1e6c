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

// "1/4 mi" or "¼ mi" at the beginning of the text: its value and its length in the text; nothing if there is
// no fraction. Neither a date ("1/4/26") nor a unit ("1/min") is a fraction.
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
    const bool comma_within = std::any_of(words.begin(), words.end(), [](std::string_view word) {
        return word.find(',') != std::string_view::npos;
    });
    std::string result;
    for (const auto word : words) {
        if (!result.empty()) result += comma_within ? "; " : ", ";
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
    // Mixed fractions of inches: 2 1/2 in.
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

HeadingText split_heading(std::string_view heading) {
    const auto open = heading.find('[');
    const auto close = heading.find(']');
    if (open == std::string_view::npos || close == std::string_view::npos || close < open)
        return {heading, {}};
    return {heading.substr(0, open), heading.substr(open + 1, close - open - 1)};
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

namespace {

/// Reads one cell in steps: content, unit, SI value, ranges.
class NumberReader {
  public:
    NumberReader(const Wanted& wanted, Language language, Warnings& warnings)
        : wanted_(wanted), language_(language), warnings_(warnings), unit_(wanted.unit) {}

    double read(const Cell& content) {
        if (const auto* failure = std::get_if<Failure>(&content))
            throw Refused{failure->kind, say(language_, Phrase::error_in_argument,
                                             {{"parameter", name()}, {"value", failure->sentence}})};
        if (const auto* number = std::get_if<double>(&content))
            value_ = *number;
        else if (const auto* text = std::get_if<std::string>(&content))
            read_text(content, *text);
        else
            throw refuse(Phrase::missing, {{"parameter", name()}, {"wanted", allowed_phrase()}});
        if (!std::isfinite(value_))
            throw refuse(Phrase::not_finite_argument, {{"parameter", name()}, {"wanted", allowed_phrase()}});
        convert();
        if (!wanted_.range.contains(in_default_)) throw out_of_range();
        if (warnings_.wanted() && !warn_outside(wanted_.established, Phrase::established))
            warn_outside(wanted_.usual, Phrase::unusual);
        return si_;
    }

  private:
    std::string name() const { return std::string(wanted_.name); }
    std::string allowed() const {
        return allowed_text(wanted_.range, wanted_.quantity, wanted_.unit, language_);
    }
    std::string allowed_phrase() const { return say(language_, Phrase::wanted, {{"allowed", allowed()}}); }
    /// The number as it was written, or in the default unit.
    std::string shown() const {
        return written_.empty() ? number_text(value_, wanted_.unit, language_) : written_;
    }
    Refused refuse(Phrase phrase, Fill fill) const {
        return {FailureKind::wrong_argument, say(language_, phrase, fill)};
    }
    /// A long column of empty cells may fail a million times, so a sentence is composed only if it will be
    /// shown.
    void refuse_unread() const {
        if (!warnings_.wanted()) throw Refused{FailureKind::wrong_argument, {}};
    }

    void read_text(const Cell& content, const std::string& text) {
        if (is_blank(content)) {
            refuse_unread();
            throw refuse(Phrase::empty, {{"parameter", name()}, {"wanted", allowed_phrase()}});
        }
        written_ = std::string(trimmed(text));
        NumberText parsed;
        if (!split_number(written_, parsed)) {
            refuse_unread();
            if (wanted_.quantity == Quantity::share && written_.size() > 1 &&
                (written_[0] == 'E' || written_[0] == 'e') && written_[1] >= '0' && written_[1] <= '9')
                throw refuse(Phrase::fuel_name, {{"parameter", name()}, {"value", written_}});
            throw refuse(Phrase::not_a_number,
                         {{"parameter", name()}, {"value", written_}, {"wanted", allowed_phrase()}});
        }
        if (!parsed.tidy) throw refuse(Phrase::bad_number, {{"parameter", name()}, {"value", written_}});
        value_ = parsed.number;
        if (!parsed.unit.empty()) read_unit(parsed.unit);
    }

    void read_unit(std::string_view text) {
        unit_ = find_unit(text);
        if (unit_ && unit_->quantity == Quantity::mass_flow && wanted_.test_density > 0.0)
            flow_by_mass();
        else if (!unit_ || unit_->quantity != unit_quantity(wanted_.quantity))
            throw wrong_unit(text);
        check_pressure_kind();
        if (wanted_.quantity == Quantity::share) {
            value_ *= unit_->factor;
            unit_ = nullptr;
        }
    }

    /// A mass flow in place of a volume flow, by the density of the test fluid.
    void flow_by_mass() {
        value_ = wanted_.unit->from_si(unit_->to_si(value_, Quantity::mass_flow) / wanted_.test_density,
                                       wanted_.quantity);
        unit_ = wanted_.unit;
        if (warnings_.wanted() && wanted_.says_test_density)
            warnings_.add(say(language_, Phrase::flow_by_mass,
                              {{"parameter", name()},
                               {"value", written_},
                               {"flow", number_text(value_, wanted_.unit, language_)},
                               {"density", number_text(wanted_.test_density, language_)}}));
    }

    Refused wrong_unit(std::string_view text) const {
        const auto symbols = units_taken(wanted_.quantity, wanted_.test_density > 0.0);
        if (symbols.empty())
            return refuse(Phrase::unit_not_wanted, {{"parameter", name()}, {"value", written_}});
        if (!unit_)
            return refuse(Phrase::unknown_unit, {{"parameter", name()},
                                                 {"value", written_},
                                                 {"unit", std::string(text)},
                                                 {"units", joined(symbols)}});
        return refuse(Phrase::wrong_quantity,
                      {{"parameter", name()},
                       {"value", written_},
                       {"unit", std::string(unit_->symbol)},
                       {"quantity", std::string(translated(language_, quantity_name(unit_->quantity)))},
                       {"wanted", std::string(translated(language_, quantity_name(wanted_.quantity)))},
                       {"units", joined(symbols)}});
    }

    /// A unit that states absolute, gauge or difference must agree with the parameter.
    void check_pressure_kind() {
        const Fill fill = {{"parameter", name()}, {"value", written_}, {"unit", std::string(unit_->symbol)}};
        if (wanted_.quantity == Quantity::pressure) {
            if (unit_->pressure_kind == PressureKind::difference)
                throw refuse(Phrase::difference_for_absolute, fill);
            if (unit_->pressure_kind == PressureKind::gauge) throw refuse(Phrase::gauge_for_absolute, fill);
        } else if (wanted_.quantity == Quantity::pressure_difference) {
            if (unit_->pressure_kind == PressureKind::gauge) {
                if (wanted_.over == Over::point) throw refuse(Phrase::gauge_for_difference, fill);
                if (wanted_.over == Over::manifold && warnings_.wanted())
                    warnings_.add(say(language_, Phrase::gauge_over_manifold, fill));
            }
            if (unit_->pressure_kind == PressureKind::absolute)
                throw refuse(wanted_.over == Over::surroundings ? Phrase::absolute_for_gauge
                                                                : Phrase::absolute_for_difference,
                             fill);
        }
    }

    /// Into SI, and into the default unit, in which the ranges are written.
    void convert() {
        in_default_ = si_ = value_;
        if (!unit_) return;
        si_ = unit_->to_si(value_, wanted_.quantity);
        if (unit_ == wanted_.unit) return;
        in_default_ = wanted_.unit->from_si(si_, wanted_.quantity);
        // A value at a limit, written in another unit, is inside despite the rounding error of the
        // conversion.
        for (const double limit : {wanted_.range.low, wanted_.range.high})
            if (std::isfinite(limit) &&
                std::abs(in_default_ - limit) <= 1e-12 * std::max(1.0, std::abs(limit))) {
                in_default_ = limit;
                si_ = wanted_.unit->to_si(limit, wanted_.quantity);
            }
    }

    Refused out_of_range() const {
        refuse_unread();
        if (value_ == 0.0 && written_.empty())
            return refuse(Phrase::zero_or_empty, {{"parameter", name()}, {"allowed", allowed()}});
        if (wanted_.quantity == Quantity::share && value_ > 1.0 && value_ <= 100.0 &&
            written_.find('%') == std::string::npos)
            return refuse(Phrase::percent_meant,
                          {{"parameter", name()}, {"value", number_text(value_, language_)}});
        return refuse(Phrase::outside, {{"parameter", name()}, {"value", shown()}, {"allowed", allowed()}});
    }

    bool warn_outside(const Interval* interval, Phrase phrase) {
        if (!interval || interval->contains(in_default_)) return false;
        warnings_.add(say(language_, phrase,
                          {{"parameter", name()},
                           {"value", shown()},
                           {"allowed", allowed_text(*interval, wanted_.quantity, wanted_.unit, language_)}}));
        return true;
    }

    const Wanted& wanted_;
    Language language_;
    Warnings& warnings_;
    std::string written_;  // empty for a number
    double value_ = 0.0;   // in unit_
    const Unit* unit_;
    double in_default_ = 0.0, si_ = 0.0;
};

}  // namespace

Wanted wanted(const Parameter& parameter, std::string_view name) {
    return {name,
            parameter.quantity,
            parameter.default_unit,
            parameter.range,
            parameter.established_range ? &*parameter.established_range : nullptr,
            parameter.over,
            parameter.test_density,
            parameter.says_test_density,
            parameter.usual_range ? &*parameter.usual_range : nullptr};
}

double si_of(const Parameter& parameter, double number) {
    return parameter.default_unit ? parameter.default_unit->to_si(number, parameter.quantity) : number;
}

double read_number(const Cell& content, const Wanted& wanted, Language language, Warnings& warnings) {
    return NumberReader(wanted, language, warnings).read(content);
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
