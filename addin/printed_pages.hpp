// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "addin/book.hpp"

namespace pullsheet::addin {

/// The cells of a sheet from the first to the last one that holds something.
Area used_area(const Book& book, sal_Int32 sheet);

/// What of a sheet its printed pages show: the print ranges and the rows and columns repeated on every page,
/// without hidden rows and columns. A sheet without print ranges is printed as a whole.
std::vector<Area> printed_areas(const Book& book, sal_Int32 sheet);

/// Leaves of these sheets what is printed and takes everything else out of the document: other sheets, other
/// cells, comments, names of what is gone. What a chart shows of it goes to a hidden sheet, so that the chart
/// stays.
void leave_printed_pages(const Book& book, const std::vector<std::string>& sheets);

/// Takes out of the document all other sheets, and the names of what is gone. Charts stay as above.
void leave_sheets(const Book& book, const std::vector<std::string>& sheets);

}  // namespace pullsheet::addin
