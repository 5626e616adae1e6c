// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/styles.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <string_view>

#include "addin/customer_copy/vocabulary.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

constexpr const char* property_elements[] = {"style:table-cell-properties", "style:paragraph-properties",
                                             "style:text-properties",       "style:graphic-properties",
                                             "style:chart-properties",      "style:table-column-properties",
                                             "style:table-row-properties",  "style:table-properties"};

// The attributes that set four sides at once, and the sides.
const std::map<std::string, std::vector<std::string>> four_sides{
    {"fo:border", {"fo:border-top", "fo:border-bottom", "fo:border-left", "fo:border-right"}},
    {"fo:padding", {"fo:padding-top", "fo:padding-bottom", "fo:padding-left", "fo:padding-right"}},
    {"style:border-line-width",
     {"style:border-line-width-top", "style:border-line-width-bottom", "style:border-line-width-left",
      "style:border-line-width-right"}}};

// The formatting of one style without its parent styles.
Look own_look(pugi::xml_node style) {
    Look look;
    look.number_format = style.attribute("style:data-style-name").value();
    for (const char* element : property_elements)
        for (pugi::xml_node properties : style.children(element)) {
            for (const pugi::xml_attribute attribute : properties.attributes())
                if (is_formatting(element, attribute.name()))
                    look.set(element, attribute.name(), attribute.value());
            for (pugi::xml_node stop : properties.child("style:tab-stops").children("style:tab-stop")) {
                Attributes said;
                for (const pugi::xml_attribute attribute : stop.attributes())
                    if (is_formatting("style:tab-stop", attribute.name()))
                        said[attribute.name()] = attribute.value();
                look.tab_stops.push_back(said);
            }
        }
    return look;
}

const std::map<std::string, std::string> named_by{{"draw:fill-gradient-name", "draw:gradient"},
                                                  {"draw:fill-hatch-name", "draw:hatch"},
                                                  {"draw:fill-image-name", "draw:fill-image"},
                                                  {"draw:opacity-name", "draw:opacity"},
                                                  {"draw:stroke-dash", "draw:stroke-dash"},
                                                  {"draw:marker-start", "draw:marker"},
                                                  {"draw:marker-end", "draw:marker"}};

bool names_font(std::string_view attribute) {
    return attribute.starts_with("style:font-name");
}

// True if a condition such as "value()>=0" holds for the number.
bool holds(std::string_view condition, double value) {
    if (!condition.starts_with("value()")) return false;
    condition.remove_prefix(7);
    const auto digits = condition.find_first_not_of("<>=!");
    if (digits == std::string_view::npos) return false;
    const std::string_view sign = condition.substr(0, digits);
    const double limit = std::strtod(std::string(condition.substr(digits)).c_str(), nullptr);
    if (sign == ">=") return value >= limit;
    if (sign == "<=") return value <= limit;
    if (sign == ">") return value > limit;
    if (sign == "<") return value < limit;
    if (sign == "=") return value == limit;
    if (sign == "!=" || sign == "<>") return value != limit;
    return false;
}

// True if a section has literal text: letters or digits.
bool says_something(pugi::xml_node format) {
    for (pugi::xml_node part : format.children()) {
        if (std::string_view(part.name()) == "number:text") {
            const std::string text = part.text().get();
            if (std::any_of(text.begin(), text.end(),
                            [](unsigned char c) { return c >= 0x80 || std::isalnum(c) != 0; }))
                return true;
        }
        if (part.child("number:embedded-text")) return true;
    }
    return false;
}

void carry_format(pugi::xml_node from, pugi::xml_node to) {
    for (const pugi::xml_attribute attribute : from.attributes())
        if (is_number_attribute(attribute.name())) put(to, attribute.name(), attribute.value());
    for (pugi::xml_node part : from.children()) {
        if (!is_number_part(part.name())) continue;
        pugi::xml_node copied = to.append_child(part.name());
        carry_format(part, copied);
        const bool is_text = std::none_of(part.begin(), part.end(), [](pugi::xml_node child) {
            return child.type() == pugi::node_element;
        });
        if (is_text && part.first_child()) copied.text().set(part.text().get());
    }
}

}  // namespace

void put(pugi::xml_node element, const char* attribute, const std::string& value) {
    pugi::xml_attribute there = element.attribute(attribute);
    if (!there) there = element.append_attribute(attribute);
    there.set_value(value.c_str());
}

double millimetres(const std::string& length) {
    char* unit = nullptr;
    const double number = std::strtod(length.c_str(), &unit);
    const std::string_view name(unit);
    if (name == "cm") return number * 10.0;
    if (name == "mm") return number;
    if (name == "in") return number * 25.4;
    if (name == "pt") return number * 25.4 / 72.0;
    if (name == "pc") return number * 25.4 / 6.0;
    return 0.0;
}

const std::string& Look::property(const std::string& element, const std::string& attribute) const {
    static const std::string nothing;
    const auto group = properties.find(element);
    if (group == properties.end()) return nothing;
    const auto found = group->second.find(attribute);
    return found == group->second.end() ? nothing : found->second;
}

void Look::set(const std::string& element, const std::string& attribute, const std::string& value) {
    const auto sides = four_sides.find(attribute);
    if (sides != four_sides.end())
        for (const std::string& side : sides->second) properties[element][side] = value;
    else
        properties[element][attribute] = value;
}

void Look::lay_over(const Look& other) {
    for (const auto& [element, attributes] : other.properties)
        for (const auto& [name, value] : attributes) properties[element][name] = value;
    if (!other.tab_stops.empty()) tab_stops = other.tab_stops;
    if (!other.number_format.empty()) number_format = other.number_format;
}

Styles::Styles(pugi::xml_node document) {
    for (const char* group :
         {"office:font-face-decls", "office:styles", "office:automatic-styles", "office:master-styles"})
        for (pugi::xml_node element : document.child(group).children()) {
            const std::string kind = element.name();
            const std::string family = element.attribute("style:family").value();
            const std::string name = kind.starts_with("draw:") ? element.attribute("draw:name").value()
                                                               : element.attribute("style:name").value();
            const bool is_number = kind.starts_with("number:") && kind.ends_with("-style");
            found_.emplace(std::tuple(is_number ? "number" : kind, family, name), element);
        }
}

pugi::xml_node Styles::style(const std::string& family, const std::string& name) const {
    const auto found = found_.find({"style:style", family, name});
    return found == found_.end() ? pugi::xml_node() : found->second;
}

Look Styles::look(const std::string& family, const std::string& name, const std::string& until) const {
    std::vector<pugi::xml_node> chain;
    for (std::string next = name; !next.empty() && next != until && chain.size() < 100;) {
        pugi::xml_node element = style(family, next);
        if (!element) break;
        chain.push_back(element);
        next = element.attribute("style:parent-style-name").value();
    }
    Look look;
    for (auto element = chain.rbegin(); element != chain.rend(); ++element) look.lay_over(own_look(*element));
    return look;
}

Look Styles::default_look(const std::string& family) const {
    const auto found = found_.find({"style:default-style", family, ""});
    return found == found_.end() ? Look() : own_look(found->second);
}

pugi::xml_node Styles::number_format(const std::string& name) const {
    const auto found = found_.find({"number", "", name});
    return found == found_.end() ? pugi::xml_node() : found->second;
}

pugi::xml_node Styles::fill_or_line(const std::string& element, const std::string& name) const {
    const auto found = found_.find({element, "", name});
    return found == found_.end() ? pugi::xml_node() : found->second;
}

pugi::xml_node Styles::font(const std::string& name) const {
    const auto found = found_.find({"style:font-face", "", name});
    return found == found_.end() ? pugi::xml_node() : found->second;
}

pugi::xml_node Styles::list_style(const std::string& name) const {
    const auto found = found_.find({"text:list-style", "", name});
    return found == found_.end() ? pugi::xml_node() : found->second;
}

pugi::xml_node Styles::page_layout(const std::string& name) const {
    const auto found = found_.find({"style:page-layout", "", name});
    return found == found_.end() ? pugi::xml_node() : found->second;
}

pugi::xml_node Styles::master_page(const std::string& name) const {
    const auto found = found_.find({"style:master-page", "", name});
    return found == found_.end() ? pugi::xml_node() : found->second;
}

std::string NewStyles::font(const std::string& name) {
    const auto [entry, is_new] = fonts_.emplace(name, "F" + std::to_string(fonts_.size() + 1));
    if (!is_new) return entry->second;
    pugi::xml_node read = read_.font(name);
    pugi::xml_node written = fonts_written_.append_child("style:font-face");
    put(written, "style:name", entry->second);
    for (const char* attribute :
         {"svg:font-family", "style:font-family-generic", "style:font-pitch", "style:font-charset"})
        if (read.attribute(attribute)) put(written, attribute, read.attribute(attribute).value());
    if (!read) put(written, "svg:font-family", name);
    return entry->second;
}

std::string NewStyles::fill_or_line(const std::string& element, const std::string& name) {
    const auto [entry, is_new] =
        fills_.emplace(std::pair(element, name), "D" + std::to_string(fills_.size() + 1));
    if (!is_new) return entry->second;
    pugi::xml_node read = read_.fill_or_line(element, name);
    if (!read || !is_fill_or_line(element)) return entry->second;
    pugi::xml_node written = named_written_.append_child(element.c_str());
    put(written, "draw:name", entry->second);
    for (const pugi::xml_attribute attribute : read.attributes())
        if (is_fill_or_line_attribute(attribute.name())) put(written, attribute.name(), attribute.value());
    if (element == "draw:fill-image") {
        const std::string picture = encode_(read.child("office:binary-data").text().get());
        written.append_child("office:binary-data").text().set(picture.c_str());
    }
    return entry->second;
}

void NewStyles::carry_list_part(pugi::xml_node from, pugi::xml_node to) {
    const std::string element = from.name();
    for (const pugi::xml_attribute attribute : from.attributes()) {
        const std::string_view name = attribute.name();
        if (names_font(name))
            put(to, attribute.name(), font(attribute.value()));
        else if (element == "style:text-properties" ? is_formatting(element, name) : is_list_attribute(name))
            put(to, attribute.name(), attribute.value());
    }
    for (pugi::xml_node part : from.children()) {
        if (is_list_part(part.name())) carry_list_part(part, to.append_child(part.name()));
        if (std::string_view(part.name()) == "office:binary-data")
            to.append_child("office:binary-data").text().set(encode_(part.text().get()).c_str());
    }
}

std::string NewStyles::list_style(const std::string& name) {
    pugi::xml_node read = read_.list_style(name);
    if (!read) return {};
    const auto [entry, is_new] = lists_.emplace(name, "L" + std::to_string(lists_.size() + 1));
    if (!is_new) return entry->second;
    pugi::xml_node written = automatic_written_.append_child("text:list-style");
    put(written, "style:name", entry->second);
    carry_list_part(read, written);
    return entry->second;
}

void NewStyles::carry(pugi::xml_node style, const Look& look) {
    for (const char* element : property_elements) {
        const auto group = look.properties.find(element);
        const bool has_tabs =
            !look.tab_stops.empty() && std::string_view(element) == "style:paragraph-properties";
        if ((group == look.properties.end() || group->second.empty()) && !has_tabs) continue;
        pugi::xml_node properties = style.append_child(element);
        if (group != look.properties.end())
            for (const auto& [attribute, value] : group->second) {
                const auto named = named_by.find(attribute);
                if (value.empty()) {
                    put(properties, attribute.c_str(), value);
                } else if (names_font(attribute)) {
                    put(properties, attribute.c_str(), font(value));
                } else if (named != named_by.end()) {
                    put(properties, attribute.c_str(), fill_or_line(named->second, value));
                } else {
                    put(properties, attribute.c_str(), value);
                }
            }
        if (!has_tabs) continue;
        pugi::xml_node stops = properties.append_child("style:tab-stops");
        for (const Attributes& said : look.tab_stops) {
            pugi::xml_node stop = stops.append_child("style:tab-stop");
            for (const auto& [attribute, value] : said) put(stop, attribute.c_str(), value);
        }
    }
}

std::string NewStyles::add(const std::string& family, const Look& look, const std::string& number_format) {
    const auto [entry, is_new] = names_.emplace(std::tuple(family, look, number_format), "");
    if (!is_new) return entry->second;
    std::string name = family + std::to_string(++counts_[family]);
    entry->second = name;
    pugi::xml_node style = automatic_written_.append_child("style:style");
    put(style, "style:name", name);
    put(style, "style:family", family);
    if (family == "table-cell") put(style, "style:parent-style-name", "Default");
    if (!number_format.empty()) put(style, "style:data-style-name", number_format);
    carry(style, look);
    return name;
}

std::string NewStyles::copied_format(pugi::xml_node format, const std::string& key,
                                     const std::function<void(pugi::xml_node)>& finish) {
    const auto [entry, is_new] = formats_.emplace(key, "N" + std::to_string(20001 + formats_.size()));
    const std::string name = entry->second;
    if (!is_new) return name;
    // A style must follow those that it refers to.
    pugi::xml_document made;
    pugi::xml_node written = made.append_child(format.name());
    put(written, "style:name", name);
    carry_format(format, written);
    finish(written);
    automatic_written_.append_copy(written);
    return name;
}

std::string NewStyles::number_format(const std::string& name) {
    pugi::xml_node format = read_.number_format(name);
    if (!format) return {};
    bool all = !says_something(format) || !format.child("style:map");
    for (pugi::xml_node map : format.children("style:map")) {
        const std::string condition = map.attribute("style:condition").value();
        if (says_something(read_.number_format(map.attribute("style:apply-style-name").value())) ||
            !condition.ends_with("0") || condition.find_first_of("123456789") != std::string::npos)
            all = false;
    }
    if (!all) return number_format(name, 1.0);
    return copied_format(format, name + "|", [&](pugi::xml_node written) {
        for (pugi::xml_node map : format.children("style:map")) {
            const std::string section = map.attribute("style:apply-style-name").value();
            const std::string made =
                copied_format(read_.number_format(section), section + "|part",
                              [](pugi::xml_node part) { put(part, "style:volatile", "true"); });
            pugi::xml_node kept = written.append_child("style:map");
            put(kept, "style:condition", map.attribute("style:condition").value());
            put(kept, "style:apply-style-name", made);
        }
    });
}

std::string NewStyles::number_format(const std::string& name, double value) {
    pugi::xml_node format = read_.number_format(name);
    if (!format) return {};
    bool all = !format.child("style:map") || !says_something(format);
    pugi::xml_node used = format;
    for (pugi::xml_node map : format.children("style:map")) {
        const std::string condition = map.attribute("style:condition").value();
        pugi::xml_node section = read_.number_format(map.attribute("style:apply-style-name").value());
        if (says_something(section) || condition.find_first_of("123456789") != std::string::npos) all = false;
        if (used == format && section && holds(condition, value)) used = section;
    }
    if (all) return number_format(name);
    const std::string section = used.attribute("style:name").value();
    if (value >= 0.0 || !format.child("style:map"))
        return copied_format(used, section + "|alone", [](pugi::xml_node) {});
    // A section for negative numbers contains the sign itself, but only as the second of two sections.
    return copied_format(used, section + "|negative", [&](pugi::xml_node written) {
        pugi::xml_document made;
        pugi::xml_node plain = made.append_child("number:number-style");
        put(plain.append_child("number:number"), "number:min-integer-digits", "1");
        pugi::xml_node map = written.append_child("style:map");
        put(map, "style:condition", "value()>=0");
        put(map, "style:apply-style-name",
            copied_format(plain, "|plain", [](pugi::xml_node part) { put(part, "style:volatile", "true"); }));
    });
}

void NewStyles::write(pugi::xml_node fonts, pugi::xml_node named, pugi::xml_node automatic) {
    for (const char* family : {"table-cell", "graphic"}) {
        const Look look = read_.default_look(family);
        if (look.properties.empty()) continue;
        pugi::xml_node style = named.append_child("style:default-style");
        put(style, "style:family", family);
        carry(style, look);
    }
    if (read_.style("table-cell", "Default")) {
        const Look look = read_.look("table-cell", "Default");
        const std::string format = number_format(look.number_format);
        pugi::xml_node style = named.append_child("style:style");
        put(style, "style:name", "Default");
        put(style, "style:family", "table-cell");
        if (!format.empty()) put(style, "style:data-style-name", format);
        carry(style, look);
        if (!format.empty())
            named.prepend_copy(automatic_written_.find_child_by_attribute("style:name", format.c_str()));
    }
    for (pugi::xml_node element : fonts_written_.children()) fonts.append_copy(element);
    for (pugi::xml_node element : named_written_.children()) named.append_copy(element);
    for (pugi::xml_node element : automatic_written_.children()) automatic.append_copy(element);
}

}  // namespace pullsheet::addin::customer_copy
