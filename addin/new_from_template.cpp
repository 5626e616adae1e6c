// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <com/sun/star/frame/Desktop.hpp>
#include <com/sun/star/frame/XComponentLoader.hpp>

#include "addin/command.hpp"
#include "addin/convert.hpp"
#include "addin/menu_entries.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;

// The template in the language of the office, otherwise in English.
std::string template_url(const Command& command) {
    const std::string folder = extension_folder(command.context) + "/templates/";
    const std::string file = command.parameter + ".ots";
    if (command.language == catalogue::Language::german)
        if (const std::string url = folder + "de/Pullsheet (Deutsch)/" + file; exists(command.context, url))
            return url;
    return folder + "en/Pullsheet/" + file;
}

}  // namespace

uno::Any new_from_template(const Command& command) {
    const auto names = template_names();
    if (std::find(names.begin(), names.end(), command.parameter) == names.end())
        throw Refusal(command.words("There is no such template."));
    const std::string url = template_url(command);
    if (!exists(command.context, url))
        throw Refusal(command.words("The template is missing in the extension; install it again."));
    bool hidden = false;
    value_of(command.arguments, "Hidden") >>= hidden;
    const uno::Reference<com::sun::star::frame::XComponentLoader> desktop(
        com::sun::star::frame::Desktop::create(command.context), uno::UNO_QUERY_THROW);
    return uno::Any(desktop->loadComponentFromURL(
        to_unicode(url), "_default", 0,
        properties({{"AsTemplate", uno::Any(true)}, {"Hidden", uno::Any(hidden)}})));
}

}  // namespace pullsheet::addin
