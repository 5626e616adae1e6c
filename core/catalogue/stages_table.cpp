// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/stages_table.hpp"

#include <algorithm>

#include "core/catalogue/call.hpp"
#include "core/catalogue/fuel_block.hpp"

namespace pullsheet::catalogue {
namespace {

constexpr std::size_t nowhere = static_cast<std::size_t>(-1);

std::size_t column_of(const Table& table, std::string_view heading) {
    for (std::size_t c = 0; c < table.columns(); ++c)
        if (table.rows() > 0 && normal_label(cell_text(table.at(0, c))) == normal_label(heading)) return c;
    return nowhere;
}

std::size_t required_column(const Table& table, std::string_view heading, std::string_view parameter,
                            Language language) {
    const std::size_t column = column_of(table, heading);
    if (column == nowhere)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::column_missing,
                          {{"parameter", std::string(parameter)}, {"label", std::string(heading)}})};
    return column;
}

/// What a later part replaces: parts of the same kind, pipes of the same place.
bool replaces(const PartRow& later, const PartRow& earlier) {
    return later.kind == earlier.kind && normal_label(later.place) == normal_label(earlier.place);
}

/// Whether a value that a later part does not state is that of the part it replaces.
bool stays(const PartKind& kind, const PartValue& value) {
    return kind.name == "engine" || (kind.name == "turbine" && value.name == "largest gas temperature");
}

}  // namespace

std::vector<Stage> read_stages(const Table& table, std::string_view parameter, Language language,
                               Warnings& warnings) {
    const std::size_t stage_column = required_column(table, "stage", parameter, language);
    const std::size_t part_column = required_column(table, "part", parameter, language);
    const std::size_t kind_column = required_column(table, "kind", parameter, language);
    const std::size_t price_column = column_of(table, "price");
    const PartColumns columns =
        read_part_columns(table, {"stage", "part", "kind", "price"}, parameter, language);
    std::vector<Stage> stages;
    std::vector<PartRow> held;  // all parts in place so far
    std::vector<PartRow> own;   // those of the stage being read
    double price = 0.0;
    const auto close = [&] {
        if (stages.empty()) return;
        // A limit of the engine that a later row does not state stays as it was stated before; so does the
        // largest gas temperature of a turbine.
        for (PartRow& later : own)
            for (const PartRow& earlier : held)
                if (replaces(later, earlier))
                    for (std::size_t i = 0; i < later.values.size(); ++i)
                        if (!later.values[i] && stays(*later.kind, later.kind->values[i]))
                            later.values[i] = earlier.values[i];
        std::erase_if(held, [&](const PartRow& earlier) {
            return std::any_of(own.begin(), own.end(),
                               [&](const PartRow& later) { return replaces(later, earlier); });
        });
        held.insert(held.end(), own.begin(), own.end());
        stages.back().parts = assemble_parts(held, nullptr, parameter, language);
        stages.back().price = price;
        own.clear();
    };
    for (std::size_t r = 1; r < table.rows(); ++r) {
        const std::string stage = cell_text(table.at(r, stage_column));
        const bool has_stage = !is_blank(table.at(r, stage_column));
        const bool has_part = !is_blank(table.at(r, part_column)) || !is_blank(table.at(r, kind_column));
        if (!has_stage && !has_part) continue;
        if (has_stage && (stages.empty() || normal_label(stages.back().name) != normal_label(stage))) {
            close();
            stages.push_back({stage, {}, 0.0});
        }
        if (stages.empty())
            throw Refused{FailureKind::wrong_argument,
                          say(language, Phrase::stage_missing, {{"parameter", std::string(parameter)}})};
        if (price_column != nowhere && !is_blank(table.at(r, price_column))) {
            const std::string shown =
                say(language, Phrase::price_of,
                    {{"parameter", std::string(parameter)}, {"name", stages.back().name}});
            price += read_number(table.at(r, price_column), Wanted{shown, Quantity::number, nullptr, from(0)},
                                 language, warnings);
        }
        if (has_part) own.push_back(read_part_row(table, r, columns, parameter, language, warnings));
    }
    close();
    if (stages.empty())
        throw Refused{FailureKind::no_data,
                      say(language, Phrase::stage_missing, {{"parameter", std::string(parameter)}})};
    return stages;
}

std::vector<NamedFuel> read_fuels(const Table& table, std::string_view parameter, double lambda,
                                  Language language, Warnings& warnings) {
    const std::size_t name_column = required_column(table, "name", parameter, language);
    const std::size_t lambda_column = column_of(table, "lambda");
    std::vector<NamedFuel> fuels;
    for (std::size_t r = 1; r < table.rows(); ++r) {
        if (is_blank(table.at(r, name_column))) continue;
        // The row becomes a fuel block of its own.
        Table block;
        for (std::size_t c = 0; c < table.columns(); ++c) {
            if (c == lambda_column || is_blank(table.at(0, c))) continue;
            const Cell& value = table.at(r, c);
            // A number left empty arrives as 0; where 0 means nothing, the default serves.
            const std::string label = cell_text(table.at(0, c));
            const auto* zero = std::get_if<double>(&value);
            const bool is_share = normal_label(label) == "ethanolshare";
            if (zero && *zero == 0.0 && !is_share) continue;
            block.add_row({label, value});
        }
        NamedFuel fuel{cell_text(table.at(r, name_column)), {}};
        std::string shown(parameter);
        shown.append(", \"").append(fuel.name).append("\"");
        fuel.fuel.fuel =
            fuel_from(read_block(block, fuel_schema(), shown, language, warnings), shown, language, warnings);
        fuel.fuel.lambda = lambda;
        if (lambda_column != nowhere && !is_blank(table.at(r, lambda_column))) {
            const auto* zero = std::get_if<double>(&table.at(r, lambda_column));
            shown.append(", lambda");
            if (!zero || *zero != 0.0)
                fuel.fuel.lambda = read_number(table.at(r, lambda_column),
                                               Wanted{shown, Quantity::ratio, nullptr, between(0.6, 1.5)},
                                               language, warnings);
        }
        fuels.push_back(std::move(fuel));
    }
    if (fuels.empty())
        throw Refused{FailureKind::no_data,
                      say(language, Phrase::fuel_missing, {{"parameter", std::string(parameter)}})};
    return fuels;
}

}  // namespace pullsheet::catalogue
