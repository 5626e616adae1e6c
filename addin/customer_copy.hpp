// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "addin/book.hpp"
#include "addin/command.hpp"

namespace pullsheet::addin {

/// What the customer is to get.
struct CopyWish {
    std::vector<std::string> sheets;
    /// Only what the printed pages show: no cell outside the print ranges, in a hidden row or column, and no
    /// comment.
    bool only_printed = true;
    std::vector<std::string> formats = {"ods", "xlsx", "pdf"};
};

/// The names of the sheets; those that are hidden only if asked for.
std::vector<std::string> sheet_names(const Spreadsheet& document, bool hidden_too);

/// The sheets meant for a customer: those that a name beginning with "customer_page" points at. None if the
/// document has no such name.
std::vector<std::string> customer_sheets(const Spreadsheet& document);

/// The cells in error that the copy would show ("Quote.B7").
std::vector<std::string> errors_in_copy(const Spreadsheet& document, const CopyWish& wish);

/// The URL of the files to be written, without their endings; none of them exists. "…/quote-customer" beside
/// "…/quote.ods", or "…/quote-customer-2".
std::string copy_url(const Context& context, const Spreadsheet& document, const CopyWish& wish);

/// Writes the copy beside the document and returns the URLs of the files. Every formula is replaced by the
/// value that its cell shows; macros, links, recorded changes and personal data are left out. The document is
/// not touched.
std::vector<std::string> write_copy(const Command& command, const Spreadsheet& document,
                                    const CopyWish& wish);

}  // namespace pullsheet::addin
