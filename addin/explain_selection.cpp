// SPDX-License-Identifier: Apache-2.0
#include "addin/command.hpp"
#include "addin/convert.hpp"
#include "addin/dialog.hpp"
#include "addin/selection.hpp"
#include "addin/why/book.hpp"
#include "addin/why/why.hpp"

namespace pullsheet::addin {

namespace uno = com::sun::star::uno;

uno::Any explain_selection(const Command& command) {
    const auto document = command.document();
    const auto cells = selected_cells(command);
    if (!cells.is()) throw Refusal(command.words("Select a cell first."));
    const Book book(document);
    const Area area = area_of(cells);
    std::string sentence = why(command.context, {document, uno::UNO_QUERY_THROW}, cells, command.language);
    if (command.is_silent()) return uno::Any(to_unicode(sentence));

    std::string name = book.name_of(area.first);
    if (!area.is_single()) {
        const std::string last = book.name_of(area.last);
        name += ":" + last.substr(last.rfind('.') + 1);
    }
    const bool has_error = book.first_error(area).has_value();
    std::string lead;
    if (sentence.empty())
        sentence =
            area.is_single()
                ? command.words("The cell shows no error, and its functions warn of nothing.")
                : command.words("None of the cells shows an error, and their functions warn of nothing.");
    else if (!has_error)
        lead = command.words("No error, but a warning:");
    Dialog dialog(command.context, command.window(), command.words("Why this error?"));
    dialog.heading(name);
    if (!lead.empty()) dialog.text(lead);
    dialog.passage(sentence, 6);
    dialog.text(command.words("The same sentence in a cell: =FUNCTION.WHY(cell)"));
    dialog.run({command.words("Close")});
    return uno::Any(to_unicode(sentence));
}

}  // namespace pullsheet::addin
