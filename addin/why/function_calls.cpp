// SPDX-License-Identifier: Apache-2.0
// The calls of a formula: functions of the office and of the catalogue.
#include <fmt/format.h>
#include <algorithm>
#include <boost/algorithm/string/case_conv.hpp>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/NoSuchElementException.hpp>
#include <com/sun/star/lang/IllegalArgumentException.hpp>
#include <com/sun/star/lang/XMultiComponentFactory.hpp>
#include <com/sun/star/sheet/XFunctionAccess.hpp>
#include <unordered_map>
#include <unordered_set>

#include "addin/convert.hpp"
#include "addin/why/operators.hpp"
#include "addin/why/sheet_evaluation.hpp"
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

const Failure* first_failure_in(const Table& table) {
    for (std::size_t r = 0; r < table.rows(); ++r)
        for (std::size_t c = 0; c < table.columns(); ++c)
            if (const auto* failed = std::get_if<Failure>(&table.at(r, c))) return failed;
    return nullptr;
}

bool takes_elements(const Parameter& parameter) {
    return parameter.kind == Kind::number || parameter.kind == Kind::choice || parameter.kind == Kind::text ||
           parameter.kind == Kind::fuel;
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
            if (are_equal(single(chosen.value), single(label.value))) return argument(i + 1);
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
