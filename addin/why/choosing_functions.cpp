// SPDX-License-Identifier: Apache-2.0
// Functions that depend on more than the values of their arguments: they select among the arguments, test
// them for errors, or use the position of the formula.
#include <fmt/format.h>
#include <cmath>
#include <unordered_map>
#include <unordered_set>

#include "addin/convert.hpp"
#include "addin/why/operators.hpp"
#include "addin/why/sheet_evaluation.hpp"

namespace pullsheet::addin {
namespace {

using catalogue::Cell;
using catalogue::Failure;
using catalogue::FailureKind;
using catalogue::say;
using catalogue::Table;
using catalogue::translated;

// Built-in functions whose value depends on more than the values of their arguments.
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
                                                       "ERRORTYPE",
                                                       "ERROR.TYPE",
                                                       "AGGREGATE",
                                                       "WEBSERVICE",
                                                       "GETPIVOTDATA",
                                                       "MULTIPLE.OPERATIONS",
                                                       "EXTERN.VALUE"};
    return names.contains(name);
}

bool is_table(const Evaluated& one) {
    return std::holds_alternative<Table>(one.value);
}

bool is_missing(const Evaluated& failed) {
    return std::get<Failure>(failed.value).kind == FailureKind::no_data;
}

}  // namespace

std::optional<Evaluated> SheetEvaluation::own_way(const Node& node, const Wanted& wanted) {
    using Way = std::optional<Evaluated> (SheetEvaluation::*)(const Node&, const Wanted&);
    static const std::unordered_map<std::string, Way> ways{
        {"IF", &SheetEvaluation::if_function},
        {"IFS", &SheetEvaluation::ifs_function},
        {"SWITCH", &SheetEvaluation::switch_function},
        {"CHOOSE", &SheetEvaluation::choose_function},
        {"IFERROR", &SheetEvaluation::if_error_function},
        {"IFNA", &SheetEvaluation::if_error_function},
        {"ISERROR", &SheetEvaluation::is_error_function},
        {"ISERR", &SheetEvaluation::is_error_function},
        {"ISNA", &SheetEvaluation::is_error_function},
        {"ROW", &SheetEvaluation::position_function},
        {"COLUMN", &SheetEvaluation::position_function},
        {"INDEX", &SheetEvaluation::index_function},
    };
    if (const auto way = ways.find(node.name); way != ways.end()) return (this->*way->second)(node, wanted);
    if (depends_on_more(node.name)) return unknown();
    return std::nullopt;
}

Evaluated SheetEvaluation::argument(const Node& node, std::size_t index, const Wanted& wanted) {
    return index < node.children.size() ? value_of(node.children[index], wanted) : known(0.0);
}

std::variant<Cell, Evaluated> SheetEvaluation::single_argument(const Node& node, std::size_t index,
                                                               const Wanted& wanted) {
    Evaluated given = argument(node, index, wanted);
    if (!given.is_known || is_table(given)) return unknown();
    if (given.failed()) return given;
    return single(given.value);
}

std::optional<Evaluated> SheetEvaluation::if_function(const Node& node, const Wanted& wanted) {
    if (node.children.empty()) return std::nullopt;
    const auto condition = single_argument(node, 0, wanted);
    if (const auto* ended = std::get_if<Evaluated>(&condition)) return *ended;
    const auto truth = number_in(std::get<Cell>(condition));
    if (!truth) return known(catalogue::to_value(text_for_number(std::get<Cell>(condition), language_)));
    return argument(node, *truth != 0.0 ? 1 : 2, wanted);
}

std::optional<Evaluated> SheetEvaluation::ifs_function(const Node& node, const Wanted& wanted) {
    for (std::size_t i = 0; i + 1 < node.children.size(); i += 2) {
        const auto condition = single_argument(node, i, wanted);
        if (const auto* ended = std::get_if<Evaluated>(&condition)) return *ended;
        if (number_in(std::get<Cell>(condition)).value_or(0.0) != 0.0) return argument(node, i + 1, wanted);
    }
    return failure(translated(language_, "none of the conditions holds"), FailureKind::no_data);
}

std::optional<Evaluated> SheetEvaluation::switch_function(const Node& node, const Wanted& wanted) {
    const std::size_t count = node.children.size();
    if (count < 3) return std::nullopt;
    const auto chosen = single_argument(node, 0, wanted);
    if (const auto* ended = std::get_if<Evaluated>(&chosen)) return *ended;
    std::size_t i = 1;
    for (; i + 1 < count; i += 2) {
        const auto label = single_argument(node, i, wanted);
        if (const auto* ended = std::get_if<Evaluated>(&label)) return *ended;
        if (are_equal(std::get<Cell>(chosen), std::get<Cell>(label))) return argument(node, i + 1, wanted);
    }
    if (i < count) return argument(node, i, wanted);
    return failure(translated(language_, "none of the cases fits"), FailureKind::no_data);
}

std::optional<Evaluated> SheetEvaluation::choose_function(const Node& node, const Wanted& wanted) {
    if (node.children.size() < 2) return std::nullopt;
    const auto chosen = single_argument(node, 0, wanted);
    if (const auto* ended = std::get_if<Evaluated>(&chosen)) return *ended;
    const double index = std::floor(number_in(std::get<Cell>(chosen)).value_or(0.0));
    if (!(index >= 1.0 && index < static_cast<double>(node.children.size())))
        return failure(
            say(language_, "CHOOSE: there is no choice {index}", {{"index", fmt::format("{}", index)}}));
    return argument(node, static_cast<std::size_t>(index), wanted);
}

std::optional<Evaluated> SheetEvaluation::if_error_function(const Node& node, const Wanted& wanted) {
    if (node.children.size() != 2) return std::nullopt;
    // A handled error is not reported, and neither is its cause.
    const std::string kept = first_failure_;
    Evaluated first = argument(node, 0, wanted);
    if (!first.is_known || is_table(first)) return unknown();
    if (!first.failed() || (node.name == "IFNA" && !is_missing(first))) return first;
    first_failure_ = kept;
    return argument(node, 1, wanted);
}

std::optional<Evaluated> SheetEvaluation::is_error_function(const Node& node, const Wanted& wanted) {
    if (node.children.size() != 1) return std::nullopt;
    const std::string kept = first_failure_;
    const Evaluated first = argument(node, 0, wanted);
    if (!first.is_known || is_table(first)) return unknown();
    first_failure_ = kept;
    if (!first.failed()) return known(0.0);
    return known(node.name == "ISERROR" || (node.name == "ISNA") == is_missing(first) ? 1.0 : 0.0);
}

// ROW and COLUMN.
std::optional<Evaluated> SheetEvaluation::position_function(const Node& node, const Wanted& wanted) {
    if (node.children.size() > 1) return std::nullopt;
    Area area{base_, base_};
    if (node.children.empty() && wanted) area = {cell_, cell_};
    if (!node.children.empty()) {
        const auto pointed = area_of(node.children[0]);
        if (!pointed) return unknown();
        area = *pointed;
        if (wanted && area.rows() > 1) area.first.row += wanted->row;
        if (wanted && area.columns() > 1) area.first.column += wanted->column;
    }
    return known(static_cast<double>((node.name == "ROW" ? area.first.row : area.first.column) + 1));
}

// INDEX of one cell, or of one element that an array formula needs from a row or column of a table. These are
// by far the most frequent uses of a table, and evaluation by the office needs a separate document. Every
// other form of INDEX is evaluated by the office.
std::optional<Evaluated> SheetEvaluation::index_function(const Node& index, const Wanted& wanted) {
    if (index.children.size() != 3) return std::nullopt;
    // Counted from 0; -1: all of them.
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

}  // namespace pullsheet::addin
