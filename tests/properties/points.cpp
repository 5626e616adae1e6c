// SPDX-License-Identifier: Apache-2.0
#include "tests/properties/points.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

#include "core/catalogue/reader.hpp"
#include "tests/watched.hpp"

namespace pullsheet::catalogue::properties {

bool takes_long(const Function& function) {
    const auto family = function.family();
    return family == "CYCLE" || family == "KNOCK" || family == "BUILD" ||
           function.name.view() == "CHECK.POWER" ||
           (family == "ROAD" && !function.name.view().starts_with("ROAD.LOG"));
}

std::vector<Value> example_arguments(const Function& function) {
    std::vector<Value> arguments = function.example.arguments;
    arguments.resize(std::max(arguments.size(), function.parameters.size()));
    return arguments;
}

std::optional<double> number_in(const Parameter& parameter, const Value& value) {
    if (const auto* number = std::get_if<double>(&value)) return *number;
    const auto* text = std::get_if<std::string>(&value);
    NumberText parsed;
    if (!text || !split_number(*text, parsed)) return std::nullopt;
    const Unit* unit = parsed.unit.empty() ? nullptr : find_unit(parsed.unit);
    if (!unit) return parsed.number;
    const double si = unit->to_si(parsed.number, parameter.quantity);
    return parameter.default_unit ? parameter.default_unit->from_si(si, parameter.quantity) : si;
}

double number_at(const Parameter& parameter, double near, double share, Reach reach) {
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

bool is_varied(const Parameter& parameter, const Value& example) {
    return parameter.kind == Kind::number || parameter.kind == Kind::choice ||
           (parameter.kind == Kind::fuel && !std::holds_alternative<Table>(example));
}

Value argument_at(const Parameter& parameter, const Value& example, double share, Reach reach) {
    if (parameter.kind == Kind::choice) {
        const auto last = parameter.choices.size() - 1;
        return std::string(
            parameter.choices[static_cast<std::size_t>(std::lround(share * static_cast<double>(last)))]);
    }
    if (parameter.kind == Kind::fuel) return share;
    const double near = number_in(parameter, example).value_or(parameter.default_value.value_or(1.0));
    return number_at(parameter, near, share, reach);
}

std::vector<Value> arguments_at(const Function& function, std::span<const double> shares, Reach reach) {
    std::vector<Value> arguments = example_arguments(function);
    for (std::size_t i = 0; i < function.parameters.size(); ++i)
        if (is_varied(function.parameters[i], arguments[i]))
            arguments[i] = argument_at(function.parameters[i], arguments[i], shares[i], reach);
    return arguments;
}

LatinHypercube::LatinHypercube(std::size_t count, std::size_t dimensions)
    : count_(tests::fewer(count)), steps_(dimensions) {
    std::mt19937_64 random(count * 1000 + dimensions);
    for (auto& steps : steps_) {
        for (std::size_t i = 0; i < count_; ++i) steps.push_back(i);
        for (std::size_t i = count_; i > 1; --i) std::swap(steps[i - 1], steps[random() % i]);
    }
}

double LatinHypercube::decades(std::size_t point, std::size_t dimension, double low, double high) const {
    return low * std::pow(high / low, share(point, dimension));
}

std::vector<double> LatinHypercube::shares(std::size_t point) const {
    std::vector<double> result;
    for (std::size_t d = 0; d < steps_.size(); ++d) result.push_back(share(point, d));
    return result;
}

double number(const char* name, std::vector<Value> arguments) {
    const Function* function = find_function(name);
    if (!function) throw std::invalid_argument(name);
    const Outcome outcome = evaluate(*function, arguments);
    if (const auto* failure = std::get_if<Failure>(&outcome.value))
        throw std::runtime_error(failure->sentence);
    return std::get<double>(outcome.value);
}

double cell(const char* name, std::vector<Value> arguments, std::size_t row, std::size_t column) {
    const Function* function = find_function(name);
    if (!function) throw std::invalid_argument(name);
    const Outcome outcome = evaluate(*function, arguments);
    if (const auto* failure = std::get_if<Failure>(&outcome.value))
        throw std::runtime_error(failure->sentence);
    return std::get<double>(std::get<Table>(outcome.value).at(row, column));
}

std::string shown(const Value& value) {
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

std::string shown(const Function& function, std::span<const Value> arguments) {
    std::string text(function.name.view());
    text += '(';
    for (std::size_t i = 0; i < arguments.size(); ++i) text += (i ? "; " : "") + shown(arguments[i]);
    return text + ')';
}

}  // namespace pullsheet::catalogue::properties
