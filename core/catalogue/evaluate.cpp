// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evaluate.hpp"

#include <algorithm>
#include <boost/container/static_vector.hpp>
#include <cmath>
#include <new>
#include <optional>
#include <utility>

#include "core/catalogue/block.hpp"
#include "core/catalogue/bounds.hpp"
#include "core/catalogue/call.hpp"
#include "core/catalogue/memo.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {
namespace {

/// The maximum number of cells of one result: a row and a column broadcast to the product of their lengths.
constexpr std::size_t max_answer_cells = std::size_t{1} << 22;

bool repeats(const Parameter& parameter, const Table& table) {
    switch (parameter.kind) {
        case Kind::number:
        case Kind::choice:
        case Kind::text: return true;
        case Kind::fuel: return !looks_like_block(table);
        default: return false;
    }
}

/// The cell of a broadcast range that belongs to an element of the result.
const Cell& element(const Table& range, std::size_t row, std::size_t column) {
    return range.at(range.rows() == 1 ? 0 : row, range.columns() == 1 ? 0 : column);
}

/// Whether two cells hold the same number or text; a failure is never the same as another.
bool is_same(const Cell& one, const Cell& other) {
    if (one.index() != other.index()) return false;
    if (const auto* number = std::get_if<double>(&one)) return *number == std::get<double>(other);
    if (const auto* text = std::get_if<std::string>(&one)) return *text == std::get<std::string>(other);
    return std::holds_alternative<std::monostate>(one);
}

}  // namespace

/// One call: reads the arguments, computes, and converts the result.
class Evaluation {
  public:
    Evaluation(const Function& function, Language language, bool warnings_wanted)
        : function_(function), language_(language), warnings_(warnings_wanted) {}

    Outcome run(std::span<const Value> arguments) {
        try {
            Value value = dispatch(arguments);
            return {std::move(value), all_warnings(), {}};
        } catch (const Refused& refused) {
            return {failure(refused.kind, refused.sentence), warnings_.take(), position_};
        } catch (const std::bad_alloc&) {
            throw;
        } catch (const std::exception& error) {
            return {
                failure(FailureKind::no_solution, say(language_, Phrase::internal, {{"what", error.what()}})),
                warnings_.take(),
                {}};
        }
    }

  private:
    // Dropped warnings are counted.
    std::vector<std::string> all_warnings() {
        const std::size_t more = warnings_.dropped();
        auto sentences = warnings_.take();
        if (more > 0)
            sentences.push_back(say(language_, Phrase::more_warnings, {{"count", std::to_string(more)}}));
        return sentences;
    }

    Failure failure(FailureKind kind, const std::string& sentence) const {
        return {kind, std::string(function_.name.view()) + ": " + sentence};
    }

    Refused refuse(Phrase phrase, Fill fill = {}) const {
        return {FailureKind::wrong_argument, say(language_, phrase, fill)};
    }

    /// The arguments that are ranges, evaluated element by element, and the shape of the result.
    struct Repetition {
        std::size_t rows = 1;
        std::size_t columns = 1;
        ::boost::container::static_vector<std::size_t, max_parameters> varying{};  ///< positions
    };

    Value dispatch(std::span<const Value> arguments) {
        const auto& parameters = function_.parameters;
        if (arguments.size() > parameters.size() && !function_.takes_list())
            throw refuse(Phrase::too_many_arguments, {{"given", std::to_string(arguments.size())},
                                                      {"allowed", std::to_string(parameters.size())}});
        const Repetition repetition = repetition_of(arguments);
        Call call(function_, language_, warnings_);
        call.list_ = function_.takes_list() && arguments.size() >= parameters.size()
                         ? arguments.subspan(parameters.size() - 1)
                         : std::span<const Value>{};
        // Arguments common to all elements are read once.
        auto next = repetition.varying.begin();
        for (std::size_t i = 0; i < parameters.size(); ++i)
            if (next != repetition.varying.end() && *next == i)
                ++next;
            else
                read(call, i, i < arguments.size() ? arguments[i] : nothing, 0, 0);
        if (repetition.varying.empty()) return compute(call);

        return each_element(call, arguments, repetition);
    }

    Repetition repetition_of(std::span<const Value> arguments) {
        const auto& parameters = function_.parameters;
        Repetition found;
        auto& [rows, columns, varying] = found;
        for (std::size_t i = 0; i < parameters.size() && i < arguments.size(); ++i) {
            const Table* range = std::get_if<Table>(&arguments[i]);
            if (!range || !repeats(parameters[i], *range)) continue;
            position_ = i;
            if (range->empty())
                throw refuse(Phrase::empty, {{"parameter", name(i)}, {"wanted", allowed(parameters[i])}});
            if (range->rows() == 1 && range->columns() == 1) continue;
            if (function_.result.kind == ResultKind::table)
                throw refuse(Phrase::single_value_wanted, {{"parameter", name(i)},
                                                           {"rows", std::to_string(range->rows())},
                                                           {"columns", std::to_string(range->columns())}});
            const bool fits = (rows == 1 || range->rows() == 1 || range->rows() == rows) &&
                              (columns == 1 || range->columns() == 1 || range->columns() == columns);
            if (!fits)
                throw refuse(Phrase::shapes_differ, {{"parameter", name(i)},
                                                     {"rows", std::to_string(range->rows())},
                                                     {"columns", std::to_string(range->columns())},
                                                     {"other_rows", std::to_string(rows)},
                                                     {"other_columns", std::to_string(columns)}});
            rows = std::max(rows, range->rows());
            columns = std::max(columns, range->columns());
            varying.push_back(i);
        }

        if (rows > max_answer_cells / columns)
            throw refuse(Phrase::answer_too_large, {{"rows", std::to_string(rows)},
                                                    {"columns", std::to_string(columns)},
                                                    {"allowed", std::to_string(max_answer_cells)}});
        position_.reset();
        return found;
    }

    Value each_element(Call& call, std::span<const Value> arguments, const Repetition& repetition) {
        const auto& [rows, columns, varying] = repetition;
        Table answer(rows, columns);
        const Cell* before = nullptr;  // the answer to the element before
        std::size_t row_before = 0;
        std::size_t column_before = 0;
        for (std::size_t r = 0; r < rows; ++r) {
            for (std::size_t c = 0; c < columns; ++c) {
                // A long range often ends in empty cells, and refusing one takes much longer than computing.
                // Equal contents give equal results; only warnings and sentences name the cell.
                if (before && !warnings_.wanted() && std::ranges::all_of(varying, [&](std::size_t i) {
                        const Table& range = std::get<Table>(arguments[i]);
                        return is_same(element(range, r, c), element(range, row_before, column_before));
                    })) {
                    answer.at(r, c) = *before;
                    continue;
                }
                before = &answer.at(r, c);
                row_before = r;
                column_before = c;
                try {
                    for (const std::size_t i : varying) read(call, i, arguments[i], r, c);
                    Value value = compute(call);
                    std::visit(
                        [&](auto& content) {
                            if constexpr (!std::is_same_v<std::decay_t<decltype(content)>, Table>)
                                answer.at(r, c) = std::move(content);
                        },
                        value);
                } catch (const Refused& refused) {
                    if (!warnings_.wanted()) {
                        answer.at(r, c) = Failure{refused.kind, {}};
                        continue;
                    }
                    answer.at(r, c) = failure(refused.kind, say(language_, Phrase::element,
                                                                {{"row", std::to_string(r + 1)},
                                                                 {"column", std::to_string(c + 1)},
                                                                 {"sentence", refused.sentence}}));
                }
            }
        }
        return answer;
    }

    std::string name(std::size_t i) const { return std::string(function_.parameters[i].name); }

    std::string allowed(const Parameter& parameter) const {
        switch (parameter.kind) {
            case Kind::choice:
                return say(language_, Phrase::wanted, {{"allowed", joined(parameter.choices)}});
            case Kind::number:
            case Kind::fuel:
                return say(language_, Phrase::wanted,
                           {{"allowed", allowed_text(parameter.range, parameter.quantity,
                                                     parameter.default_unit, language_)}});
            default: return std::string(translated(language_, parameter.meaning));
        }
    }

    // Reads argument `i`; of a repeated range, the element at (row, column).
    void read(Call& call, std::size_t i, const Value& value, std::size_t row, std::size_t column) {
        const Parameter& parameter = function_.parameters[i];
        position_ = i;
        Call::Read& read = call.read_[i];
        read = {0.0, &value, nullptr, true};
        const bool is_number = parameter.kind == Kind::number || parameter.kind == Kind::fuel;
        const auto is_read = [&](const auto& content) {
            const auto plain = is_number ? plain_number(parameter, content, warnings_) : std::nullopt;
            if (plain) read.number = *plain;
            return plain.has_value();
        };
        if (is_read(value)) return;
        if (parameter.kind == Kind::cell) throw refuse(Phrase::only_in_calc);
        if (parameter.kind == Kind::list) {
            read.given = !call.list_.empty();
            return;
        }
        if (std::holds_alternative<std::monostate>(value)) {
            read.given = false;
            if (parameter.required)
                throw refuse(Phrase::missing, {{"parameter", name(i)}, {"wanted", allowed(parameter)}});
            if (parameter.default_value) read.number = si_of(parameter, *parameter.default_value);
            return;
        }
        if (const auto* error = std::get_if<Failure>(&value); error && parameter.kind != Kind::any)
            throw Refused{error->kind, say(language_, Phrase::error_in_argument,
                                           {{"parameter", name(i)}, {"value", error->sentence}})};
        if (parameter.kind == Kind::text && std::holds_alternative<std::string>(value)) return;
        const Table* range = std::get_if<Table>(&value);
        Cell single;
        if (range && repeats(parameter, *range)) {
            read.cell = &element(*range, row, column);
            if (is_read(*read.cell)) return;
        } else if (!range) {
            std::visit(
                [&](const auto& content) {
                    if constexpr (!std::is_same_v<std::decay_t<decltype(content)>, Table>) single = content;
                },
                value);
        }
        const Cell& content = read.cell ? *read.cell : single;
        switch (parameter.kind) {
            case Kind::fuel:
                if (range && !read.cell) return;  // a block: read by Call::fuel
                [[fallthrough]];
            case Kind::number:
                read.number = read_number(content, wanted(parameter, parameter.name), language_, warnings_);
                return;
            case Kind::choice: read.number = static_cast<double>(read_choice(parameter, content)); return;
            case Kind::text:
                if (!std::holds_alternative<std::string>(content))
                    throw refuse(Phrase::text_wanted,
                                 {{"parameter", name(i)}, {"value", cell_text(content, language_)}});
                return;
            case Kind::unit:
                if (range)
                    throw refuse(Phrase::single_value_wanted,
                                 {{"parameter", name(i)},
                                  {"rows", std::to_string(range->rows())},
                                  {"columns", std::to_string(range->columns())}});
                return;
            case Kind::block:
            case Kind::table:
                if (!range)
                    throw refuse(Phrase::range_wanted,
                                 {{"parameter", name(i)}, {"wanted", allowed(parameter)}});
                return;
            case Kind::series:
            case Kind::any:
            case Kind::list:
            case Kind::cell: return;
        }
    }

    std::size_t read_choice(const Parameter& parameter, const Cell& content) const {
        if (const auto* text = std::get_if<std::string>(&content))
            if (const auto same = std::find(parameter.choices.begin(), parameter.choices.end(), *text);
                same != parameter.choices.end())
                return static_cast<std::size_t>(same - parameter.choices.begin());
        const std::string written = cell_text(content, language_);
        const std::string wanted = normal_label(written);
        for (std::size_t k = 0; k < parameter.choices.size(); ++k)
            if (normal_label(parameter.choices[k]) == wanted) return k;
        if (wanted.empty() || std::holds_alternative<double>(content))
            throw refuse(Phrase::unknown_choice, {{"parameter", std::string(parameter.name)},
                                                  {"value", written},
                                                  {"choices", joined(parameter.choices)}});
        const auto near = nearest(written, parameter.choices);
        if (near.empty())
            throw refuse(Phrase::unknown_choice, {{"parameter", std::string(parameter.name)},
                                                  {"value", written},
                                                  {"choices", joined(parameter.choices)}});
        throw refuse(Phrase::unknown_choice_near, {{"parameter", std::string(parameter.name)},
                                                   {"value", written},
                                                   {"near", std::string(near)},
                                                   {"choices", joined(parameter.choices)}});
    }

    // The unit in which the result is shown: the one asked for, otherwise that of the entry.
    const Unit* result_unit(const Call& call) {
        if (result_unit_) return *result_unit_;
        const auto& parameters = function_.parameters;
        const Unit* unit = function_.result.default_unit;
        if (const std::size_t last = parameters.size() - 1;
            !parameters.empty() && parameters[last].kind == Kind::unit && call.given(last)) {
            Cell asked;
            if (const auto* text = std::get_if<std::string>(&call.value(last))) asked = *text;
            if (const auto* number = std::get_if<double>(&call.value(last))) asked = *number;
            position_ = last;
            unit = read_result_unit(asked, function_.result.quantity, language_,
                                    function_.result.test_density > 0.0);
        }
        result_unit_ = unit;
        return unit;
    }

    Value compute(Call& call) {
        const Unit* unit = result_unit(call);
        position_.reset();
        try {
            Answer answer = function_.compute.call(call);
            if (const auto* number = std::get_if<double>(&answer)) {
                const double shown = in_unit(*number, unit);
                if (!std::isfinite(shown))
                    throw Refused{FailureKind::no_solution, say(language_, Phrase::result_not_finite)};
                if (function_.result.figure) hold(*number, *function_.result.figure);
                return shown;
            }
            if (auto* text = std::get_if<std::string>(&answer)) return std::move(*text);
            if (auto* ready = std::get_if<Table>(&answer)) return finite_table(std::move(*ready));
            return finite_table(with_header(std::get<Rows>(answer), unit));
        } catch (const InvalidArgument& error) {
            for (std::size_t i = 0; i < function_.parameters.size(); ++i)
                if (function_.parameters[i].name == error.parameter()) position_ = i;
            throw Refused{FailureKind::wrong_argument, sentence(error)};
        } catch (const NoSolution& error) {
            throw Refused{FailureKind::no_solution, say(language_, error.reason(), error.details())};
        } catch (const NoData& error) {
            throw Refused{FailureKind::no_data, say(language_, error.reason(), error.details())};
        } catch (const std::bad_alloc&) {
            throw;
        } catch (const std::exception& error) {
            throw Refused{FailureKind::no_solution,
                          say(language_, Phrase::internal, {{"what", error.what()}})};
        }
    }

    /// The label of a block that has the name of a parameter of the core, and the block.
    std::pair<const Parameter*, const Label*> row_named(std::string_view core_name) const {
        const std::string name = normal_label(core_name);
        for (const Parameter& parameter : function_.parameters)
            if (normal_label(parameter.name) == name) return {};
        for (const Parameter& parameter : function_.parameters) {
            if (parameter.kind != Kind::block || !parameter.schema) continue;
            for (const Label& label : parameter.schema->labels)
                if (normal_label(label.name) == name) return {&parameter, &label};
        }
        return {};
    }

    std::string sentence(const InvalidArgument& error) const {
        std::string trade_name = error.parameter();
        if (error.reason() != Reason::out_of_range) {
            const std::string said = say(language_, error.reason(), error.details());
            return trade_name.empty() ? said : trade_name + ": " + said;
        }
        Quantity quantity = Quantity::number;
        const Unit* unit = nullptr;
        for (const Parameter& parameter : function_.parameters)
            if (parameter.name == trade_name) {
                quantity = parameter.quantity;
                unit = parameter.default_unit;
            }
        if (const auto [block, row] = row_named(trade_name); row) {
            trade_name = say(language_, Phrase::block_value,
                             {{"parameter", std::string(block->name)}, {"label", std::string(row->name)}});
            quantity = row->quantity;
            unit = row->unit.empty() ? nullptr : find_unit(row->unit);
        }
        Interval in_unit = error.allowed();
        double value = error.value();
        if (unit) {
            in_unit.low = unit->from_si(in_unit.low, quantity);
            in_unit.high = unit->from_si(in_unit.high, quantity);
            value = unit->from_si(value, quantity);
        }
        return say(language_, Phrase::outside,
                   {{"parameter", trade_name},
                    {"value", number_text(value, unit, language_)},
                    {"allowed", allowed_text(in_unit, quantity, unit, language_)}});
    }

    // The result in a unit; if a volume flow is returned as a mass flow, a warning states the density.
    double in_unit(double si, const Unit* unit) {
        const Result& result = function_.result;
        if (!unit) return si;
        if (unit->quantity != Quantity::mass_flow || result.quantity != Quantity::volume_flow)
            return unit->from_si(si, result.quantity);
        if (warnings_.wanted())
            warnings_.add(say(language_, Phrase::result_by_mass,
                              {{"density", number_text(result.test_density, language_)}}));
        return unit->from_si(si * result.test_density, Quantity::mass_flow);
    }

    // Compares a result with the possible and the usual range of its figure.
    void hold(double si, const Figure& figure) {
        if (!is_possible(figure, si)) {
            if (!warnings_.wanted()) throw Refused{FailureKind::wrong_argument, {}};
            throw refuse(Phrase::result_impossible, {{"value", in_words(figure, si, language_)},
                                                     {"allowed", possible_in_words(figure, language_)}});
        }
        if (warnings_.wanted() && !is_usual(figure, si))
            warnings_.add(say(language_, Phrase::result_unusual,
                              {{"value", in_words(figure, si, language_)},
                               {"allowed", usual_in_words(figure, language_)}}));
    }

    // The same for a column; the warning names the first unusual number.
    void hold(const Rows& rows, std::size_t c, Table& table) {
        const Column& column = function_.result.columns[c];
        if (!column.figure || column.figure->is_open()) return;
        std::size_t unusual = 0;
        std::size_t first = 0;
        for (std::size_t r = 0; r < rows.size(); ++r) {
            const auto* number = c < rows[r].size() ? std::get_if<double>(&rows[r][c]) : nullptr;
            if (!number || !std::isfinite(*number)) continue;
            if (!is_possible(*column.figure, *number))
                table.at(r + 1, c) =
                    failure(FailureKind::wrong_argument,
                            say(language_, Phrase::figure_impossible,
                                {{"parameter", std::string(column.name)},
                                 {"value", in_words(*column.figure, *number, language_)},
                                 {"allowed", possible_in_words(*column.figure, language_)}}));
            else if (warnings_.wanted() && !is_usual(*column.figure, *number) && ++unusual == 1)
                first = r;
        }
        if (unusual > 0)
            warnings_.add(
                say(language_, rows.size() == 1 ? Phrase::figure_unusual : Phrase::column_unusual,
                    {{"parameter", std::string(column.name)},
                     {"value", in_words(*column.figure, std::get<double>(rows[first][c]), language_)},
                     {"row", std::to_string(first + 1)},
                     {"count", std::to_string(unusual)},
                     {"allowed", usual_in_words(*column.figure, language_)}}));
    }

    // `asked` is the unit of the columns that measure the quantity of the result.
    Table with_header(const Rows& rows, const Unit* asked) {
        const auto& columns = function_.result.columns;
        Table table(rows.size() + 1, columns.size());
        for (std::size_t c = 0; c < columns.size(); ++c) {
            const bool is_asked = asked && function_.result.is_measured_by(columns[c]);
            const Unit* unit = is_asked ? asked : columns[c].default_unit;
            std::string title(columns[c].name);
            if (unit) title.append(" [").append(unit->symbol).append("]");
            table.at(0, c) = std::move(title);
            for (std::size_t r = 0; r < rows.size(); ++r) {
                if (c >= rows[r].size()) continue;
                Cell cell = rows[r][c];
                if (auto* number = std::get_if<double>(&cell); number && unit)
                    *number = unit->from_si(*number, columns[c].quantity);
                table.at(r + 1, c) = std::move(cell);
            }
            hold(rows, c, table);
        }
        return table;
    }

    // The catalogue returns only finite numbers.
    Table finite_table(Table table) const {
        for (std::size_t r = 0; r < table.rows(); ++r)
            for (std::size_t c = 0; c < table.columns(); ++c)
                if (const auto* number = std::get_if<double>(&table.at(r, c));
                    number && !std::isfinite(*number))
                    table.at(r, c) =
                        failure(FailureKind::no_solution, say(language_, Phrase::result_not_finite));
        return table;
    }

    static inline const Value nothing{};
    const Function& function_;
    Language language_;
    Warnings warnings_;
    std::optional<std::size_t> position_;  ///< of the parameter being read
    std::optional<const Unit*> result_unit_;
};

namespace {

// The outcome of a call through the memo, cached or newly computed; nothing if the key would be too long.
std::optional<Outcome> from_memory(const Function& function, std::span<const Value> arguments,
                                   Language language) {
    // Comparing a longer key would take too long.
    constexpr std::size_t longest_key = std::size_t{1} << 17;
    static Memo memo;
    std::string key = memo_key(function, arguments, language);
    if (key.size() > longest_key) return std::nullopt;
    if (auto known = memo.find(key)) return known;
    Outcome outcome = Evaluation(function, language, true).run(arguments);
    memo.add(std::move(key), outcome);
    return outcome;
}

}  // namespace

Outcome evaluate(const Function& function, std::span<const Value> arguments, Language language) {
    if (function.remembered)
        if (auto known = from_memory(function, arguments, language)) return std::move(*known);
    return Evaluation(function, language, true).run(arguments);
}

Value value_of(const Function& function, std::span<const Value> arguments, Language language) {
    if (function.remembered)
        if (auto known = from_memory(function, arguments, language)) return std::move(known->value);
    return Evaluation(function, language, false).run(arguments).value;
}

}  // namespace pullsheet::catalogue
