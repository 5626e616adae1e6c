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
using catalogue::Counts;
using catalogue::Evidence;
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
    return {translated(language, "function"),   translated(language, "arguments"),
            translated(language, "printed"),    translated(language, "independent"),
            translated(language, "identity"),   translated(language, "computed"),
            translated(language, "deviation"),  translated(language, "tolerance"),
            translated(language, "verdict"),    translated(language, "source"),
            translated(language, "where read"), translated(language, "note")};
}

// Where a printed value was read; the other kinds name their source alone.
std::string_view where_read(const Check& check, Language language) {
    if (check.evidence != Evidence::printed) return {};
    return check.read.empty() ? translated(language, "from memory") : check.read;
}

std::vector<Cell> row_of(const Check& check, const CheckResult& result, int digits, Language language) {
    const auto behind_the_name = [&](const std::vector<catalogue::Value>& call) {
        return formula_text(check.function, call).substr(check.function.size());
    };
    std::string arguments = behind_the_name(check.arguments);
    if (!check.from.empty())
        arguments = say(language, "[{after} less {before}] / {step}",
                        {{"after", arguments},
                         {"before", behind_the_name(check.from)},
                         {"step", number_text(check.step, digits)}});
    const std::string tolerance = number_text(check.tolerance.value, digits);
    const auto expected = [&](Evidence kind) {
        return check.evidence == kind ? Cell(check.expected) : Cell{};
    };
    return {std::string(check.function),
            arguments,
            expected(Evidence::printed),
            expected(Evidence::independent),
            expected(Evidence::identity),
            result.computed ? Cell(*result.computed) : Cell{},
            result.computed ? Cell(result.deviation) : Cell{},
            check.tolerance.is_relative ? say(language, "{tolerance} relative", {{"tolerance", tolerance}})
                                        : say(language, "{tolerance} absolute", {{"tolerance", tolerance}}),
            std::string(result.agrees ? translated(language, "agrees") : translated(language, "FAILS")),
            check.source,
            std::string(where_read(check, language)),
            std::string(translated(language, check.note))};
}

// One line: how many there are of each kind.
std::string counts_line(const Counts& counts, Language language) {
    return say(language,
               "printed {printed} (conversions of units {conversions}, from memory {remembered}), printed "
               "but held to "
               "a wider tolerance {wider}, independent {independent}, identities {identities}",
               {{"printed", std::to_string(counts.printed)},
                {"conversions", std::to_string(counts.conversions)},
                {"remembered", std::to_string(counts.remembered)},
                {"wider", std::to_string(counts.wider)},
                {"independent", std::to_string(counts.independent)},
                {"identities", std::to_string(counts.identities)}});
}

}  // namespace

int verify(const std::string& name, const Output& output, const Streams& streams) {
    const Language language = output.format == Format::people ? streams.language : Language::english;
    Table table;
    std::vector<Cell> header;
    for (const auto title : titles(language)) header.emplace_back(std::string(title));
    table.add_row(std::move(header));
    std::size_t failed = 0;
    std::vector<Check> wanted;
    for (const Check& check : catalogue::checks()) {
        if (!is_wanted(check, name)) continue;
        wanted.push_back(check);
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
    const Counts counts = catalogue::count(wanted);
    streams.error << counts_line(counts, streams.language) << '\n';
    const bool enough = !name.empty() || catalogue::is_enough(counts);
    if (!enough)
        streams.error << say(streams.language, "{counts} are fewer than this version has to show",
                             {{"counts", counts_line(catalogue::least_counts(), streams.language)}})
                      << '\n';
    return failed == 0 && enough ? done : some_failed;
}

}  // namespace pullsheet::harness
