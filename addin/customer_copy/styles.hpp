// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <map>
#include <pugixml.hpp>
#include <string>
#include <tuple>
#include <vector>

namespace pullsheet::addin::customer_copy {

using Attributes = std::map<std::string, std::string>;

/// The resolved formatting: a style combined with its parent styles.
struct Look {
    std::map<std::string, Attributes> properties;  ///< "style:text-properties" → its attributes
    std::vector<Attributes> tab_stops;
    std::string number_format;  ///< the name in the document that was read; empty for none

    const std::string& property(const std::string& element, const std::string& attribute) const;
    void set(const std::string& element, const std::string& attribute, const std::string& value);
    /// The other formatting takes precedence.
    void lay_over(const Look& other);
    auto operator<=>(const Look&) const = default;
};

/// The styles of a document, or of a chart, that was read.
class Styles {
  public:
    explicit Styles(pugi::xml_node document);

    /// The style and its parents, up to the one named `until`.
    Look look(const std::string& family, const std::string& name, const std::string& until = {}) const;
    Look default_look(const std::string& family) const;
    /// The element of the style; null if there is none.
    pugi::xml_node style(const std::string& family, const std::string& name) const;
    pugi::xml_node number_format(const std::string& name) const;
    pugi::xml_node fill_or_line(const std::string& element, const std::string& name) const;
    pugi::xml_node font(const std::string& name) const;
    pugi::xml_node list_style(const std::string& name) const;
    pugi::xml_node page_layout(const std::string& name) const;
    pugi::xml_node master_page(const std::string& name) const;

  private:
    std::map<std::tuple<std::string, std::string, std::string>, pugi::xml_node> found_;
};

/// The styles of the copy: only those in use, under names of their own.
class NewStyles {
  public:
    /// Re-encodes a picture; empty if it cannot be read.
    using Encode = std::function<std::string(const std::string& base64)>;

    NewStyles(const Styles& read, Encode encode) : read_(read), encode_(std::move(encode)) {}

    const Styles& read() const { return read_; }
    /// The name of the style with this formatting. `number_format` is one of the copy.
    std::string add(const std::string& family, const Look& look, const std::string& number_format = {});
    /// A number format as a whole, or what of it shows this number: the other sections are left out if they
    /// hold texts or conditions of their own.
    std::string number_format(const std::string& name);
    std::string number_format(const std::string& name, double value);
    /// The bullets and numbers of a list; empty if there is no such style.
    std::string list_style(const std::string& name);

    /// Writes all styles into a document. `base` names the families whose defaults are those of the source
    /// document.
    void write(pugi::xml_node fonts, pugi::xml_node named, pugi::xml_node automatic);

  private:
    void carry(pugi::xml_node style, const Look& look);
    void carry_list_part(pugi::xml_node from, pugi::xml_node to);
    std::string font(const std::string& name);
    std::string fill_or_line(const std::string& element, const std::string& name);
    std::string copied_format(pugi::xml_node format, const std::string& key,
                              const std::function<void(pugi::xml_node)>& finish);

    const Styles& read_;
    Encode encode_;
    std::map<std::tuple<std::string, Look, std::string>, std::string> names_;
    std::map<std::string, int> counts_;
    std::map<std::string, std::string> formats_;
    std::map<std::string, std::string> fonts_;
    std::map<std::string, std::string> lists_;
    std::map<std::pair<std::string, std::string>, std::string> fills_;
    pugi::xml_document fonts_written_;
    pugi::xml_document named_written_;
    pugi::xml_document automatic_written_;
};

/// Sets the attribute, also where it is there already.
void put(pugi::xml_node element, const char* attribute, const std::string& value);

/// A length ("1.3cm", "0.5in", "12pt") in millimetres; 0 if it is not a length.
double millimetres(const std::string& length);

}  // namespace pullsheet::addin::customer_copy
