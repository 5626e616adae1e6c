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

/// A command of the menu: where it was given, and with what.
struct Command {
    Context context;
    com::sun::star::uno::Reference<com::sun::star::frame::XFrame> frame;
    std::string parameter;  ///< what stands behind "?" in its URL
    Properties arguments;   ///< "Silent": no dialogue, the answer is returned; "Language": "en", "de"
    catalogue::Language language;

    bool is_silent() const;
    /// The sheets in the window; refuses where there are none.
    com::sun::star::uno::Reference<com::sun::star::sheet::XSpreadsheetDocument> document() const;
    com::sun::star::uno::Reference<com::sun::star::awt::XWindowPeer> window() const;
    /// A text of the menu and its dialogues in the language of the office.
    std::string words(std::string_view text) const;
};

/// Why a command was not done, in a sentence for the user.
class Refusal : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Shows a text in a dialogue with one button.
void show(const Command& command, const std::string& title, const std::string& text);

// The commands. Each answers with what it did, for whoever gave it without a dialogue, and throws Refusal.

/// Opens a new document from the template named by the parameter; answers with the document.
com::sun::star::uno::Any new_from_template(const Command& command);
/// Explains the selected cell; answers with the sentence.
com::sun::star::uno::Any explain_selection(const Command& command);
/// Writes the customer's copy of the document; answers with the URLs of the files. Arguments: "Sheets"
/// (names), "Formats" ("ods", "xlsx", "pdf"), "Password" of the copies; and what is to be written all the
/// same: "WithErrors" (cells in error), "WithFailedChecks", "WithoutParts" (what a copy cannot hold).
com::sun::star::uno::Any write_customer_copy(const Command& command);
/// Answers with the checks of the document that say no, in words. Without a dialogue only.
com::sun::star::uno::Any failed_checks(const Command& command);
/// Opens the guide at the function of the selected cell, otherwise at its first page; answers with its URL.
com::sun::star::uno::Any open_guide(const Command& command);
/// Opens the page of the guide on what was measured against the functions; answers with its URL.
com::sun::star::uno::Any open_how_we_know(const Command& command);
/// What F1 does in Calc: the guide at the function of the selected cell, or the office's own help where no
/// function of ours is in the cell; answers with the URL of what was opened.
com::sun::star::uno::Any help(const Command& command);
/// Shows version, licence, cautions and sources; answers with the text.
com::sun::star::uno::Any show_about(const Command& command);

}  // namespace pullsheet::addin
