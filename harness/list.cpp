// SPDX-License-Identifier: Apache-2.0
#include "harness/list.hpp"

#include <nlohmann/json.hpp>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/reader.hpp"
#include "harness/description.hpp"
#include "harness/output.hpp"

namespace pullsheet::harness {

int list(const std::string& family, const Output& output, const Streams& streams) {
    const std::string wanted = catalogue::normal_label(family);
    catalogue::Table lines;
    for (const catalogue::Function& function : catalogue::functions()) {
        if (!family.empty() && catalogue::normal_label(function.family()) != wanted) continue;
        lines.add_row(
            {std::string(function.name.view()), std::string(translated(streams.language, function.summary))});
        if (output.format == Format::json) streams.out << json_line(description(function)) << '\n';
    }
    if (lines.empty())
        throw WrongUse(say(streams.language, "there is no family \"{family}\"; the families are {families}",
                           {{"family", family}, {"families", catalogue::joined(catalogue::family_names())}}));
    if (output.format != Format::json) write_table(streams.out, lines, {});
    return done;
}

}  // namespace pullsheet::harness
