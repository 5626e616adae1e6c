// SPDX-License-Identifier: Apache-2.0
// The function guide: the pages in the extension, opened in the user's browser.
#include <algorithm>
#include <com/sun/star/frame/DispatchHelper.hpp>
#include <com/sun/star/frame/XDispatchProvider.hpp>
#include <com/sun/star/system/SystemShellExecute.hpp>
#include <com/sun/star/system/SystemShellExecuteFlags.hpp>

#include "addin/command.hpp"
#include "addin/convert.hpp"
#include "addin/selection.hpp"
#include "addin/why/book.hpp"
#include "addin/why/sheet_evaluation.hpp"
#include "core/catalogue/catalogue.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;

/// The first Pullsheet function in a formula, from the outermost call inwards.
const catalogue::Function* function_in(const Node& node) {
    if (node.kind == Node::Kind::external)
        if (const auto* function = catalogue_function(node.name)) return function;
    for (const Node& child : node.children)
        if (const auto* function = function_in(child)) return function;
    return nullptr;
}

const catalogue::Function* selected_function(const Command& command) {
    const auto cells = selected_cells(command);
    if (!cells.is()) return nullptr;
    const Book book(command.document());
    return function_in(book.formula(area_of(cells).first));
}

/// The pages in the language of the office, otherwise in English.
std::string guide_folder(const Command& command) {
    const std::string guide = extension_folder(command.context) + "/guide";
    if (command.language == catalogue::Language::german)
        if (const std::string german = guide + "/de"; exists(command.context, german + "/index.html"))
            return german;
    return guide + "/en";
}

/// A page of the guide; its first page if there is none of that name.
uno::Any open_page(const Command& command, const std::string& name) {
    const std::string folder = guide_folder(command);
    std::string page = folder + "/index.html";
    if (const std::string own = folder + "/" + name + ".html"; exists(command.context, own)) page = own;
    if (!exists(command.context, page))
        throw Refusal(command.words("The function guide is missing in the extension; install it again."));
    if (command.is_silent()) return uno::Any(to_unicode(page));
    try {
        com::sun::star::system::SystemShellExecute::create(command.context)
            ->execute(to_unicode(page), "", com::sun::star::system::SystemShellExecuteFlags::URIS_ONLY);
    } catch (const uno::Exception&) {
        throw Refusal(command.words("No browser could be started. The guide is here:") + "\n" + page);
    }
    return uno::Any(to_unicode(page));
}

std::string page_of(const catalogue::Function* function) {
    return function == nullptr ? "index" : std::string(function->name.view());
}

}  // namespace

uno::Any open_guide(const Command& command) {
    return open_page(command, page_of(selected_function(command)));
}

uno::Any open_how_we_know(const Command& command) {
    return open_page(command,
                     command.language == catalogue::Language::german ? "how-we-know-de" : "how-we-know");
}

uno::Any help(const Command& command) {
    if (const auto* function = selected_function(command)) return open_page(command, page_of(function));
    const rtl::OUString own_help(".uno:HelpIndex");
    if (!command.is_silent())
        com::sun::star::frame::DispatchHelper::create(command.context)
            ->executeDispatch(
                uno::Reference<com::sun::star::frame::XDispatchProvider>(command.frame, uno::UNO_QUERY_THROW),
                own_help, "", 0, {});
    return uno::Any(own_help);
}

}  // namespace pullsheet::addin
