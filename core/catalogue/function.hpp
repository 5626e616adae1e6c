// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/catalogue/figures.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/text.hpp"
#include "core/catalogue/units.hpp"
#include "core/catalogue/value.hpp"
#include "core/error.hpp"

namespace pullsheet::catalogue {

class Call;
struct BlockSchema;

/// The kind of argument that a parameter takes.
enum class Kind {
    number,  ///< a number or a text with a unit; a range is evaluated element by element
    choice,  ///< one of a list of texts; a range is evaluated element by element
    text,    ///< any text; a range is evaluated element by element
    fuel,    ///< an ethanol share (element by element) or a fuel block
    series,  ///< one row or column of numbers
    block,   ///< label, value, unit
    table,   ///< a table with a header row, read by the function
    any,     ///< anything, read by the function
    list,    ///< all further arguments; only as the last parameter
    cell,    ///< a cell of a sheet itself, not its value; Calc only
    unit,    ///< the unit in which the result is wanted; added by the catalogue
};

/// An interval of the core, in SI, where one in the default unit is expected; the catalogue converts it.
struct Si {
    explicit constexpr Si(Interval interval_) : interval(interval_) {}
    Interval interval;
};

/// One parameter of a function. Numbers in it are in `unit`, the default unit. The functions below create it
/// and set every field.
struct Parameter {
    // Defined in function.cpp, so that the many entries do not each compile them.
    Parameter();
    Parameter(const Parameter&);
    Parameter(Parameter&&) noexcept;
    Parameter& operator=(const Parameter&);
    Parameter& operator=(Parameter&&) noexcept;
    ~Parameter();

    std::string_view name;
    std::string_view meaning;
    Kind kind = Kind::number;
    Quantity quantity = Quantity::number;
    std::string_view unit;                      ///< default unit; empty for plain numbers
    Interval range;                             ///< outside: an error
    std::optional<Interval> established_range;  ///< outside: a warning
    std::optional<Interval> usual_range;        ///< outside usual practice: a warning
    std::string_view no_bounds;                 ///< why it has none
    bool required = true;
    std::optional<double> default_value;    ///< taken when omitted
    std::string_view default_text;          ///< the meaning of an omitted argument without a default number
    std::vector<std::string_view> choices;  ///< Kind::choice
    const BlockSchema* schema = nullptr;    ///< Kind::block and Kind::fuel
    std::vector<std::string> (*details)(Language) =
        nullptr;                     ///< what there is to say beyond the meaning, a line each
    bool range_in_si = false;        ///< `range` was written in SI; the catalogue converts it
    bool established_in_si = false;  ///< likewise
    Over over = Over::surroundings;  ///< of a pressure difference
    double test_density = 0.0;       ///< of an injector's flow: that of the fluid of a mass flow, kg/m³
    bool says_test_density = true;   ///< false: the function says it

    /// The value taken when the argument is omitted.
    Parameter otherwise(double value) &&;
    /// May be omitted; `meaning_of_omission` says what that means.
    Parameter optional(Text meaning_of_omission) &&;
    /// The range for which the formula was established.
    Parameter established(Interval interval) &&;
    Parameter established(Si si) &&;
    /// Sets its figure: `range` is limited to the possible interval, and a value outside the usual interval
    /// causes a warning.
    Parameter of(const Figure& figure) &&;
    /// A pressure difference relative to the manifold or between two points, not relative to ambient
    /// pressure.
    Parameter counted(Over from) &&;
    /// A volume flow that may be written as a mass flow of a fluid of this density, kg/m³.
    /// `is_said` false: another argument may give the density, so the function adds the warning.
    Parameter by_mass_too(double density, bool is_said = true) &&;

    const Unit* default_unit = nullptr;  ///< found by the catalogue
};

/// A number of `quantity`, in `unit` unless the text says another; `range` is what is physically possible.
Parameter number(Text name, Text meaning, Quantity quantity, Text unit, Interval range);
Parameter number(Text name, Text meaning, Quantity quantity, Text unit, Si range);
/// A number without a unit.
Parameter plain(Text name, Text meaning, Quantity quantity, Interval range);
/// A share, 0…1 unless `range` is narrower.
Parameter share(Text name, Text meaning, Interval range = unit_share);
/// One of `choices`.
Parameter choice(Text name, Text meaning, std::vector<std::string_view> choices);
/// Any text.
Parameter text(Text name, Text meaning);
/// An ethanol share by volume or a fuel block; omitted: the reference gasoline.
Parameter fuel_parameter();
/// A row or column of numbers of `quantity` in `unit`.
Parameter series(Text name, Text meaning, Quantity quantity, Text unit);
/// A row or column of numbers whose unit does not matter.
Parameter plain_series(Text name, Text meaning);
/// A row or column of shares.
Parameter share_series(Text name, Text meaning);
/// A block of labelled values.
Parameter block(Text name, Text meaning, const BlockSchema& schema);
/// A table with a header row.
Parameter table(Text name, Text meaning);
/// Anything.
Parameter anything(Text name, Text meaning);
/// All further arguments.
Parameter further(Text name, Text meaning);
/// A cell of a sheet.
Parameter cell(Text name, Text meaning);

inline constexpr Interval between(double low, double high) {
    return {low, high, false, false};
}
inline constexpr Interval above(double low) {
    return {low, std::numeric_limits<double>::infinity(), true, true};
}
inline constexpr Interval from(double low) {
    return {low, std::numeric_limits<double>::infinity(), false, true};
}

/// A column of a table result. Cells that hold numbers are in SI when the function returns them.
struct Column {
    std::string_view name;
    Quantity quantity = Quantity::number;
    std::string_view unit;
    const Figure* figure = nullptr;  ///< what its numbers can be; a column of texts has none
    Column(Text name_, Quantity quantity_, Text unit_, const Figure& figure_)
        : name(name_), quantity(quantity_), unit(unit_), figure(&figure_) {}
    /// Numbers without a unit.
    Column(Text name_, const Figure& figure_) : name(name_), quantity(figure_.quantity), figure(&figure_) {}
    /// Texts.
    Column(Text name_) : name(name_) {}

    const Unit* default_unit = nullptr;  ///< found by the catalogue
};

enum class ResultKind { number, text, table };

/// The kind of result of a function. Its static functions create it and set every field.
struct Result {
    ResultKind kind = ResultKind::number;
    std::string_view meaning;
    Quantity quantity = Quantity::number;
    std::string_view unit;
    std::vector<Column> columns;
    const Figure* figure = nullptr;      ///< what a number can be
    double test_density = 0.0;           ///< of an injector's flow: that of the fluid of a mass flow, kg/m³
    const Unit* default_unit = nullptr;  ///< found by the catalogue

    /// Sets the figure of a number: impossible values are refused, unusual ones cause a warning.
    Result of(const Figure& figure) &&;
    /// True for a column of a table whose unit the last argument may name: all columns with a dimension
    /// measure one quantity.
    bool is_measured_by(const Column& column) const {
        return default_unit && column.default_unit && column.quantity == quantity;
    }
    /// A volume flow that may be asked for as a mass flow of a fluid of this density, kg/m³.
    Result by_mass_too(double density) &&;

    Result(const Result&);
    Result(Result&&) noexcept;
    Result& operator=(const Result&) = delete;
    Result& operator=(Result&&) noexcept;
    ~Result();

    /// A number of `quantity`, in `unit` unless another is asked for.
    static Result number(Text meaning, Quantity quantity, Text unit);
    /// A number without a unit.
    static Result plain(Text meaning, Quantity quantity);
    static Result text(Text meaning);
    /// A table with a header row made from `columns`.
    static Result table(Text meaning, std::initializer_list<Column> columns);
    /// A table of rows label, value, unit.
    static Result labelled(Text meaning);

  private:
    Result(ResultKind kind, Text meaning);
};

/// The rows of a table result, without the header row.
using Rows = std::vector<std::vector<Cell>>;

/// One row of a table result.
template <class... Cells>
std::vector<Cell> row(Cells&&... cells) {
    std::vector<Cell> result;
    result.reserve(sizeof...(cells));
    (result.emplace_back(std::forward<Cells>(cells)), ...);
    return result;
}

/// What the computation of a function returns: a number in SI, a text, rows, or a ready table without typed
/// columns.
using Answer = std::variant<double, std::string, Rows, Table>;

/// A worked example with its value; it is executed by the tests and shown in the guide.
struct Example {
    /// `expected` is what the cell shows (in the default unit); for a table, what stands in `row` and
    /// `column` (the header is row 0).
    Example(std::vector<Value> arguments, double expected, double tolerance = 1e-9, std::size_t row = 0,
            std::size_t column = 0);
    Example(std::vector<Value> arguments, std::string_view expected, std::size_t row = 0,
            std::size_t column = 0);
    ~Example();
    Example(const Example&);
    Example(Example&&) noexcept;
    Example& operator=(const Example&) = delete;
    Example& operator=(Example&&) noexcept;

    std::vector<Value> arguments;
    Cell expected;
    double tolerance;  ///< relative
    std::size_t row;
    std::size_t column;
};

/// Keys of the bibliography; "common practice" is a key too.
struct Sources {
    Sources(std::initializer_list<Text> keys_);
    Sources(const Sources&);
    Sources(Sources&&) noexcept;
    Sources& operator=(const Sources&) = delete;
    Sources& operator=(Sources&&) noexcept;
    ~Sources();
    std::vector<std::string_view> keys;
};

/// The function of the core that an entry calls.
struct Compute {
    template <class F>
    Compute(F f) : call(+f) {}
    Answer (*call)(Call&);
};

/// One function of the catalogue. Every field without a default must be set (`parameters` may be empty).
struct Function {
    Text name;     ///< FAMILY.QUANTITY
    Text summary;  ///< one sentence
    std::vector<Parameter> parameters;
    Result result;
    Text method;  ///< how it is computed, and what is left out
    /// The equation, if there is a single one, in plain text ("P = T·ω", products with ·, powers with ^, no
    /// blanks for products), and the meaning of its symbols.
    std::string_view formula = {};
    std::string_view symbols = {};
    Sources sources;
    Example example;
    Compute compute;
    std::string_view accuracy = {};  ///< the measured agreement, and the reference
    bool remembered = false;  ///< results are cached: computing takes longer than a cache look-up, and the
                              ///< same call often occurs in several cells

    std::string_view family() const { return name.view().substr(0, name.view().find('.')); }
    /// The name in the add-in's interface: AIR.DENSITY is airDensity. Files store it.
    std::string identifier() const;
    /// True if the last parameter takes all further arguments.
    bool takes_list() const { return !parameters.empty() && parameters.back().kind == Kind::list; }
};

}  // namespace pullsheet::catalogue
