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
using catalogue::Language;
using catalogue::normal_label;
using catalogue::Table;

bool is_wanted(const Check& check, const std::string& name) {
    if (name.empty()) return true;
    const std::string wanted = normal_label(name);
    return normal_label(check.function) == wanted ||
           normal_label(check.function.substr(0, check.function.find('.'))) == wanted;
}

// The titles of the columns as people read them; as data they are the English ones.
std::vector<std::string_view> titles(Language language) {
    return {translated(language, "function"),  translated(language, "arguments"),
            translated(language, "published"), translated(language, "computed"),
            translated(language, "deviation"), translated(language, "tolerance"),
            translated(language, "verdict"),   translated(language, "source"),
            translated(language, "note")};
}

std::vector<Cell> row_of(const Check& check, const CheckResult& result, int digits, Language language) {
    const std::string call = formula_text(check.function, check.arguments);
    const std::string arguments = call.substr(check.function.size());
    const std::string tolerance = number_text(check.tolerance.value, digits);
    return {std::string(check.function),
            arguments,
            check.expected,
            result.computed ? Cell(*result.computed) : Cell{},
            result.computed ? Cell(result.deviation) : Cell{},
            check.tolerance.is_relative ? say(language, "{tolerance} relative", {{"tolerance", tolerance}})
                                        : say(language, "{tolerance} absolute", {{"tolerance", tolerance}}),
            std::string(result.agrees ? translated(language, "agrees") : translated(language, "FAILS")),
            std::string(check.source),
            std::string(translated(language, check.note))};
}

}  // namespace

int verify(const std::string& name, const Output& output, const Streams& streams) {
    const Language language = output.format == Format::people ? streams.language : Language::english;
    Table table;
    std::vector<Cell> header;
    for (const auto title : titles(language)) header.emplace_back(std::string(title));
    table.add_row(std::move(header));
    std::size_t failed = 0;
    for (const Check& check : catalogue::checks()) {
        if (!is_wanted(check, name)) continue;
        const CheckResult result = catalogue::run(check, streams.language);
        if (!result.agrees) {
            ++failed;
            if (!result.sentence.empty()) streams.error << result.sentence << '\n';
        }
        table.add_row(row_of(check, result, output.digits, language));
    }
    const std::size_t count = table.rows() - 1;
    if (count == 0)
        throw WrongUse(say(streams.language, "there is no check value of \"{name}\"", {{"name", name}}));
    if (output.format == Format::json) {
        for (std::size_t r = 1; r < table.rows(); ++r) {
            nlohmann::ordered_json json;
            for (std::size_t c = 0; c < table.columns(); ++c)
                json[std::get<std::string>(table.at(0, c))] = cell_json(table.at(r, c), output.digits);
            streams.out << json_line(json) << '\n';
        }
    } else {
        write_table(streams.out, table, output);
    }
    streams.error << say(streams.language, "{agreed} of {count} check values agree",
                         {{"agreed", std::to_string(count - failed)}, {"count", std::to_string(count)}})
                  << '\n';
    return failed == 0 ? done : some_failed;
}

}  // namespace pullsheet::harness
