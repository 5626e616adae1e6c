// SPDX-License-Identifier: Apache-2.0
#include "addin/command.hpp"

#include <com/sun/star/frame/XController.hpp>

#include "addin/convert.hpp"
#include "addin/dialog.hpp"

namespace pullsheet::addin {

namespace uno = com::sun::star::uno;

bool Command::is_silent() const {
    bool silent = false;
    value_of(arguments, "Silent") >>= silent;
    return silent;
}

uno::Reference<com::sun::star::sheet::XSpreadsheetDocument> Command::document() const {
    uno::Reference<com::sun::star::sheet::XSpreadsheetDocument> document;
    if (frame.is() && frame->getController().is())
        document.set(frame->getController()->getModel(), uno::UNO_QUERY);
    if (!document.is()) throw Refusal(words("Open a sheet first."));
    return document;
}

uno::Reference<com::sun::star::awt::XWindowPeer> Command::window() const {
    return {frame->getContainerWindow(), uno::UNO_QUERY_THROW};
}

std::string Command::words(std::string_view text) const {
    return std::string(catalogue::translated(language, text));
}

void show(const Command& command, const std::string& title, const std::string& text) {
    Dialog dialog(command.context, command.window(), title);
    dialog.text(text);
    dialog.run({command.words("Close")});
}

}  // namespace pullsheet::addin
