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
using catalogue::Table;
using catalogue::translated;
using catalogue::Value;

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

bool fit(sal_Int32 one, sal_Int32 other) {
    return one == other || one == 1 || other == 1;
}

// Whether each two of the areas have as many rows and columns, or one.
bool fit_together(const std::vector<std::optional<Area>>& areas) {
    for (std::size_t i = 0; i < areas.size(); ++i)
        for (std::size_t k = 0; k < i; ++k)
            if (areas[i] && areas[k] &&
                !(fit(areas[i]->rows(), areas[k]->rows()) && fit(areas[i]->columns(), areas[k]->columns())))
                return false;
    return true;
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

// The element of an area that an array formula needs, as `picked` takes it from its contents.
Value SheetEvaluation::element_of(const Area& area, const Element& element) const {
    Address address = area.first;
    if (area.rows() > 1) address.row += element.row;
    if (area.columns() > 1) address.column += element.column;
    if (address.row > area.last.row || address.column > area.last.column)
        return outside_result(static_cast<std::size_t>(area.rows()), static_cast<std::size_t>(area.columns()),
                              language_);
    return picked(book_.contents({address, address}), 0, 0, language_);
}

// Why an area cannot be an argument.
std::optional<Evaluated> SheetEvaluation::refused_area(const Function& function, const Area& area) const {
    if (!book_.has(area))
        return failure(
            translated(language_, "the formula refers to a cell, row, column or sheet that is gone"));
    if (is_too_large(area.rows(), area.columns()))
        return failure(std::string(function.name.view()) + ": " +
                       too_large(area.rows(), area.columns(), language_).sentence);
    if (const auto failed = book_.first_error(area)) {
        const Cell content = book_.content(*failed);
        const auto* kind = std::get_if<Failure>(&content);
        return from(*failed, kind ? kind->kind : FailureKind::wrong_argument);
    }
    return std::nullopt;
}

// The content of an area as an argument; only that element of it where `element` is given.
Value SheetEvaluation::area_argument(const Parameter* parameter, const Area& area,
                                     const Wanted& element) const {
    if (area.is_single()) {
        // Calc hands an empty cell over as 0.
        const Cell cell = book_.content(area.first);
        return std::holds_alternative<std::monostate>(cell) ? Value(0.0) : catalogue::to_value(cell);
    }
    const bool is_fuel = parameter && parameter->kind == Kind::fuel;
    // Only the element of a column of numbers is read; a fuel may be a block, which is read as a whole.
    if (element && !(is_fuel && area.columns() > 1)) return element_of(area, *element);
    Table range = book_.contents(area);
    if (element && !(is_fuel && catalogue::looks_like_block(range)))
        return picked(range, element->row, element->column, language_);
    return range;
}

// The value of a call, its failure and its warnings.
Evaluated SheetEvaluation::result_of(const Function& function, catalogue::Outcome outcome,
                                     const Wanted& wanted) {
    Value value = std::move(outcome.value);
    if (const auto* table = std::get_if<Table>(&value); table && wanted)
        value = picked(*table, wanted->row, wanted->column, language_);
    if (const auto* failed = std::get_if<Failure>(&value)) {
        if (first_failure_.empty()) first_failure_ = failed->sentence;
        return known(std::move(value));
    }
    // A failed element gives the reason why an aggregate over all elements fails.
    if (const auto* table = std::get_if<Table>(&value); table && first_failure_.empty())
        if (const Failure* failed = first_failure_in(*table)) first_failure_ = failed->sentence;
    for (const std::string& warning : outcome.warnings) {
        std::string named = fmt::format("{}: {}", function.name.view(), warning);
        if (std::find(warnings_.begin(), warnings_.end(), named) == warnings_.end())
            warnings_.push_back(std::move(named));
    }
    return known(std::move(value));
}

// A function of the catalogue. Where one element of an array formula is wanted, only that element is
// computed.
Evaluated SheetEvaluation::of_catalogue(const Function& function, const Node& node, const Wanted& wanted) {
    const auto& parameters = function.parameters;
    std::vector<std::optional<Area>> areas;
    for (const Node& child : node.children) {
        areas.push_back(area_of(child));
        if (!areas.back()) continue;
        if (auto refused = refused_area(function, *areas.back())) return *std::move(refused);
    }
    Wanted element = function.result.kind == catalogue::ResultKind::table ? std::nullopt : wanted;
    // Ranges that do not fit together are refused as a whole.
    if (!fit_together(areas)) element = std::nullopt;

    std::vector<Value> arguments;
    bool is_known = true;
    for (std::size_t i = 0; i < node.children.size(); ++i) {
        const Parameter* parameter =
            parameters.empty() ? nullptr : &parameters[std::min(i, parameters.size() - 1)];
        if (parameter && parameter->kind == Kind::cell) return unknown();
        const Wanted of_argument = parameter && takes_elements(*parameter) ? element : std::nullopt;
        if (areas[i]) {
            arguments.push_back(area_argument(parameter, *areas[i], of_argument));
            if (const auto* failed = std::get_if<Failure>(&arguments.back())) return known(*failed);
            continue;
        }
        Evaluated argument = value_of(node.children[i], of_argument);
        if (argument.failed()) return argument;
        is_known = is_known && argument.is_known;
        arguments.push_back(std::move(argument.value));
    }
    if (!is_known) return unknown();
    return result_of(function, catalogue::evaluate(function, arguments, language_), wanted);
}

}  // namespace pullsheet::addin
