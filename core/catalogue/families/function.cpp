// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/reader.hpp"
#include "core/catalogue/sources.hpp"
#include "core/statistics/solving.hpp"
#include "core/statistics/uncertainty.hpp"

namespace pullsheet::catalogue::families {
namespace {

const Function& named(Call& call, std::size_t i) {
    const Function* function = find_function(call.text(i));
    if (!function)
        throw Refused{FailureKind::wrong_argument, unknown_function(call.text(i), call.language())};
    return *function;
}

// The first sentence that a value or its warnings carry; empty when all is well.
std::string why(const Outcome& outcome) {
    if (const auto* failure = std::get_if<Failure>(&outcome.value)) return failure->sentence;
    if (const auto* table = std::get_if<Table>(&outcome.value))
        for (std::size_t r = 0; r < table->rows(); ++r)
            for (std::size_t c = 0; c < table->columns(); ++c)
                if (const auto* failure = std::get_if<Failure>(&table->at(r, c))) return failure->sentence;
    std::string sentences;
    for (const auto& warning : outcome.warnings) {
        if (!sentences.empty()) sentences += "; ";
        sentences += warning;
    }
    return sentences;
}

// Refuses a range in a function with a scalar result: the whole range would be recomputed at every
// evaluation.
void single_value(const Call& call, const Value& value, std::string_view parameter) {
    const auto* range = std::get_if<Table>(&value);
    if (range && (range->rows() > 1 || range->columns() > 1))
        throw Refused{FailureKind::wrong_argument, say(call.language(), Phrase::single_value_wanted,
                                                       {{"parameter", std::string(parameter)},
                                                        {"rows", std::to_string(range->rows())},
                                                        {"columns", std::to_string(range->columns())}})};
}

Answer error(Call& call) {
    const Function& function = named(call, 0);
    // Recursion is refused: each level would repeat all evaluations below it.
    if (&function == &call.function())
        throw Refused{FailureKind::wrong_argument, say(call.language(), Phrase::explains_itself,
                                                       {{"function", std::string(function.name.view())}})};
    single_value(call, call.value(0), call.function().parameters[0].name);
    return why(evaluate(function, call.list(), call.language()));
}

Answer source(Call& call) {
    std::string text;
    for (const auto key : named(call, 0).sources.keys) {
        if (!text.empty()) text += "; ";
        text += citation(key);
    }
    return text;
}

// A numeric parameter in its default unit, read and written: the variable of SOLVE and UNCERTAINTY.
struct Knob {
    Wanted wanted;
    double in_unit(double si) const { return wanted.unit ? wanted.unit->from_si(si, wanted.quantity) : si; }
};

Knob argument_knob(Call& call, const Function& function, std::size_t index) {
    const Parameter& parameter = function.parameters[index];
    if (parameter.kind != Kind::number && parameter.kind != Kind::fuel)
        throw Refused{FailureKind::wrong_argument, say(call.language(), Phrase::not_a_number_parameter,
                                                       {{"function", std::string(function.name.view())},
                                                        {"parameter", std::string(parameter.name)}})};
    return {{parameter.name, parameter.quantity, parameter.default_unit, parameter.range}};
}

double read_in_unit(Call& call, const Value& value, const Knob& knob) {
    Cell cell;
    if (const auto* number = std::get_if<double>(&value)) cell = *number;
    if (const auto* text = std::get_if<std::string>(&value)) cell = *text;
    return knob.in_unit(read_number(cell, knob.wanted, call.language(), call.warnings));
}

// A scalar function with one of its numbers replaced; NaN where it has no value.
double value_of(const Function& function, std::vector<Value>& arguments, Language language) {
    const Outcome outcome = evaluate(function, arguments, language);
    const auto* number = std::get_if<double>(&outcome.value);
    return number ? *number : std::numeric_limits<double>::quiet_NaN();
}

const Function& scalar_function(Call& call) {
    const Function& function = named(call, 0);
    if (function.result.kind != ResultKind::number || function.takes_list())
        throw Refused{FailureKind::wrong_argument, say(call.language(), Phrase::not_a_scalar_function,
                                                       {{"function", std::string(function.name.view())}})};
    return function;
}

std::vector<Value> arguments_of(Call& call, const Function& function, std::size_t needed) {
    std::vector<Value> arguments(call.list().begin(), call.list().end());
    if (arguments.size() > function.parameters.size())
        throw Refused{FailureKind::wrong_argument,
                      say(call.language(), Phrase::too_many_arguments,
                          {{"given", std::to_string(arguments.size())},
                           {"allowed", std::to_string(function.parameters.size())}})};
    for (std::size_t i = 0; i < arguments.size(); ++i) {
        const Kind kind = function.parameters[i].kind;
        const auto* range = std::get_if<Table>(&arguments[i]);
        if (kind == Kind::number || kind == Kind::choice || kind == Kind::text ||
            (kind == Kind::fuel && range && !looks_like_block(*range)))
            single_value(call, arguments[i], function.parameters[i].name);
    }
    if (arguments.size() < needed) arguments.resize(needed);
    return arguments;
}

Answer solve(Call& call) {
    const Function& function = scalar_function(call);
    if (!(call.si(1) <= static_cast<double>(function.parameters.size())) ||
        call.si(1) != std::floor(call.si(1)))
        throw InvalidArgument("position", call.si(1),
                              Interval{1.0, static_cast<double>(function.parameters.size())});
    const auto index = static_cast<std::size_t>(call.si(1)) - 1;
    const Knob knob = argument_knob(call, function, index);
    const Knob result{{"target", function.result.quantity, function.result.default_unit, finite}};
    const double target = read_in_unit(call, call.value(2), result);
    Knob low_knob = knob;
    low_knob.wanted.name = "low";
    Knob high_knob = knob;
    high_knob.wanted.name = "high";
    const double low = read_in_unit(call, call.value(3), low_knob);
    const double high = read_in_unit(call, call.value(4), high_knob);
    std::vector<Value> arguments = arguments_of(call, function, index + 1);
    const auto solution = statistics::solve(
        [&](double x) {
            arguments[index] = x;
            return value_of(function, arguments, call.language());
        },
        target, low, high);
    call.warn(solution.warnings);
    return solution.argument;
}

// The unit of the result of a function: the one asked for, or the default.
std::string unit_of_value(const Function& function, std::span<const Value> arguments) {
    const std::size_t last = function.parameters.size() - 1;
    const Unit* asked = nullptr;
    if (!function.parameters.empty() && function.parameters[last].kind == Kind::unit &&
        last < arguments.size()) {
        if (const auto* symbol = std::get_if<std::string>(&arguments[last])) asked = find_unit(*symbol);
    }
    return std::string(asked ? asked->symbol : function.result.unit);
}

Answer uncertainty(Call& call) {
    const Function& function = scalar_function(call);
    std::vector<Value> arguments = arguments_of(call, function, 0);
    const std::vector<double> given = call.raw_series(1);
    if (given.size() > arguments.size())
        throw InvalidArgument("standard_uncertainties", Reason::lengths_differ,
                              {{static_cast<double>(given.size())}, {static_cast<double>(arguments.size())}});
    // Only the numbers that have an uncertainty are varied; an empty cell is an exact argument.
    std::vector<std::size_t> varied;
    std::vector<double> numbers;
    std::vector<double> uncertainties;
    for (std::size_t i = 0; i < given.size(); ++i) {
        if (!(given[i] > 0.0) && !(given[i] < 0.0)) continue;
        const Knob knob = argument_knob(call, function, i);
        varied.push_back(i);
        numbers.push_back(read_in_unit(call, arguments[i], knob));
        uncertainties.push_back(given[i]);
    }
    // The value itself must exist; otherwise its own failure is returned.
    const Outcome middle = evaluate(function, arguments, call.language());
    if (const auto* failure = std::get_if<Failure>(&middle.value))
        throw Refused{failure->kind, failure->sentence};
    for (const auto& warning : middle.warnings) call.warn(warning);
    const auto propagated = statistics::propagate(
        [&](std::span<const double> x) {
            for (std::size_t k = 0; k < varied.size(); ++k) arguments[varied[k]] = x[k];
            return value_of(function, arguments, call.language());
        },
        numbers, uncertainties);
    call.warn(propagated.warnings);
    Rows rows;
    const std::string unit = unit_of_value(function, arguments);
    rows.push_back(row(std::string("value"), propagated.value, unit, std::string()));
    rows.push_back(row(std::string("standard uncertainty"), propagated.uncertainty, unit, std::string()));
    for (std::size_t k = 0; k < varied.size(); ++k)
        rows.push_back(row(std::string(function.parameters[varied[k]].name),
                           propagated.contributions[k].effect, unit, propagated.contributions[k].share));
    return rows;
}

// Cell values do not depend on the language.
Answer list(Call&) {
    Rows rows;
    for (const Function& function : functions())
        rows.push_back(row(std::string(function.name.view()), std::string(function.family()),
                           std::string(function.summary.view())));
    return rows;
}

}  // namespace

std::vector<Function> function() {
    return {
        {
            .name = "FUNCTION.WHY",
            .summary = "Why a cell shows an error or carries a warning",
            .parameters = {cell("cell", "the cell to be explained")},
            .result = Result::text(
                "one sentence: function, argument, value given, what is allowed; empty when all is well"),
            .method = "Reads the formula of the cell, finds the call of this catalogue that failed or warns, "
                      "evaluates it again with its arguments and returns its sentence; an error that came "
                      "from another cell names that cell.",
            .sources = {"Pullsheet"},
            .example = {{std::monostate{}}, ""},
            .compute = [](Call&) -> Answer { return std::string(); },
        },
        {
            .name = "FUNCTION.ERROR",
            .summary = "Why a function call, written out, fails or warns",
            .parameters = {text("name", "the name of the function"),
                           further("arguments", "its arguments in their order")},
            .result = Result::text("one sentence, empty when all is well"),
            .method = "Evaluates the call and returns the sentence of its error, or its warnings.",
            .sources = {"Pullsheet"},
            .example = {{"UNIT.CONVERT", 1.0, "PS", "bar"},
                        "UNIT.CONVERT: PS is a unit of power, bar one of pressure; they cannot be converted"},
            .compute = error,
        },
        {
            .name = "FUNCTION.SOLVE",
            .summary = "Argument for which a function gives a wanted value",
            .parameters = {text("name", "the name of a function that answers with one number"),
                           plain("position", "number of the argument sought, counted from 1", Quantity::count,
                                 between(1, 20)),
                           anything("target",
                                    "the value wanted, in the function's own unit unless it says another"),
                           anything("low", "lower bound of the argument"),
                           anything("high", "upper bound of the argument"),
                           further("arguments",
                                   "the arguments in their order; the one sought is left empty")},
            .result =
                Result::plain("the argument, in its default unit", Quantity::number).of(figures::anything),
            .method = "A scan between the bounds finds the changes of sign, TOMS 748 the solution. An error "
                      "says that there is no solution between the bounds, a warning that there are several.",
            .sources = {"Alefeld, Potra & Shi 1995", "Brent 1973"},
            .example = {{"ENGINE.POWER", 1.0, 300.0, 100.0, 1000.0, std::monostate{}, 6500.0},
                        440.736765,
                        1e-8},
            .compute = solve,
        },
        {
            .name = "FUNCTION.UNCERTAINTY",
            .summary = "Uncertainty of a function's value from those of its arguments",
            .parameters = {text("name", "the name of a function that answers with one number"),
                           plain_series("standard_uncertainties",
                                        "one for each argument, in its default unit; empty: exact")
                               .of(figures::anything),
                           further("arguments", "the arguments in their order")},
            .result = Result::table("value, combined standard uncertainty, and contribution of each argument",
                                    {{"quantity"},
                                     {"value", figures::anything},
                                     {"unit"},
                                     {"share of the variance", figures::anything}}),
            .method = "GUM, first order, central differences over ± one standard uncertainty; independent "
                      "arguments.",
            .formula = "u = √(Σ((c_i·u_i)^2))",
            .symbols = "u_i standard uncertainties of the arguments, c_i sensitivity of the value to each",
            .sources = {"GUM"},
            .example =
                {{"ENGINE.POWER", examples::column({1.2, 3}), 400.0, 5500.0}, 0.7024814731, 1e-8, 2, 1},
            .compute = uncertainty,
        },
        {
            .name = "FUNCTION.SOURCE",
            .summary = "The published sources of a function",
            .parameters = {text("name", "the name of the function")},
            .result = Result::text("the full citations"),
            .method = "From the catalogue's bibliography.",
            .sources = {"Pullsheet"},
            .example = {{"FUNCTION.VERSION"}, "Pullsheet, this project's own definition"},
            .compute = source,
        },
        {
            .name = "FUNCTION.LIST",
            .summary = "All functions with one line each",
            .parameters = {},
            .result = Result::table("the functions", {{"function"}, {"family"}, {"what it answers"}}),
            .method = "From the catalogue.",
            .sources = {"Pullsheet"},
            .example = {{}, "UNIT.CONVERT", 1, 0},
            .compute = list,
        },
        {
            .name = "FUNCTION.VERSION",
            .summary = "The version of the extension",
            .parameters = {},
            .result = Result::text("the version"),
            .method = "From the build.",
            .sources = {"Pullsheet"},
            .example = {{}, version()},
            .compute = [](Call&) -> Answer { return std::string(version()); },
        },
    };
}

}  // namespace pullsheet::catalogue::families
