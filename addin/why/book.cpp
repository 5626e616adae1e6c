// SPDX-License-Identifier: Apache-2.0
#include "addin/why/book.hpp"

#include <algorithm>
#include <com/sun/star/container/XNamed.hpp>
#include <com/sun/star/sheet/CellFlags.hpp>
#include <com/sun/star/sheet/FormulaResult.hpp>
#include <com/sun/star/sheet/XArrayFormulaRange.hpp>
#include <com/sun/star/sheet/XArrayFormulaTokens.hpp>
#include <com/sun/star/sheet/XCellRangeData.hpp>
#include <com/sun/star/sheet/XCellRangeFormula.hpp>
#include <com/sun/star/sheet/XCellRangesQuery.hpp>
#include <com/sun/star/sheet/XFormulaTokens.hpp>
#include <com/sun/star/sheet/XSheetCellCursor.hpp>
#include <com/sun/star/sheet/XSpreadsheet.hpp>

#include "addin/convert.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
namespace container = com::sun::star::container;
namespace sheet = com::sun::star::sheet;
namespace table = com::sun::star::table;

// An area with at least this many cells is cached.
constexpr std::int64_t long_area = 1000;
// The formulas of a long column are read this many rows at a time.
constexpr sal_Int32 strip = 4096;

using office::sheet_at;
using office::sheets_of;

catalogue::FailureKind kind_of(int code) {
    using catalogue::FailureKind;
    for (const FailureKind kind : {FailureKind::no_data, FailureKind::no_solution})
        if (error_code(kind) == code) return kind;
    return FailureKind::wrong_argument;
}

// The addresses found by a query, row by row.
std::vector<Area> areas_of(const uno::Reference<sheet::XSheetCellRanges>& found) {
    std::vector<Area> areas;
    const auto addresses = found->getRangeAddresses();
    for (sal_Int32 i = 0; i < addresses.getLength(); ++i) areas.push_back(area_of(addresses[i]));
    std::sort(areas.begin(), areas.end(), [](const Area& a, const Area& b) {
        return std::pair(a.first.row, a.first.column) < std::pair(b.first.row, b.first.column);
    });
    return areas;
}

}  // namespace

Book::Book(Spreadsheet document) : document_(std::move(document)) {}

sal_Int32 Book::sheet_count() const {
    return sheets_of(document_)->getCount();
}

uno::Reference<sheet::XSpreadsheet> Book::sheet(sal_Int32 index) const {
    return sheet_at(document_, index);
}

uno::Reference<table::XCell> Book::cell(const Address& address) const {
    return sheet_at(document_, address.sheet)->getCellByPosition(address.column, address.row);
}

uno::Reference<table::XCellRange> Book::range(const Area& area) const {
    return sheet_at(document_, area.first.sheet)
        ->getCellRangeByPosition(area.first.column, area.first.row, area.last.column, area.last.row);
}

bool Book::has(const Area& area) const {
    if (area.first.sheet < 0 || area.first.sheet >= sheet_count() || area.first.column < 0 ||
        area.first.row < 0 || area.last.column < area.first.column || area.last.row < area.first.row)
        return false;
    const Area whole =
        area_of(uno::Reference<table::XCellRange>(sheet_at(document_, area.first.sheet), uno::UNO_QUERY));
    return area.last.column <= whole.last.column && area.last.row <= whole.last.row;
}

std::string Book::name_of(const Address& address) const {
    const uno::Reference<container::XNamed> named(sheet_at(document_, address.sheet), uno::UNO_QUERY_THROW);
    return office::cell_name(to_utf8(named->getName()), address.column, address.row);
}

int Book::error(const Address& address) const {
    return static_cast<int>(cell(address)->getError());
}

catalogue::Cell Book::content(const Address& address) const {
    const auto here = cell(address);
    if (here->getType() == table::CellContentType_EMPTY) return {};
    if (const int code = static_cast<int>(here->getError())) return catalogue::Failure{kind_of(code), {}};
    // Not getString(): it gives "..." for a formula while the office computes.
    return contents({address, address}).at(0, 0);
}

catalogue::Table Book::contents(const Area& area) const {
    const auto read = [&] {
        const uno::Reference<sheet::XCellRangeData> data(range(area), uno::UNO_QUERY_THROW);
        return std::get<catalogue::Table>(to_value(uno::Any(data->getDataArray())));
    };
    if (std::int64_t{area.rows()} * area.columns() < long_area) return read();
    if (!last_contents_.second || last_contents_.first != area) last_contents_ = {area, read()};
    return *last_contents_.second;
}

std::optional<Address> Book::first_error(const Area& area) const {
    if (area.is_single()) return error(area.first) ? std::optional(area.first) : std::nullopt;
    if (const auto known = first_errors_.find(area); known != first_errors_.end()) return known->second;
    const uno::Reference<sheet::XCellRangesQuery> query(range(area), uno::UNO_QUERY_THROW);
    const auto areas = areas_of(query->queryFormulaCells(sheet::FormulaResult::ERROR));
    const auto found = areas.empty() ? std::nullopt : std::optional(areas.front().first);
    first_errors_.emplace(area, found);
    return found;
}

Book::Calls Book::calls_of_the_catalogue(const Area& area, std::size_t most) const {
    const uno::Reference<sheet::XCellRangesQuery> query(range(area), uno::UNO_QUERY_THROW);
    const rtl::OUString service("PULLSHEET.FUNCTIONS.");
    Calls calls;
    for (const Area& found : areas_of(query->queryContentCells(sheet::CellFlags::FORMULA)))
        // The formulas are read a strip at a time: a column may hold a million of them.
        for (sal_Int32 top = found.first.row; top <= found.last.row; top += strip) {
            Area part = found;
            part.first.row = top;
            part.last.row = std::min(top + strip - 1, found.last.row);
            const uno::Reference<sheet::XCellRangeFormula> texts(range(part), uno::UNO_QUERY_THROW);
            const auto rows = texts->getFormulaArray();
            for (sal_Int32 r = 0; r < rows.getLength(); ++r)
                for (sal_Int32 c = 0; c < rows[r].getLength(); ++c) {
                    if (rows[r][c].toAsciiUpperCase().indexOf(service) < 0) continue;
                    ++calls.count;
                    if (calls.cells.size() < most)
                        calls.cells.push_back({part.first.sheet, part.first.column + c, part.first.row + r});
                }
        }
    return calls;
}

std::optional<Area> Book::array_around(const Address& address) const {
    const auto on_sheet = sheet_at(document_, address.sheet);
    const uno::Reference<sheet::XSheetCellRange> here(range({address, address}), uno::UNO_QUERY_THROW);
    const auto cursor = on_sheet->createCursorByRange(here);
    cursor->collapseToCurrentArray();
    const uno::Reference<sheet::XArrayFormulaRange> array(cursor, uno::UNO_QUERY);
    if (!array.is() || array->getArrayFormula().isEmpty()) return std::nullopt;
    return area_of(uno::Reference<table::XCellRange>(cursor, uno::UNO_QUERY_THROW));
}

Node Book::formula(const Address& address) const {
    if (const auto array = array_around(address)) {
        const uno::Reference<sheet::XArrayFormulaTokens> tokens(range(*array), uno::UNO_QUERY_THROW);
        return read_formula(tokens->getArrayTokens(), array->first, document_, codes());
    }
    const uno::Reference<sheet::XFormulaTokens> tokens(cell(address), uno::UNO_QUERY_THROW);
    return read_formula(tokens->getTokens(), address, document_, codes());
}

Node Book::formula(const std::string& text, const Address& address) const {
    const table::CellAddress position(static_cast<sal_Int16>(address.sheet), address.column, address.row);
    return read_formula(formula_parser(document_)->parseFormula(to_unicode(text), position), address,
                        document_, codes());
}

const OpCodes& Book::codes() const {
    // The same for every document of this office.
    static const OpCodes codes(
        uno::Reference<com::sun::star::lang::XMultiServiceFactory>(document_, uno::UNO_QUERY_THROW));
    return codes;
}

}  // namespace pullsheet::addin
