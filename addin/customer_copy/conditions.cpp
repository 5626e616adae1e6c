// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/conditions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <sstream>
#include <string_view>

#include "addin/customer_copy/chart.hpp"
#include "addin/customer_copy/hidden_document.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

// The first of the colours by which styles are recognised, and how many there are.
constexpr unsigned first_colour = 0xf17000;
constexpr unsigned most_styles = 4096;

std::string tag_attribute(std::string_view tag, std::string_view name) {
    const auto at = tag.find(std::string(" ") + std::string(name) + "=");
    if (at == std::string_view::npos) return {};
    auto value = tag.substr(at + name.size() + 2);
    if (value.starts_with('"')) return std::string(value.substr(1, value.find('"', 1) - 1));
    return std::string(value.substr(0, value.find(' ')));
}

int number_in(const std::string& text) {
    return text.empty() ? 1 : std::max(1, std::atoi(text.c_str()));
}

// The cells of the table of a web page: their colours, by position.
void read_colours(const std::string& page, const Grid& grid, const std::string& sheet,
                  std::pair<int, int> first, const std::vector<std::string>& styles, ConditionStyle& found) {
    std::map<int, int> taken;  // columns that a cell above still covers, and for how many rows
    int row = first.second - 1, column = 0;
    const auto next_visible = [&](auto hidden, int from) {
        while (from < 2000000 && hidden(from)) ++from;
        return from;
    };
    const auto skip = [&] {
        for (;;) {
            column = next_visible([&](int c) { return grid.column_hidden(c); }, column);
            const auto above = taken.find(column);
            if (above == taken.end() || above->second == 0) return;
            ++column;
        }
    };
    for (auto at = page.find("<table"); at != std::string::npos && at < page.size();) {
        const auto open = page.find('<', at);
        const auto close = page.find('>', open);
        if (open == std::string::npos || close == std::string::npos) return;
        const std::string_view tag(page.data() + open + 1, close - open - 1);
        at = close + 1;
        if (tag == "/table") return;
        if (tag == "tr" || tag.starts_with("tr ")) {
            row = next_visible([&](int r) { return grid.row_hidden(r); }, row + 1);
            column = first.first;
        } else if (tag == "/tr") {
            for (auto& [unused, rows] : taken) rows = std::max(0, rows - 1);
        } else if (tag.starts_with("td")) {
            skip();
            const std::string colour = tag_attribute(tag, "bgcolor");
            if (colour.size() == 7) {
                const unsigned code = static_cast<unsigned>(std::strtoul(colour.c_str() + 1, nullptr, 16));
                if (code >= first_colour && code - first_colour < styles.size())
                    found[{sheet, column, row}] = styles[code - first_colour];
            }
            const int columns = number_in(tag_attribute(tag, "colspan"));
            const int rows = number_in(tag_attribute(tag, "rowspan"));
            for (int c = column; c < column + columns; ++c) taken[c] = std::max(taken[c], rows);
            column += columns;
        }
    }
}

// Only cells and their conditions are needed, no drawings or macros. The formulas are kept, because a
// condition may treat a computed result differently from a typed value.
void leave_cells(pugi::xml_node node) {
    for (pugi::xml_node child = node.first_child(); child;) {
        pugi::xml_node next = child.next_sibling();
        const std::string_view name = child.name();
        if (name.starts_with("draw:") || name == "table:shapes" || name == "office:forms" ||
            name == "office:event-listeners" || name == "office:annotation" || name == "dr3d:scene")
            node.remove_child(child);
        else
            leave_cells(child);
        child = next;
    }
}

}  // namespace

ConditionStyle styles_by_condition(const Context& context, pugi::xml_node document,
                                   const std::vector<std::string>& sheets) {
    ConditionStyle found;
    pugi::xml_document asked;
    std::vector<std::string> with_conditions;
    for (pugi::xml_node table :
         document.child("office:body").child("office:spreadsheet").children("table:table")) {
        const std::string name = table.attribute("table:name").value();
        if (std::find(sheets.begin(), sheets.end(), name) != sheets.end() &&
            table.child("calcext:conditional-formats"))
            with_conditions.push_back(name);
    }
    if (with_conditions.empty()) return found;

    asked.append_copy(document);
    pugi::xml_node copy = asked.first_child();
    copy.remove_child("office:scripts");
    pugi::xml_node spreadsheet = copy.child("office:body").child("office:spreadsheet");
    leave_cells(spreadsheet);
    pugi::xml_node styles = copy.child("office:styles");
    std::vector<std::string> names;
    for (pugi::xml_node table : spreadsheet.children("table:table"))
        for (pugi::xml_node format : table.child("calcext:conditional-formats").children())
            for (pugi::xml_node condition : format.children()) {
                pugi::xml_attribute style = condition.attribute("calcext:apply-style-name");
                if (!style) style = condition.attribute("calcext:style");
                if (!style) continue;
                auto known = std::find(names.begin(), names.end(), style.value());
                if (known == names.end()) {
                    if (names.size() == most_styles) continue;
                    known = names.insert(names.end(), style.value());
                    pugi::xml_node made = styles.append_child("style:style");
                    put(made, "style:name", "seen" + std::to_string(names.size()));
                    put(made, "style:family", "table-cell");
                    put(made.append_child("style:table-cell-properties"), "fo:background-color",
                        fmt::format("#{:06x}", first_colour + static_cast<unsigned>(names.size()) - 1));
                }
                style.set_value(("seen" + std::to_string(known - names.begin() + 1)).c_str());
            }
    std::ostringstream text;
    asked.save(text, "", pugi::format_raw, pugi::encoding_utf8);

    const Styles read(document);
    // A condition refers to a style by its display name.
    for (std::string& name : names) {
        pugi::xml_node shown = document.child("office:styles").find_child([&](pugi::xml_node style) {
            return std::string_view(style.name()) == "style:style" &&
                   std::string_view(style.attribute("style:family").value()) == "table-cell" &&
                   name == style.attribute("style:display-name").value();
        });
        if (shown) name = shown.attribute("style:name").value();
    }
    const HiddenDocument opened(context, text.str());
    for (const std::string& name : with_conditions) {
        opened.show_only(name);
        pugi::xml_node table = spreadsheet.find_child_by_attribute("table:table", "table:name", name.c_str());
        const Grid grid(table, read);
        read_colours(opened.as_web_page(), grid, name, opened.first_cell(name), names, found);
    }
    return found;
}

}  // namespace pullsheet::addin::customer_copy
