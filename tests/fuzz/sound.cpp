// SPDX-License-Identifier: Apache-2.0
#include "tests/fuzz/sound.hpp"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::fuzz {
namespace {

using catalogue::Cell;
using catalogue::Failure;
using catalogue::Function;
using catalogue::Table;
using catalogue::Value;

std::string quoted(const std::string& text) {
    std::string result = "\"";
    for (const char c : text.substr(0, 200)) {
        if (c == '"' || c == '\\') result += '\\';
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x20) {
            result += c;
        } else {
            char code[8];
            std::snprintf(code, sizeof code, "\\x%02x", byte);
            result += code;
        }
    }
    return result + (text.size() > 200 ? "\"…" : "\"");
}

std::string written(const Cell& cell) {
    if (const auto* number = std::get_if<double>(&cell)) return catalogue::exact_text(*number);
    if (const auto* text = std::get_if<std::string>(&cell)) return quoted(*text);
    if (const auto* failure = std::get_if<Failure>(&cell)) return "ERROR(" + quoted(failure->sentence) + ")";
    return {};
}

std::string written(const Value& value) {
    const auto* table = std::get_if<Table>(&value);
    if (!table)
        return std::visit(
            [](const auto& content) -> std::string {
                if constexpr (!std::is_same_v<std::decay_t<decltype(content)>, Table>)
                    return written(Cell(content));
                return {};
            },
            value);
    std::string result = "{";
    for (std::size_t r = 0; r < table->rows() && r < 60; ++r) {
        if (r > 0) result += "|";
        for (std::size_t c = 0; c < table->columns() && c < 20; ++c)
            result += (c > 0 ? ";" : "") + written(table->at(r, c));
    }
    return result + "} (" + std::to_string(table->rows()) + " × " + std::to_string(table->columns()) + ")";
}

bool same_bits(double a, double b) {
    return std::memcmp(&a, &b, sizeof a) == 0;
}

template <class Content>
void expect_sound_content(const Function& function, const Content& content) {
    const std::string name(function.name.view());
    if constexpr (std::is_same_v<Content, double>) {
        if (!std::isfinite(content)) broken(name + " answers with a number that is not finite");
    } else if constexpr (std::is_same_v<Content, Failure>) {
        if (!content.sentence.starts_with(name + ": ") || content.sentence.size() < name.size() + 8)
            broken(name + " fails without a sentence: \"" + content.sentence + "\"");
        // The sentence for an exception that nobody foresaw.
        for (const auto language : {catalogue::Language::english, catalogue::Language::german})
            if (content.sentence.starts_with(
                    name + ": " + catalogue::say(language, catalogue::Phrase::internal, {{"what", ""}})))
                broken(content.sentence);
    }
}

}  // namespace

void broken(const std::string& sentence) {
    std::fflush(stdout);
    std::fprintf(stderr, "\nBROKEN: %s\n", sentence.c_str());
    std::abort();
}

std::string written(const Function& function, const std::vector<Value>& arguments) {
    std::string result(function.name.view());
    result += "(";
    for (std::size_t i = 0; i < arguments.size(); ++i) result += (i > 0 ? "; " : "") + written(arguments[i]);
    return result + ")";
}

void expect_sound(const Function& function, const catalogue::Outcome& outcome) {
    const std::string name(function.name.view());
    for (const auto& warning : outcome.warnings)
        if (warning.empty()) broken(name + " warns without a sentence");
    if (const auto* table = std::get_if<Table>(&outcome.value)) {
        if (table->empty()) broken(name + " answers with a table of no cells");
        for (std::size_t r = 0; r < table->rows(); ++r)
            for (std::size_t c = 0; c < table->columns(); ++c)
                std::visit([&](const auto& content) { expect_sound_content(function, content); },
                           table->at(r, c));
        return;
    }
    if (std::holds_alternative<std::monostate>(outcome.value)) broken(name + " answers nothing");
    std::visit([&](const auto& content) { expect_sound_content(function, content); }, outcome.value);
}

void expect_same(const Function& function, const Value& one, const Value& other, bool texts,
                 std::string_view what) {
    const std::string name(function.name.view());
    const auto differ = [&](const std::string& a, const std::string& b) {
        broken(name + ": " + std::string(what) + " answers differ: " + a + " and " + b);
    };
    if (one.index() != other.index()) differ(written(one), written(other));
    if (const auto* number = std::get_if<double>(&one)) {
        if (!same_bits(*number, std::get<double>(other))) differ(written(one), written(other));
    } else if (const auto* text = std::get_if<std::string>(&one)) {
        if (texts && *text != std::get<std::string>(other)) differ(written(one), written(other));
    } else if (const auto* failure = std::get_if<Failure>(&one)) {
        if (failure->kind != std::get<Failure>(other).kind) differ(written(one), written(other));
    } else if (const auto* table = std::get_if<Table>(&one)) {
        const Table& second = std::get<Table>(other);
        if (table->rows() != second.rows() || table->columns() != second.columns())
            differ(written(one), written(other));
        for (std::size_t r = 0; r < table->rows(); ++r)
            for (std::size_t c = 0; c < table->columns(); ++c)
                expect_same(function, catalogue::to_value(table->at(r, c)),
                            catalogue::to_value(second.at(r, c)), texts, what);
    }
}

double seconds() {
    timespec now{};
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

}  // namespace pullsheet::fuzz
