// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/read_pages.hpp"

#include <algorithm>
#include <cstdlib>
#include <string_view>

#include "addin/customer_copy/cells.hpp"
#include "addin/customer_copy/chart.hpp"
#include "addin/customer_copy/page_style.hpp"
#include "addin/customer_copy/shapes.hpp"
#include "addin/customer_copy/texts.hpp"
#include "addin/customer_copy/vocabulary.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

// The number of pages assumed of a sheet whose pages were not counted.
constexpr int pages_unknown = 1000;

// A shape that extends beyond the print range by no more than this, in mm, counts as inside: lines have a
// width, and lengths in a file are rounded.
constexpr double edge = 1.0;

Look only_borders(const Look& look) {
    Look borders;
    const auto cell = look.properties.find("style:table-cell-properties");
    if (cell == look.properties.end()) return borders;
    for (const auto& [name, value] : cell->second)
        if ((name.starts_with("fo:border") && value != "none") || name.starts_with("style:border"))
            borders.set("style:table-cell-properties", name, value);
    return borders;
}

class PageReader {
  public:
    PageReader(pugi::xml_node table, Content& content, Sheets& sheets, const ConditionStyle& conditions,
               const Seen& seen, Fields fields)
        : table_(table),
          content_(content),
          sheets_(sheets),
          conditions_(conditions),
          seen_(seen),
          fields_(std::move(fields)),
          styles_(content.styles.read()),
          name_(table.attribute("table:name").value()),
          grid_(*sheets.grid(name_)) {
        fields_["text:sheet-name"] = name_;
        pugi::xml_node style = styles_.style("table", table.attribute("table:style-name").value());
        master_ = styles_.master_page(style.attribute("style:master-page-name").value());
        layout_ = styles_.page_layout(master_.attribute("style:page-layout-name").value())
                      .child("style:page-layout-properties");
    }

    PageContent read() {
        PageContent page;
        page.name = name_;
        page.print_ranges = table_.attribute("table:print-ranges").value();
        areas_ = blocks_of(page.print_ranges);
        page.print_ranges.clear();
        for (const Block& area : areas_)
            page.print_ranges += (page.print_ranges.empty() ? "" : " ") + address_of(area);
        find_titles();
        find_extent();
        if (whole_) page.everything = address_of(areas_.front());
        has_conditions_ = std::any_of(conditions_.begin(), conditions_.end(),
                                      [&](const auto& one) { return std::get<0>(one.first) == name_; });
        page.style = table_style();
        for (Grid::Columns run : grid_.columns()) {
            if (run.first > last_column_) break;
            run.last = std::min(run.last, last_column_);
            run.style = run.style.empty()
                            ? ""
                            : content_.styles.add("table-column", styles_.look("table-column", run.style));
            page.columns.push_back(run);
        }
        for (const Grid::Rows& rows : grid_.rows()) {
            if (rows.first > last_row_) break;
            for (int first = rows.first; first <= std::min(rows.last, last_row_);) {
                const int last = end_of_strip(first, std::min(rows.last, last_row_));
                page.rows.push_back(row(rows, first, last));
                first = last + 1;
            }
        }
        Shapes shapes = this->shapes();
        for (pugi::xml_node shape : table_.child("table:shapes").children()) {
            const Piece piece = std::make_shared<pugi::xml_document>();
            if (shapes.carry(shape, *piece, 0.0, 0.0) && piece->first_child()) page.shapes.push_back(piece);
        }
        name_what_is_left_out();
        find_texts_beside();
        return page;
    }

  private:
    bool prints(const char* what) const {
        const pugi::xml_attribute said = layout_.attribute("style:print");
        return !said || has_word(said.value(), what);
    }

    // Rows and columns printed on every page are on it, too.
    void find_titles() {
        const std::vector<Block> ranges = areas_;
        for (const Block& range : ranges) {
            for (const Grid::Rows& rows : grid_.rows())
                if (rows.title)
                    areas_.push_back(
                        {range.sheet, range.first_column, rows.first, range.last_column, rows.last});
            for (const Grid::Columns& columns : grid_.columns())
                if (columns.title)
                    areas_.push_back(
                        {range.sheet, columns.first, range.first_row, columns.last, range.last_row});
        }
    }

    // The extent of the sheet: the end of its print ranges, or of its content.
    void find_extent() {
        for (const Block& area : areas_) {
            last_column_ = std::max(last_column_, area.last_column);
            last_row_ = std::max(last_row_, area.last_row);
        }
        if (!areas_.empty()) {
            // The lines around the edge belong to the neighbours as well.
            ++last_column_;
            ++last_row_;
        } else {
            for (const Grid::Rows& rows : grid_.rows())
                for (const Grid::Cells& run : grid_.cells(rows)) {
                    const bool holds =
                        run.element.first_child() || run.element.attribute("office:value-type");
                    const bool looks = !run.covered && rows.last < 1000000 && run.last < 1000 &&
                                       *run.element.attribute("table:style-name").value();
                    if (!holds && !looks) continue;
                    last_column_ = std::max(last_column_, run.last);
                    last_row_ = std::max(last_row_, rows.last);
                }
            areas_.push_back({name_, 0, 0, last_column_, last_row_});
            whole_ = true;
            // Shapes may lie beyond the last cell.
            last_column_ = std::max(last_column_, 60);
            last_row_ = std::max(last_row_, std::min(last_row_ + 200, 1048575));
        }
    }

    int end_of_strip(int first, int last) const {
        // Rows with equal content may differ in style.
        if (has_conditions_ && last < first + 1000) return first;
        for (const Block& area : areas_)
            for (const int border :
                 {area.first_row - 1, area.first_row, area.last_row + 1, area.last_row + 2})
                if (border > first && border <= last) last = border - 1;
        return last;
    }

    bool is_printed(int column, int row) const {
        return std::any_of(areas_.begin(), areas_.end(),
                           [&](const Block& area) { return area.has(column, row); });
    }
    bool is_beside_printed(int column, int row) const {
        return !whole_ && std::any_of(areas_.begin(), areas_.end(), [&](Block area) {
            --area.first_column, --area.first_row, ++area.last_column, ++area.last_row;
            return area.has(column, row);
        });
    }

    // Is any part of the cell, which may be merged, on a page?
    bool is_seen(int column, int row, int columns, int rows) const {
        if (columns == 1 && rows == 1)
            return is_printed(column, row) && !grid_.column_hidden(column) && !grid_.row_hidden(row);
        for (const Block& area : areas_) {
            bool some_column = false, some_row = false;
            for (int c = std::max(column, area.first_column);
                 c <= std::min(column + columns - 1, area.last_column); ++c)
                some_column = some_column || !grid_.column_hidden(c);
            for (int r = std::max(row, area.first_row); r <= std::min(row + rows - 1, area.last_row); ++r)
                some_row = some_row || !grid_.row_hidden(r);
            if (some_column && some_row) return true;
        }
        return false;
    }

    RowContent row(const Grid::Rows& rows, int first, int last) {
        RowContent made;
        made.first = first;
        made.last = last;
        made.hidden = rows.hidden;
        made.title = rows.title;
        if (!rows.style.empty()) {
            Look look = styles_.look("table-row", rows.style);
            if (rows.hidden) look.properties["style:table-row-properties"].erase("fo:break-before");
            made.style = content_.styles.add("table-row", look);
        }
        for (const Grid::Cells& run : grid_.cells(rows)) {
            if (run.first > last_column_) break;
            const int columns = std::max(1, run.element.attribute("table:number-columns-spanned").as_int(1));
            const int spanned_rows =
                std::max(1, run.element.attribute("table:number-rows-spanned").as_int(1));
            for (int column = run.first; column <= std::min(run.last, last_column_); ++column) {
                CellContent cell;
                if (run.covered) {
                    if (is_printed(column, first) || is_beside_printed(column, first))
                        cell.style =
                            style_of(run.element, rows, column, first, is_printed(column, first), {}, false);
                    cell.covered = true;
                } else if (is_seen(column, first, columns, spanned_rows)) {
                    cell = this->cell(run.element, rows, column, first);
                    cell.columns = columns;
                    cell.rows = spanned_rows;
                } else if (is_printed(column, first) || is_beside_printed(column, first)) {
                    cell.style = style_of(run.element, rows, column, first, false, {}, false);
                }
                if (!cell.style.empty() || !cell.type.empty() || cell.covered) made.cells[column] = cell;
            }
            anchored_shapes(run, first, made);
        }
        return made;
    }

    void anchored_shapes(const Grid::Cells& run, int row, RowContent& made) {
        for (pugi::xml_node child : run.element.children()) {
            const std::string_view name = child.name();
            if (!name.starts_with("draw:") && name != "dr3d:scene") continue;
            const Piece piece = std::make_shared<pugi::xml_document>();
            if (shapes().carry(child, *piece, grid_.x(run.first), grid_.y(row)) && piece->first_child())
                made.shapes[run.first].push_back(piece);
        }
    }

    // True if the text of the cell is not printed, or is hidden.
    bool is_kept_back(const std::string& style) const {
        std::string protection, print;
        for (std::string next = style; !next.empty();) {
            pugi::xml_node element = styles_.style("table-cell", next);
            pugi::xml_node properties = element.child("style:table-cell-properties");
            if (protection.empty()) protection = properties.attribute("style:cell-protect").value();
            if (print.empty()) print = properties.attribute("style:print-content").value();
            next = element.attribute("style:parent-style-name").value();
        }
        return print == "false" || (protection.find("hidden-and-protected") != std::string::npos &&
                                    table_.attribute("table:protected").as_bool());
    }

    bool formatted_by_condition(const Place& place) const {
        const auto conditional = conditions_.find(place);
        return conditional != conditions_.end() &&
               !styles_.look("table-cell", conditional->second, "Default").number_format.empty();
    }

    Look look_of(const std::string& style, int column, int row) const {
        Look look = styles_.look("table-cell", style, "Default");
        if (look.number_format.empty())
            look.number_format = styles_.look("table-cell", "Default").number_format;
        const auto conditional = conditions_.find({name_, column, row});
        // A conditional style, including what it inherits, takes precedence over the cell's own formatting.
        if (conditional != conditions_.end()) look.lay_over(styles_.look("table-cell", conditional->second));
        return look;
    }

    std::string style_of(pugi::xml_node element, const Grid::Rows& rows, int column, int row, bool whole,
                         const std::string& number_format, bool to_the_right) {
        Look look = look_of(grid_.cell_style(element, rows, column), column, row);
        look.number_format.clear();
        if (!whole) look = only_borders(look);
        if (to_the_right && look.property("style:paragraph-properties", "fo:text-align").empty()) {
            look.set("style:paragraph-properties", "fo:text-align", "end");
            look.set("style:table-cell-properties", "style:text-align-source", "fix");
        }
        if (look.properties.empty() && number_format.empty()) return {};
        return content_.styles.add("table-cell", look, number_format);
    }

    CellContent cell(pugi::xml_node element, const Grid::Rows& rows, int column, int row) {
        const std::string style = grid_.cell_style(element, rows, column);
        if (is_kept_back(style)) {
            CellContent empty;
            empty.style = style_of(element, rows, column, row, true, {}, false);
            return empty;
        }
        if (std::string_view(element.attribute("calcext:value-type").value()) == "error")
            content_.errors.push_back(cell_name(name_, column, row));
        const Look look = look_of(style, column, row);
        const Place place{name_, column, row};
        const bool as_text = seen_.as_text.contains(place);
        Shown shown;
        // The file stores the displayed text in the cell's own format.
        if (!formatted_by_condition(place))
            shown = shown_content(element, look.number_format, as_text, content_.styles, fields_);
        else if (const auto said = seen_.texts.find(place); said != seen_.texts.end())
            shown =
                shown_content(element, look.number_format, as_text, content_.styles, fields_, said->second);
        else if (!text_of(element).empty() || is_number(element)) {
            shown = whole_content(element, look.number_format, content_.styles);
            content_.asked.insert(place);
        }
        shown.content.style = style_of(element, rows, column, row, true, shown.number_format,
                                       is_number(element) && shown.content.type == "string");
        return shown.content;
    }

    Shapes shapes() {
        return {name_,
                content_,
                sheets_,
                seen_,
                fields_,
                [this](const Rectangle& place) { return printed(place); },
                [this](const char* what) { return prints(what); }};
    }

    Printed printed(const Rectangle& place) const {
        if (whole_) return Printed::all;
        if (places_.empty())
            for (const Block& area : areas_)
                places_.push_back({grid_.x(area.first_column), grid_.y(area.first_row),
                                   grid_.x(area.last_column + 1), grid_.y(area.last_row + 1)});
        if (std::none_of(places_.begin(), places_.end(),
                         [&](const Rectangle& area) { return area.meets(place); }))
            return Printed::nothing;
        return cover(places_, place, edge) ? Printed::all : Printed::part;
    }

    bool is_on_a_page(const std::string& addresses) const {
        const auto blocks = blocks_of(addresses);
        return std::any_of(blocks.begin(), blocks.end(), [&](const Block& block) {
            return std::any_of(areas_.begin(), areas_.end(), [&](const Block& area) {
                return block.first_column <= area.last_column && area.first_column <= block.last_column &&
                       block.first_row <= area.last_row && area.first_row <= block.last_row;
            });
        });
    }

    // Content of the pages that is in no cell or shape.
    void name_what_is_left_out() {
        for (pugi::xml_node format :
             table_.child("calcext:conditional-formats").children("calcext:conditional-format"))
            for (const char* kind : {"calcext:color-scale", "calcext:data-bar", "calcext:icon-set"})
                if (format.child(kind) &&
                    is_on_a_page(format.attribute("calcext:target-range-address").value()))
                    content_.left_out.push_back({LeftOut::What::scale, name_});
        if (table_.child("calcext:sparkline-groups"))
            content_.left_out.push_back({LeftOut::What::sparkline, name_});
        if (layout_.attribute("style:print") && prints("annotations")) {
            for (const Grid::Rows& rows : grid_.rows())
                for (const Grid::Cells& run : grid_.cells(rows))
                    if (run.element.child("office:annotation")) {
                        content_.left_out.push_back({LeftOut::What::comments, name_});
                        return;
                    }
        }
    }

    static bool holds_something(pugi::xml_node cell) {
        return cell && (cell.attribute("office:value-type") || cell.attribute("table:formula") ||
                        cell.child("text:p") || cell.attribute("table:number-columns-spanned") ||
                        std::string_view(cell.name()) == "table:covered-table-cell");
    }

    // The next cell of the row that holds something, from `column` on to the left or to the right; -1 for
    // none.
    int next_in_row(const std::vector<Grid::Cells>& runs, int column, bool to_the_left) const {
        int found = -1;
        for (const Grid::Cells& run : runs) {
            if (!holds_something(run.element)) continue;
            if (to_the_left && run.first <= column) found = std::min(run.last, column);
            if (!to_the_left && run.last >= column) return std::max(run.first, column);
        }
        return found;
    }

    // A text longer than its cell overflows into the empty cells beside it, also onto a page.
    void find_texts_beside() {
        if (whole_) return;
        for (const Block& area : areas_)
            for (int row = area.first_row; row <= area.last_row;) {
                const Grid::Rows* rows = grid_.row(row);
                if (!rows) break;
                const std::vector<Grid::Cells> runs = grid_.cells(*rows);
                const int last = std::min(rows->last, area.last_row);
                if (!rows->hidden) {
                    const int left = next_in_row(runs, first_seen(area, true), true);
                    const int right = next_in_row(runs, first_seen(area, false), false);
                    if (left >= 0) text_beside(runs, *rows, area, left, row, true);
                    if (right >= 0) text_beside(runs, *rows, area, right, row, false);
                }
                row = has_conditions_ ? row + 1 : last + 1;
            }
    }

    // The first column at an edge of the page that is not hidden.
    int first_seen(const Block& area, bool from_the_left) const {
        int column = from_the_left ? area.first_column : area.last_column;
        while (grid_.column_hidden(column) && column > area.first_column - 1 && column < area.last_column + 1)
            column += from_the_left ? 1 : -1;
        return column;
    }

    void text_beside(const std::vector<Grid::Cells>& runs, const Grid::Rows& rows, const Block& area,
                     int column, int row, bool on_the_left) {
        if (on_the_left ? column >= area.first_column : column <= area.last_column) return;
        if (grid_.column_hidden(column)) return;
        const auto run = std::find_if(runs.begin(), runs.end(), [&](const Grid::Cells& one) {
            return column >= one.first && column <= one.last;
        });
        const std::string style = grid_.cell_style(run->element, rows, column);
        if (run->covered || is_number(run->element) || is_kept_back(style) || text_of(run->element).empty() ||
            is_printed(column, row))
            return;
        Look look = look_of(style, column, row);
        if (look.property("style:table-cell-properties", "fo:wrap-option") == "wrap" ||
            look.property("style:table-cell-properties", "style:shrink-to-fit") == "true" ||
            look.property("style:table-cell-properties", "style:repeat-content") == "true")
            return;
        const std::string source = look.property("style:table-cell-properties", "style:text-align-source");
        const std::string align =
            source == "value-type" ? "" : look.property("style:paragraph-properties", "fo:text-align");
        if (align == "justify" || align == (on_the_left ? "end" : "start") || (align.empty() && !on_the_left))
            return;
        // From the end of the cell at which the text begins to the page.
        const double begin = grid_.x(column), end = grid_.x(column + 1);
        double room = on_the_left ? grid_.x(area.first_column) - begin : end - grid_.x(area.last_column + 1);
        // Centred text extends to both sides.
        if (align == "center") room = 2.0 * room - (end - begin);
        content_.texts_beside.push_back({cell_name(name_, column, row), run->element, look, room});
    }

    std::string table_style() {
        Look look = styles_.look("table", table_.attribute("table:style-name").value());
        look.number_format.clear();
        return content_.styles.add("table", look);
    }

  public:
    pugi::xml_node master() const { return master_; }
    pugi::xml_node layout() const { return layout_; }
    const Fields& fields() const { return fields_; }

  private:
    pugi::xml_node table_;
    Content& content_;
    Sheets& sheets_;
    const ConditionStyle& conditions_;
    const Seen& seen_;
    Fields fields_;
    const Styles& styles_;
    std::string name_;
    const Grid& grid_;
    pugi::xml_node master_, layout_;
    std::vector<Block> areas_;
    mutable std::vector<Rectangle> places_;
    bool whole_ = false, has_conditions_ = false;
    int last_column_ = 0, last_row_ = 0;
};

std::string free_sheet_name(const Sheets& sheets) {
    std::string name = "Chart data";
    while (sheets.table(name)) name += " 2";
    return name;
}

}  // namespace

Content read_pages(pugi::xml_node document, const Styles& styles, const std::vector<std::string>& wanted,
                   const ConditionStyle& conditions, const Seen& seen, const std::string& file_name,
                   const NewStyles::Encode& encode) {
    pugi::xml_node spreadsheet = document.child("office:body").child("office:spreadsheet");
    Sheets sheets(spreadsheet, styles);
    Content content(styles, encode);
    content.chart_sheet = free_sheet_name(sheets);
    content.first_day = spreadsheet.child("table:calculation-settings")
                            .child("table:null-date")
                            .attribute("table:date-value")
                            .value();
    const Fields fields{{"text:title", document.child("office:meta").child("dc:title").text().get()},
                        {"text:file-name", file_name}};
    for (pugi::xml_node table : spreadsheet.children("table:table")) {
        const std::string name = table.attribute("table:name").value();
        if (std::find(wanted.begin(), wanted.end(), name) == wanted.end()) continue;
        PageReader reader(table, content, sheets, conditions, seen, fields);
        content.pages.push_back(reader.read());
        const auto counted = seen.pages.find(name);
        carry_page_style({reader.master(), reader.layout()}, reader.fields(),
                         counted == seen.pages.end() ? pages_unknown : counted->second, content);
    }
    std::sort(content.left_out.begin(), content.left_out.end());
    content.left_out.erase(std::unique(content.left_out.begin(), content.left_out.end()),
                           content.left_out.end());
    return content;
}

}  // namespace pullsheet::addin::customer_copy
