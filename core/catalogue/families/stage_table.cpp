// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/stage_table.hpp"

#include <algorithm>
#include <cmath>

#include "core/catalogue/families/end_of_data.hpp"
#include "core/catalogue/families/offer.hpp"
#include "core/catalogue/vehicle_block.hpp"
#include "core/plan/cost.hpp"
#include "core/plan/stage_table.hpp"

namespace pullsheet::catalogue::families {

namespace {

constexpr std::size_t table_columns = 23;
constexpr std::size_t price_column = 8;

// The row of a stage that cannot be on a fuel: its figures are errors that say why.
std::vector<Cell> impossible(const Stage& stage, const NamedFuel& fuel, const Warning& why,
                             Language language) {
    const Failure failure{FailureKind::no_solution,
                          "BUILD.TABLE: " + say(language, "{stage} on {fuel}: {sentence}",
                                                {{"stage", stage.name},
                                                 {"fuel", fuel.name},
                                                 {"sentence", say(language, why.reason, why.details)}})};
    std::vector<Cell> row(table_columns, failure);
    row[0] = stage.name;
    row[1] = fuel.name;
    row[price_column] = stage.price;
    return row;
}

// "a, b and c".
std::string listed(const std::vector<std::string>& words, Language language) {
    std::string result;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0 && i + 1 == words.size())
            result.append(" ").append(translated(language, "and")).append(" ");
        else if (i > 0)
            result.append(", ");
        result.append(words[i]);
    }
    return result;
}

// What a prediction rests on.
std::string basis(const plan::Basis& basis) {
    switch (basis.kind) {
        case plan::Basis::Kind::guess: return "guess";
        case plan::Basis::Kind::measured: return "measured";
        case plan::Basis::Kind::between: return "between";
        case plan::Basis::Kind::extrapolated: break;
    }
    std::vector<std::string> in;
    if (basis.in_speed) in.emplace_back("speed");
    if (basis.in_boost) in.emplace_back("boost");
    if (basis.in_fuel) in.emplace_back("fuel");
    if (basis.in_compression_ratio) in.emplace_back("compression ratio");
    // A value of a cell is the same in every language.
    return "extrapolated in " + listed(in, Language::english);
}

// Three figures.
std::string in_unit(double si, Quantity quantity, std::string_view symbol, Language language) {
    const Unit* unit = find_unit(symbol);
    const double value = unit->from_si(si, quantity);
    const double step = std::pow(10.0, std::floor(std::log10(std::max(std::abs(value), 1.0))) - 2.0);
    return number_text(step * std::round(value / step), unit, language);
}

// What holds a stage, in words.
std::string held_by(const plan::LimitedBy& limit, const std::vector<std::string>& names, Language language) {
    if (limit.part && limit.data_end)
        return say(language, "the end of the data of {part}", {{"part", names[*limit.part]}});
    if (limit.part) return say(language, "the part {part}", {{"part", names[*limit.part]}});
    switch (limit.engine) {
        case plan::EngineBound::knock: return std::string(translated(language, "knock"));
        case plan::EngineBound::exhaust_temperature:
            return std::string(translated(language, "the exhaust temperature"));
        case plan::EngineBound::peak_pressure:
            return std::string(translated(language, "the stated peak pressure"));
        case plan::EngineBound::assumed_peak_pressure:
            return std::string(translated(language, "an assumed peak pressure"));
        case plan::EngineBound::measured_power_peak:
            return std::string(translated(language, "the power peak of the measured pull"));
    }
    return {};
}

/// The cells of the table with the names of their stages and fuels.
struct NamedCells {
    const std::vector<Stage>& stages;
    const std::vector<NamedFuel>& fuels;
    const std::vector<plan::TableCell>& cells;

    const plan::TableCell& at(std::size_t stage, std::size_t fuel) const {
        return cells[stage * fuels.size() + fuel];
    }
    /// The gain over the stage before; none for the first stage and where either cannot be.
    std::optional<plan::StageGain> gain(std::size_t stage, std::size_t fuel) const {
        if (stage == 0 || at(stage, fuel).impossible || at(stage - 1, fuel).impossible) return std::nullopt;
        return plan::stage_gain(at(stage - 1, fuel), at(stage, fuel));
    }
    /// The cells for which `is` holds, in words: "Stage 3 on E85; Stage 4 on E20 and E85".
    template <class Is>
    std::string where(Is is, Language language) const {
        std::string result;
        for (std::size_t s = 0; s < stages.size(); ++s) {
            std::vector<std::string> on;
            for (std::size_t f = 0; f < fuels.size(); ++f)
                if (!at(s, f).impossible && is(at(s, f))) on.push_back(fuels[f].name);
            if (on.empty()) continue;
            if (!result.empty()) result.append("; ");
            result.append(say(language, "{stage} on {fuels}",
                              {{"stage", stages[s].name}, {"fuels", listed(on, language)}}));
        }
        return result;
    }
};

// Why a stage gains little on a fuel, and where it pays; empty where it pays.
std::string remark(const NamedCells& table, std::size_t stage, std::size_t fuel, Language language) {
    const auto gain = table.gain(stage, fuel);
    using enum plan::StageGain::Verdict;
    if (!gain || gain->verdict == pays) return {};
    std::vector<std::string> paying;
    bool maybe = false;
    for (std::size_t f = 0; f < table.fuels.size(); ++f)
        if (const auto other = table.gain(stage, f)) {
            if (other->verdict == pays) paying.push_back(table.fuels[f].name);
            maybe = maybe || other->verdict == uncertain;
        }
    const Fill fill{
        {"bound", held_by(table.at(stage, fuel).limited_by, table.stages[stage].parts.names, language)},
        {"stage", table.stages[stage].name},
        {"before", table.stages[stage - 1].name},
        {"fuel", table.fuels[fuel].name},
        {"gain", in_unit(gain->power, Quantity::power, "kW", language)},
        {"uncertainty", in_unit(2.0 * gain->uncertainty, Quantity::power, "kW", language)}};
    std::string text;
    if (gain->verdict == none) {
        text = say(language, "{bound} holds {stage} on {fuel} at the power of {before}", fill);
    } else if (gain->verdict == loss) {
        text = say(language, "{bound} holds {stage} on {fuel} below the power of {before}", fill);
    } else if (gain->verdict == little) {
        text = say(language, "{bound} holds {stage} on {fuel}: a gain of only {gain} over {before}", fill);
    } else {
        text = say(language,
                   "{bound} holds {stage} on {fuel}: a gain of {gain} over {before}, less than its "
                   "uncertainty of {uncertainty}",
                   fill);
    }
    if (!paying.empty())
        text.append("; ").append(say(language, "it pays on {fuels}", {{"fuels", listed(paying, language)}}));
    else if (!maybe)
        text.append("; ").append(translated(language, "it pays on none of these fuels"));
    return text;
}

// Each thing is said once for the whole table, with the cells that it is true of.
void warn_of_cells(Call& call, const NamedCells& table, double assumed_peak_pressure) {
    const Language language = call.language();
    if (!call.warnings.wanted()) return;
    const auto assumed = table.where(
        [](const plan::TableCell& cell) {
            return !cell.limited_by.part &&
                   cell.limited_by.engine == plan::EngineBound::assumed_peak_pressure;
        },
        language);
    if (!assumed.empty())
        call.warn(say(language,
                      "not knock but an assumed peak pressure of {pressure} holds {cells}: state the largest "
                      "peak pressure of the engine, or a compressor map",
                      {{"cells", assumed},
                       {"pressure", in_unit(assumed_peak_pressure, Quantity::pressure, "bar", language)}}));
    constexpr double much_hotter = 30.0;
    const auto is_hot = [](const plan::TableCell& cell) { return cell.basis.hotter_gas > much_hotter; };
    if (const auto hot = table.where(is_hot, language); !hot.empty()) {
        double most = 0.0;
        for (const plan::TableCell& cell : table.cells) most = std::max(most, cell.basis.hotter_gas);
        call.warn(say(
            language,
            "{cells}: the gas before the turbine is up to {difference} hotter than where it was "
            "measured; state the largest gas temperature, or log it",
            {{"cells", hot}, {"difference", in_unit(most, Quantity::temperature_change, "K", language)}}));
    }
    // Of one reason with other figures the one with the farthest first figure is said.
    struct Said {
        const Warning* warning;
        std::size_t place;
    };
    std::vector<Said> said;
    for (std::size_t i = 0; i < table.cells.size(); ++i) {
        if (table.cells[i].impossible) continue;
        for (const Warning& warning : table.cells[i].warnings) {
            const auto is_like = [&](const Said& other) {
                if (other.warning->reason != warning.reason) return false;
                return warning.reason != Reason::octane_outside_correlation ||
                       (warning.details[0].value > warning.details[1].value) ==
                           (other.warning->details[0].value > other.warning->details[1].value);
            };
            const auto like = std::find_if(said.begin(), said.end(), is_like);
            if (like == said.end()) {
                said.push_back({&warning, i});
                continue;
            }
            if (warning.details.empty()) continue;
            const bool below = warning.reason == Reason::octane_outside_correlation &&
                               warning.details[0].value < warning.details[1].value;
            const double farther = warning.details[0].value - like->warning->details[0].value;
            if (below ? farther < 0.0 : farther > 0.0) *like = {&warning, i};
        }
    }
    for (const Said& one : said)
        call.warn(say(language, "{stage} on {fuel}: {sentence}",
                      {{"stage", table.stages[one.place / table.fuels.size()].name},
                       {"fuel", table.fuels[one.place % table.fuels.size()].name},
                       {"sentence", say(language, one.warning->reason, one.warning->details)}}));
}

}  // namespace

Answer stage_table(Call& call) {
    const Language language = call.language();
    Offer offer = read_offer(call, {0, 1, 2, 4, 5});
    const auto& stages = offer.stages;
    const auto& fuels = offer.fuels;
    plan::TableBase& base = offer.base;
    if (call.given(3)) base.vehicle = vehicle_from(call.block(3), "vehicle", language);
    const auto time = [](const std::optional<plan::Span>& span, double plan::Span::*which) -> Cell {
        if (!span) return std::string();
        return (*span).*which;
    };
    std::vector<plan::Parts> parts_of_stages;
    parts_of_stages.reserve(stages.size());
    for (const Stage& stage : stages) parts_of_stages.push_back(stage.parts.parts);
    std::vector<plan::OfferedFuel> offered;
    offered.reserve(fuels.size());
    for (const NamedFuel& fuel : fuels) offered.push_back(fuel.fuel);
    const auto cells = plan::stage_table(base, parts_of_stages, offered);
    const NamedCells table{stages, fuels, cells};
    Rows rows;
    for (std::size_t s = 0; s < stages.size(); ++s)
        for (std::size_t f = 0; f < fuels.size(); ++f) {
            const Stage& stage = stages[s];
            const NamedFuel& fuel = fuels[f];
            const plan::TableCell& cell = table.at(s, f);
            if (cell.impossible) {
                rows.push_back(impossible(stage, fuel, *cell.impossible, language));
                continue;
            }
            if (cell.missing)
                call.warn(say(language,
                              "{stage} on {fuel}: missing data of {part} limit the result ({end}); add "
                              "points to its table",
                              {{"stage", stage.name},
                               {"fuel", fuel.name},
                               {"part", stage.parts.names[*cell.missing->part]},
                               {"end", end_of_data(*cell.missing->data_end, language)}}));
            const auto price =
                plan::price_per_gain(stage.price, cell.power, call.given(6) ? call.si(6) : 0.0);
            const auto gain = table.gain(s, f);
            rows.push_back(row(
                stage.name, fuel.name, cell.torque, cell.power,
                limited_by(cell.limited_by, stage.parts.names), time(cell.time_100_200, &plan::Span::value),
                time(cell.time_60_130, &plan::Span::value), time(cell.time_quarter_mile, &plan::Span::value),
                stage.price, price ? Cell(1000.0 * *price) : Cell(std::string("no gain")), cell.power_low,
                cell.power_high, time(cell.time_100_200, &plan::Span::low),
                time(cell.time_100_200, &plan::Span::high), cell.manifold_pressure, cell.spark_angle,
                cell.power_speed, cell.gas_temperature, cell.peak_pressure, cell.half_burned_angle,
                basis(cell.basis), gain ? Cell(gain->power) : Cell(std::string()),
                remark(table, s, f, language)));
        }
    warn_of_cells(call, table, base.engine_model.peak_pressure);
    return rows;
}

}  // namespace pullsheet::catalogue::families
