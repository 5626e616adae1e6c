// SPDX-License-Identifier: Apache-2.0
// The office services of the customer copy: conversion of documents to and from XML, their pages and
// pictures, and files.
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

/// A hidden document, closed by the destructor. Its macros do not run and its links are not updated.
class HiddenDocument {
  public:
    HiddenDocument(const Context& context, const std::string& xml);
    ~HiddenDocument();
    HiddenDocument(const HiddenDocument&) = delete;
    HiddenDocument& operator=(const HiddenDocument&) = delete;

    const Spreadsheet& get() const { return document_; }
    /// Keeps the office from storing the user's name in it.
    void belong_to_nobody() const;
    /// The number of printed pages of the sheet.
    int pages(const std::string& sheet) const;
    /// The pictures as they are seen (cropped, coloured), re-encoded: name → PNG in base64.
    std::map<std::string, std::string> pictures() const;
    /// Moves a sheet to the end and activates the first visible one.
    void move_to_end(const std::string& sheet) const;
    void show_first() const;
    /// Hides all sheets but this one.
    void show_only(const std::string& sheet) const;
    /// The document as a web page, and the first cell that it holds of the sheet.
    std::string as_web_page() const;
    std::pair<int, int> first_cell(const std::string& sheet) const;
    /// The optimal width of each of the first columns for its texts, in mm.
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
