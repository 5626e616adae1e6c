// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/measured_table.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "core/catalogue/call.hpp"

namespace pullsheet::catalogue {

const BlockSchema& measured_schema() {
    static const BlockSchema schema{
        .name = "measured",
        .labels =
            {
                Label("stage",
                      "the stage that was measured, as named in the stages table; not needed where "
                      "there is one")
                    .optional(),
                Label("fuel",
                      "the fuel it ran on, as named in the fuels table; not needed where there is one")
                    .optional(),
                Label("power", "crank power, not corrected to a standard; or the torque", Quantity::power,
                      "kW", above(0))
                    .of(figures::brake_power)
                    .optional(),
                Label("engine speed", "at that power", Quantity::angular_speed, "rpm", between(500, 20000))
                    .of(figures::engine_speed),
                Label("manifold pressure", "absolute, at that power", Quantity::pressure, "kPa",
                      between(50, 800))
                    .of(figures::manifold_pressure),
                Label("manifold temperature", "in the manifold", Quantity::temperature, "°C",
                      between(-40, 200))
                    .of(figures::manifold_temperature),
                Label("lambda", "air–fuel ratio / stoichiometric air–fuel ratio; not given: that of the fuel",
                      Quantity::ratio, "", between(0.6, 1.5))
                    .of(figures::lambda)
                    .optional(),
                Label("knock-limited spark",
                      "before top dead centre, where knock began; the spark that ran where it did not begin",
                      Quantity::angle, "°", between(-30, 60))
                    .of(figures::spark),
                Label("torque", "in place of the power, at the crank, not corrected to a standard",
                      Quantity::torque, "N·m", above(0))
                    .of(figures::torque)
                    .optional(),
                Label("knock began", "yes or no; no where a reserve was kept; not given: yes").optional(),
                Label(
                    "peak power of the pull",
                    "yes or no; yes where the power peaked at the highest speed measured: above it the power "
                    "is held; not given: no")
                    .optional(),
                Label(
                    "volumetric efficiency",
                    "measured, referred to the density in the manifold; not given: that of the engine block",
                    Quantity::share, "", between(0.2, 1.5))
                    .of(figures::volumetric_efficiency)
                    .optional(),
                Label("air flow", "in place of the volumetric efficiency, with its moisture",
                      Quantity::mass_flow, "g/s", above(0))
                    .of(figures::air_flow)
                    .optional(),
                Label("50 % burned angle", "after top dead centre, by pressure indication", Quantity::angle,
                      "°", between(-20, 60))
                    .of(figures::crank_angle)
                    .optional(),
                Label("gas temperature", "before the turbine, as the probe reads it", Quantity::temperature,
                      "°C", between(200, 1300))
                    .of(figures::gas_temperature)
                    .optional(),
                Label("power uncertainty", "relative standard uncertainty of the power; not given: 3 %",
                      Quantity::share, "", {0.0, 0.3, true, false})
                    .of(figures::share)
                    .optional(),
            },
        .one_of = {{"volumetric efficiency", "air flow"}},
    };
    return schema;
}

namespace {

/// A block has label, value, unit and uncertainty; a table needs five columns at least.
constexpr std::size_t most_block_columns = 4;
/// Power and torque of one row may differ by this share, for rounding.
constexpr double same_power = 0.005;

template <class Named>
std::size_t named(const std::vector<Named>& all, std::string_view name, Phrase unknown,
                  std::string_view parameter, Language language) {
    std::vector<std::string_view> names;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (normal_label(all[i].name) == normal_label(name)) return i;
        names.push_back(all[i].name);
    }
    throw Refused{FailureKind::wrong_argument, say(language, unknown,
                                                   {{"parameter", std::string(parameter)},
                                                    {"value", std::string(name)},
                                                    {"choices", joined(names)}})};
}

bool yes(const Block& block, std::string_view label, bool otherwise, std::string_view parameter,
         Language language) {
    if (!block.has(label)) return otherwise;
    const std::string answer = normal_label(block.text(label));
    if (answer != "yes" && answer != "no")
        throw Refused{
            FailureKind::wrong_argument,
            say(language, Phrase::yes_or_no,
                {{"parameter", say(language, Phrase::column_value,
                                   {{"parameter", std::string(parameter)}, {"label", std::string(label)}})},
                 {"value", std::string(block.text(label))}})};
    return answer == "yes";
}

double power_of(const Block& block, double speed, std::string_view parameter, Language language) {
    const auto power = block.find("power"), torque = block.find("torque");
    if (!power && !torque)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::measured_without_power, {{"parameter", std::string(parameter)}})};
    if (power && torque && !(std::abs(*torque * speed / *power - 1.0) <= same_power))
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::measured_power_and_torque,
                          {{"parameter", std::string(parameter)},
                           {"torque", quantity_text(*torque, Quantity::torque, language)},
                           {"power", quantity_text(*torque * speed, Quantity::power, language)},
                           {"other", quantity_text(*power, Quantity::power, language)}})};
    return power ? *power : *torque * speed;
}

plan::MeasuredPoint point_from(const Block& block, double lambda, std::string_view parameter,
                               Language language) {
    plan::MeasuredPoint point;
    point.speed = block.number("engine speed");
    point.manifold_pressure = block.number("manifold pressure");
    point.manifold_temperature = block.number("manifold temperature");
    point.lambda = block.find("lambda").value_or(lambda);
    point.spark_angle = block.number("knock-limited spark");
    point.power = power_of(block, point.speed, parameter, language);
    point.knock_began = yes(block, "knock began", true, parameter, language);
    point.volumetric_efficiency = block.find("volumetric efficiency");
    point.air_flow = block.find("air flow");
    point.half_burned_angle = block.find("50 % burned angle");
    point.gas_temperature = block.find("gas temperature");
    return point;
}

std::optional<double> power_uncertainty(const Block& block, double power) {
    if (const auto stated = block.find("power uncertainty")) return stated;
    if (const auto u = block.uncertainty("power")) return *u / power;
    if (const auto u = block.uncertainty("torque")) return *u / block.number("torque");
    return std::nullopt;
}

/// A column of the table.
struct MeasuredColumn {
    std::size_t column;
    const Label* label;
    std::string unit;
};

std::vector<MeasuredColumn> columns_of(const Table& table, std::string_view parameter, Language language) {
    std::vector<MeasuredColumn> columns;
    std::vector<std::string_view> names;
    for (const Label& label : measured_schema().labels) names.push_back(label.name);
    for (std::size_t c = 0; c < table.columns(); ++c) {
        if (is_blank(table.at(0, c))) continue;
        const std::string heading = cell_text(table.at(0, c));
        const auto [name, unit] = split_heading(heading);
        const auto& labels = measured_schema().labels;
        const auto known = std::ranges::find_if(
            labels, [&](const Label& label) { return normal_label(label.name) == normal_label(name); });
        const auto refuse = [&](Phrase phrase, std::string_view near = {}) {
            return Refused{FailureKind::wrong_argument, say(language, phrase,
                                                            {{"parameter", std::string(parameter)},
                                                             {"label", heading},
                                                             {"labels", joined(names)},
                                                             {"near", std::string(near)}})};
        };
        if (known == labels.end()) {
            const auto near = nearest(name, names);
            throw refuse(near.empty() ? Phrase::column_unknown : Phrase::column_unknown_near, near);
        }
        if (std::ranges::any_of(columns, [&](const MeasuredColumn& other) { return other.label == &*known; }))
            throw refuse(Phrase::column_doubled);
        columns.push_back({c, &*known, std::string(unit)});
    }
    for (const Label& label : measured_schema().labels)
        if (label.required && std::ranges::none_of(columns, [&](const MeasuredColumn& column) {
                return column.label == &label;
            }))
            throw Refused{FailureKind::wrong_argument,
                          say(language, Phrase::column_missing,
                              {{"parameter", std::string(parameter)}, {"label", std::string(label.name)}})};
    return columns;
}

// A cell that holds nothing; a number left empty may arrive as 0.
bool left_empty(const Cell& cell, const Label& label) {
    const auto* zero = std::get_if<double>(&cell);
    return is_blank(cell) || (zero && *zero == 0.0 && (label.is_text || !label.required));
}

bool holds_nothing(const Table& table, std::size_t row, const std::vector<MeasuredColumn>& columns) {
    return std::ranges::all_of(columns, [&](const MeasuredColumn& column) {
        const Cell& cell = table.at(row, column.column);
        const auto* zero = std::get_if<double>(&cell);
        return is_blank(cell) || (zero && *zero == 0.0);
    });
}

// The row becomes a block of its own.
Block row_block(const Table& table, std::size_t row, const std::vector<MeasuredColumn>& columns,
                std::string_view parameter, Language language, Warnings& warnings) {
    Table block;
    for (const MeasuredColumn& column : columns) {
        const Cell& cell = table.at(row, column.column);
        if (left_empty(cell, *column.label)) continue;
        NumberText parsed;
        const auto* text = std::get_if<std::string>(&cell);
        const bool takes_unit = !text || (split_number(*text, parsed) && parsed.unit.empty());
        block.add_row({std::string(column.label->name), cell, takes_unit ? column.unit : std::string()});
    }
    return read_block(block, measured_schema(), parameter, language, warnings, LabelsAre::columns);
}

/// The maps as their rows are read.
class MeasuredCells {
  public:
    MeasuredCells(std::string_view parameter, const std::vector<Stage>& stages,
                  const std::vector<NamedFuel>& fuels, Language language)
        : parameter_(parameter), stages_(stages), fuels_(fuels), language_(language) {
        if (stages.size() == 1) stage_ = 0;
        if (fuels.size() == 1) fuel_ = 0;
    }

    void add(const Block& block, std::string_view shown, std::optional<std::size_t> row) {
        if (block.has("stage"))
            stage_ = named(stages_, block.text("stage"), Phrase::stage_unknown, parameter_, language_);
        if (block.has("fuel"))
            fuel_ = named(fuels_, block.text("fuel"), Phrase::fuel_unknown, parameter_, language_);
        if (!stage_ || !fuel_)
            throw Refused{FailureKind::wrong_argument,
                          say(language_, stage_ ? Phrase::fuel_missing : Phrase::stage_missing,
                              {{"parameter", parameter_}})};
        auto cell = std::ranges::find_if(
            cells_, [&](const MeasuredCell& c) { return c.stage == *stage_ && c.fuel == *fuel_; });
        if (cell == cells_.end()) {
            cells_.push_back({*stage_, *fuel_, {}, {stages_[*stage_].parts.parts, fuels_[*fuel_].fuel, {}}});
            cell = cells_.end() - 1;
        }
        plan::MeasuredMap& map = cell->map;
        map.points.push_back(point_from(block, map.fuel.lambda, shown, language_));
        if (row) cell->rows.push_back(*row);
        if (yes(block, "peak power of the pull", false, shown, language_)) map.has_power_peak = true;
        if (const auto u = power_uncertainty(block, map.points.back().power))
            map.power_uncertainty = map.points.size() == 1 ? *u : std::max(*u, map.power_uncertainty);
    }
    std::vector<MeasuredCell> take() && { return std::move(cells_); }

  private:
    std::string parameter_;
    const std::vector<Stage>& stages_;
    const std::vector<NamedFuel>& fuels_;
    Language language_;
    std::optional<std::size_t> stage_, fuel_;
    std::vector<MeasuredCell> cells_;
};

}  // namespace

std::vector<MeasuredCell> read_measured(const Table& table, std::string_view parameter,
                                        const std::vector<Stage>& stages, const std::vector<NamedFuel>& fuels,
                                        Language language, Warnings& warnings) {
    MeasuredCells cells(parameter, stages, fuels, language);
    if (table.columns() <= most_block_columns) {
        cells.add(read_block(table, measured_schema(), parameter, language, warnings), parameter, {});
        return std::move(cells).take();
    }
    const auto columns = columns_of(table, parameter, language);
    for (std::size_t r = 0; r < table.rows(); ++r)
        for (std::size_t c = 0; c < table.columns(); ++c)
            if (is_blank(table.at(0, c)) && !is_blank(table.at(r, c)))
                throw Refused{FailureKind::wrong_argument, say(language, Phrase::column_without_heading,
                                                               {{"parameter", std::string(parameter)},
                                                                {"column", std::to_string(c + 1)},
                                                                {"value", cell_text(table.at(r, c))}})};
    for (std::size_t r = 1; r < table.rows(); ++r) {
        if (holds_nothing(table, r, columns)) continue;
        const std::string shown = std::string(parameter) + ", " + std::string(translated(language, "row")) +
                                  " " + std::to_string(r + 1);
        cells.add(row_block(table, r, columns, shown, language, warnings), shown, r + 1);
    }
    auto read = std::move(cells).take();
    if (read.empty())
        throw Refused{FailureKind::no_data,
                      say(language, Phrase::measured_without_rows, {{"parameter", std::string(parameter)}})};
    return read;
}

std::vector<plan::MeasuredMap> maps_of(const std::vector<MeasuredCell>& measured) {
    std::vector<plan::MeasuredMap> maps;
    maps.reserve(measured.size());
    for (const MeasuredCell& cell : measured) maps.push_back(cell.map);
    return maps;
}

void warn_of_calibration(const plan::CalibratedEngine& engine, const std::vector<MeasuredCell>& measured,
                         const std::vector<Stage>& stages, const std::vector<NamedFuel>& fuels,
                         Language language, Warnings& warnings) {
    if (!warnings.wanted()) return;
    // One sentence for all points of a map of which the same is to be said.
    struct Said {
        std::size_t map;
        const plan::CalibrationWarning* first;
        std::string speeds;
    };
    std::vector<Said> all;
    for (const plan::CalibrationWarning& warning : engine.warnings) {
        std::string speed;
        if (warning.point)
            speed = quantity_text(measured[warning.map].map.points[*warning.point].speed,
                                  Quantity::angular_speed, language);
        const auto same = std::ranges::find_if(all, [&](const Said& said) {
            return said.map == warning.map && said.first->why.reason == warning.why.reason &&
                   said.first->point_unused == warning.point_unused;
        });
        if (same == all.end())
            all.push_back({warning.map, &warning, speed});
        else if (!speed.empty())
            same->speeds.append(", ").append(speed);
    }
    for (const Said& said : all) {
        const Fill fill{{"stage", stages[measured[said.map].stage].name},
                        {"fuel", fuels[measured[said.map].fuel].name},
                        {"speeds", said.speeds},
                        {"sentence", say(language, said.first->why.reason, said.first->why.details)}};
        if (said.first->point_unused)
            warnings.add(say(language, "measured, {stage} on {fuel}, {speeds}: not used; {sentence}", fill));
        else if (said.speeds.empty())
            warnings.add(say(language, "measured, {stage} on {fuel}: {sentence}", fill));
        else
            warnings.add(say(language, "measured, {stage} on {fuel}, {speeds}: {sentence}", fill));
    }
}

}  // namespace pullsheet::catalogue
