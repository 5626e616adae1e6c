// SPDX-License-Identifier: Apache-2.0
#include "addin/office/cells.hpp"

#include <algorithm>
#include <cctype>
#include <com/sun/star/sheet/XCellRangeAddressable.hpp>
#include <com/sun/star/sheet/XSheetCellCursor.hpp>
#include <com/sun/star/sheet/XUsedAreaCursor.hpp>

#include "addin/office/text.hpp"

namespace pullsheet::office {

namespace uno = com::sun::star::uno;
namespace sheet = com::sun::star::sheet;

Area area_of(const com::sun::star::table::CellRangeAddress& address) {
    return {{address.Sheet, address.StartColumn, address.StartRow},
            {address.Sheet, address.EndColumn, address.EndRow}};
}

Area area_of(const Cells& cells) {
    return area_of(
        uno::Reference<sheet::XCellRangeAddressable>(cells, uno::UNO_QUERY_THROW)->getRangeAddress());
}

std::string column_letters(sal_Int32 column) {
    std::string letters;
    for (++column; column > 0; column = (column - 1) / 26)
        letters.insert(letters.begin(), static_cast<char>('A' + (column - 1) % 26));
    return letters;
}

std::string cell_name(sal_Int32 column, sal_Int32 row) {
    return column_letters(column) + std::to_string(row + 1);
}

std::string cell_name(const std::string& sheet_name, sal_Int32 column, sal_Int32 row) {
    const bool is_plain = std::all_of(sheet_name.begin(), sheet_name.end(), [](unsigned char c) {
        return std::isalnum(c) != 0 || c == '_' || c >= 0x80;
    });
    std::string name = sheet_name;
    if (!is_plain) {
        for (auto at = name.find('\''); at != std::string::npos; at = name.find('\'', at + 2))
            name.insert(at, 1, '\'');
        name = "'" + name + "'";
    }
    return name + "." + cell_name(column, row);
}

uno::Reference<com::sun::star::container::XIndexAccess> sheets_of(const Spreadsheet& document) {
    return {document->getSheets(), uno::UNO_QUERY_THROW};
}

std::vector<std::string> sheet_names(const Spreadsheet& document) {
    std::vector<std::string> result;
    const auto names = document->getSheets()->getElementNames();
    for (sal_Int32 i = 0; i < names.getLength(); ++i) result.push_back(to_utf8(names[i]));
    return result;
}

Sheet sheet_at(const Spreadsheet& document, sal_Int32 index) {
    return {sheets_of(document)->getByIndex(index), uno::UNO_QUERY_THROW};
}

Sheet sheet_named(const Spreadsheet& document, const std::string& name) {
    return {document->getSheets()->getByName(to_unicode(name)), uno::UNO_QUERY_THROW};
}

Cells used_cells(const Sheet& on) {
    const auto cursor = on->createCursor();
    const uno::Reference<sheet::XUsedAreaCursor> used(cursor, uno::UNO_QUERY_THROW);
    used->gotoStartOfUsedArea(false);
    used->gotoEndOfUsedArea(true);
    return {cursor, uno::UNO_QUERY_THROW};
}

}  // namespace pullsheet::office
