// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <pugixml.hpp>
#include <string>
#include <vector>

#include "addin/customer_copy/content.hpp"
#include "addin/customer_copy/hidden_document.hpp"

namespace pullsheet::addin::customer_copy {

/// A document from which some pages are copied for a customer.
class Original {
  public:
    Original(const Context& context, const Spreadsheet& document);

    /// The sheets that are not hidden.
    std::vector<std::string> sheets() const;
    bool has_sheet(const std::string& name) const;
    /// The sheets meant for a customer: those that a name beginning with "customer_page" points at.
    std::vector<std::string> marked_sheets() const;
    /// Which of these sheets are protected by a password; "" is the document.
    std::vector<std::string> protected_by_password(const std::vector<std::string>& sheets) const;
    bool has_password() const { return has_password_; }

    /// The failed checks of the document, in words; empty if all pass or there are none.
    std::vector<std::string> failed_checks() const;

    /// The URL of the files to be written, without their endings; none of them exists. "…/quote-customer"
    /// beside "…/quote.ods", or "…/quote-customer-2".
    std::string free_url(const std::vector<std::string>& formats) const;

    const Context& context() const { return context_; }
    pugi::xml_node document() const { return xml_.first_child(); }
    const Styles& styles() const { return *styles_; }
    const std::string& url() const { return url_; }

  private:
    Context context_;
    std::string url_;
    bool has_password_;
    pugi::xml_document xml_;
    std::unique_ptr<Styles> styles_;
};

/// The copy of some pages, made but not yet written.
class Copy {
  public:
    Copy(const Original& original, const std::vector<std::string>& sheets);

    /// The cells in error that it would show ("Quote.B7").
    const std::vector<std::string>& errors() const { return errors_; }
    /// Content of the pages that the copy cannot hold.
    const std::vector<LeftOut>& left_out() const { return left_out_; }

    /// Writes the files and returns their URLs: all, or none. Throws NotWritten.
    std::vector<std::string> write(const std::string& url, const std::vector<std::string>& formats,
                                   const std::string& password) const;

  private:
    Context context_;
    std::unique_ptr<HiddenDocument> document_;
    std::vector<std::string> errors_;
    std::vector<LeftOut> left_out_;
};

}  // namespace pullsheet::addin::customer_copy
