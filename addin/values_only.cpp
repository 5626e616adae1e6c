// SPDX-License-Identifier: Apache-2.0
#include "addin/values_only.hpp"

#include <com/sun/star/beans/XPropertySet.hpp>
#include <com/sun/star/container/XIndexAccess.hpp>
#include <com/sun/star/container/XNamed.hpp>
#include <com/sun/star/sheet/CellFlags.hpp>
#include <com/sun/star/sheet/XCellRangeData.hpp>
#include <com/sun/star/sheet/XCellRangesQuery.hpp>
#include <com/sun/star/sheet/XDataPilotTable.hpp>
#include <com/sun/star/sheet/XDataPilotTablesSupplier.hpp>
#include <com/sun/star/sheet/XSheetCellRanges.hpp>
#include <com/sun/star/sheet/XSheetOperation.hpp>
#include <com/sun/star/text/XTextRange.hpp>
#include <com/sun/star/util/XNumberFormats.hpp>
#include <com/sun/star/util/XNumberFormatsSupplier.hpp>

#include "addin/convert.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;
namespace sheet = com::sun::star::sheet;
namespace util = com::sun::star::util;
using uno::Any;

std::string shown(const uno::Reference<com::sun::star::table::XCell>& cell) {
    return to_utf8(uno::Reference<com::sun::star::text::XTextRange>(cell, uno::UNO_QUERY_THROW)->getString());
}

/// Pivot tables become the cells that they show.
std::vector<Area> remove_pivot_tables(const Book& copy, sal_Int32 index) {
    std::vector<Area> areas;
    const uno::Reference<sheet::XDataPilotTablesSupplier> supplier(copy.sheet(index), uno::UNO_QUERY);
    if (!supplier.is()) return areas;
    const auto tables = supplier->getDataPilotTables();
    const auto names = tables->getElementNames();
    for (sal_Int32 i = 0; i < names.getLength(); ++i) {
        const uno::Reference<sheet::XDataPilotTable> table(tables->getByName(names[i]), uno::UNO_QUERY_THROW);
        areas.push_back(area_of(table->getOutputRange()));
        tables->removeByName(names[i]);
    }
    return areas;
}

/// A number format of one document in another.
sal_Int32 same_format(sal_Int32 key, const Book& from, const Book& to) {
    const uno::Reference<util::XNumberFormatsSupplier> source(from.document(), uno::UNO_QUERY_THROW);
    const uno::Reference<util::XNumberFormatsSupplier> target(to.document(), uno::UNO_QUERY_THROW);
    const auto format = source->getNumberFormats()->getByKey(key);
    rtl::OUString code;
    com::sun::star::lang::Locale locale;
    format->getPropertyValue("FormatString") >>= code;
    format->getPropertyValue("Locale") >>= locale;
    const auto formats = target->getNumberFormats();
    const sal_Int32 known = formats->queryKey(code, locale, false);
    return known != -1 ? known : formats->addNew(code, locale);
}

/// A formula without a number format of its own shows that of its result; the value alone has to be told.
void keep_format(const Book& copy, const Book& original, const Address& address) {
    const auto cell = copy.cell(address);
    const auto source = original.cell(address);
    if (shown(cell) == shown(source)) return;
    sal_Int32 key = 0;
    uno::Reference<com::sun::star::beans::XPropertySet>(source, uno::UNO_QUERY_THROW)
        ->getPropertyValue("NumberFormat") >>= key;
    uno::Reference<com::sun::star::beans::XPropertySet>(cell, uno::UNO_QUERY_THROW)
        ->setPropertyValue("NumberFormat", Any(same_format(key, original, copy)));
}

void take_over(const Book& copy, const Book& original, const Area& area) {
    UnoTable data =
        uno::Reference<sheet::XCellRangeData>(original.range(area), uno::UNO_QUERY_THROW)->getDataArray();
    const auto address = [&](sal_Int32 row, sal_Int32 column) {
        return Address{area.first.sheet, area.first.column + column, area.first.row + row};
    };
    for (sal_Int32 row = 0; row < data.getLength(); ++row)
        for (sal_Int32 column = 0; column < data[row].getLength(); ++column)
            // Neither a number nor a text: an error.
            if (!data[row][column].hasValue())
                data[row][column] <<= to_unicode(shown(original.cell(address(row, column))));
    uno::Reference<sheet::XCellRangeData>(copy.range(area), uno::UNO_QUERY_THROW)->setDataArray(data);
    for (sal_Int32 row = 0; row < data.getLength(); ++row)
        for (sal_Int32 column = 0; column < data[row].getLength(); ++column)
            if (data[row][column].getValueTypeClass() == uno::TypeClass_DOUBLE)
                keep_format(copy, original, address(row, column));
}

}  // namespace

void replace_formulas(const Book& copy, const Book& original) {
    for (sal_Int32 index = 0; index < copy.sheet_count(); ++index) {
        const auto on_sheet = copy.sheet(index);
        const auto found = uno::Reference<sheet::XCellRangesQuery>(on_sheet, uno::UNO_QUERY_THROW)
                               ->queryContentCells(sheet::CellFlags::FORMULA)
                               ->getRangeAddresses();
        // All at once, since a part of an array formula cannot be changed.
        uno::Reference<sheet::XSheetOperation>(on_sheet, uno::UNO_QUERY_THROW)
            ->clearContents(sheet::CellFlags::FORMULA);
        for (const Area& area : remove_pivot_tables(copy, index)) take_over(copy, original, area);
        for (sal_Int32 i = 0; i < found.getLength(); ++i) take_over(copy, original, area_of(found[i]));
    }
}

}  // namespace pullsheet::addin
