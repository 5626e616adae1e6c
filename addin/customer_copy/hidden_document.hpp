// SPDX-License-Identifier: Apache-2.0
// What the customer copy needs of the office: documents to and from XML, their pages and pictures, and files.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "addin/customer_copy/content.hpp"
#include "addin/office.hpp"
#include "addin/why/formula.hpp"

namespace pullsheet::addin::customer_copy {

/// The document as it is on the screen, in the OpenDocument format in one file. It is not changed.
std::string as_xml(const Context& context, const Spreadsheet& document);

/// A document that nobody sees, closed when it is no longer needed. Its macros do not run and its links are
/// not followed.
class HiddenDocument {
  public:
    HiddenDocument(const Context& context, const std::string& xml);
    ~HiddenDocument();
    HiddenDocument(const HiddenDocument&) = delete;
    HiddenDocument& operator=(const HiddenDocument&) = delete;

    const Spreadsheet& get() const { return document_; }
    /// Has the office write no user's name into it.
    void belong_to_nobody() const;
    /// The number of printed pages of the sheet.
    int pages(const std::string& sheet) const;
    /// The pictures as they are seen (cropped, coloured), re-encoded: name → PNG in base64.
    std::map<std::string, std::string> pictures() const;
    /// Makes a sheet the last one and activates the first that is visible.
    void move_to_end(const std::string& sheet) const;
    void show_first() const;
    /// Has only this sheet visible.
    void show_only(const std::string& sheet) const;
    /// The document as a web page, and the first cell that it holds of the sheet.
    std::string as_web_page() const;
    std::pair<int, int> first_cell(const std::string& sheet) const;
    /// How wide the first columns would have to be for their texts, in mm.
    std::vector<double> widths_of_texts(const std::string& sheet, int columns) const;
    /// The bytes of its file in that format; with a password if it is not empty.
    std::string as_file(const std::string& format, const std::string& password) const;

  private:
    Context context_;
    Spreadsheet document_;
};

/// A picture re-encoded as PNG, without metadata; empty if it is no picture. Both in base64.
std::string encoded_anew(const Context& context, const std::string& base64);

/// Is there a password to open the document, or to change it?
bool has_password(const Spreadsheet& document);

}  // namespace pullsheet::addin::customer_copy
