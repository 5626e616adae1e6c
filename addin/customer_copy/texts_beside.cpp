// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/texts_beside.hpp"

#include "addin/customer_copy/cells.hpp"
#include "addin/customer_copy/hidden_document.hpp"
#include "addin/customer_copy/write_pages.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

// The number of texts measured at once, each in a column of a sheet.
constexpr std::size_t most_columns = 1000;

// A page with each text in a column of its own.
PageContent page_of(const std::vector<TextBeside>& texts, std::size_t first, std::size_t last,
                    Content& content) {
    PageContent page;
    page.name = "Texts";
    page.style = content.styles.add("table", {});
    RowContent row;
    for (std::size_t i = first; i < last; ++i) {
        const TextBeside& text = texts[i];
        Shown shown = shown_content(text.element, {}, true, content.styles, {});
        Look look = text.look;
        look.number_format.clear();
        shown.content.style = content.styles.add("table-cell", look);
        row.cells[static_cast<int>(i - first)] = shown.content;
    }
    page.rows.push_back(row);
    return page;
}

}  // namespace

std::vector<LeftOut> texts_that_run_in(const Context& context, const Content& read) {
    std::vector<LeftOut> found;
    const std::vector<TextBeside>& texts = read.texts_beside;
    for (std::size_t first = 0; first < texts.size(); first += most_columns) {
        const std::size_t last = std::min(texts.size(), first + most_columns);
        Content content(read.styles.read(), read.encode);
        content.pages.push_back(page_of(texts, first, last, content));
        const Piece layout = std::make_shared<pugi::xml_document>(),
                    master = std::make_shared<pugi::xml_document>();
        layout->append_child("style:page-layout");
        master->append_child("style:master-page");
        content.page_layouts.push_back(layout);
        content.master_pages.push_back(master);
        const HiddenDocument measured(context, write_pages(content));
        const std::vector<double> widths = measured.widths_of_texts("Texts", static_cast<int>(last - first));
        for (std::size_t i = first; i < last; ++i)
            if (widths[i - first] > texts[i].room) found.push_back({LeftOut::What::text, texts[i].cell});
    }
    return found;
}

}  // namespace pullsheet::addin::customer_copy
