// SPDX-License-Identifier: Apache-2.0
// The reader of texts with units: any text, for any quantity. What it takes is finite and inside the range,
// what it refuses has a sentence, and a number that is written out with a unit reads back as the same
// quantity.
#include <cmath>

#include "core/catalogue/reader.hpp"
#include "core/catalogue/sentences.hpp"
#include "tests/fuzz/input.hpp"
#include "tests/fuzz/sound.hpp"
#include "tests/fuzz/target.hpp"

namespace pullsheet::fuzz {
namespace {

using catalogue::Language;
using catalogue::Refused;
using catalogue::Unit;
using catalogue::Wanted;

constexpr auto last_quantity = static_cast<unsigned>(Quantity::mass_per_volume_and_cycle);

const Unit* unit_of(Input& input, Quantity quantity) {
    const auto symbols = catalogue::unit_symbols(quantity);
    return symbols.empty() || quantity == Quantity::share
               ? nullptr
               : catalogue::find_unit(symbols[input.below(symbols.size())]);
}

void read(const std::string& text, const Wanted& wanted) {
    std::optional<double> english;
    for (const Language language : {Language::english, Language::german}) {
        catalogue::Warnings warnings(true);
        std::optional<double> number;
        try {
            number = catalogue::read_number(text, wanted, language, warnings);
        } catch (const Refused& refused) {
            if (refused.sentence.size() < 8) broken("refused without a sentence: \"" + text + "\"");
        }
        if (number && !std::isfinite(*number))
            broken("reads as a number that is not finite: \"" + text + "\"");
        if (language == Language::english) english = number;
        if (english != number) broken("reads differently in English and German: \"" + text + "\"");
    }
}

void read_back(double number, Quantity quantity, const Unit* unit) {
    const std::string text =
        catalogue::exact_text(number) + (unit ? " " + std::string(unit->symbol) : std::string());
    catalogue::Warnings warnings(true);
    const double as_text = catalogue::read_number(text, {"x", quantity, unit, pullsheet::finite, nullptr},
                                                  Language::english, warnings);
    const double as_number = catalogue::read_number(number, {"x", quantity, unit, pullsheet::finite, nullptr},
                                                    Language::english, warnings);
    if (as_text != as_number) broken("\"" + text + "\" is not read as it was written");
}

}  // namespace
}  // namespace pullsheet::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace pullsheet::fuzz;
    using namespace pullsheet;
    Input input(data, size);
    const auto quantity = static_cast<Quantity>(input.below(last_quantity + 1));
    const Unit* unit = unit_of(input, quantity);
    constexpr Interval ranges[] = {pullsheet::finite, unit_share, positive, {-1.0, 1.0, false, false}};
    const Interval range = ranges[input.below(std::size(ranges))];
    const std::string text = input.rest();
    try {
        read(text, {"argument", quantity, unit, range, &unit_share});
        catalogue::NumberText parsed;
        const bool has_units = quantity == Quantity::share || !catalogue::unit_symbols(quantity).empty();
        if (catalogue::split_number(text, parsed) && parsed.tidy && std::isfinite(parsed.number) && has_units)
            if (const double si = unit ? unit->to_si(parsed.number, quantity) : parsed.number;
                std::isfinite(si))
                read_back(parsed.number, quantity, unit);
        try {
            if (!catalogue::read_result_unit(text, quantity, Language::english))
                broken("no unit, and not refused");
        } catch (const Refused& refused) {
            if (refused.sentence.empty()) broken("a unit is refused without a sentence");
        }
    } catch (const Refused& refused) {
        broken("\"" + text + "\": refuses what it should take: " + refused.sentence);
    } catch (const std::exception& error) {
        broken("\"" + text + "\" throws: " + error.what());
    }
    return 0;
}
