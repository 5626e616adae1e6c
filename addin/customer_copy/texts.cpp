// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/texts.hpp"

#include <algorithm>
#include <string_view>

namespace pullsheet::addin::customer_copy {
namespace {

bool is_live(std::string_view name) {
    return name == "text:page-number" || name == "text:page-count" || name == "text:date" ||
           name == "text:time";
}

void collect(pugi::xml_node from, std::string& text) {
    for (pugi::xml_node child : from.children()) {
        const std::string_view name = child.name();
        if (child.type() == pugi::node_pcdata || child.type() == pugi::node_cdata)
            text += child.value();
        else if (name == "text:s")
            text.append(static_cast<std::size_t>(child.attribute("text:c").as_int(1)), ' ');
        else if (name == "text:tab")
            text += '\t';
        else if (name == "text:line-break")
            text += '\n';
        else if (name != "office:annotation")
            collect(child, text);
    }
}

class Paragraph {
  public:
    Paragraph(NewStyles& styles, const Fields& fields, bool live)
        : styles_(styles), fields_(fields), live_(live) {}

    void carry(pugi::xml_node from, pugi::xml_node to) {
        for (pugi::xml_node child : from.children()) {
            const std::string name = child.name();
            if (child.type() == pugi::node_pcdata || child.type() == pugi::node_cdata) {
                to.append_child(pugi::node_pcdata).set_value(child.value());
            } else if (name == "text:span") {
                carry(child,
                      span(to, styles_.read().look("text", child.attribute("text:style-name").value())));
            } else if (name == "text:a") {
                carry(child, span(to, look_of_a_link()));
            } else if (name == "text:s") {
                put(to.append_child("text:s"), "text:c",
                    std::to_string(std::max(1, child.attribute("text:c").as_int(1))));
            } else if (name == "text:tab" || name == "text:line-break") {
                to.append_child(name.c_str());
            } else if (live_ && is_live(name)) {
                pugi::xml_node field = to.append_child(name.c_str());
                const std::string format =
                    styles_.number_format(child.attribute("style:data-style-name").value());
                if (!format.empty()) put(field, "style:data-style-name", format);
                field.text().set(text_of(child).c_str());
            } else if (const auto said = fields_.find(name); said != fields_.end()) {
                to.append_child(pugi::node_pcdata).set_value(said->second.c_str());
            } else if (name.starts_with("text:") && name != "text:note" && name != "text:script") {
                to.append_child(pugi::node_pcdata).set_value(text_of(child).c_str());
            }
        }
    }

  private:
    pugi::xml_node span(pugi::xml_node to, const Look& look) {
        pugi::xml_node made = to.append_child("text:span");
        put(made, "text:style-name", styles_.add("text", look));
        return made;
    }

    // As the office draws the text of a link.
    static Look look_of_a_link() {
        Look look;
        look.set("style:text-properties", "fo:color", "#000080");
        return look;
    }

    NewStyles& styles_;
    const Fields& fields_;
    bool live_;
};

}  // namespace

void carry_paragraphs(pugi::xml_node from, pugi::xml_node to, NewStyles& styles, const Fields& fields,
                      bool live) {
    for (pugi::xml_node child : from.children()) {
        const std::string_view name = child.name();
        if (name == "text:list" || name == "text:list-item" || name == "text:list-header") {
            pugi::xml_node part = to.append_child(child.name());
            const std::string style = styles.list_style(child.attribute("text:style-name").value());
            if (!style.empty()) put(part, "text:style-name", style);
            for (const char* count : {"text:start-value", "text:continue-numbering"})
                if (child.attribute(count)) put(part, count, child.attribute(count).value());
            carry_paragraphs(child, part, styles, fields, live);
        } else if (name == "text:p" || name == "text:h") {
            pugi::xml_node paragraph = to.append_child("text:p");
            if (const char* style = child.attribute("text:style-name").value(); *style)
                put(paragraph, "text:style-name",
                    styles.add("paragraph", styles.read().look("paragraph", style)));
            Paragraph(styles, fields, live).carry(child, paragraph);
        }
    }
}

std::string text_of(pugi::xml_node from) {
    std::string text;
    const std::string_view name = from.name();
    if (!name.starts_with("table:")) {
        collect(from, text);
        return text;
    }
    bool first = true;
    for (pugi::xml_node paragraph : from.children("text:p")) {
        if (!first) text += '\n';
        first = false;
        collect(paragraph, text);
    }
    return text;
}

}  // namespace pullsheet::addin::customer_copy
