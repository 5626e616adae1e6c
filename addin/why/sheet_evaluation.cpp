// SPDX-License-Identifier: Apache-2.0
#include "addin/why/sheet_evaluation.hpp"

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
#include "addin/why/operators.hpp"
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

// A number typed with a point in a locale whose decimal mark is the comma: Calc parses it as a name.
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

void collect(const Node& node, std::vector<Area>& areas) {
    if (node.kind == Node::Kind::reference) areas.push_back(node.area);
    for (const Node& child : node.children) collect(child, areas);
}

}  // namespace

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
    // A cell shows the first element of an array.
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
    return known(changed(node.name, operand.value, language_));
}

Evaluated SheetEvaluation::binary(const Node& node, const Wanted& wanted) {
    Evaluated left = value_of(node.children[0], wanted);
    if (left.failed()) return left;
    Evaluated right = value_of(node.children[1], wanted);
    if (right.failed()) return right;
    if (!left.is_known || !right.is_known) return unknown();
    return known(combined(node.name, left.value, right.value, language_));
}

std::optional<double> SheetEvaluation::number_of(const Node& node, const Wanted& wanted) {
    const Evaluated result = value_of(node, wanted);
    if (!result.is_known || std::holds_alternative<Table>(result.value)) return std::nullopt;
    return number_in(single(result.value));
}

// The cells to which a node refers, if it is a reference.
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

}  // namespace pullsheet::addin
