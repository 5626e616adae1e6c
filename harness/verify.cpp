// SPDX-License-Identifier: Apache-2.0
#include "harness/verify.hpp"

#include <nlohmann/json.hpp>

#include "core/catalogue/block.hpp"
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/checks.hpp"
#include "harness/argument.hpp"

namespace pullsheet::harness {
namespace {

using catalogue::Cell;
using catalogue::Check;
using catalogue::CheckResult;
using catalogue::Function;
using catalogue::normal_label;
using catalogue::Table;

bool is_wanted(const Check& check, const std::string& name) {
    if (name.empty()) return true;
    const std::string wanted = normal_label(name);
    return normal_label(check.function) == wanted ||
           normal_label(check.function.substr(0, check.function.find('.'))) == wanted;
}

const std::vector<std::string> titles = {"function",  "arguments", "published", "computed", "deviation",
                                         "tolerance", "verdict",   "source",    "note"};

std::vector<Cell> row_of(const Check& check, const CheckResult& result, int digits) {
    const std::string call = formula_text(check.function, check.arguments);
    const std::string arguments = call.substr(check.function.size());
    return {std::string(check.function),
            arguments,
            check.expected,
            result.computed ? Cell(*result.computed) : Cell{},
            result.computed ? Cell(result.deviation) : Cell{},
            number_text(check.tolerance.value, digits) +
                (check.tolerance.is_relative ? " relative" : " absolute"),
            std::string(result.agrees ? "agrees" : "FAILS"),
            std::string(check.source),
            std::string(check.note)};
}

}  // namespace

int verify(const std::string& name, const Output& output, const Streams& streams) {
    Table table;
    table.add_row({titles.begin(), titles.end()});
    std::size_t failed = 0;
    for (const Check& check : catalogue::checks()) {
        if (!is_wanted(check, name)) continue;
        const CheckResult result = catalogue::run(check);
        if (!result.agrees) {
            ++failed;
            if (!result.sentence.empty()) streams.error << result.sentence << '\n';
        }
        table.add_row(row_of(check, result, output.digits));
    }
    const std::size_t count = table.rows() - 1;
    if (count == 0) throw WrongUse("there is no check value of \"" + name + "\"");
    if (output.format == Format::json) {
        for (std::size_t r = 1; r < table.rows(); ++r) {
            nlohmann::ordered_json json;
            for (std::size_t c = 0; c < titles.size(); ++c)
                json[titles[c]] = cell_json(table.at(r, c), output.digits);
            streams.out << json_line(json) << '\n';
        }
    } else {
        write_table(streams.out, table, output);
    }
    streams.error << count - failed << " of " << count << " check values agree\n";
    return failed == 0 ? done : some_failed;
}

}  // namespace pullsheet::harness
