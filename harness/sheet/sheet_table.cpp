// SPDX-License-Identifier: Apache-2.0
#include "harness/sheet/sheet_table.hpp"

#include <fmt/format.h>
#include <chrono>
#include <cmath>
#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/sheet/FormulaResult.hpp>
#include <com/sun/star/sheet/XCellRangeAddressable.hpp>
#include <com/sun/star/sheet/XCellRangeData.hpp>
#include <com/sun/star/sheet/XCellRangesQuery.hpp>
#include <com/sun/star/sheet/XSheetCellRanges.hpp>
#include <com/sun/star/sheet/XUniqueCellFormatRangesSupplier.hpp>
#include <com/sun/star/text/XText.hpp>
#include <com/sun/star/util/Date.hpp>
#include <com/sun/star/util/NumberFormat.hpp>
#include <com/sun/star/util/XNumberFormatsSupplier.hpp>

#include "addin/office/text.hpp"

namespace pullsheet::harness {
namespace {

namespace beans = com::sun::star::beans;
namespace sheet = com::sun::star::sheet;
namespace table = com::sun::star::table;
namespace uno = com::sun::star::uno;
namespace util = com::sun::star::util;

using catalogue::Cell;
using catalogue::Failure;
using office::to_unicode;
using office::to_utf8;

// 46143 → "2026-05-01"
std::string date_text(double days, const util::Date& zero, bool with_time) {
    using namespace std::chrono;
    const auto whole = std::floor(days);
    const year_month_day day =
        sys_days(year(zero.Year) / zero.Month / zero.Day) + std::chrono::days(static_cast<int>(whole));
    std::string text = fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()),
                                   static_cast<unsigned>(day.month()), static_cast<unsigned>(day.day()));
    const auto second = static_cast<int>(std::lround((days - whole) * 86400.0));
    if (with_time) text += fmt::format("T{:02}:{:02}:{:02}", second / 3600, second / 60 % 60, second % 60);
    return text;
}

}  // namespace

std::string shown_text(const uno::Reference<table::XCell>& cell) {
    return to_utf8(uno::Reference<com::sun::star::text::XText>(cell, uno::UNO_QUERY_THROW)->getString());
}

SheetTable table_of(const office::Spreadsheet& document, std::string address_text,
                    const office::Cells& cells) {
    const auto address =
        uno::Reference<sheet::XCellRangeAddressable>(cells, uno::UNO_QUERY_THROW)->getRangeAddress();
    const auto rows = static_cast<std::size_t>(address.EndRow - address.StartRow + 1);
    const auto columns = static_cast<std::size_t>(address.EndColumn - address.StartColumn + 1);
    SheetTable result{std::move(address_text), std::vector<Record>(rows, Record(columns)),
                      std::vector<bool>(columns), catalogue::Table(rows, columns)};
    const auto data = uno::Reference<sheet::XCellRangeData>(cells, uno::UNO_QUERY_THROW)->getDataArray();
    for (std::size_t r = 0; r < rows; ++r)
        for (std::size_t c = 0; c < columns; ++c) {
            const uno::Any& content = data[static_cast<sal_Int32>(r)][static_cast<sal_Int32>(c)];
            double number = 0.0;
            rtl::OUString string;
            if (content >>= number) {
                result.values.at(r, c) = number;
                result.is_number[c] = true;
            } else if ((content >>= string) && !string.isEmpty()) {
                result.values.at(r, c) = to_utf8(string);
            }
            // An empty cell shows nothing; every other one is asked.
            if (!(content >>= string) || !string.isEmpty())
                result.shown[r][c] = shown_text(
                    cells->getCellByPosition(static_cast<sal_Int32>(c), static_cast<sal_Int32>(r)));
        }
    // Where errors stand.
    const auto failed = uno::Reference<sheet::XCellRangesQuery>(cells, uno::UNO_QUERY_THROW)
                            ->queryFormulaCells(sheet::FormulaResult::ERROR)
                            ->getRangeAddresses();
    for (sal_Int32 i = 0; i < failed.getLength(); ++i)
        for (sal_Int32 r = failed[i].StartRow; r <= failed[i].EndRow; ++r)
            for (sal_Int32 c = failed[i].StartColumn; c <= failed[i].EndColumn; ++c)
                result.values.at(static_cast<std::size_t>(r - address.StartRow),
                                 static_cast<std::size_t>(c - address.StartColumn)) = Failure{};
    // Dates and truth values are numbers with a format.
    const uno::Reference<util::XNumberFormatsSupplier> supplier(document, uno::UNO_QUERY_THROW);
    util::Date zero;
    supplier->getNumberFormatSettings()->getPropertyValue(to_unicode("NullDate")) >>= zero;
    const auto formats = uno::Reference<sheet::XUniqueCellFormatRangesSupplier>(cells, uno::UNO_QUERY_THROW)
                             ->getUniqueCellFormatRanges();
    for (sal_Int32 i = 0; i < formats->getCount(); ++i) {
        const uno::Reference<sheet::XSheetCellRanges> same(formats->getByIndex(i), uno::UNO_QUERY_THROW);
        sal_Int32 key = 0;
        uno::Reference<beans::XPropertySet>(same, uno::UNO_QUERY_THROW)
            ->getPropertyValue(to_unicode("NumberFormat")) >>= key;
        sal_Int16 type = 0;
        supplier->getNumberFormats()->getByKey(key)->getPropertyValue(to_unicode("Type")) >>= type;
        const bool has_date = (type & util::NumberFormat::DATE) != 0;
        const bool is_logical = (type & util::NumberFormat::LOGICAL) != 0;
        if (!has_date && !is_logical) continue;
        const auto areas = same->getRangeAddresses();
        for (sal_Int32 k = 0; k < areas.getLength(); ++k)
            for (sal_Int32 r = areas[k].StartRow; r <= areas[k].EndRow; ++r)
                for (sal_Int32 c = areas[k].StartColumn; c <= areas[k].EndColumn; ++c) {
                    Cell& cell = result.values.at(static_cast<std::size_t>(r - address.StartRow),
                                                  static_cast<std::size_t>(c - address.StartColumn));
                    if (const auto* number = std::get_if<double>(&cell); number && std::abs(*number) < 3e6)
                        cell = is_logical ? std::string(*number != 0.0 ? "TRUE" : "FALSE")
                                          : date_text(*number, zero, (type & util::NumberFormat::TIME) != 0);
                }
    }
    return result;
}

}  // namespace pullsheet::harness
