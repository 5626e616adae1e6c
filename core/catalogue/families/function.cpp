// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue::families {
namespace {

const Function& named(Call& call, std::size_t i) {
    const Function* function = find_function(call.text(i));
    if (!function) throw Refused{FailureKind::wrong_argument, unknown_function(call.text(i), call.language())};
    return *function;
}

// The first sentence that a value or its warnings carry; empty when all is well.
std::string why(const Outcome& outcome) {
    if (const auto* failure = std::get_if<Failure>(&outcome.value)) return failure->sentence;
    if (const auto* table = std::get_if<Table>(&outcome.value))
        for (std::size_t r = 0; r < table->rows(); ++r)
            for (std::size_t c = 0; c < table->columns(); ++c)
                if (const auto* failure = std::get_if<Failure>(&table->at(r, c))) return failure->sentence;
    std::string sentences;
    for (const auto& warning : outcome.warnings) {
        if (!sentences.empty()) sentences += "; ";
        sentences += warning;
    }
    return sentences;
}

Answer error(Call& call) {
    const Function& function = named(call, 0);
    return why(evaluate(function, call.list(), call.language()));
}

Answer source(Call& call) {
    std::string text;
    for (const auto key : named(call, 0).sources.keys) {
        if (!text.empty()) text += "; ";
        text += citation(key);
    }
    return text;
}

Answer list(Call& call) {
    Rows rows;
    for (const Function& function : functions())
        rows.push_back(row(std::string(function.name.view()), std::string(function.family()),
                        std::string(translated(call.language(), function.summary))));
    return rows;
}

}  // namespace

std::vector<Function> function() {
    return {
        {
            .name = "FUNCTION.WHY",
            .summary = "Why a cell shows an error or carries a warning",
            .parameters = {cell("cell", "the cell to be explained")},
            .result = Result::text("one sentence: function, argument, value given, what is allowed; empty when all is well"),
            .method = "Reads the formula of the cell, finds the call of this catalogue that failed or warns, evaluates it again "
                      "with its arguments and returns its sentence; an error that came from another cell names that cell.",
            .sources = {"Pullsheet"},
            .example = {{std::monostate{}}, ""},
            .compute = [](Call&) -> Answer { return std::string(); },
        },
        {
            .name = "FUNCTION.ERROR",
            .summary = "Why a call written out fails or warns",
            .parameters = {text("name", "the name of the function"), further("arguments", "its arguments in their order")},
            .result = Result::text("one sentence, empty when all is well"),
            .method = "Evaluates the call and returns the sentence of its error, or its warnings.",
            .sources = {"Pullsheet"},
            .example = {{"UNIT.CONVERT", 1.0, "PS", "bar"},
                        "UNIT.CONVERT: PS is a unit of power, bar one of pressure; they cannot be converted"},
            .compute = error,
        },
        {
            .name = "FUNCTION.SOURCE",
            .summary = "The published sources of a function",
            .parameters = {text("name", "the name of the function")},
            .result = Result::text("the full citations"),
            .method = "From the catalogue's bibliography.",
            .sources = {"Pullsheet"},
            .example = {{"FUNCTION.VERSION"}, "Pullsheet, this project's own definition"},
            .compute = source,
        },
        {
            .name = "FUNCTION.LIST",
            .summary = "All functions with one line each",
            .parameters = {},
            .result = Result::table("the functions", {{"function"}, {"family"}, {"what it answers"}}),
            .method = "From the catalogue.",
            .sources = {"Pullsheet"},
            .example = {{}, "UNIT.CONVERT", 1, 0},
            .compute = list,
        },
        {
            .name = "FUNCTION.VERSION",
            .summary = "The version of the extension",
            .parameters = {},
            .result = Result::text("the version"),
            .method = "From the build.",
            .sources = {"Pullsheet"},
            .example = {{}, version()},
            .compute = [](Call&) -> Answer { return std::string(version()); },
        },
    };
}

}  // namespace pullsheet::catalogue::families
