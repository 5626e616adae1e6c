// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/stage_table.hpp"

#include <algorithm>

#include "core/catalogue/engine_block.hpp"
#include "core/catalogue/families/end_of_data.hpp"
#include "core/catalogue/stages_table.hpp"
#include "core/catalogue/vehicle_block.hpp"
#include "core/catalogue/weather_block.hpp"
#include "core/plan/calibration.hpp"
#include "core/plan/cost.hpp"
#include "core/plan/stage_table.hpp"

namespace pullsheet::catalogue::families {

const BlockSchema& measured_schema() {
    static const BlockSchema schema{
        .name = "measured",
        .labels =
            {
                Label("stage", "the stage that was measured, as named in the stages table"),
                Label("fuel", "the fuel it ran on, as named in the fuels table"),
                Label("power", "crank power, not corrected to a standard", Quantity::power, "kW", above(0))
                    .of(figures::brake_power),
                Label("engine speed", "at that power", Quantity::angular_speed, "rpm", between(500, 20000))
                    .of(figures::engine_speed),
                Label("manifold pressure", "absolute, at that power", Quantity::pressure, "kPa",
                      between(50, 800))
                    .of(figures::manifold_pressure),
                Label("manifold temperature", "in the manifold", Quantity::temperature, "°C",
                      between(-40, 200))
                    .of(figures::manifold_temperature),
                Label("lambda", "air–fuel ratio / stoichiometric air–fuel ratio", Quantity::ratio, "",
                      between(0.6, 1.5))
                    .of(figures::lambda)
                    .otherwise(0.85),
                Label("knock-limited spark", "before top dead centre, where knock began", Quantity::angle,
                      "°", between(-30, 60))
                    .of(figures::spark),
            },
    };
    return schema;
}

namespace {

template <class Named>
std::size_t named(const std::vector<Named>& all, std::string_view name, Phrase unknown, Language language) {
    std::vector<std::string_view> names;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (normal_label(all[i].name) == normal_label(name)) return i;
        names.push_back(all[i].name);
    }
    throw Refused{FailureKind::wrong_argument,
                  say(language, unknown,
                      {{"parameter", "measured"}, {"value", std::string(name)}, {"choices", joined(names)}})};
}

constexpr std::size_t table_columns = 21;
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

std::string limited_by(const plan::LimitedBy& limit, const std::vector<std::string>& names) {
    if (!limit.part) switch (limit.engine) {
            case plan::EngineBound::knock: return "knock";
            case plan::EngineBound::exhaust_temperature: return "exhaust temperature";
            case plan::EngineBound::peak_pressure: return "peak pressure";
            case plan::EngineBound::assumed_peak_pressure: return "peak pressure (assumed)";
            case plan::EngineBound::measured_power_peak: return "power peak of the measured pull";
        }
    return (limit.data_end ? "missing data: " : "") + names[*limit.part];
}

/// The stage and the fuel on which the calibration was measured.
struct Measured {
    std::size_t stage, fuel;
};

Measured calibrate_table(plan::TableBase& base, const Block& measured, const std::vector<Stage>& stages,
                         const std::vector<NamedFuel>& fuels, Language language) {
    const Measured where{named(stages, measured.text("stage"), Phrase::stage_unknown, language),
                         named(fuels, measured.text("fuel"), Phrase::fuel_unknown, language)};
    plan::MeasuredMap map;
    map.parts = stages[where.stage].parts.parts;
    map.fuel = fuels[where.fuel].fuel;
    plan::MeasuredPoint point;
    point.speed = measured.number("engine speed");
    point.manifold_pressure = measured.number("manifold pressure");
    point.manifold_temperature = measured.number("manifold temperature");
    point.lambda = measured.number("lambda");
    point.spark_angle = measured.number("knock-limited spark");
    point.power = measured.number("power");
    if (const auto u = measured.uncertainty("power")) map.power_uncertainty = *u / point.power;
    map.points = {point};
    base.engine_model = plan::calibrated(base, {&map, 1}, plan::curve_speeds(base.redline));
    return where;
}

// What a prediction rests on.
std::string basis(const std::optional<Measured>& measured, std::size_t stage, std::size_t fuel) {
    if (!measured) return "uncalibrated";
    const bool same_stage = stage == measured->stage;
    const bool same_fuel = fuel == measured->fuel;
    if (same_stage && same_fuel) return "measured";
    return same_fuel    ? "extrapolated in stage"
           : same_stage ? "extrapolated in fuel"
                        : "extrapolated in stage and fuel";
}

}  // namespace

Answer stage_table(Call& call) {
    const Language language = call.language();
    const Block engine_block = call.block(0);
    const auto stages = read_stages(std::get<Table>(call.value(1)), "stages", language, call.warnings);
    plan::TableBase base;
    base.engine = engine_from(engine_block, "engine", language);
    base.engine_model.cylinder = cylinder_from(engine_block, "engine", language, call.warnings);
    if (!base.engine.redline)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::redline_needed, {{"parameter", "engine"}})};
    base.redline = *base.engine.redline;
    base.full_boost_from = engine_block.find("full boost from").value_or(0.0);
    const auto fuels =
        read_fuels(std::get<Table>(call.value(2)), "fuels", base.engine.lambda, language, call.warnings);
    if (call.given(3)) base.vehicle = vehicle_from(call.block(3), "vehicle", language);
    Day day;
    if (call.given(4)) day = day_from(call.block(4), "weather", language);
    base.weather = {day.temperature, day.pressure, day.humidity};
    base.road_weather = road_weather(day);
    std::optional<Measured> measured;
    if (call.given(5)) measured = calibrate_table(base, call.block(5), stages, fuels, language);
    for (const plan::CalibrationWarning& warning : base.engine_model.warnings) call.warn({warning.why});
    const auto time = [](const std::optional<plan::Span>& span, double plan::Span::*which) -> Cell {
        if (!span) return std::string();
        return (*span).*which;
    };
    Rows rows;
    std::vector<plan::Parts> parts_of_stages;
    parts_of_stages.reserve(stages.size());
    for (const Stage& stage : stages) parts_of_stages.push_back(stage.parts.parts);
    std::vector<plan::OfferedFuel> offered;
    offered.reserve(fuels.size());
    for (const NamedFuel& fuel : fuels) offered.push_back(fuel.fuel);
    const auto cells = plan::stage_table(base, parts_of_stages, offered);
    for (std::size_t s = 0; s < stages.size(); ++s)
        for (std::size_t f = 0; f < fuels.size(); ++f) {
            const Stage& stage = stages[s];
            const NamedFuel& fuel = fuels[f];
            const plan::TableCell& cell = cells[s * fuels.size() + f];
            if (cell.impossible) {
                rows.push_back(impossible(stage, fuel, *cell.impossible, language));
                continue;
            }
            for (const Warning& warning : cell.warnings) call.warn({warning});
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
            rows.push_back(row(
                stage.name, fuel.name, cell.torque, cell.power,
                limited_by(cell.limited_by, stage.parts.names), time(cell.time_100_200, &plan::Span::value),
                time(cell.time_60_130, &plan::Span::value), time(cell.time_quarter_mile, &plan::Span::value),
                stage.price, price ? Cell(1000.0 * *price) : Cell(std::string("no gain")), cell.power_low,
                cell.power_high, time(cell.time_100_200, &plan::Span::low),
                time(cell.time_100_200, &plan::Span::high), cell.manifold_pressure, cell.spark_angle,
                cell.power_speed, cell.gas_temperature, cell.peak_pressure, cell.half_burned_angle,
                basis(measured, s, f)));
            if (cell.limited_by.engine == plan::EngineBound::assumed_peak_pressure && !cell.limited_by.part)
                call.warn(
                    say(language,
                        "{stage} on {fuel}: not knock but an assumed peak pressure of {pressure} limits "
                        "the power; state the largest peak pressure of the engine, or a compressor map",
                        {{"stage", stage.name},
                         {"fuel", fuel.name},
                         {"pressure",
                          quantity_text(base.engine_model.peak_pressure, Quantity::pressure, language)}}));
        }
    return rows;
}

}  // namespace pullsheet::catalogue::families
