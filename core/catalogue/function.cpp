// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/function.hpp"

#include "core/catalogue/bounds.hpp"
#include "core/catalogue/call.hpp"
#include "core/catalogue/fuel_block.hpp"

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

Parameter::Parameter() = default;
Parameter::Parameter(const Parameter&) = default;
Parameter::Parameter(Parameter&&) noexcept = default;
Parameter& Parameter::operator=(const Parameter&) = default;
Parameter& Parameter::operator=(Parameter&&) noexcept = default;
Parameter::~Parameter() = default;

Parameter Parameter::otherwise(double value) && {
    required = false;
    default_value = value;
    return std::move(*this);
}

Parameter Parameter::optional(Text meaning_of_omission) && {
    required = false;
    default_text = meaning_of_omission;
    return std::move(*this);
}

Parameter Parameter::established(Interval interval) && {
    established_range = interval;
    return std::move(*this);
}

Parameter Parameter::established(Si si) && {
    established_range = si.interval;
    established_in_si = true;
    return std::move(*this);
}

Parameter Parameter::of(const Figure& figure) && {
    const Interval possible = in_unit(figure.possible, figure, quantity, unit);
    const Interval usual = in_unit(figure.usual, figure, quantity, unit);
    if (figure.is_open()) no_bounds = figure.basis;
    // A range from the core is in SI and is used unchanged, without the intersection.
    if (!range_in_si) range = intersection(range, possible);
    if (!figure.is_open()) usual_range = usual;
    return std::move(*this);
}

Parameter Parameter::counted(Over from) && {
    over = from;
    return std::move(*this);
}

Parameter Parameter::by_mass_too(double density, bool is_said) && {
    test_density = density;
    says_test_density = is_said;
    return std::move(*this);
}

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

Parameter text(Text name, Text meaning) {
    return of_kind(Kind::text, name, meaning);
}

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

Parameter table(Text name, Text meaning) {
    return of_kind(Kind::table, name, meaning);
}
Parameter anything(Text name, Text meaning) {
    return of_kind(Kind::any, name, meaning);
}
Parameter further(Text name, Text meaning) {
    Parameter parameter = of_kind(Kind::list, name, meaning);
    parameter.required = false;
    return parameter;
}
Parameter cell(Text name, Text meaning) {
    return of_kind(Kind::cell, name, meaning);
}

Result::Result(ResultKind kind_, Text meaning_) : kind(kind_), meaning(meaning_) {}
Result::Result(const Result&) = default;
Result::Result(Result&&) noexcept = default;
Result& Result::operator=(Result&&) noexcept = default;
Result::~Result() = default;

Result Result::number(Text meaning, Quantity quantity, Text unit) {
    Result result = plain(meaning, quantity);
    result.unit = unit;
    return result;
}

Result Result::of(const Figure& figure_) && {
    figure = &figure_;
    return std::move(*this);
}

Result Result::by_mass_too(double density) && {
    test_density = density;
    return std::move(*this);
}

Result Result::plain(Text meaning, Quantity quantity) {
    Result result(ResultKind::number, meaning);
    result.quantity = quantity;
    return result;
}

Result Result::text(Text meaning) {
    return {ResultKind::text, meaning};
}

Result Result::table(Text meaning, std::initializer_list<Column> columns) {
    Result result(ResultKind::table, meaning);
    result.columns = columns;
    return result;
}

Result Result::labelled(Text meaning) {
    return table(meaning, {{"quantity"}, {"value", figures::stated_by_row}, {"unit"}});
}

Sources::Sources(std::initializer_list<Text> keys_) {
    for (const Text& key : keys_) keys.emplace_back(key.view());
}
Sources::Sources(const Sources&) = default;
Sources::Sources(Sources&&) noexcept = default;
Sources& Sources::operator=(Sources&&) noexcept = default;
Sources::~Sources() = default;

Example::Example(std::vector<Value> arguments_, double expected_, double tolerance_, std::size_t row_,
                 std::size_t column_)
    : arguments(std::move(arguments_)),
      expected(expected_),
      tolerance(tolerance_),
      row(row_),
      column(column_) {}

Example::Example(std::vector<Value> arguments_, std::string_view expected_, std::size_t row_,
                 std::size_t column_)
    : arguments(std::move(arguments_)),
      expected(std::string(expected_)),
      tolerance(0.0),
      row(row_),
      column(column_) {}

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
