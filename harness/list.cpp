// SPDX-License-Identifier: Apache-2.0
#include "harness/list.hpp"

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/reader.hpp"
#include "harness/output.hpp"

namespace pullsheet::harness {

int list(const std::string& family, const Streams& streams) {
    catalogue::Table lines;
    for (const catalogue::Function& function : catalogue::functions())
        if (family.empty() || catalogue::normal_label(function.family()) == catalogue::normal_label(family))
            lines.add_row({std::string(function.name.view()), std::string(function.summary.view())});
    if (lines.empty())
        throw WrongUse("there is no family \"" + family + "\"; known are " +
                       catalogue::joined(catalogue::family_names()));
    write_table(streams.out, lines, {});
    return done;
}

}  // namespace pullsheet::harness
