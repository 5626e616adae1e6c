// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/copy.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <com/sun/star/frame/XStorable.hpp>
#include <regex>

#include "addin/convert.hpp"
#include "addin/customer_copy/chart.hpp"
#include "addin/customer_copy/conditions.hpp"
#include "addin/customer_copy/files.hpp"
#include "addin/customer_copy/read_pages.hpp"
#include "addin/customer_copy/texts.hpp"
#include "addin/customer_copy/texts_beside.hpp"
#include "addin/customer_copy/write_pages.hpp"
#include "core/catalogue/block.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

namespace uno = com::sun::star::uno;

// The maximum number of iterations until the copy shows the same as the page.
constexpr int most_attempts = 5;

pugi::xml_node spreadsheet_of(pugi::xml_node document) {
    return document.child("office:body").child("office:spreadsheet");
}

void parse(const std::string& text, pugi::xml_document& xml) {
    const auto result = xml.load_buffer(text.data(), text.size(), pugi::parse_default | pugi::parse_ws_pcdata,
                                        pugi::encoding_utf8);
    if (!result) throw uno::RuntimeException(to_unicode(result.description()), {});
}

bool is_visible(const Styles& styles, pugi::xml_node table) {
    pugi::xml_node style = styles.style("table", table.attribute("table:style-name").value());
    return std::string_view(style.child("style:table-properties").attribute("table:display").value()) !=
           "false";
}

bool agrees(const std::string& text) {
    const std::string label = catalogue::normal_label(text);
    return label == "agrees" || label == "yes" || label == "true" || label == "1" || label == "ok" ||
           label == "wahr" || label.empty();
}

// Reads the displayed texts of the copy: of the cells asked for, and of the numbers that differ from the
// page. Returns true if there is anything new.
bool read_back(const Content& content, const std::string& copy, Seen& seen) {
    bool is_new = false;
    pugi::xml_document xml;
    parse(copy, xml);
    const Styles styles(xml.first_child());
    Sheets sheets(spreadsheet_of(xml.first_child()), styles);
    for (const PageContent& page : content.pages) {
        const Grid* grid = sheets.grid(page.name);
        if (!grid) continue;
        for (const RowContent& row : page.rows) {
            if (row.cells.empty()) continue;
            const Grid::Rows* rows = grid->row(row.first);
            std::vector<Grid::Cells> runs;
            if (rows) runs = grid->cells(*rows);
            for (const auto& [column, cell] : row.cells) {
                const bool is_asked = content.asked.contains({page.name, column, row.first});
                if (!is_asked && (cell.type.empty() || cell.type == "string")) continue;
                const auto run = std::find_if(
                    runs.begin(), runs.end(),
                    [&, c = column](const Grid::Cells& one) { return c >= one.first && c <= one.last; });
                const std::string text = run == runs.end() ? "" : text_of(run->element);
                const Place place{page.name, column, row.first};
                if (is_asked)
                    is_new = seen.texts.emplace(place, text).second || is_new;
                else if (text != cell.shown)
                    is_new = seen.as_text.insert(place).second || is_new;
            }
        }
    }
    return is_new;
}

std::string file_name(const std::string& url) {
    std::string name;
    const std::string part = url.substr(url.rfind('/') + 1);
    for (std::size_t i = 0; i < part.size(); ++i)
        if (part[i] == '%' && i + 2 < part.size()) {
            name += static_cast<char>(std::stoi(part.substr(i + 1, 2), nullptr, 16));
            i += 2;
        } else {
            name += part[i];
        }
    return name;
}

}  // namespace

Original::Original(const Context& context, const Spreadsheet& document)
    : context_(context),
      url_(to_utf8(
          uno::Reference<com::sun::star::frame::XStorable>(document, uno::UNO_QUERY_THROW)->getLocation())),
      has_password_(customer_copy::has_password(document)) {
    parse(as_xml(context, document), xml_);
    styles_ = std::make_unique<Styles>(xml_.first_child());
}

std::vector<std::string> Original::sheets() const {
    std::vector<std::string> names;
    for (pugi::xml_node table : spreadsheet_of(document()).children("table:table"))
        if (is_visible(*styles_, table)) names.emplace_back(table.attribute("table:name").value());
    return names;
}

bool Original::has_sheet(const std::string& name) const {
    return static_cast<bool>(
        spreadsheet_of(document()).find_child_by_attribute("table:table", "table:name", name.c_str()));
}

std::vector<std::string> Original::marked_sheets() const {
    std::set<std::string> marked;
    for (pugi::xml_node named : spreadsheet_of(document()).child("table:named-expressions").children())
        if (std::string_view(named.attribute("table:name").value()).starts_with("customer_page"))
            for (const Block& block : blocks_of(named.attribute("table:cell-range-address").value()))
                marked.insert(block.sheet);
    std::vector<std::string> names;
    for (const std::string& name : sheets())
        if (marked.contains(name)) names.push_back(name);
    return names;
}

std::vector<std::string> Original::protected_by_password(const std::vector<std::string>& wanted) const {
    std::vector<std::string> names;
    pugi::xml_node spreadsheet = spreadsheet_of(document());
    if (*spreadsheet.attribute("table:protection-key").value()) names.emplace_back();
    for (pugi::xml_node table : spreadsheet.children("table:table")) {
        const std::string name = table.attribute("table:name").value();
        if (*table.attribute("table:protection-key").value() &&
            std::find(wanted.begin(), wanted.end(), name) != wanted.end())
            names.push_back(name);
    }
    return names;
}

std::vector<std::string> Original::failed_checks() const {
    pugi::xml_node spreadsheet = spreadsheet_of(document());
    pugi::xml_node named = spreadsheet.child("table:named-expressions")
                               .find_child_by_attribute("table:name", "all_checks_agree");
    const auto place = blocks_of(named.attribute("table:cell-range-address").value());
    Sheets sheets(spreadsheet, *styles_);
    if (place.empty()) return {};
    const Grid* grid = sheets.grid(place.front().sheet);
    if (!grid) return {};
    pugi::xml_node verdict = grid->cell(place.front().first_column, place.front().first_row);
    const std::string said = text_of(verdict);
    if (!said.empty() && agrees(said)) return {};

    // The verdict columns that it refers to and, for each verdict, the label at the beginning of its row.
    std::vector<std::string> failed;
    const std::string formula = verdict.attribute("table:formula").value();
    const std::regex range(R"(\[([^\]\[]*\.\$?[A-Z]+\$?[0-9]+:[^\]\[]*\.\$?[A-Z]+\$?[0-9]+)\])");
    for (std::sregex_iterator found(formula.begin(), formula.end(), range), end; found != end; ++found)
        for (Block block : blocks_of((*found)[1])) {
            if (block.sheet.empty()) block.sheet = place.front().sheet;
            const Grid* there = sheets.grid(block.sheet);
            for (int row = block.first_row; there && row <= block.last_row; ++row)
                for (int column = block.first_column; column <= block.last_column; ++column) {
                    const std::string text = text_of(there->cell(column, row));
                    if (agrees(text)) continue;
                    const std::string what = text_of(there->cell(0, row));
                    failed.push_back(fmt::format("{}: {}{}", cell_name(block.sheet, column, row),
                                                 what.empty() || column == 0 ? "" : what + ": ", text));
                }
        }
    if (failed.empty())
        failed.push_back(fmt::format(
            "{}: {}", cell_name(place.front().sheet, place.front().first_column, place.front().first_row),
            said));
    return failed;
}

std::string Original::free_url(const std::vector<std::string>& formats) const {
    const auto dot = url_.rfind('.');
    const std::string base =
        (dot != std::string::npos && dot > url_.rfind('/') ? url_.substr(0, dot) : url_) + "-customer";
    for (int number = 1;; ++number) {
        const std::string url = number == 1 ? base : fmt::format("{}-{}", base, number);
        if (std::none_of(formats.begin(), formats.end(),
                         [&](const std::string& format) { return exists(context_, url + "." + format); }))
            return url;
    }
}

Copy::Copy(const Original& original, const std::vector<std::string>& sheets) : context_(original.context()) {
    const ConditionStyle conditions = styles_by_condition(context_, original.document(), sheets);
    const auto encode = [&](const std::string& picture) { return encoded_anew(context_, picture); };
    Seen seen;
    std::vector<LeftOut> running_in;
    for (int attempt = 1;; ++attempt) {
        Content content = read_pages(original.document(), original.styles(), sheets, conditions, seen,
                                     file_name(original.url()), encode);
        document_ = std::make_unique<HiddenDocument>(context_, write_pages(content));
        document_->belong_to_nobody();
        errors_ = content.errors;
        if (attempt == 1) running_in = texts_that_run_in(context_, content);
        left_out_ = content.left_out;
        left_out_.insert(left_out_.end(), running_in.begin(), running_in.end());
        if (!content.chart_columns.empty()) document_->move_to_end(content.chart_sheet);
        document_->show_first();
        bool again = false;
        if (seen.pictures.size() < content.pictures.size()) {
            seen.pictures = document_->pictures();
            for (const std::string& name : content.pictures) seen.pictures[name];
            again = true;
        }
        for (const PageContent& page : content.pages) {
            if (!content.headers_differ) break;
            const int pages = document_->pages(page.name);
            again = again || seen.pages[page.name] != pages;
            seen.pages[page.name] = pages;
        }
        again = read_back(content, as_xml(context_, document_->get()), seen) || again;
        if (!again) return;
        if (attempt == most_attempts)
            throw uno::RuntimeException("The copy does not come out as the page.", {});
    }
}

std::vector<std::string> Copy::write(const std::string& url, const std::vector<std::string>& formats,
                                     const std::string& password) const {
    std::vector<File> files;
    std::vector<std::string> urls;
    for (const std::string& format : formats) {
        urls.push_back(url + "." + format);
        files.push_back({urls.back(), document_->as_file(format, password)});
    }
    write_files(context_, files);
    return urls;
}

}  // namespace pullsheet::addin::customer_copy
