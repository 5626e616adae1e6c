// SPDX-License-Identifier: Apache-2.0
// The content of the pages of a customer copy.
#pragma once

#include <map>
#include <memory>
#include <pugixml.hpp>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "addin/customer_copy/grid.hpp"
#include "addin/customer_copy/styles.hpp"

namespace pullsheet::addin::customer_copy {

/// A piece of the copy: paragraphs of a text, a shape, a page style.
using Piece = std::shared_ptr<pugi::xml_document>;

/// Sheet, column, row.
using Place = std::tuple<std::string, int, int>;

struct CellContent {
    std::string style;  ///< one of the copy
    std::string type;   ///< "float", "string", …; empty for a cell without content
    std::string value;
    std::string currency;
    std::string shown;
    Piece paragraphs;  ///< of a text
    int columns = 1, rows = 1;
    bool covered = false;
};

struct RowContent {
    int first = 0, last = 0;
    std::string style;
    bool hidden = false, title = false;
    std::map<int, CellContent> cells;
    std::map<int, std::vector<Piece>> shapes;  ///< anchored to the cell of a column
};

struct PageContent {
    std::string name;
    std::string style;
    std::string print_ranges;  ///< empty where the whole sheet is printed
    std::string everything;    ///< the range of the sheet with content
    std::vector<Grid::Columns> columns;
    std::vector<RowContent> rows;
    std::vector<Piece> shapes;  ///< anchored to the page
};

/// The displayed values of one chart range, in a column of the chart sheet.
using ChartColumn = std::vector<CellContent>;

/// Something on a page that a copy cannot hold.
struct LeftOut {
    enum class What { control, object, picture, comments, scale, sparkline, drawing_on_chart, cut, text };
    What what;
    std::string place;  ///< the name of the sheet, or the cell
    auto operator<=>(const LeftOut&) const = default;
};

/// A text next to a page with only empty cells in between: it may overflow into the page.
struct TextBeside {
    std::string cell;
    pugi::xml_node element;
    Look look;
    double room = 0.0;  ///< distance to the page: the longest text that stays outside, in mm
};

struct Content {
    Content(const Styles& read, const NewStyles::Encode& encoder) : encode(encoder), styles(read, encoder) {}

    NewStyles::Encode encode;
    NewStyles styles;
    std::vector<PageContent> pages;
    std::vector<Piece> page_layouts;
    std::vector<Piece> master_pages;
    std::string chart_sheet;  ///< the name of the sheet for charts
    std::vector<ChartColumn> chart_columns;
    std::set<std::string> pictures;  ///< the names of those that must be rendered
    int picture_count = 0;
    bool headers_differ = false;    ///< from page to page, so that the page count matters
    std::string first_day;          ///< of the dates
    std::vector<LeftOut> left_out;  ///< what the pages show and the copy cannot hold
    std::vector<TextBeside> texts_beside;
    std::set<Place> asked;            ///< cells whose displayed text the office must determine
    std::vector<std::string> errors;  ///< the cells in error that the pages show ("Quote.B7")
};

/// Observations from a written copy, used to correct the next one.
struct Seen {
    std::map<std::string, std::string> pictures;  ///< name in the copy → its visible part, re-encoded
    std::map<std::string, int> pages;             ///< the number of printed pages of the sheet
    std::map<Place, std::string> texts;  ///< the displayed text where a condition sets the number format
    std::set<Place> as_text;             ///< numbers that their own format does not show as the page does
};

/// The style that a condition gives to a cell; empty for none.
using ConditionStyle = std::map<Place, std::string>;

}  // namespace pullsheet::addin::customer_copy
