// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/page_style.hpp"

#include "addin/customer_copy/vocabulary.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

Piece page_layout(const std::string& name, pugi::xml_node from) {
    const Piece layout = std::make_shared<pugi::xml_document>();
    pugi::xml_node made = layout->append_child("style:page-layout");
    put(made, "style:name", name);
    const auto carry = [](pugi::xml_node read, pugi::xml_node to) {
        for (const pugi::xml_attribute attribute : read.attributes())
            if (is_formatting(read.name(), attribute.name())) put(to, attribute.name(), attribute.value());
    };
    pugi::xml_node properties = made.append_child("style:page-layout-properties");
    carry(from, properties);
    // The copy has neither comments nor formulas to print.
    if (const pugi::xml_attribute print = properties.attribute("style:print")) {
        std::string kept;
        for (const char* word : {"charts", "drawings", "grid", "headers", "objects", "zero-values"})
            if (has_word(print.value(), word)) kept += (kept.empty() ? "" : " ") + std::string(word);
        put(properties, "style:print", kept);
    }
    for (const char* part : {"style:header-style", "style:footer-style"})
        if (pugi::xml_node read = from.parent().child(part)) {
            pugi::xml_node written = made.append_child(part).append_child("style:header-footer-properties");
            carry(read.child("style:header-footer-properties"), written);
        }
    return layout;
}

Piece master_page(const std::string& name, pugi::xml_node from, const Fields& fields, int pages,
                  Content& content) {
    const Piece master = std::make_shared<pugi::xml_document>();
    pugi::xml_node made = master->append_child("style:master-page");
    put(made, "style:name", name);
    put(made, "style:page-layout-name", name);
    const auto shown = [&](const char* part) {
        pugi::xml_node read = from.child(part);
        return read && std::string_view(read.attribute("style:display").value()) != "false";
    };
    for (const std::string kind : {"style:header", "style:footer"}) {
        const bool has_first = shown((kind + "-first").c_str());
        const bool has_left = shown((kind + "-left").c_str());
        content.headers_differ = content.headers_differ || has_first || has_left;
        // A text that appears on no page is not copied.
        for (const std::string ending : {"", "-left", "-first"}) {
            const std::string part = kind + ending;
            pugi::xml_node read = from.child(part.c_str());
            if (!read) continue;
            pugi::xml_node written = made.append_child(part.c_str());
            if (!shown(part.c_str())) {
                put(written, "style:display", "false");
                continue;
            }
            const bool on_a_page = ending == "-left" ? pages >= 2
                                   : ending.empty()  ? pages >= (has_first ? (has_left ? 3 : 2) : 1)
                                                     : true;
            if (!on_a_page) continue;
            bool in_regions = false;
            for (const char* region : {"style:region-left", "style:region-center", "style:region-right"})
                if (pugi::xml_node text = read.child(region)) {
                    in_regions = true;
                    carry_paragraphs(text, written.append_child(region), content.styles, fields, true);
                }
            if (!in_regions) carry_paragraphs(read, written, content.styles, fields, true);
        }
    }
    return master;
}

}  // namespace

bool has_word(std::string_view words, std::string_view word) {
    for (auto at = words.find(word); at != std::string_view::npos; at = words.find(word, at + 1)) {
        const auto end = at + word.size();
        if ((at == 0 || words[at - 1] == ' ') && (end == words.size() || words[end] == ' ')) return true;
    }
    return false;
}

void carry_page_style(const PageStyle& style, const Fields& fields, int pages, Content& content) {
    const std::string name = "Page" + std::to_string(content.master_pages.size() + 1);
    content.page_layouts.push_back(page_layout(name, style.layout));
    content.master_pages.push_back(master_page(name, style.master, fields, pages, content));
}

}  // namespace pullsheet::addin::customer_copy
