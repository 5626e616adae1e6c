// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <rtl/ustring.hxx>
#include <string_view>

namespace pullsheet::office {

/// The name of the filter by which Calc reads or writes files with this ending (".ods", ".fods", ".xlsx",
/// ".pdf",
/// ".csv"); empty for any other ending.
inline rtl::OUString filter_of(std::string_view ending) {
    if (ending == ".ods") return "calc8";
    if (ending == ".fods") return "OpenDocument Spreadsheet Flat XML";
    if (ending == ".xlsx") return "Calc MS Excel 2007 XML";
    if (ending == ".pdf") return "calc_pdf_Export";
    if (ending == ".csv") return "Text - txt - csv (StarCalc)";
    return {};
}

}  // namespace pullsheet::office
