// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <random>
#include <regex>
#include <span>
#include <stdexcept>
#include <string>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/reader.hpp"

/// Points in the ranges that the catalogue states, for the properties and sweeps of every function.
namespace pullsheet::catalogue::properties {

/// Where the points lie.
enum class Reach {
    established,  ///< inside the range for which the formula was established; where none is stated, near the
                  ///< example
    whole,        ///< in all of the range that is allowed; where it has no end, over twelve powers of ten
};

inline std::vector<const Function*> all_functions() {
    std::vector<const Function*> result;
    for (const Function& function : functions()) result.push_back(&function);
    return result;
}

inline std::string test_name(const testing::TestParamInfo<const Function*>& info) {
    return std::regex_replace(std::string(info.param->name.view()), std::regex("[^A-Za-z0-9]"), "_");
}

/// The functions that integrate or search: they are looked at in few points.
inline bool takes_long(const Function& function) {
    const auto family = function.family();
    return family == "CYCLE" || family == "KNOCK" || family == "BUILD" ||
           function.name.view() == "CHECK.POWER" ||
           (family == "ROAD" && !function.name.view().starts_with("ROAD.LOG"));
}

/// The arguments of the example, with room for those it leaves out.
inline std::vector<Value> example_arguments(const Function& function) {
    std::vector<Value> arguments = function.example.arguments;
    arguments.resize(std::max(arguments.size(), function.parameters.size()));
    return arguments;
}

/// The number that an argument is, in the default unit of its parameter.
inline std::optional<double> number_in(const Parameter& parameter, const Value& value) {
    if (const auto* number = std::get_if<double>(&value)) return *number;
    const auto* text = std::get_if<std::string>(&value);
    NumberText parsed;
    if (!text || !split_number(*text, parsed)) return std::nullopt;
    const Unit* unit = parsed.unit.empty() ? nullptr : find_unit(parsed.unit);
    if (!unit) return parsed.number;
    const double si = unit->to_si(parsed.number, parameter.quantity);
    return parameter.default_unit ? parameter.default_unit->from_si(si, parameter.quantity) : si;
}

/// The number at `share` (0 … 1) of the way through the range of a parameter, in its default unit. `near` is
/// the number of the example, which says where an endless range is of interest.
inline double number_at(const Parameter& parameter, double near, double share, Reach reach) {
    const bool established = reach == Reach::established;
    const Interval range =
        established && parameter.established_range ? *parameter.established_range : parameter.range;
    const double size = near != 0.0 ? std::abs(near) : 1.0;
    double number = 0.0;
    if (established && !parameter.established_range && near != 0.0 && std::isfinite(range.high)) {
        number = std::clamp(near * std::pow(3.0, 2.0 * share - 1.0), range.low, range.high);
    } else if (std::isfinite(range.low) && std::isfinite(range.high)) {
        number = range.low + share * (range.high - range.low);
    } else if (std::isfinite(range.low)) {
        const double decades = established ? 0.6 : 6.0;
        const double above = size * std::pow(10.0, decades * (2.0 * share - 1.0));
        number = share == 0.0 ? range.low : range.low + above;
    } else if (established) {
        number = size * std::pow(10.0, 0.6 * (2.0 * share - 1.0));
    } else {
        number = size * std::sinh(28.0 * (share - 0.5));
    }
    if (parameter.quantity == Quantity::count) number = std::round(number);
    // An open end is not part of the range: the next number is.
    if (number <= range.low && range.low_open)
        number = std::nextafter(range.low, std::numeric_limits<double>::infinity());
    if (number >= range.high && range.high_open)
        number = std::nextafter(range.high, -std::numeric_limits<double>::infinity());
    return number;
}

/// Whether a parameter is varied by `argument_at`.
inline bool is_varied(const Parameter& parameter, const Value& example) {
    return parameter.kind == Kind::number || parameter.kind == Kind::choice ||
           (parameter.kind == Kind::fuel && !std::holds_alternative<Table>(example));
}

/// The argument at `share` of the way through the range of a parameter.
inline Value argument_at(const Parameter& parameter, const Value& example, double share, Reach reach) {
    if (parameter.kind == Kind::choice) {
        const auto last = parameter.choices.size() - 1;
        return std::string(
            parameter.choices[static_cast<std::size_t>(std::lround(share * static_cast<double>(last)))]);
    }
    if (parameter.kind == Kind::fuel) return share;
    const double near = number_in(parameter, example).value_or(parameter.default_value.value_or(1.0));
    return number_at(parameter, near, share, reach);
}

/// The arguments of a function, each number and choice at its share of the way through its range.
inline std::vector<Value> arguments_at(const Function& function, std::span<const double> shares,
                                       Reach reach) {
    std::vector<Value> arguments = example_arguments(function);
    for (std::size_t i = 0; i < function.parameters.size(); ++i)
        if (is_varied(function.parameters[i], arguments[i]))
            arguments[i] = argument_at(function.parameters[i], arguments[i], shares[i], reach);
    return arguments;
}

/// Points that fill a box evenly: a Latin hypercube (McKay, Beckman & Conover 1979), of which every
/// coordinate takes each of `count` equal steps once. The same points on every machine.
class LatinHypercube {
  public:
    LatinHypercube(std::size_t count, std::size_t dimensions) : count_(count), steps_(dimensions) {
        std::mt19937_64 random(count * 1000 + dimensions);
        for (auto& steps : steps_) {
            for (std::size_t i = 0; i < count; ++i) steps.push_back(i);
            for (std::size_t i = count; i > 1; --i) std::swap(steps[i - 1], steps[random() % i]);
        }
    }
    std::size_t count() const { return count_; }
    /// Coordinate `dimension` of a point, above 0 and below 1.
    double share(std::size_t point, std::size_t dimension) const {
        return (static_cast<double>(steps_[dimension][point]) + 0.5) / static_cast<double>(count_);
    }
    /// Coordinate `dimension` of a point, from `low` to `high`.
    double between(std::size_t point, std::size_t dimension, double low, double high) const {
        return low + share(point, dimension) * (high - low);
    }
    /// The same on a logarithmic scale.
    double decades(std::size_t point, std::size_t dimension, double low, double high) const {
        return low * std::pow(high / low, share(point, dimension));
    }
    std::vector<double> shares(std::size_t point) const {
        std::vector<double> result;
        for (std::size_t d = 0; d < steps_.size(); ++d) result.push_back(share(point, d));
        return result;
    }

  private:
    std::size_t count_;
    std::vector<std::vector<std::size_t>> steps_;
};

/// A random share, 0 … 1, both ends included.
inline rc::Gen<double> random_share() {
    return rc::gen::map(rc::gen::resize(100, rc::gen::inRange<int>(0, 1000001)),
                        [](int n) { return n / 1e6; });
}

/// Random shares for every parameter of a function.
inline std::vector<double> random_shares(const Function& function) {
    return *rc::gen::container<std::vector<double>>(function.parameters.size(), random_share());
}

/// The answer of a call that must answer with a number.
inline double number(const char* name, std::vector<Value> arguments) {
    const Function* function = find_function(name);
    if (!function) throw std::invalid_argument(name);
    const Outcome outcome = evaluate(*function, arguments);
    if (const auto* failure = std::get_if<Failure>(&outcome.value))
        throw std::runtime_error(failure->sentence);
    return std::get<double>(outcome.value);
}

/// One cell of the answer of a call that must answer with a table; row 0 is the header.
inline double cell(const char* name, std::vector<Value> arguments, std::size_t row, std::size_t column) {
    const Function* function = find_function(name);
    if (!function) throw std::invalid_argument(name);
    const Outcome outcome = evaluate(*function, arguments);
    if (const auto* failure = std::get_if<Failure>(&outcome.value))
        throw std::runtime_error(failure->sentence);
    return std::get<double>(std::get<Table>(outcome.value).at(row, column));
}

/// A value as a person would read it in the message of a failed test.
inline std::string shown(const Value& value) {
    if (const auto* n = std::get_if<double>(&value)) {
        char text[40];
        std::snprintf(text, sizeof text, "%.17g", *n);
        return text;
    }
    if (const auto* text = std::get_if<std::string>(&value)) return '"' + *text + '"';
    if (const auto* failure = std::get_if<Failure>(&value)) return "error: " + failure->sentence;
    if (const auto* table = std::get_if<Table>(&value))
        return "table of " + std::to_string(table->rows()) + " x " + std::to_string(table->columns());
    return "-";
}

inline std::string shown(const Function& function, std::span<const Value> arguments) {
    std::string text(function.name.view());
    text += '(';
    for (std::size_t i = 0; i < arguments.size(); ++i) text += (i ? "; " : "") + shown(arguments[i]);
    return text + ')';
}

}  // namespace pullsheet::catalogue::properties
