// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/chart.hpp"

#include <algorithm>
#include <string_view>

#include "addin/customer_copy/cells.hpp"
#include "addin/customer_copy/names.hpp"
#include "addin/customer_copy/vocabulary.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

// The use of a range: texts in a range of numbers are not drawn, texts in a range of names are.
enum class Use { numbers, names };

class Chart {
  public:
    Chart(pugi::xml_node from, Content& content, Sheets& sheets)
        : from_(from), content_(content), sheets_(sheets), read_(from), styles_(read_, content.encode) {}

    std::string carry(pugi::xml_node to) {
        declare_names(to);
        put(to, "office:version", "1.3");
        put(to, "office:mimetype", "application/vnd.oasis.opendocument.chart");
        pugi::xml_node chart = from_.child("office:body").child("office:chart").child("chart:chart");
        pugi::xml_node plot = chart.child("chart:plot-area");
        pugi::xml_node style = read_.style("chart", plot.attribute("chart:style-name").value());
        pugi::xml_node properties = style.child("style:chart-properties");
        hidden_too_ = std::string_view(properties.attribute("chart:include-hidden-cells").value()) != "false";
        own_data_.emplace(chart.find_child_by_attribute("table:table", "table:name", "local-table"), read_);
        pugi::xml_node named = to.append_child("office:styles");
        pugi::xml_node automatic = to.append_child("office:automatic-styles");
        pugi::xml_node body = to.append_child("office:body").append_child("office:chart");
        part(chart, body.append_child("chart:chart"));
        pugi::xml_node fonts = to.insert_child_before("office:font-face-decls", named);
        styles_.write(fonts, named, automatic);
        return ranges_;
    }

  private:
    void part(pugi::xml_node from, pugi::xml_node to) {
        const std::string name = from.name();
        if (name == "chart:series" && domain_) {
            if (!from.child("chart:domain"))
                for (pugi::xml_node domain : domain_.children("chart:domain"))
                    part(domain, to.append_child("chart:domain"));
            domain_ = pugi::xml_node();
        }
        const Use use = name == "chart:categories" ? Use::names : Use::numbers;
        for (const pugi::xml_attribute attribute : from.attributes()) {
            const std::string_view key = attribute.name();
            if (is_chart_attribute(key)) put(to, attribute.name(), attribute.value());
            if (key == "chart:style-name") put(to, "chart:style-name", style(attribute.value()));
            if (key == "chart:values-cell-range-address")
                put(to, "chart:values-cell-range-address", range(attribute.value(), use));
            if (key == "chart:label-cell-address")
                put(to, "chart:label-cell-address", range(attribute.value(), Use::names));
            if (key == "table:cell-range-address" && name != "chart:plot-area")
                put(to, "table:cell-range-address", range(attribute.value(), use));
            if (key == "loext:cell-range-address")
                put(to, "loext:cell-range-address", range(attribute.value(), use));
        }
        for (pugi::xml_node child : from.children()) {
            const std::string child_name = child.name();
            if (child_name == "chart:series" && is_hidden(child)) {
                // The next series may share its domain.
                if (child.child("chart:domain")) domain_ = child;
                continue;
            }
            if (is_chart_part(child_name) && child_name != "loext:propertry-mapping")
                part(child, to.append_child(child_name.c_str()));
            else if (child_name == "text:p")
                paragraphs(from, to);
        }
    }

    // A series is not drawn if no cell of it is seen.
    bool is_hidden(pugi::xml_node series) {
        if (hidden_too_) return false;
        std::string ranges = series.attribute("chart:values-cell-range-address").value();
        for (pugi::xml_node domain : series.children("chart:domain"))
            ranges += std::string(" ") + domain.attribute("table:cell-range-address").value();
        for (const Block& block : blocks_of(ranges)) {
            const Grid* grid = sheets_.grid(block.sheet);
            if (!grid) return false;
            bool some_column = false, some_row = false;
            for (int column = block.first_column; column <= block.last_column && !some_column; ++column)
                some_column = !grid->column_hidden(column);
            for (int row = block.first_row; row <= block.last_row && !some_row; ++row)
                some_row = !grid->row_hidden(row);
            if (some_column && some_row) return false;
        }
        return !ranges.empty();
    }

    void paragraphs(pugi::xml_node from, pugi::xml_node to) {
        if (to.child("text:p")) return;
        static const Fields none;
        carry_paragraphs(from, to, styles_, none, false);
    }

    std::string style(const std::string& name) {
        pugi::xml_node element = read_.style("chart", name);
        Look look = read_.look("chart", name);
        const std::string format = styles_.number_format(look.number_format);
        look.number_format.clear();
        // Error bars from cells.
        pugi::xml_node properties = element.child("style:chart-properties");
        std::map<std::string, std::string> bars;
        for (const char* attribute : {"chart:error-lower-range", "chart:error-upper-range"})
            if (const char* address = properties.attribute(attribute).value(); *address)
                look.properties["style:chart-properties"][attribute] = range(address, Use::numbers);
        return styles_.add("chart", look, format);
    }

    // Copies the cells of a range that are shown into the next free column.
    std::string range(const std::string& address, Use use) {
        if (address.empty()) return {};
        if (const auto known = known_.find({address, use}); known != known_.end()) return known->second;
        std::vector<ChartColumn> columns;
        for (const Block& block : blocks_of(address)) {
            const bool own = block.sheet == "local-table" || block.sheet.empty();
            const Grid* grid = own ? &*own_data_ : sheets_.grid(block.sheet);
            if (grid) take(*grid, block, own, use, columns);
        }
        if (columns.empty()) columns.emplace_back();
        const int first = static_cast<int>(content_.chart_columns.size());
        std::size_t length = 1;
        for (const ChartColumn& column : columns) length = std::max(length, column.size());
        content_.chart_columns.insert(content_.chart_columns.end(), columns.begin(), columns.end());
        const Block block{content_.chart_sheet, first, 0, first + static_cast<int>(columns.size()) - 1,
                          static_cast<int>(length) - 1};
        const std::string made = address_of(block);
        ranges_ += (ranges_.empty() ? "" : " ") + made;
        known_.emplace(std::pair(address, use), made);
        return made;
    }

    // A row of cells becomes a column, as does a column; a block stays one.
    void take(const Grid& grid, const Block& block, bool own, Use use, std::vector<ChartColumn>& columns) {
        int last_row = block.last_row, last_column = block.last_column;
        if (!grid.rows().empty()) last_row = std::min(last_row, grid.rows().back().last);
        if (!grid.columns().empty()) last_column = std::min(last_column, grid.columns().back().last);
        const bool one_column = block.first_column == block.last_column || block.first_row == block.last_row;
        for (int row = block.first_row; row <= last_row; ++row) {
            if (!hidden_too_ && !own && grid.row_hidden(row)) continue;
            const Grid::Rows* rows = grid.row(row);
            if (!rows) break;
            std::size_t place = 0;
            for (const Grid::Cells& run : grid.cells(*rows))
                for (int column = std::max(run.first, block.first_column);
                     column <= std::min(run.last, last_column); ++column) {
                    if (!hidden_too_ && !own && grid.column_hidden(column)) continue;
                    const std::size_t target = one_column ? 0 : place++;
                    if (columns.size() <= target) columns.resize(target + 1);
                    columns[target].push_back(cell(grid, run.element, *rows, column, own, use));
                }
        }
    }

    CellContent cell(const Grid& grid, pugi::xml_node element, const Grid::Rows& row, int column, bool own,
                     Use use) {
        static const Fields none;
        if (use == Use::numbers && !is_number(element)) {
            // Only the presence of a text matters, not its content.
            CellContent content;
            if (text_of(element).empty()) return content;
            content.type = "string";
            content.paragraphs = std::make_shared<pugi::xml_document>();
            content.paragraphs->append_child("text:p").text().set("-");
            return content;
        }
        std::string format;
        if (!own)
            format = content_.styles.read()
                         .look("table-cell", grid.cell_style(element, row, column))
                         .number_format;
        if (use == Use::names) {
            Shown shown = shown_content(element, format, false, content_.styles, none);
            if (!shown.number_format.empty())
                shown.content.style = content_.styles.add("table-cell", {}, shown.number_format);
            return shown.content;
        }
        // The position of a point reveals the number in full precision.
        CellContent content;
        content.type = element.attribute("office:value-type").value();
        for (const char* attribute :
             {"office:value", "office:date-value", "office:time-value", "office:boolean-value"})
            if (const char* value = element.attribute(attribute).value(); *value) content.value = value;
        if (std::string_view(element.attribute("office:value").value()) == "NaN") return {};
        if (const std::string made = content_.styles.number_format(format); !made.empty())
            content.style = content_.styles.add("table-cell", {}, made);
        return content;
    }

    pugi::xml_node from_;
    Content& content_;
    Sheets& sheets_;
    Styles read_;
    NewStyles styles_;
    bool hidden_too_ = true;
    pugi::xml_node domain_;  ///< a series that is not drawn, whose domain the next one shares
    std::optional<Grid> own_data_;
    std::map<std::pair<std::string, Use>, std::string> known_;
    std::string ranges_;
};

}  // namespace

pugi::xml_node Sheets::table(const std::string& name) const {
    for (pugi::xml_node table : spreadsheet_.children("table:table"))
        if (name == table.attribute("table:name").value()) return table;
    return {};
}

const Grid* Sheets::grid(const std::string& name) {
    if (const auto known = grids_.find(name); known != grids_.end()) return &known->second;
    pugi::xml_node found = table(name);
    if (!found) return nullptr;
    return &grids_.emplace(name, Grid(found, styles_)).first->second;
}

std::string carry_chart(pugi::xml_node from, pugi::xml_node to, const std::string& sheet, Content& content,
                        Sheets& sheets) {
    const pugi::xml_node chart = from.child("office:body").child("office:chart").child("chart:chart");
    if (chart.find_child(
            [](pugi::xml_node part) { return std::string_view(part.name()).starts_with("draw:"); }))
        content.left_out.push_back({LeftOut::What::drawing_on_chart, sheet});
    return Chart(from, content, sheets).carry(to);
}

}  // namespace pullsheet::addin::customer_copy
