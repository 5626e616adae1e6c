// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/function.hpp"

#include "core/catalogue/call.hpp"

namespace pullsheet::catalogue {
namespace {

Parameter of_kind(Kind kind, Text name, Text meaning) {
    Parameter parameter;
    parameter.kind = kind;
    parameter.name = name;
    parameter.meaning = meaning;
    return parameter;
}

}  // namespace

Parameter number(Text name, Text meaning, Quantity quantity, Text unit, Interval range) {
    Parameter parameter = of_kind(Kind::number, name, meaning);
    parameter.quantity = quantity;
    parameter.unit = unit;
    parameter.range = range;
    return parameter;
}

Parameter number(Text name, Text meaning, Quantity quantity, Text unit, Si range) {
    Parameter parameter = number(name, meaning, quantity, unit, range.interval);
    parameter.range_in_si = true;
    return parameter;
}

Parameter plain(Text name, Text meaning, Quantity quantity, Interval range) {
    Parameter parameter = of_kind(Kind::number, name, meaning);
    parameter.quantity = quantity;
    parameter.range = range;
    return parameter;
}

Parameter share(Text name, Text meaning, Interval range) {
    return plain(name, meaning, Quantity::share, range);
}

Parameter choice(Text name, Text meaning, std::vector<std::string_view> choices) {
    Parameter parameter = of_kind(Kind::choice, name, meaning);
    parameter.choices = std::move(choices);
    return parameter;
}

Parameter text(Text name, Text meaning) { return of_kind(Kind::text, name, meaning); }

Parameter fuel_parameter() {
    Parameter parameter =
        of_kind(Kind::fuel, "fuel", "ethanol share by volume in the reference gasoline, or a fuel block");
    parameter.quantity = Quantity::share;
    parameter.range = unit_share;
    parameter.required = false;
    parameter.default_value = 0.0;
    parameter.schema = &fuel_schema();
    return parameter;
}

Parameter series(Text name, Text meaning, Quantity quantity, Text unit) {
    Parameter parameter = of_kind(Kind::series, name, meaning);
    parameter.quantity = quantity;
    parameter.unit = unit;
    parameter.range = finite;
    return parameter;
}

Parameter plain_series(Text name, Text meaning) {
    Parameter parameter = of_kind(Kind::series, name, meaning);
    parameter.range = finite;
    return parameter;
}

Parameter share_series(Text name, Text meaning) {
    Parameter parameter = plain_series(name, meaning);
    parameter.quantity = Quantity::share;
    parameter.range = unit_share;
    return parameter;
}

Parameter block(Text name, Text meaning, const BlockSchema& schema) {
    Parameter parameter = of_kind(Kind::block, name, meaning);
    parameter.schema = &schema;
    return parameter;
}

Parameter table(Text name, Text meaning) { return of_kind(Kind::table, name, meaning); }
Parameter anything(Text name, Text meaning) { return of_kind(Kind::any, name, meaning); }
Parameter further(Text name, Text meaning) {
    Parameter parameter = of_kind(Kind::list, name, meaning);
    parameter.required = false;
    return parameter;
}
Parameter cell(Text name, Text meaning) { return of_kind(Kind::cell, name, meaning); }

Example::Example(std::vector<Value> arguments_, double expected_, double tolerance_, std::size_t row_, std::size_t column_)
    : arguments(std::move(arguments_)), expected(expected_), tolerance(tolerance_), row(row_), column(column_) {}

Example::Example(std::vector<Value> arguments_, std::string_view expected_, std::size_t row_, std::size_t column_)
    : arguments(std::move(arguments_)), expected(std::string(expected_)), tolerance(0.0), row(row_), column(column_) {}

Example::~Example() = default;
Example::Example(const Example&) = default;
Example::Example(Example&&) noexcept = default;
Example& Example::operator=(Example&&) noexcept = default;

std::string Function::identifier() const {
    std::string camel;
    bool upper = false;
    for (const char c : name.view()) {
        if (c == '.') {
            upper = true;
        } else {
            const bool is_capital = c >= 'A' && c <= 'Z';
            camel += (is_capital && !upper) ? static_cast<char>(c - 'A' + 'a') : c;
            upper = false;
        }
    }
    return camel;
}

}  // namespace pullsheet::catalogue
