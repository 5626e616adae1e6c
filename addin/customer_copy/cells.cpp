// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/cells.hpp"

#include <cmath>
#include <cstdlib>
#include <string_view>

#include "addin/customer_copy/number_as_shown.hpp"

namespace pullsheet::addin::customer_copy {
namespace {

bool has_digit(const std::string& text) {
    return text.find_first_of("0123456789") != std::string::npos;
}

// "PT12H30M15S" → "PT12H30M00S" where no seconds are shown.
std::string without_seconds(std::string time) {
    const auto minutes = time.find('M', time.find('T') == std::string::npos ? 0 : time.find('T'));
    if (minutes != std::string::npos && time.ends_with("S")) time = time.substr(0, minutes + 1) + "00S";
    return time;
}

// The number, date or truth value to the precision shown; empty if it is not shown.
std::string value_as_shown(pugi::xml_node cell, const std::string& type, const std::string& shown,
                           pugi::xml_node format) {
    if (type == "boolean")
        return std::string_view(format.name()) == "number:boolean-style" || !format
                   ? cell.attribute("office:boolean-value").value()
                   : "";
    if (!has_digit(shown)) return {};
    if (type == "date") {
        std::string day = cell.attribute("office:date-value").value();
        if (!format.child("number:hours")) day = day.substr(0, day.find('T'));
        return day;
    }
    if (type == "time") {
        const std::string time = cell.attribute("office:time-value").value();
        return format.child("number:seconds") ? time : without_seconds(time);
    }
    const auto number = number_as_shown(cell.attribute("office:value").as_double(), shown);
    return number ? shortest(*number) : std::string();
}

CellContent text_content(pugi::xml_node cell, const std::string& shown, bool rich, NewStyles& styles,
                         const Fields& fields) {
    CellContent content;
    if (shown.empty()) return content;
    content.type = "string";
    content.shown = shown;
    content.paragraphs = std::make_shared<pugi::xml_document>();
    if (rich)
        carry_paragraphs(cell, *content.paragraphs, styles, fields, false);
    else
        content.paragraphs->append_child("text:p").text().set(shown.c_str());
    return content;
}

}  // namespace

bool is_number(pugi::xml_node cell) {
    const std::string_view type = cell.attribute("office:value-type").value();
    return !type.empty() && type != "string" && type != "void";
}

Shown shown_content(pugi::xml_node cell, const std::string& number_format, bool as_text, NewStyles& styles,
                    const Fields& fields, const std::optional<std::string>& said) {
    Shown result;
    const std::string shown = said ? *said : text_of(cell);
    if (!is_number(cell)) {
        // The displayed text already includes the text format.
        result.content = text_content(cell, shown, !said, styles, fields);
        return result;
    }
    const std::string type = cell.attribute("office:value-type").value();
    pugi::xml_node format = styles.read().number_format(number_format);
    const std::string value = as_text ? std::string() : value_as_shown(cell, type, shown, format);
    if (value.empty()) {
        result.content = text_content(cell, shown, false, styles, fields);
        return result;
    }
    result.content.type = type;
    result.content.value = value;
    result.content.shown = shown;
    result.content.currency = type == "currency" ? cell.attribute("office:currency").value() : "";
    const bool is_plain = type == "float" || type == "percentage" || type == "currency";
    // The unrounded number of the document selects the section of the format.
    result.number_format =
        is_plain ? styles.number_format(number_format, cell.attribute("office:value").as_double())
                 : styles.number_format(number_format);
    return result;
}

Shown whole_content(pugi::xml_node cell, const std::string& number_format, NewStyles& styles) {
    Shown result;
    result.content.type = cell.attribute("office:value-type").value();
    const pugi::xml_attribute number = cell.attribute("office:value");
    if (!is_number(cell)) {
        const pugi::xml_attribute text = cell.attribute("office:string-value");
        result.content.paragraphs = std::make_shared<pugi::xml_document>();
        result.content.paragraphs->append_child("text:p").text().set(text ? text.value()
                                                                          : text_of(cell).c_str());
    }
    for (const char* attribute :
         {"office:value", "office:date-value", "office:time-value", "office:boolean-value"})
        if (const char* value = cell.attribute(attribute).value(); *value) result.content.value = value;
    result.content.currency = cell.attribute("office:currency").value();
    result.number_format = number ? styles.number_format(number_format, number.as_double())
                                  : styles.number_format(number_format);
    return result;
}

}  // namespace pullsheet::addin::customer_copy
