// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <com/sun/star/awt/XWindowPeer.hpp>
#include <com/sun/star/frame/XFrame.hpp>
#include <com/sun/star/sheet/XSpreadsheetDocument.hpp>
#include <stdexcept>
#include <string>

#include "addin/office.hpp"
#include "core/catalogue/sentences.hpp"

namespace pullsheet::addin {

/// A menu command with its context and arguments.
struct Command {
    Context context;
    com::sun::star::uno::Reference<com::sun::star::frame::XFrame> frame;
    std::string parameter;  ///< the part of its URL after "?"
    Properties arguments;   ///< "Silent": no dialogue, only the return value; "Language": "en", "de"
    catalogue::Language language;

    bool is_silent() const;
    /// The sheets in the window; refuses where there are none.
    com::sun::star::uno::Reference<com::sun::star::sheet::XSpreadsheetDocument> document() const;
    com::sun::star::uno::Reference<com::sun::star::awt::XWindowPeer> window() const;
    /// A text of the menu and its dialogues in the language of the office.
    std::string words(std::string_view text) const;
};

/// The reason why a command was refused, in a sentence for the user.
class Refusal : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Shows a text in a dialogue with one button.
void show(const Command& command, const std::string& title, const std::string& text);

// The commands. Each returns its result, for a caller without a dialogue, and throws Refusal.

/// Opens a new document from the template named by the parameter; returns the document.
com::sun::star::uno::Any new_from_template(const Command& command);
/// Explains the selected cell; returns the sentence.
com::sun::star::uno::Any explain_selection(const Command& command);
/// Writes the customer's copy of the document; returns the URLs of the files. Arguments: "Sheets"
/// (names), "Formats" ("ods", "xlsx", "pdf"), "Password" of the copies; and what may be written in spite of a
/// warning: "WithErrors" (cells in error), "WithFailedChecks", "WithoutParts" (what a copy cannot hold).
com::sun::star::uno::Any write_customer_copy(const Command& command);
/// Returns the failed checks of the document, in words. Only without a dialogue.
com::sun::star::uno::Any failed_checks(const Command& command);
/// Opens the guide at the function of the selected cell, otherwise at its first page; returns the page's URL.
com::sun::star::uno::Any open_guide(const Command& command);
/// Opens the guide's page of validation results; returns its URL.
com::sun::star::uno::Any open_how_we_know(const Command& command);
/// The action of F1 in Calc: opens the guide at the Pullsheet function of the selected cell, or the office's
/// own help if the cell has none; returns the URL opened.
com::sun::star::uno::Any help(const Command& command);
/// Shows version, licence, cautions and sources; returns the text.
com::sun::star::uno::Any show_about(const Command& command);

}  // namespace pullsheet::addin
