// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/catalogue.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <unordered_map>

#include "core/catalogue/block.hpp"
#include "core/catalogue/call.hpp"
#include "core/catalogue/families/families.hpp"

namespace pullsheet::catalogue {
namespace {

class Catalogue {
  public:
    Catalogue() {
        for (auto family :
             {families::unit,       families::air,         families::dyno,     families::pull,
              families::engine,     families::fuel,        families::injector, families::pump,
              families::compressor, families::charge,      families::turbine,  families::pipe,
              families::cycle,      families::knock,       families::road,     families::tyre,
              families::build,      families::build_match, families::check,    families::function})
            for (Function& function : family()) add(std::move(function));
    }

    std::span<const Function> functions() const { return functions_; }

    const Function* find(std::string_view name) const {
        const auto found = by_name_.find(normal_label(name));
        return found == by_name_.end() ? nullptr : &functions_[found->second];
    }

  private:
    void add(Function function) {
        for (Parameter& parameter : function.parameters) {
            parameter.default_unit = unit_of(parameter.unit, parameter.quantity, function);
            if (parameter.range_in_si) parameter.range = from_si(parameter.range, parameter);
            if (parameter.established_in_si)
                parameter.established_range = from_si(*parameter.established_range, parameter);
        }
        for (Column& column : function.result.columns)
            column.default_unit = unit_of(column.unit, column.quantity, function);
        Result& result = function.result;
        result.default_unit = unit_of(result.unit, result.quantity, function);
        if (const Column* only = only_dimension(result)) {
            result.quantity = only->quantity;
            result.default_unit = only->default_unit;
        }
        if (result.default_unit && !function.takes_list()) {
            Parameter unit;
            unit.name = "unit";
            unit.meaning = "unit of the result";
            unit.kind = Kind::unit;
            unit.required = false;
            unit.default_text = result.default_unit->symbol;
            function.parameters.push_back(unit);
        }
        if (function.parameters.size() > max_parameters) throw std::logic_error("too many parameters");
        by_name_.emplace(normal_label(function.name), functions_.size());
        functions_.push_back(std::move(function));
    }

    // One column that represents all columns of a table with a dimension; nullptr if their quantities differ.
    static const Column* only_dimension(const Result& result) {
        const Column* only = nullptr;
        for (const Column& column : result.columns) {
            if (!column.default_unit || column.quantity == Quantity::share) continue;
            if (only && only->quantity != column.quantity) return nullptr;
            only = &column;
        }
        return only;
    }

    static Interval from_si(Interval interval, const Parameter& parameter) {
        const Unit* unit = parameter.default_unit;
        if (!unit) return interval;
        // Limits are rounded to nine decimals, more than the accuracy of any of them, which removes the
        // rounding error of the conversion.
        const auto convert = [&](double si) {
            const double value = unit->from_si(si, parameter.quantity);
            return std::isfinite(value) ? std::round(value * 1e9) / 1e9 : value;
        };
        return {convert(interval.low), convert(interval.high), interval.low_open, interval.high_open};
    }

    static const Unit* unit_of(std::string_view symbol, Quantity quantity, const Function& function) {
        if (symbol.empty()) return nullptr;
        const Unit* unit = find_unit(symbol);
        if (!unit || unit->quantity != unit_quantity(quantity))
            throw std::logic_error(std::string(function.name.view()) +
                                   ": no such unit: " + std::string(symbol));
        return unit;
    }

    std::vector<Function> functions_;
    std::unordered_map<std::string, std::size_t> by_name_;
};

const Catalogue& the_catalogue() {
    static const Catalogue catalogue;
    return catalogue;
}

}  // namespace

std::string_view version() {
    return PULLSHEET_VERSION;
}

std::span<const Function> functions() {
    return the_catalogue().functions();
}

std::vector<std::string_view> family_names() {
    std::vector<std::string_view> result;
    for (const Function& function : functions())
        if (std::find(result.begin(), result.end(), function.family()) == result.end())
            result.push_back(function.family());
    return result;
}

const Function* find_function(std::string_view name) {
    return the_catalogue().find(name);
}

std::string unknown_function(std::string_view name, Language language) {
    std::vector<std::string_view> names;
    for (const Function& function : functions()) names.push_back(function.name);
    const auto near = nearest(name, names);
    return near.empty() ? say(language, Phrase::unknown_function, {{"value", std::string(name)}})
                        : say(language, Phrase::unknown_function_near,
                              {{"value", std::string(name)}, {"near", std::string(near)}});
}

}  // namespace pullsheet::catalogue
