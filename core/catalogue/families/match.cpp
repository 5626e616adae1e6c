// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <exception>
#include <limits>

#include "core/catalogue/engine_block.hpp"
#include "core/catalogue/families/build_parameters.hpp"
#include "core/catalogue/families/end_of_data.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/labelled.hpp"
#include "core/catalogue/measured_table.hpp"
#include "core/plan/boost_response.hpp"
#include "core/plan/boost_threshold.hpp"
#include "core/plan/full_load_curve.hpp"

namespace pullsheet::catalogue::families {
namespace {

constexpr double rpm = pi / 30.0;
constexpr double slowest_match = 1000.0 * rpm;  // where the search for a threshold begins
constexpr double fastest_match = 8000.0 * rpm;  // where it ends without a redline
constexpr double two_thresholds = 50.0 * rpm;   // apart
constexpr double high_exhaust_pressure = 1.3;   // of the manifold pressure
constexpr double hot_gas = 1323.15;             // K, reading
constexpr double near_surge = 0.05;
constexpr double most_rows = 200;

std::string shown(const Call& call, double si, Quantity quantity, std::string_view symbol) {
    const Unit* unit = find_unit(symbol);
    return number_text(unit->from_si(si, quantity), unit, call.language());
}

/// An engine speed in whole rpm.
std::string speed_text(const Call& call, double speed) {
    return shown(call, std::round(speed / rpm) * rpm, Quantity::angular_speed, "rpm");
}

/// The engine with its parts that a call is about.
struct MatchCall {
    MatchCall(Call& call, std::size_t engine, std::size_t parts_place, std::size_t fuel_place,
              std::size_t weather, std::size_t map, std::optional<std::size_t> turbine_map)
        : parts(parts_at(call, parts_place, map_at(call, map))) {
        base.engine = engine_at(call, engine);
        const Block block = call.block(engine);
        const std::string_view name = call.function().parameters[engine].name;
        base.engine_model.cylinder = cylinder_from(block, name, call.language(), call.warnings);
        base.weather = weather_at(call, weather);
        fuel = {call.fuel(fuel_place), base.engine.lambda};
        if (turbine_map) add_turbine_map(call, *turbine_map, parts);
        if (block.find("full boost from"))
            call.warn(say(call.language(),
                          "\"full boost from\" of the engine block has no effect: the turbine decides", {}));
    }

    double slowest() const {
        return std::fmax(slowest_match, base.engine.volumetric_efficiency.lowest_speed());
    }
    double fastest() const {
        return std::fmin(base.engine.redline.value_or(fastest_match),
                         base.engine.volumetric_efficiency.highest_speed());
    }

    NamedParts parts;
    plan::StageBase base;
    plan::OfferedFuel fuel;
};

/// What is to be said of an engine and its turbine at several speeds: once, with the speeds.
class SpeedNotes {
  public:
    explicit SpeedNotes(Call& call) : call_(call) {}

    /// `sentence` contains {speeds}.
    void add(std::string_view sentence, double speed) {
        for (Note& note : notes_)
            if (note.sentence == sentence) {
                note.last = speed;
                return;
            }
        notes_.push_back({sentence, speed, speed});
    }
    void warn() {
        for (const Note& note : notes_)
            call_.warn(
                say(call_.language(), note.sentence,
                    {{"speeds", note.first == note.last ? speed_text(call_, note.first)
                                                        : say(call_.language(), "{first} to {last}",
                                                              {{"first", speed_text(call_, note.first)},
                                                               {"last", speed_text(call_, note.last)}})}}));
    }

  private:
    struct Note {
        std::string_view sentence;
        double first, last;
    };
    Call& call_;
    std::vector<Note> notes_;
};

void note_load(SpeedNotes& notes, const MatchCall& of, double manifold_pressure,
               const plan::BoostedLoad& load) {
    const double speed = load.point.speed;
    const double ratio = load.expansion.outlet_pressure > 0.0 ? load.expansion.pressure_ratio() : 1.0;
    if (ratio > boost::usual_highest_expansion_ratio)
        notes.add(
            marked("{speeds}: the expansion ratio of the turbine is above 4, where turbines of one stage "
                   "are hardly measured"),
            speed);
    if (load.expansion.inlet_pressure > high_exhaust_pressure * manifold_pressure)
        notes.add(marked("{speeds}: the pressure before the turbine is more than 1.3 times that in the "
                         "manifold: the turbine is small for this engine"),
                  speed);
    if (cycle::gas_temperature_reading(of.base.engine_model.cylinder, load.cycle) > hot_gas + 0.5)
        notes.add(marked("{speeds}: a probe before the turbine reads more than 1050 °C"), speed);
    if (load.point.surge_margin < near_surge)
        notes.add(marked("{speeds}: the compressor is near surge or in it"), speed);
    for (const plan::Part& part : of.parts.parts) {
        const auto* turbine = std::get_if<boost::Turbine>(&part);
        if (turbine && turbine->map && ratio > 1.0 && turbine->map->at(ratio).extrapolated)
            notes.add(
                marked("{speeds}: the expansion ratio lies outside the turbine map, which is extrapolated"),
                speed);
        const auto* compressor = std::get_if<plan::Compressor>(&part);
        if (compressor && !compressor->map)
            notes.add(
                marked("{speeds}: without a compressor map one efficiency holds everywhere, and surge is "
                       "not looked at"),
                speed);
    }
}

void warn_of_build(Call& call, const MatchCall& of, const plan::BoostedEngine& engine) {
    if (of.base.engine_model.maps.empty())
        call.warn(std::string(
            translated(call.language(),
                       "not calibrated to a measured point: boost threshold and torque are estimates")));
    if (!engine.exhaust_side().system())
        call.warn({{Reason::no_exhaust_system, {{of.base.weather.pressure, Quantity::pressure}}}});
}

/// Calibrates the engine to what was measured on these parts and this fuel, parameter `i`, if it is given.
void calibrate(Call& call, std::size_t i, MatchCall& of, double from, double to) {
    if (!call.given(i)) return;
    const std::vector<Stage> stages{{"these parts", of.parts, 0.0}};
    const std::vector<NamedFuel> fuels{{"this fuel", of.fuel}};
    const auto measured = read_measured(std::get<Table>(call.value(i)), call.function().parameters[i].name,
                                        stages, fuels, call.language(), call.warnings);
    const auto maps = maps_of(measured);
    constexpr int speeds_looked_at = 6;
    std::vector<double> speeds;
    for (int k = 0; k < speeds_looked_at; ++k)
        speeds.push_back(std::lerp(from, to, k / (speeds_looked_at - 1.0)));
    of.base.engine_model = plan::calibrated_with_turbine(of.base, maps, speeds);
    warn_of_calibration(of.base.engine_model, measured, stages, fuels, call.language(), call.warnings);
}

std::string held_by(const plan::CurvePoint& at, const NamedParts& parts) {
    switch (at.held) {
        case plan::Held::turbine: return "turbine";
        case plan::Held::wastegate: return "wastegate (boost creep)";
        case plan::Held::surge: return "surge";
        case plan::Held::throttle: return "throttle: " + limited_by(at.limited_by, parts.names);
        case plan::Held::ceiling: break;
    }
    return limited_by(at.limited_by, parts.names);
}

constexpr std::size_t curve_columns = 19;

std::vector<Cell> curve_row(const MatchCall& of, const plan::BoostedEngine& engine,
                            const plan::CurvePoint& at) {
    const plan::BoostedLoad& load = at.load;
    const auto known = [](double value) {
        return std::isfinite(value) ? Cell(value) : Cell(std::string("not known"));
    };
    const cycle::BoostBounds bounds = plan::boost_bounds(engine.base(), of.parts.parts, at.speed);
    return row(
        at.speed, load.cycle.torque, load.cycle.power, held_by(at, of.parts),
        at.manifold_pressure - of.base.weather.pressure, at.manifold_pressure, load.expansion.inlet_pressure,
        load.expansion.wastegate_share, load.point.air_flow, load.point.corrected_flow,
        load.point.pressure_ratio, known(load.point.surge_margin), known(load.point.shaft_speed),
        cycle::gas_temperature_reading(of.base.engine_model.cylinder, load.cycle), load.cycle.peak_pressure,
        load.spark_angle, bounds.latest_half_burned, at.torque_low, at.torque_high);
}

Answer full_load_curve(Call& call) {
    MatchCall of(call, 0, 1, 5, 6, 7, 8);
    const double from = call.si(2), to = call.si(3), step = call.si(4);
    if (!(to >= from))
        throw Refused{FailureKind::wrong_argument,
                      say(call.language(), "the last speed, {to}, lies below the first, {from}",
                          {{"to", speed_text(call, to)}, {"from", speed_text(call, from)}})};
    const double rows_wanted = std::floor((to - from) / step + 1e-9) + 1.0;
    if (rows_wanted > most_rows)
        throw Refused{FailureKind::wrong_argument,
                      say(call.language(), "that would be {rows} rows; {most} are the most",
                          {{"rows", number_text(rows_wanted, call.language())},
                           {"most", number_text(most_rows, call.language())}})};
    calibrate(call, 9, of, from, to);
    const plan::BoostedEngine engine(of.base, of.parts.parts, of.fuel);
    const auto& peak_speed = engine.base().engine_model.fit.power_peak_speed;
    warn_of_build(call, of, engine);
    SpeedNotes notes(call);
    Rows rows;
    plan::FullLoadCurve curve(engine);
    std::exception_ptr first_failure;
    const auto fail = [&](double speed, const auto& error) {
        if (!first_failure) first_failure = std::current_exception();
        const Failure failure{FailureKind::no_solution,
                              "BUILD.CURVE: " + say(call.language(), error.reason(), error.details())};
        std::vector<Cell> cells(curve_columns, failure);
        cells[0] = speed;
        rows.push_back(std::move(cells));
    };
    bool any = false;
    for (double i = 0.0; i < rows_wanted; ++i) {
        const double speed = from + i * step;
        if (of.base.engine.redline && speed > *of.base.engine.redline * (1.0 + 1e-9))
            notes.add(marked("{speeds}: above the redline"), speed);
        if (peak_speed && speed > *peak_speed * (1.0 + 1e-9))
            notes.add(marked("{speeds}: above the speed at which the power of the measured pull peaked"),
                      speed);
        try {
            const plan::CurvePoint at = curve.at(speed);
            rows.push_back(curve_row(of, engine, at));
            any = true;
            note_load(notes, of, at.manifold_pressure, at.load);
            if (at.creeps)
                notes.add(
                    marked("{speeds}: the wastegate, fully open, does not hold the boost (boost creep)"),
                    speed);
            if (at.held == plan::Held::ceiling && !at.limited_by.part &&
                at.limited_by.engine == plan::EngineBound::assumed_peak_pressure)
                notes.add(
                    marked("{speeds}: an assumed peak pressure limits the torque; state the largest peak "
                           "pressure of the engine"),
                    speed);
            if (at.limited_by.data_end)
                call.warn(say(call.language(),
                              "{speed}: missing data of {part} limit the result ({end}); add points to its "
                              "table, or state its limit",
                              {{"speed", speed_text(call, speed)},
                               {"part", of.parts.names[*at.limited_by.part]},
                               {"end", end_of_data(*at.limited_by.data_end, call.language())}}));
        } catch (const NoSolution& error) {
            fail(speed, error);
        } catch (const NoData& error) {
            fail(speed, error);
        }
    }
    if (!any) std::rethrow_exception(first_failure);
    notes.warn();
    return rows;
}

Answer area_for_boost(Call& call) {
    const MatchCall of(call, 0, 1, 4, 5, 6, {});
    const double speed = call.si(2);
    const double pressure = of.base.weather.pressure + call.si(3);
    const plan::BoostedEngine engine(of.base, of.parts.parts, of.fuel);
    const plan::AreaAnswer found = plan::area_for_boost(of.base, of.parts.parts, of.fuel, speed, pressure);
    warn_of_build(call, of, engine);
    const auto area = [&](double si) { return shown(call, si, Quantity::area, "cm²"); };
    if (found.area.from_below < 0.99 * found.area.balance)
        call.warn(say(call.language(),
                      "once there, the boost is held with up to {held}; with more than {reached} it is not "
                      "reached from below",
                      {{"held", area(found.area.balance)}, {"reached", area(found.area.from_below)}}));
    if (pressure > found.bears * (1.0 + 1e-6))
        call.warn(say(call.language(), "at {speed} the engine bears a boost of {bears} only",
                      {{"speed", speed_text(call, speed)},
                       {"bears", shown(call, found.bears - of.base.weather.pressure,
                                       Quantity::pressure_difference, "bar")}}));
    SpeedNotes notes(call);
    note_load(notes, of, pressure, found.load);
    notes.warn();
    return found.area.from_below;
}

[[noreturn]] void refuse_threshold(const Call& call, const plan::Threshold& at, double ambient_pressure) {
    constexpr Quantity difference = Quantity::pressure_difference;
    throw Refused{
        FailureKind::no_solution,
        say(call.language(),
            "the turbine gives {boost} of boost at no engine speed; the highest is {highest} at {speed}",
            {{"boost", shown(call, call.si(2), difference, "bar")},
             {"highest", shown(call, at.highest_pressure - ambient_pressure, difference, "bar")},
             {"speed", speed_text(call, at.highest_speed)}})};
}

Answer boost_threshold(Call& call) {
    const MatchCall of(call, 0, 1, 3, 4, 5, 6);
    const double pressure = of.base.weather.pressure + call.si(2);
    const plan::BoostedEngine engine(of.base, of.parts.parts, of.fuel);
    const plan::ThresholdBand band = plan::boost_threshold(engine, pressure, of.slowest(), of.fastest());
    if (!band.threshold.rising) refuse_threshold(call, band.threshold, of.base.weather.pressure);
    warn_of_build(call, of, engine);
    const double rising = *band.threshold.rising;
    const double falling = band.threshold.falling.value_or(rising);
    if (rising <= of.slowest() * (1.0 + 1e-9))
        call.warn(say(call.language(),
                      "the boost is there at {speed} already, below which nothing is searched",
                      {{"speed", speed_text(call, rising)}}));
    if (rising - falling > two_thresholds)
        call.warn(
            say(call.language(),
                "two thresholds: going up through the speeds the boost is there from {rising} on, going "
                "down it is held to {falling}",
                {{"rising", speed_text(call, rising)}, {"falling", speed_text(call, falling)}}));
    call.warn(say(call.language(),
                  "the threshold is known to about {band} either way; the spark is not retarded to build "
                  "boost, so that it errs to the late side",
                  {{"band", speed_text(call, rising - *band.low)}}));
    const plan::BoostedSpeed at(engine, rising);
    plan::BoostedSpeed::Near near;
    SpeedNotes notes(call);
    note_load(notes, of, pressure, at.shut(pressure, near));
    notes.warn();
    const double nothing = std::numeric_limits<double>::quiet_NaN();
    const auto row_of = [&](const char* label, double speed) {
        return labelled(call, label, speed, Quantity::angular_speed, "rpm", figures::engine_speed);
    };
    return Rows{row_of("boost threshold rising", rising), row_of("boost threshold falling", falling),
                row_of("boost threshold low", *band.low),
                row_of("boost threshold high", band.high.value_or(nothing))};
}

Answer response(Call& call) {
    const MatchCall of(call, 0, 1, 3, 4, 7, 8);
    const plan::BoostedEngine engine(of.base, of.parts.parts, of.fuel);
    const double speed = call.si(2);
    const plan::BoostResponse found = plan::boost_response(engine, speed, call.si(5), call.si(6));
    warn_of_build(call, of, engine);
    SpeedNotes notes(call);
    note_load(notes, of, found.full_load.manifold_pressure, found.full_load.load);
    notes.warn();
    if (found.full_load.held == plan::Held::turbine)
        call.warn(say(call.language(),
                      "at {speed} the turbine gives less boost than wanted: the share is that of the torque "
                      "that it gives",
                      {{"speed", speed_text(call, speed)}}));
    const auto moment = [&](const plan::SpoolMoment& at) {
        return row(at.time, speed, at.shaft_speed, at.manifold_pressure - of.base.weather.pressure,
                   at.torque);
    };
    // The time first, then how it comes about.
    Rows rows{moment(found.moments.back())};
    for (const plan::SpoolMoment& at : found.moments) rows.push_back(moment(at));
    return rows;
}

constexpr const char* match_method =
    "Turbine power with the wastegate shut against the power of the compressor; the boost comes from below, "
    "so that it has to pass every pressure on its way. Torque and gas temperature come from the cycle at the "
    "knock limit or best torque, no later than the latest 50 % burned angle; the exhaust gas is that of the "
    "cycle, frozen. Filling falls with the pressure before the turbine. The spark is not retarded to build "
    "boost.";

Parameter boost_wanted() {
    return number("boost", "boost in the manifold over the surroundings", Quantity::pressure_difference,
                  "bar", {0.0, 8.0, true, false})
        .of(figures::boost);
}

Parameter curve_speed(Text name, Text meaning) {
    return number(name, meaning, Quantity::angular_speed, "rpm", between(500, 15000))
        .of(figures::engine_speed);
}

}  // namespace

std::vector<Function> build_match() {
    const Table engine = examples::measured_engine();
    const Table parts = examples::boosted_parts();
    const Table map = examples::compressor_map();
    return {
        {
            .name = "BUILD.CURVE",
            .summary = "Torque curve at full load with a turbocharger, and what limits it at each speed",
            .parameters =
                {engine_parameter(), parts_parameter(), curve_speed("from_speed", "first engine speed"),
                 curve_speed("to_speed", "last engine speed"),
                 number("speed_step", "from row to row", Quantity::angular_speed, "rpm", between(1, 10000))
                     .of(figures::engine_speed)
                     .otherwise(250),
                 fuel_parameter(), weather_parameter(), optional_map(), optional_turbine_map(),
                 block("measured",
                       "what was measured with these parts on this fuel: a block with one point, or "
                       "a table with a header row, the labels as columns and one row for each "
                       "engine speed",
                       measured_schema())
                     .optional("the cycle is not calibrated; the uncertainty is large")},
            .result = Result::table(
                "one row per engine speed",
                {{"engine speed", Quantity::angular_speed, "rpm", figures::engine_speed},
                 {"torque", Quantity::torque, "N·m", figures::torque},
                 {"power", Quantity::power, "kW", figures::power},
                 {"limited by"},
                 {"boost", Quantity::pressure_difference, "bar", figures::boost},
                 {"manifold pressure", Quantity::pressure, "kPa", figures::manifold_pressure},
                 {"pressure before the turbine", Quantity::pressure, "kPa", figures::gas_pressure},
                 {"wastegate flow share", figures::share},
                 {"air flow", Quantity::mass_flow, "g/s", figures::air_flow},
                 {"corrected flow", Quantity::mass_flow, "g/s", figures::corrected_flow},
                 {"pressure ratio", figures::pressure_ratio},
                 {"surge margin", figures::margin},
                 {"shaft speed", Quantity::angular_speed, "rpm", figures::shaft_speed},
                 {"gas temperature", Quantity::temperature, "°C", figures::gas_temperature},
                 {"peak pressure", Quantity::pressure, "bar", figures::peak_pressure},
                 {"spark angle", Quantity::angle, "°", figures::spark},
                 {"latest 50 % burned angle", Quantity::angle, "°", figures::crank_angle},
                 {"torque low", Quantity::torque, "N·m", figures::torque},
                 {"torque high", Quantity::torque, "N·m", figures::torque}}),
            .method =
                "At each speed the least of what turbine, boost control, parts and engine allow (knock, gas "
                "temperature, peak pressure, latest 50 % burned angle). Turbine: its power with the "
                "wastegate "
                "shut against that of the compressor, the boost coming from below; above that the wastegate "
                "holds. A compressor left of its surge line is limited by surge. The gas temperature is what "
                "a probe reads. The right and upper edges of a map are missing data, unless the largest "
                "flow, "
                "ratio or speed is stated. Low and high are two standard uncertainties away: cycle 2 % and 8 "
                "% "
                "without calibration, 1.5 octane numbers, an assumed peak pressure 8 %, ratings of parts 3 "
                "%; "
                "effective area 5 %, turbine and compressor efficiency 0.03, gas temperature 30 K, filling 3 "
                "%, pressure after the turbine 10 kPa, pulse amplitude 0.6. No substitute for knock "
                "detection, "
                "exhaust temperature and lambda measured on the rollers.",
            .sources = {"Watson & Janota 1982", "Heywood 1988", "Dixon & Hall 2014", "Livengood & Wu 1955",
                        "Douaud & Eyzat 1978", "GUM"},
            .example = {{engine, parts, 2000.0, 6500.0, 500.0, 0.0, examples::weather(), map},
                        224.6659091,
                        1e-5,
                        2,
                        1},
            .compute = full_load_curve,
            .remembered = true,
        },
        {
            .name = "BUILD.THRESHOLD",
            .summary = "Engine speed from which a boost is there",
            .parameters = {engine_parameter(), parts_parameter(), boost_wanted(), fuel_parameter(),
                           weather_parameter(), optional_map(), optional_turbine_map()},
            .result = Result::labelled(
                "the threshold going up through the speeds, going down, and its band of two standard "
                "uncertainties"),
            .method = match_method,
            .sources = {"Watson & Janota 1982", "Heywood 1988", "GUM"},
            .example = {{engine, parts, 0.9, 0.0, examples::weather(), map}, 2997.919194, 1e-5, 1, 1},
            .compute = boost_threshold,
            .accuracy = "uncalibrated; standard uncertainties: effective area 5 %, turbine and compressor "
                        "efficiency 0.03, gas temperature 30 K, filling 3 %, pressure after the turbine 10 "
                        "kPa, pulse amplitude 0.6",
            .remembered = true,
        },
        {
            .name = "BUILD.TURBINE.AREA",
            .summary = "Effective area of a turbine with which a boost is there at an engine speed",
            .parameters = {engine_parameter(), parts_parameter(), curve_speed("speed", "engine speed"),
                           boost_wanted(), fuel_parameter(), weather_parameter(), optional_map()},
            .result = Result::number("effective area of each turbine, with which the boost is reached from "
                                     "below",
                                     Quantity::area, "cm²")
                          .of(figures::effective_area),
            .method = match_method,
            .sources = {"Watson & Janota 1982", "Heywood 1988"},
            .example = {{engine, parts, 3000.0, 0.9, 0.0, examples::weather(), map}, 9.006909526, 1e-5},
            .compute = area_for_boost,
            .remembered = true,
        },
        {
            .name = "BUILD.RESPONSE",
            .summary = "Time until the torque is there after the throttle is opened",
            .parameters = {engine_parameter(), parts_parameter(), curve_speed("speed", "engine speed"),
                           fuel_parameter(), weather_parameter(),
                           number("start_pressure",
                                  "pressure in the manifold with which the shaft was in "
                                  "balance before the throttle is opened, absolute",
                                  Quantity::pressure, "kPa", between(20, 900))
                               .of(figures::manifold_pressure)
                               .otherwise(100),
                           share("share", "of the torque at full load at that speed",
                                 {0.1, 1.0, false, false})
                               .otherwise(0.9),
                           optional_map(), optional_turbine_map()},
            .result = Result::table("first the time, then the moments on the way",
                                    {{"time", Quantity::time, "s", figures::moment},
                                     {"engine speed", Quantity::angular_speed, "rpm", figures::engine_speed},
                                     {"shaft speed", Quantity::angular_speed, "rpm", figures::shaft_speed},
                                     {"boost", Quantity::pressure_difference, "bar", figures::boost},
                                     {"torque", Quantity::torque, "N·m", figures::torque}}),
            .method =
                "The surplus of turbine power with the wastegate shut accelerates the shaft; the engine "
                "speed is "
                "held. Manifold and pipes fill at once, and the spark is not retarded to build boost. The "
                "shaft speed follows from the compressor map, below its slowest line by similarity, or from "
                "the "
                "wheel diameter.",
            .formula = "J·ω·dω/dt = P_t - P_c",
            .symbols = "J inertia of the shaft with both wheels, ω its speed, P_t power of the turbine, P_c "
                       "power that the compressor takes up",
            .sources = {"Watson & Janota 1982", "Dixon & Hall 2014"},
            .example =
                {{engine, parts, 3500.0, 0.0, examples::weather(), 100.0, 0.9, map}, 1.0559061, 1e-5, 1, 0},
            .compute = response,
            .remembered = true,
        },
    };
}

}  // namespace pullsheet::catalogue::families
