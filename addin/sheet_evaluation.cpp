// SPDX-License-Identifier: Apache-2.0
#include "addin/sheet_evaluation.hpp"

#include <fmt/format.h>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/NoSuchElementException.hpp>
#include <com/sun/star/lang/IllegalArgumentException.hpp>
#include <com/sun/star/lang/XMultiComponentFactory.hpp>
#include <com/sun/star/sheet/XFunctionAccess.hpp>

#include <algorithm>
#include <boost/algorithm/string/case_conv.hpp>
#include <charconv>
#include <cmath>
#include <unordered_map>
#include <unordered_set>

#include "addin/convert.hpp"
#include "core/catalogue/block.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
namespace sheet = com::sun::star::sheet;
using catalogue::Cell;
using catalogue::Failure;
using catalogue::FailureKind;
using catalogue::Function;
using catalogue::Kind;
using catalogue::Language;
using catalogue::Parameter;
using catalogue::say;
using catalogue::Table;
using catalogue::translated;
using catalogue::Value;

// A number of a formula typed with a point where the decimal mark is the comma: Calc takes it for a name.
bool is_number_with_point(std::string_view name) {
    const auto point = name.find('.');
    return point != std::string_view::npos && point > 0 && point + 1 < name.size() &&
           name.find_first_not_of("0123456789.") == std::string_view::npos &&
           name.find('.', point + 1) == std::string_view::npos;
}

std::string with_comma(std::string number) {
    std::replace(number.begin(), number.end(), '.', ',');
    return number;
}

Evaluated unknown() {
    return {{}, false, {}};
}

Evaluated known(Value value) {
    return {std::move(value), true, {}};
}

Evaluated failure(std::string_view sentence = {}, FailureKind kind = FailureKind::wrong_argument) {
    return known(Failure{kind, std::string(sentence)});
}

Evaluated from(const Address& cell, FailureKind kind = FailureKind::wrong_argument) {
    return {Failure{kind, {}}, true, cell};
}

// Built-in functions whose value depends on more than their arguments.
bool depends_on_more(const std::string& name) {
    static const std::unordered_set<std::string> names{"RAND",
                                                       "RAND.NV",
                                                       "RANDBETWEEN",
                                                       "RANDBETWEEN.NV",
                                                       "RANDARRAY",
                                                       "CELL",
                                                       "INFO",
                                                       "SHEET",
                                                       "SHEETS",
                                                       "CURRENT",
                                                       "STYLE",
                                                       "FORMULA",
                                                       "ISFORMULA",
                                                       "ISREF",
                                                       "AREAS",
                                                       "DDE",
                                                       "SUBTOTAL",
                                                       "AGGREGATE",
                                                       "WEBSERVICE",
                                                       "GETPIVOTDATA",
                                                       "MULTIPLE.OPERATIONS",
                                                       "EXTERN.VALUE"};
    return names.contains(name);
}

Failure outside_result(std::size_t rows, std::size_t columns, Language language) {
    return {FailureKind::no_data,
            say(language, "the array formula covers more cells than its result has ({rows} × {columns})",
                {{"rows", std::to_string(rows)}, {"columns", std::to_string(columns)}})};
}

const Failure* first_failure_in(const Table& table) {
    for (std::size_t r = 0; r < table.rows(); ++r)
        for (std::size_t c = 0; c < table.columns(); ++c)
            if (const auto* failed = std::get_if<Failure>(&table.at(r, c))) return failed;
    return nullptr;
}

Value picked(const Table& table, sal_Int32 row, sal_Int32 column, Language language) {
    const auto r = table.rows() == 1 ? 0 : static_cast<std::size_t>(row);
    const auto c = table.columns() == 1 ? 0 : static_cast<std::size_t>(column);
    if (r < table.rows() && c < table.columns()) return catalogue::to_value(table.at(r, c));
    return outside_result(table.rows(), table.columns(), language);
}

// A number as an operator takes it: nothing where it is a text that is no number.
std::optional<double> number_in(const Cell& cell) {
    if (std::holds_alternative<std::monostate>(cell)) return 0.0;
    if (const auto* number = std::get_if<double>(&cell)) return *number;
    if (const auto* text = std::get_if<std::string>(&cell)) {
        double number = 0.0;
        const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), number);
        if (!text->empty() && error == std::errc{} && end == text->data() + text->size()) return number;
    }
    return std::nullopt;
}

std::string text_in(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) return fmt::format("{:.15g}", *number);
    if (const auto* text = std::get_if<std::string>(&cell)) return *text;
    return {};
}

Cell text_for_number(const Cell& cell, Language language) {
    return Failure{FailureKind::wrong_argument,
                   say(language, "\"{text}\" is a text where a number is wanted", {{"text", text_in(cell)}})};
}

Cell finite(double number) {
    if (std::isfinite(number)) return number;
    return Failure{};
}

Cell compared(const std::string& op, const Cell& a, const Cell& b) {
    const auto empty_as = [](const Cell& cell, const Cell& other) -> Cell {
        if (!std::holds_alternative<std::monostate>(cell)) return cell;
        return std::holds_alternative<std::string>(other) ? Cell(std::string()) : Cell(0.0);
    };
    const Cell left = empty_as(a, b);
    const Cell right = empty_as(b, a);
    int order = 0;
    if (left.index() != right.index()) {
        order = left.index() < right.index() ? -1 : 1;  // numbers come before texts
    } else if (const auto* number = std::get_if<double>(&left)) {
        const double other = std::get<double>(right);
        order = *number < other ? -1 : *number > other ? 1 : 0;
    } else {
        order = to_unicode(std::get<std::string>(left))
                    .compareToIgnoreAsciiCase(to_unicode(std::get<std::string>(right)));
    }
    const bool holds = op == "="    ? order == 0
                       : op == "<>" ? order != 0
                       : op == "<"  ? order < 0
                       : op == ">"  ? order > 0
                       : op == "<=" ? order <= 0
                                    : order >= 0;
    return holds ? 1.0 : 0.0;
}

Cell combined(const std::string& op, const Cell& a, const Cell& b, Language language) {
    for (const Cell* cell : {&a, &b})
        if (std::holds_alternative<Failure>(*cell)) return *cell;
    if (op == "&") return text_in(a) + text_in(b);
    if (op[0] == '=' || op[0] == '<' || op[0] == '>') return compared(op, a, b);
    const auto x = number_in(a);
    const auto y = number_in(b);
    if (!x) return text_for_number(a, language);
    if (!y) return text_for_number(b, language);
    switch (op[0]) {
        case '+': return finite(*x + *y);
        case '-': return finite(*x - *y);
        case '*': return finite(*x * *y);
        case '/':
            if (*y != 0.0) return finite(*x / *y);
            return Failure{FailureKind::wrong_argument,
                           std::string(translated(language, "division by zero"))};
        default: return finite(std::pow(*x, *y));
    }
}

Cell changed(const std::string& op, const Cell& a, Language language) {
    if (std::holds_alternative<Failure>(a) || op == "+") return a;
    const auto x = number_in(a);
    if (!x) return text_for_number(a, language);
    return op == "%" ? *x / 100.0 : -*x;
}

Cell single(const Value& value) {
    return std::visit(
        [](const auto& content) -> Cell {
            if constexpr (std::is_same_v<std::decay_t<decltype(content)>, Table>)
                return content.empty() ? Cell{} : content.at(0, 0);
            else
                return content;
        },
        value);
}

// An operator over two values, element by element where one of them is a table.
template <class Operation>
Value element_wise(const Value& a, const Value& b, Language language, Operation operation) {
    const auto* left = std::get_if<Table>(&a);
    const auto* right = std::get_if<Table>(&b);
    if (!left && !right) return catalogue::to_value(operation(single(a), single(b)));
    const std::size_t rows = std::max(left ? left->rows() : 1, right ? right->rows() : 1);
    const std::size_t columns = std::max(left ? left->columns() : 1, right ? right->columns() : 1);
    // A column against a row is their product, which may be more than any machine holds.
    if (is_too_large(static_cast<std::int64_t>(rows), static_cast<std::int64_t>(columns))) return Failure{};
    Table table(rows, columns);
    for (std::size_t r = 0; r < rows; ++r)
        for (std::size_t c = 0; c < columns; ++c) {
            const auto at = [&](const Table* range, const Value& value) {
                return range ? single(picked(*range, static_cast<sal_Int32>(r), static_cast<sal_Int32>(c),
                                             language))
                             : single(value);
            };
            table.at(r, c) = operation(at(left, a), at(right, b));
        }
    return table;
}

bool takes_elements(const Parameter& parameter) {
    return parameter.kind == Kind::number || parameter.kind == Kind::choice || parameter.kind == Kind::text ||
           parameter.kind == Kind::fuel;
}

void collect(const Node& node, std::vector<Area>& areas) {
    if (node.kind == Node::Kind::reference) areas.push_back(node.area);
    for (const Node& child : node.children) collect(child, areas);
}

}  // namespace

const Function* catalogue_function(std::string_view programmatic_name) {
    static const std::unordered_map<std::string, const Function*> by_name = [] {
        std::unordered_map<std::string, const Function*> names;
        for (const Function& function : catalogue::functions())
            names.emplace(boost::to_lower_copy("pullsheet.Functions." + function.identifier()), &function);
        return names;
    }();
    const auto found = by_name.find(boost::to_lower_copy(std::string(programmatic_name)));
    return found == by_name.end() ? nullptr : found->second;
}

SheetEvaluation::SheetEvaluation(uno::Reference<uno::XComponentContext> context, const Book& book,
                                 const Address& cell, Language language)
    : context_(std::move(context)), book_(book), language_(language), cell_(cell), base_(cell) {
    if (const auto array = book.array_around(cell)) {
        is_array_ = true;
        base_ = array->first;
        element_ = Element{cell.row - base_.row, cell.column - base_.column};
    }
    formula_ = book.formula(cell);
}

Evaluated SheetEvaluation::run() {
    Evaluated result = value_of(formula_, element_);
    // A cell shows the first element of what does not fit into it.
    if (const auto* table = std::get_if<Table>(&result.value)) result.value = picked(*table, 0, 0, language_);
    return result;
}

std::vector<Area> SheetEvaluation::references() const {
    std::vector<Area> areas;
    collect(formula_, areas);
    return areas;
}

// The value of a node as an operand: of a reference to several cells, the element that is wanted, or the cell
// in line with the formula, as Calc does it.
Evaluated SheetEvaluation::value_of(const Node& node, const Wanted& wanted) {
    switch (node.kind) {
        case Node::Kind::constant: {
            const auto* table = std::get_if<Table>(&node.value);
            return known(table && wanted ? picked(*table, wanted->row, wanted->column, language_)
                                         : node.value);
        }
        case Node::Kind::broken:
            return failure(
                translated(language_, "the formula refers to a cell, row, column or sheet that is gone"));
        case Node::Kind::unary: return unary(node, wanted);
        case Node::Kind::binary:
            if (node.name == ":" || node.name == "!" || node.name == "~") break;
            return binary(node, wanted);
        case Node::Kind::external:
            if (const Function* function = catalogue_function(node.name))
                return of_catalogue(*function, node, wanted);
            return built_in(node.name, node, wanted);
        case Node::Kind::unknown:
            if (node.name.empty()) return unknown();
            if (is_number_with_point(node.name))
                return failure(
                    say(language_,
                        "{number} is written with a point; in this Calc the decimal mark is the comma, "
                        "write {right}",
                        {{"number", node.name}, {"right", with_comma(node.name)}}));
            return failure(catalogue::unknown_function(node.name, language_));
        case Node::Kind::reference:
        case Node::Kind::function: break;
    }
    if (const auto area = area_of(node)) return content(*area, wanted);
    return node.kind == Node::Kind::function ? function(node, wanted) : unknown();
}

Evaluated SheetEvaluation::content(const Area& area, const Wanted& wanted) const {
    if (!book_.has(area))
        return failure(
            translated(language_, "the formula refers to a cell, row, column or sheet that is gone"));
    Address address = area.first;
    if (!area.is_single() && is_array_ && !wanted) {
        if (is_too_large(area.rows(), area.columns())) return unknown();
        if (const auto failed = book_.first_error(area)) return from(*failed);
        return known(book_.contents(area));
    }
    if (!area.is_single()) {
        if (is_array_) {
            const sal_Int32 row = area.rows() == 1 ? 0 : wanted->row;
            const sal_Int32 column = area.columns() == 1 ? 0 : wanted->column;
            if (row >= area.rows() || column >= area.columns())
                return failure(
                    say(language_, "the array formula covers more cells than the range {rows} × {columns}",
                        {{"rows", std::to_string(area.rows())}, {"columns", std::to_string(area.columns())}}),
                    FailureKind::no_data);
            address.row += row;
            address.column += column;
        } else if (area.columns() == 1 && base_.row >= area.first.row && base_.row <= area.last.row) {
            address.row = base_.row;
        } else if (area.rows() == 1 && base_.column >= area.first.column &&
                   base_.column <= area.last.column) {
            address.column = base_.column;
        } else {
            return failure(translated(language_, "a range stands where one value is wanted"));
        }
    }
    const Cell cell = book_.content(address);
    if (const auto* failed = std::get_if<Failure>(&cell)) return from(address, failed->kind);
    return known(catalogue::to_value(cell));
}

Evaluated SheetEvaluation::unary(const Node& node, const Wanted& wanted) {
    Evaluated operand = value_of(node.children[0], wanted);
    if (!operand.is_known || operand.failed()) return operand;
    return known(element_wise(operand.value, Value{}, language_, [&](const Cell& cell, const Cell&) {
        return changed(node.name, cell, language_);
    }));
}

Evaluated SheetEvaluation::binary(const Node& node, const Wanted& wanted) {
    Evaluated left = value_of(node.children[0], wanted);
    if (left.failed()) return left;
    Evaluated right = value_of(node.children[1], wanted);
    if (right.failed()) return right;
    if (!left.is_known || !right.is_known) return unknown();
    return known(element_wise(left.value, right.value, language_, [&](const Cell& a, const Cell& b) {
        return combined(node.name, a, b, language_);
    }));
}

std::optional<double> SheetEvaluation::number_of(const Node& node, const Wanted& wanted) {
    const Evaluated result = value_of(node, wanted);
    if (!result.is_known || std::holds_alternative<Table>(result.value)) return std::nullopt;
    return number_in(single(result.value));
}

// The cells that a node stands for, where it stands for cells.
std::optional<Area> SheetEvaluation::area_of(const Node& node) {
    if (node.kind == Node::Kind::reference) return node.area;
    if (node.kind == Node::Kind::binary && node.name == ":") {
        const auto a = area_of(node.children[0]);
        const auto b = area_of(node.children[1]);
        if (!a || !b || a->first.sheet != b->first.sheet) return std::nullopt;
        return Area{
            {a->first.sheet, std::min(a->first.column, b->first.column),
             std::min(a->first.row, b->first.row)},
            {a->first.sheet, std::max(a->last.column, b->last.column), std::max(a->last.row, b->last.row)}};
    }
    if (node.kind != Node::Kind::function || node.children.empty()) return std::nullopt;
    const auto& arguments = node.children;
    const auto is_given = [&](std::size_t i) {
        return i < arguments.size() && !(arguments[i].kind == Node::Kind::constant &&
                                         std::holds_alternative<std::monostate>(arguments[i].value));
    };
    const auto whole = [&](std::size_t i, sal_Int32 otherwise) -> std::optional<sal_Int32> {
        if (!is_given(i)) return otherwise;
        const auto number = number_of(arguments[i], element_);
        if (!number || !(std::abs(*number) < 1e7)) return std::nullopt;
        return static_cast<sal_Int32>(std::floor(*number));
    };
    if (node.name == "INDEX") {
        const auto area = area_of(arguments[0]);
        auto row = whole(1, 0);
        auto column = whole(2, 0);
        if (!area || !row || !column || arguments.size() > 3) return std::nullopt;
        if (area->rows() == 1 && arguments.size() == 2) std::swap(row, column);
        if (*row < 0 || *row > area->rows() || *column < 0 || *column > area->columns()) return std::nullopt;
        Area part = *area;
        if (*row > 0) part.first.row = part.last.row = area->first.row + *row - 1;
        if (*column > 0) part.first.column = part.last.column = area->first.column + *column - 1;
        return part;
    }
    if (node.name == "OFFSET") {
        const auto area = area_of(arguments[0]);
        const auto rows = whole(1, 0);
        const auto columns = whole(2, 0);
        const auto height = area ? whole(3, area->rows()) : std::nullopt;
        const auto width = area ? whole(4, area->columns()) : std::nullopt;
        if (!rows || !columns || !height || !width) return std::nullopt;
        Area moved = *area;
        moved.first.row += *rows;
        moved.first.column += *columns;
        moved.last = {moved.first.sheet, moved.first.column + *width - 1, moved.first.row + *height - 1};
        return book_.has(moved) ? std::optional(moved) : std::nullopt;
    }
    if (node.name == "INDIRECT" && arguments.size() == 1) {
        const Evaluated text = value_of(arguments[0], element_);
        const auto* address = std::get_if<std::string>(&text.value);
        if (!text.is_known || !address) return std::nullopt;
        const Node pointed = book_.formula(*address, base_);
        return pointed.kind == Node::Kind::reference ? std::optional(pointed.area) : std::nullopt;
    }
    if (node.name == "CHOOSE") {
        const auto index = whole(0, 0);
        if (!index || *index < 1 || static_cast<std::size_t>(*index) >= arguments.size()) return std::nullopt;
        return area_of(arguments[static_cast<std::size_t>(*index)]);
    }
    if (node.name == "IF") {
        const auto condition = number_of(arguments[0], element_);
        const std::size_t branch = condition && *condition != 0.0 ? 1 : 2;
        return condition && branch < arguments.size() ? area_of(arguments[branch]) : std::nullopt;
    }
    return std::nullopt;
}

Evaluated SheetEvaluation::function(const Node& node, const Wanted& wanted) {
    if (auto result = own_way(node, wanted)) return *std::move(result);
    return built_in(node.name, node, wanted);
}

// Functions that do not simply take the values of their arguments: they choose among them, look at their
// errors, or at where the formula stands.
std::optional<Evaluated> SheetEvaluation::own_way(const Node& node, const Wanted& wanted) {
    const auto& name = node.name;
    const auto& arguments = node.children;
    const auto argument = [&](std::size_t i) {
        return i < arguments.size() ? value_of(arguments[i], wanted) : known(0.0);
    };
    const auto is_table = [](const Evaluated& one) { return std::holds_alternative<Table>(one.value); };

    if (name == "IF" && !arguments.empty()) {
        const Evaluated condition = argument(0);
        if (!condition.is_known || is_table(condition)) return unknown();
        if (condition.failed()) return condition;
        const auto truth = number_in(single(condition.value));
        if (!truth) return known(catalogue::to_value(text_for_number(single(condition.value), language_)));
        return argument(*truth != 0.0 ? 1 : 2);
    }
    if (name == "IFS") {
        for (std::size_t i = 0; i + 1 < arguments.size(); i += 2) {
            const Evaluated condition = argument(i);
            if (!condition.is_known || is_table(condition)) return unknown();
            if (condition.failed()) return condition;
            if (number_in(single(condition.value)).value_or(0.0) != 0.0) return argument(i + 1);
        }
        return failure(translated(language_, "none of the conditions holds"), FailureKind::no_data);
    }
    if (name == "SWITCH" && arguments.size() >= 3) {
        const Evaluated chosen = argument(0);
        if (!chosen.is_known || is_table(chosen)) return unknown();
        if (chosen.failed()) return chosen;
        std::size_t i = 1;
        for (; i + 1 < arguments.size(); i += 2) {
            const Evaluated label = argument(i);
            if (!label.is_known || is_table(label)) return unknown();
            if (label.failed()) return label;
            if (std::get<double>(compared("=", single(chosen.value), single(label.value))) != 0.0)
                return argument(i + 1);
        }
        if (i < arguments.size()) return argument(i);
        return failure(translated(language_, "none of the cases fits"), FailureKind::no_data);
    }
    if (name == "CHOOSE" && arguments.size() >= 2) {
        const Evaluated chosen = argument(0);
        if (!chosen.is_known || is_table(chosen)) return unknown();
        if (chosen.failed()) return chosen;
        const double index = std::floor(number_in(single(chosen.value)).value_or(0.0));
        if (!(index >= 1.0 && index < static_cast<double>(arguments.size())))
            return failure(
                say(language_, "CHOOSE: there is no choice {index}", {{"index", fmt::format("{}", index)}}));
        return argument(static_cast<std::size_t>(index));
    }
    if ((name == "IFERROR" || name == "IFNA") && arguments.size() == 2) {
        // What is caught is no news, and neither is what led to it.
        const std::string kept = first_failure_;
        Evaluated first = argument(0);
        if (!first.is_known || is_table(first)) return unknown();
        if (!first.failed() ||
            (name == "IFNA" && std::get<Failure>(first.value).kind != FailureKind::no_data))
            return first;
        first_failure_ = kept;
        return argument(1);
    }
    if ((name == "ISERROR" || name == "ISERR" || name == "ISNA") && arguments.size() == 1) {
        const std::string kept = first_failure_;
        const Evaluated first = argument(0);
        if (!first.is_known || is_table(first)) return unknown();
        first_failure_ = kept;
        if (!first.failed()) return known(0.0);
        const bool is_missing = std::get<Failure>(first.value).kind == FailureKind::no_data;
        return known(name == "ISERROR" || (name == "ISNA") == is_missing ? 1.0 : 0.0);
    }
    if (name == "ERRORTYPE" || name == "ERROR.TYPE") return unknown();
    if ((name == "ROW" || name == "COLUMN") && arguments.size() <= 1) {
        Area area{base_, base_};
        if (arguments.empty() && wanted) area = {cell_, cell_};
        if (!arguments.empty()) {
            const auto pointed = area_of(arguments[0]);
            if (!pointed) return unknown();
            area = *pointed;
            if (wanted && area.rows() > 1) area.first.row += wanted->row;
            if (wanted && area.columns() > 1) area.first.column += wanted->column;
        }
        return known(static_cast<double>((name == "ROW" ? area.first.row : area.first.column) + 1));
    }
    if (name == "INDEX") return one_of(node, wanted);
    if (depends_on_more(name)) return unknown();
    return std::nullopt;
}

// INDEX of one cell, or of one that an array formula wants of a row or column of a table: by far the most
// frequent ways to use a table, and to have the office compute it costs it a document of its own. Everything
// else that INDEX can say is left to the office.
std::optional<Evaluated> SheetEvaluation::one_of(const Node& index, const Wanted& wanted) {
    if (index.children.size() != 3) return std::nullopt;
    // Counted from 0; -1 stands for all of them.
    const auto position = [&](const Node& node) -> std::optional<sal_Int32> {
        const Evaluated given = value_of(node, std::nullopt);
        const auto* number = given.is_known ? std::get_if<double>(&given.value) : nullptr;
        if (!number || !(*number >= (wanted ? 0.0 : 1.0) && *number < 1e7)) return std::nullopt;
        return static_cast<sal_Int32>(*number) - 1;
    };
    const auto row = position(index.children[1]);
    const auto column = position(index.children[2]);
    if (!row || !column) return std::nullopt;
    if (const auto area = area_of(index.children[0])) {
        if (*row < 0 || *column < 0 || !book_.has(*area) || *row >= area->rows() ||
            *column >= area->columns())
            return std::nullopt;
        const Address cell{area->first.sheet, area->first.column + *column, area->first.row + *row};
        Evaluated found = content({cell, cell}, std::nullopt);
        if (std::holds_alternative<std::monostate>(found.value)) return std::nullopt;
        return found;
    }
    Evaluated from = value_of(index.children[0], std::nullopt);
    if (from.failed()) return from;
    const auto* table = std::get_if<Table>(&from.value);
    if (!from.is_known || !table || (*row < 0 && table->rows() == 1) ||
        (*column < 0 && table->columns() == 1))
        return std::nullopt;
    const auto r = static_cast<std::size_t>(*row < 0 ? wanted->row : *row);
    const auto c = static_cast<std::size_t>(*column < 0 ? wanted->column : *column);
    if (r >= table->rows() || c >= table->columns()) return std::nullopt;
    return known(catalogue::to_value(table->at(r, c)));
}

// A function that the office computes.
Evaluated SheetEvaluation::built_in(const std::string& name, const Node& node, const Wanted& wanted) {
    std::vector<uno::Any> arguments;
    bool is_known = true;
    std::optional<Address> failed_cell;
    for (const Node& child : node.children) {
        if (const auto area = area_of(child)) {
            if (!book_.has(*area))
                return failure(
                    translated(language_, "the formula refers to a cell, row, column or sheet that is gone"));
            if (is_too_large(area->rows(), area->columns())) return unknown();
            if (!failed_cell) failed_cell = book_.first_error(*area);
            arguments.emplace_back(book_.range(*area));
            continue;
        }
        // The element that is wanted is taken from the result, not from the arguments.
        Evaluated argument = value_of(child, std::nullopt);
        if (argument.failed()) return argument;
        is_known = is_known && argument.is_known;
        if (std::holds_alternative<std::monostate>(argument.value))
            arguments.emplace_back(0.0);
        else
            arguments.push_back(to_any(argument.value));
    }
    // Arguments omitted at the end are not there at all.
    for (std::size_t i = node.children.size();
         i > 0 && node.children[i - 1].kind == Node::Kind::constant &&
         std::holds_alternative<std::monostate>(node.children[i - 1].value);
         --i)
        arguments.pop_back();
    if (!is_known) return unknown();
    try {
        const uno::Reference<sheet::XFunctionAccess> access(
            context_->getServiceManager()->createInstanceWithContext("com.sun.star.sheet.FunctionAccess",
                                                                     context_),
            uno::UNO_QUERY_THROW);
        const uno::Reference<com::sun::star::beans::XPropertySet> settings(access, uno::UNO_QUERY_THROW);
        settings->setPropertyValue("IsArrayFunction", uno::Any(is_array_));
        const uno::Any result = access->callFunction(
            to_unicode(name),
            uno::Sequence<uno::Any>(arguments.data(), static_cast<sal_Int32>(arguments.size())));
        if (!result.hasValue())
            return failed_cell ? from(*failed_cell, FailureKind::no_data) : failure({}, FailureKind::no_data);
        Value value = to_value(result);
        if (const auto* table = std::get_if<Table>(&value);
            table && (wanted || (table->rows() == 1 && table->columns() == 1)))
            value = picked(*table, wanted ? wanted->row : 0, wanted ? wanted->column : 0, language_);
        return known(std::move(value));
    } catch (const com::sun::star::lang::IllegalArgumentException&) {
        return failed_cell ? from(*failed_cell) : failure();
    } catch (const com::sun::star::container::NoSuchElementException&) {
        return unknown();
    }
}

// The element of an area that an array formula wants, as `picked` takes it from its contents.
Value SheetEvaluation::element_of(const Area& area, const Element& element) const {
    Address address = area.first;
    if (area.rows() > 1) address.row += element.row;
    if (area.columns() > 1) address.column += element.column;
    if (address.row > area.last.row || address.column > area.last.column)
        return outside_result(static_cast<std::size_t>(area.rows()), static_cast<std::size_t>(area.columns()),
                              language_);
    return picked(book_.contents({address, address}), 0, 0, language_);
}

// A function of the catalogue. Where one element of an array formula is wanted, only that element is
// computed.
Evaluated SheetEvaluation::of_catalogue(const Function& function, const Node& node, const Wanted& wanted) {
    const auto& parameters = function.parameters;
    Wanted element = function.result.kind == catalogue::ResultKind::table ? std::nullopt : wanted;
    std::vector<std::optional<Area>> areas;
    for (const Node& child : node.children) {
        areas.push_back(area_of(child));
        const auto& area = areas.back();
        if (!area) continue;
        if (!book_.has(*area))
            return failure(
                translated(language_, "the formula refers to a cell, row, column or sheet that is gone"));
        if (is_too_large(area->rows(), area->columns()))
            return failure(std::string(function.name.view()) + ": " +
                           too_large(area->rows(), area->columns(), language_).sentence);
        if (const auto failed = book_.first_error(*area)) {
            const Cell content = book_.content(*failed);
            const auto* kind = std::get_if<Failure>(&content);
            return from(*failed, kind ? kind->kind : FailureKind::wrong_argument);
        }
    }
    // Ranges that do not fit together are refused as a whole.
    for (std::size_t i = 0; i < areas.size() && element; ++i)
        for (std::size_t k = 0; k < i; ++k)
            if (areas[i] && areas[k] &&
                ((areas[i]->rows() != areas[k]->rows() && areas[i]->rows() != 1 && areas[k]->rows() != 1) ||
                 (areas[i]->columns() != areas[k]->columns() && areas[i]->columns() != 1 &&
                  areas[k]->columns() != 1)))
                element = std::nullopt;

    std::vector<Value> arguments;
    bool is_known = true;
    for (std::size_t i = 0; i < node.children.size(); ++i) {
        const Parameter* parameter =
            parameters.empty() ? nullptr : &parameters[std::min(i, parameters.size() - 1)];
        if (parameter && parameter->kind == Kind::cell) return unknown();
        const bool by_element = element && parameter && takes_elements(*parameter);
        if (areas[i] && !areas[i]->is_single()) {
            // Of a column of numbers only the element is read; a fuel may be a block, which is read as a
            // whole.
            const bool may_be_block = parameter && parameter->kind == Kind::fuel && areas[i]->columns() > 1;
            if (by_element && !may_be_block) {
                arguments.push_back(element_of(*areas[i], *element));
                if (const auto* failed = std::get_if<Failure>(&arguments.back())) return known(*failed);
                continue;
            }
            Table range = book_.contents(*areas[i]);
            if (by_element && !(parameter->kind == Kind::fuel && catalogue::looks_like_block(range)))
                arguments.push_back(picked(range, element->row, element->column, language_));
            else
                arguments.emplace_back(std::move(range));
            if (const auto* failed = std::get_if<Failure>(&arguments.back())) return known(*failed);
            continue;
        }
        if (areas[i]) {
            // Calc hands an empty cell over as 0.
            const Cell cell = book_.content(areas[i]->first);
            arguments.push_back(std::holds_alternative<std::monostate>(cell) ? Value(0.0)
                                                                             : catalogue::to_value(cell));
            continue;
        }
        Evaluated argument = value_of(node.children[i], by_element ? element : std::nullopt);
        if (argument.failed()) return argument;
        is_known = is_known && argument.is_known;
        arguments.push_back(std::move(argument.value));
    }
    if (!is_known) return unknown();

    catalogue::Outcome outcome = catalogue::evaluate(function, arguments, language_);
    Value value = std::move(outcome.value);
    if (const auto* table = std::get_if<Table>(&value); table && wanted)
        value = picked(*table, wanted->row, wanted->column, language_);
    if (const auto* failed = std::get_if<Failure>(&value)) {
        if (first_failure_.empty()) first_failure_ = failed->sentence;
        return known(std::move(value));
    }
    // An element that fails says why the sum over all of them does.
    if (const auto* table = std::get_if<Table>(&value); table && first_failure_.empty())
        if (const Failure* failed = first_failure_in(*table)) first_failure_ = failed->sentence;
    for (const std::string& warning : outcome.warnings) {
        std::string named = fmt::format("{}: {}", function.name.view(), warning);
        if (std::find(warnings_.begin(), warnings_.end(), named) == warnings_.end())
            warnings_.push_back(std::move(named));
    }
    return known(std::move(value));
}

}  // namespace pullsheet::addin
