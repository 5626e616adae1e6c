// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "addin/command.hpp"
#include "addin/convert.hpp"
#include "addin/dialog.hpp"
#include "core/catalogue/catalogue.hpp"

namespace pullsheet::addin {
namespace {

namespace uno = com::sun::star::uno;

std::string cautions(const Command& command) {
    std::string text;
    for (const std::string& sentence :
         {command.words("Figures are estimates from the inputs given and never a release for road use."),
          command.words("Raising power or removing emission equipment is subject to type approval, "
                        "registration and emission law: ask "
                        "the local authority and a licensed engineer."),
          command.words("Ethanol fuels are flammable and attack unsuited seals, hoses and tanks. Relieve the "
                        "fuel pressure before "
                        "opening a line."),
          command.words("Rollers and full-load runs need guards, restraint and ventilation; speed tests "
                        "belong on a closed course.")})
        text += (text.empty() ? "" : "\n") + sentence;
    return text;
}

std::string sources() {
    std::string text;
    for (const std::string_view key : catalogue::citation_keys())
        text += fmt::format("{}{}: {}", text.empty() ? "" : "\n", key, catalogue::citation(key));
    return text;
}

}  // namespace

uno::Any show_about(const Command& command) {
    const std::string title = fmt::format("Pullsheet {}", catalogue::version());
    const std::string what =
        command.words("Engine, fuel, air, dyno and road maths as cell functions for LibreOffice Calc.");
    const std::string licence = command.words("Licence: Apache-2.0. Without any warranty.");
    const std::string known = command.words(
        "What each family of functions rests on, what was measured against it and what nobody has checked "
        "yet "
        "stands in the guide, page How we know.");
    const std::string all =
        title + "\n" + what + "\n" + licence + "\n" + known + "\n" + cautions(command) + "\n" + sources();
    if (command.is_silent()) return uno::Any(to_unicode(all));
    Dialog dialog(command.context, command.window(), command.words("About Pullsheet"), 320);
    dialog.heading(title);
    dialog.text(what + "\n" + licence + "\n" + known);
    dialog.heading(command.words("Cautions"));
    dialog.text(cautions(command));
    dialog.heading(command.words("Sources"));
    dialog.passage(sources(), 12);
    if (dialog.run({command.words("How we know"), command.words("Close")}) == 0) open_how_we_know(command);
    return uno::Any(to_unicode(all));
}

}  // namespace pullsheet::addin
