// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/offer.hpp"

#include "core/catalogue/engine_block.hpp"
#include "core/catalogue/families/end_of_data.hpp"
#include "core/catalogue/weather_block.hpp"

namespace pullsheet::catalogue::families {
namespace {

/// A measured power that is predicted with another share off is not given back.
constexpr double same_power = 0.01;

// Whether a point could not be used, and why.
const plan::CalibrationWarning* unused(const plan::CalibratedEngine& engine, const plan::GivenBack& back) {
    for (const plan::CalibrationWarning& warning : engine.warnings)
        if (warning.point_unused && warning.map == back.map && warning.point == back.point) return &warning;
    return nullptr;
}

bool falls_short(const plan::GivenBack& back, const plan::MeasuredPoint& point) {
    return back.impossible || back.limit.power < point.power * (1.0 - same_power);
}

// Something holds the engine below what was measured: parts or limits contradict the measurement.
void warn_of_shortfall(Call& call, const Offer& offer) {
    const Language language = call.language();
    for (std::size_t m = 0; m < offer.measured.size(); ++m) {
        const MeasuredCell& cell = offer.measured[m];
        std::string speeds;
        for (const plan::GivenBack& back : plan::given_back(offer.base, {&cell.map, 1})) {
            const plan::MeasuredPoint& point = cell.map.points[back.point];
            plan::GivenBack of_map = back;
            of_map.map = m;
            if (unused(offer.base.engine_model, of_map) || !falls_short(back, point)) continue;
            if (!speeds.empty()) speeds.append(", ");
            speeds.append(quantity_text(point.speed, Quantity::angular_speed, language));
        }
        if (speeds.empty()) continue;
        call.warn(
            say(language,
                "measured, {stage} on {fuel}, {speeds}: parts or stated limits hold the engine below the "
                "measured power; BUILD.CALIBRATION says which",
                {{"stage", offer.stages[cell.stage].name},
                 {"fuel", offer.fuels[cell.fuel].name},
                 {"speeds", speeds}}));
    }
}

}  // namespace

Offer read_offer(Call& call, const OfferArguments& at) {
    const Language language = call.language();
    const auto name = [&](std::size_t i) { return call.function().parameters[i].name; };
    const auto table = [&](std::size_t i) -> const Table& { return std::get<Table>(call.value(i)); };
    const Block engine = call.block(at.engine);
    Offer offer;
    plan::TableBase& base = offer.base;
    offer.stages = read_stages(table(at.stages), name(at.stages), language, call.warnings);
    base.engine = engine_from(engine, name(at.engine), language);
    base.engine_model.cylinder = cylinder_from(engine, name(at.engine), language, call.warnings);
    if (!base.engine.redline)
        throw Refused{FailureKind::wrong_argument,
                      say(language, Phrase::redline_needed, {{"parameter", std::string(name(at.engine))}})};
    base.redline = *base.engine.redline;
    base.full_boost_from = engine.find("full boost from").value_or(0.0);
    offer.fuels = read_fuels(table(at.fuels), name(at.fuels), base.engine.lambda, language, call.warnings);
    Day day;
    if (call.given(at.weather)) day = day_from(call.block(at.weather), name(at.weather), language);
    base.weather = {day.temperature, day.pressure, day.humidity};
    base.road_weather = road_weather(day);
    if (!call.given(at.measured)) return offer;
    offer.measured = read_measured(table(at.measured), name(at.measured), offer.stages, offer.fuels, language,
                                   call.warnings);
    base.engine_model = plan::calibrated(base, maps_of(offer.measured), plan::curve_speeds(base.redline),
                                         call.warnings.wanted());
    warn_of_calibration(base.engine_model, offer.measured, offer.stages, offer.fuels, language,
                        call.warnings);
    if (call.warnings.wanted()) warn_of_shortfall(call, offer);
    return offer;
}

Answer calibration(Call& call) {
    const Offer offer = read_offer(call, {0, 1, 2, 4, 3});
    const plan::CalibratedEngine& engine = offer.base.engine_model;
    Rows rows;
    const auto maps = maps_of(offer.measured);
    for (const plan::GivenBack& back : plan::given_back(offer.base, maps)) {
        const MeasuredCell& cell = offer.measured[back.map];
        const plan::MeasuredPoint& point = cell.map.points[back.point];
        const Stage& stage = offer.stages[cell.stage];
        const std::string& fuel = offer.fuels[cell.fuel].name;
        const cycle::Cylinder& cylinder = back.cylinder;
        // A value of a cell is the same in every language.
        std::string remark;
        if (const plan::CalibrationWarning* not_used = unused(engine, back))
            remark = "not used: " + say(Language::english, not_used->why.reason, not_used->why.details);
        else if (falls_short(back, point))
            remark = "below the measured power";
        else if (!point.knock_began)
            remark = "knock did not begin";
        const auto limit = [&](double plan::StageLimit::*value) -> Cell {
            if (back.impossible) return std::string();
            return back.limit.*value;
        };
        const std::string limiting =
            back.impossible ? say(Language::english, back.impossible->reason, back.impossible->details)
                            : limited_by(back.limit.limited_by, stage.parts.names);
        rows.push_back(row(stage.name, fuel, point.speed, point.power, limit(&plan::StageLimit::power),
                           limiting, cylinder.octane_offset, cylinder.efficiency_factor,
                           cylinder.volumetric_efficiency.at(point.speed),
                           limit(&plan::StageLimit::half_burned_angle),
                           limit(&plan::StageLimit::gas_temperature), limit(&plan::StageLimit::peak_pressure),
                           cylinder.octane_index_k, cylinder.burn_duration, cylinder.exhaust_heat_transfer,
                           cylinder.probe_reads_low_by, remark));
    }
    return rows;
}

}  // namespace pullsheet::catalogue::families
