// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/write_pages.hpp"

#include <algorithm>
#include <sstream>

#include "addin/customer_copy/names.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

void repeat(pugi::xml_node element, const char* attribute, int count) {
    if (count > 1) put(element, attribute, std::to_string(count));
}

void write_cell(pugi::xml_node row, const CellContent& cell) {
    pugi::xml_node made = row.append_child(cell.covered ? "table:covered-table-cell" : "table:table-cell");
    if (!cell.style.empty()) put(made, "table:style-name", cell.style);
    if (cell.columns > 1 || cell.rows > 1) {
        put(made, "table:number-columns-spanned", std::to_string(cell.columns));
        put(made, "table:number-rows-spanned", std::to_string(cell.rows));
    }
    if (cell.type.empty()) return;
    put(made, "office:value-type", cell.type);
    const char* attribute = cell.type == "date"      ? "office:date-value"
                            : cell.type == "time"    ? "office:time-value"
                            : cell.type == "boolean" ? "office:boolean-value"
                                                     : "office:value";
    if (!cell.value.empty()) put(made, attribute, cell.value);
    if (!cell.currency.empty()) put(made, "office:currency", cell.currency);
    if (cell.paragraphs)
        for (pugi::xml_node paragraph : cell.paragraphs->children()) made.append_copy(paragraph);
}

void write_row(pugi::xml_node parent, const RowContent& row) {
    pugi::xml_node made = parent.append_child("table:table-row");
    if (!row.style.empty()) put(made, "table:style-name", row.style);
    repeat(made, "table:number-rows-repeated", row.last - row.first + 1);
    if (row.hidden) put(made, "table:visibility", "collapse");
    int next = 0;
    std::map<int, bool> places;
    for (const auto& [column, cell] : row.cells) places[column] = true;
    for (const auto& [column, shapes] : row.shapes) places[column] = true;
    for (const auto& [column, unused] : places) {
        if (column > next)
            repeat(made.append_child("table:table-cell"), "table:number-columns-repeated", column - next);
        const auto cell = row.cells.find(column);
        write_cell(made, cell == row.cells.end() ? CellContent() : cell->second);
        if (const auto shapes = row.shapes.find(column); shapes != row.shapes.end())
            for (const Piece& piece : shapes->second)
                for (pugi::xml_node shape : piece->children()) made.last_child().append_copy(shape);
        next = column + 1;
    }
    if (next == 0) made.append_child("table:table-cell");
}

void write_page(pugi::xml_node spreadsheet, const PageContent& page, bool others_have_ranges) {
    pugi::xml_node table = spreadsheet.append_child("table:table");
    put(table, "table:name", page.name);
    put(table, "table:style-name", page.style);
    if (!page.print_ranges.empty())
        put(table, "table:print-ranges", page.print_ranges);
    else if (others_have_ranges)
        put(table, "table:print-ranges", page.everything);
    if (!page.shapes.empty()) {
        pugi::xml_node shapes = table.append_child("table:shapes");
        for (const Piece& piece : page.shapes)
            for (pugi::xml_node shape : piece->children()) shapes.append_copy(shape);
    }
    const auto parent_of = [&](bool title, const char* group) {
        if (!title) return pugi::xml_node(table);
        pugi::xml_node last = table.last_child();
        return std::string_view(last.name()) == group ? last : table.append_child(group);
    };
    for (const Grid::Columns& run : page.columns) {
        pugi::xml_node made =
            parent_of(run.title, "table:table-header-columns").append_child("table:table-column");
        if (!run.style.empty()) put(made, "table:style-name", run.style);
        repeat(made, "table:number-columns-repeated", run.last - run.first + 1);
        if (run.hidden) put(made, "table:visibility", "collapse");
    }
    if (page.columns.empty()) table.append_child("table:table-column");
    for (const RowContent& row : page.rows) write_row(parent_of(row.title, "table:table-header-rows"), row);
    if (page.rows.empty()) write_row(table, {});
}

void write_chart_sheet(pugi::xml_node spreadsheet, const Content& content, const std::string& style) {
    pugi::xml_node table = spreadsheet.append_child("table:table");
    put(table, "table:name", content.chart_sheet);
    put(table, "table:style-name", style);
    repeat(table.append_child("table:table-column"), "table:number-columns-repeated",
           static_cast<int>(content.chart_columns.size()));
    std::size_t rows = 0;
    for (const ChartColumn& column : content.chart_columns) rows = std::max(rows, column.size());
    for (std::size_t row = 0; row < rows; ++row) {
        pugi::xml_node made = table.append_child("table:table-row");
        for (const ChartColumn& column : content.chart_columns)
            write_cell(made, row < column.size() ? column[row] : CellContent());
    }
}

}  // namespace

std::string write_pages(Content& content) {
    pugi::xml_document made;
    pugi::xml_node document = made.append_child("office:document");
    declare_names(document);
    put(document, "office:version", "1.3");
    put(document, "office:mimetype", "application/vnd.oasis.opendocument.spreadsheet");
    pugi::xml_node fonts = document.append_child("office:font-face-decls");
    pugi::xml_node named = document.append_child("office:styles");
    pugi::xml_node automatic = document.append_child("office:automatic-styles");
    pugi::xml_node masters = document.append_child("office:master-styles");
    content.styles.write(fonts, named, automatic);
    // Each page has its own page style.
    for (std::size_t i = 0; i < content.pages.size(); ++i) {
        PageContent& page = content.pages[i];
        pugi::xml_node base = automatic.find_child_by_attribute("style:name", page.style.c_str());
        pugi::xml_node style = automatic.append_copy(base);
        page.style = "sheet" + std::to_string(i + 1);
        put(style, "style:name", page.style);
        put(style, "style:master-page-name",
            content.master_pages[i]->first_child().attribute("style:name").value());
        automatic.append_copy(content.page_layouts[i]->first_child());
        masters.append_copy(content.master_pages[i]->first_child());
    }
    const std::string hidden = "sheet0";
    pugi::xml_node hidden_style = automatic.append_child("style:style");
    put(hidden_style, "style:name", hidden);
    put(hidden_style, "style:family", "table");
    put(hidden_style.append_child("style:table-properties"), "table:display", "false");

    pugi::xml_node spreadsheet = document.append_child("office:body").append_child("office:spreadsheet");
    if (!content.first_day.empty())
        put(spreadsheet.append_child("table:calculation-settings").append_child("table:null-date"),
            "table:date-value", content.first_day);
    if (!content.chart_columns.empty()) write_chart_sheet(spreadsheet, content, hidden);
    const bool some_have_ranges =
        std::any_of(content.pages.begin(), content.pages.end(),
                    [](const PageContent& page) { return !page.print_ranges.empty(); });
    for (const PageContent& page : content.pages) write_page(spreadsheet, page, some_have_ranges);
    std::ostringstream text;
    made.save(text, "", pugi::format_raw, pugi::encoding_utf8);
    return text.str();
}

}  // namespace pullsheet::addin::customer_copy
