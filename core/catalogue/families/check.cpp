// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/engine_block.hpp"
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/vehicle_block.hpp"
#include "core/catalogue/weather_block.hpp"
#include "core/injection/injector.hpp"
#include "core/plan/power_check.hpp"
#include "core/statistics/agreement.hpp"

namespace pullsheet::catalogue::families {
namespace {

// The rows of both checks: quantity, value, standard uncertainty, normalised deviation, degrees of freedom,
// p, verdict.
std::vector<Cell> consensus(const statistics::Agreement& found) {
    return row(std::string("weighted mean"), found.mean, found.uncertainty, std::string(),
               static_cast<double>(found.freedom), found.p,
               std::string(found.agrees ? "all agree" : "do not agree"));
}

std::vector<Cell> value_alone(const char* label, double value) {
    return row(std::string(label), value, std::string(), std::string(), std::string(), std::string(),
               std::string());
}

std::vector<Cell> compared(std::string name, double value, double uncertainty,
                           const statistics::Agreement& found, std::size_t i) {
    return row(std::move(name), value, uncertainty, found.comparisons[i].deviation, std::string(),
               std::string(),
               std::string(found.comparisons[i].agrees            ? "agrees"
                           : i == found.farthest && !found.agrees ? "stands out, farthest"
                                                                  : "stands out"));
}

Answer agreement(Call& call) {
    const auto values = call.series(0);
    const auto uncertainties = call.series(1);
    const auto found = statistics::agreement(values, uncertainties, call.si(2));
    Rows rows;
    rows.push_back(consensus(found));
    rows.push_back(value_alone("χ²", found.chi_squared));
    rows.push_back(value_alone("Birge ratio", found.birge_ratio));
    for (std::size_t i = 0; i < values.size(); ++i)
        rows.push_back(compared("value " + std::to_string(i + 1), values[i], uncertainties[i], found, i));
    return rows;
}

const BlockSchema& evidence_schema() {
    static const BlockSchema schema{
        .name = "evidence",
        .labels =
            {
                Label("rollers", "greatest crank power from the rollers, not corrected to a standard",
                      Quantity::power, "kW", above(0))
                    .of(figures::brake_power)
                    .optional(),
                Label("air flow", "at the greatest power", Quantity::mass_flow, "g/s", above(0))
                    .of(figures::air_flow)
                    .optional(),
                Label("injector duty", "at the greatest power", Quantity::share, "", unit_share)
                    .of(figures::share)
                    .optional(),
                Label("road time", "time from one speed to another", Quantity::time, "s", above(0))
                    .of(figures::run_time)
                    .optional(),
                Label("from", "speed at the start of the road time", Quantity::speed, "km/h", between(0, 400))
                    .of(figures::road_speed)
                    .otherwise(100),
                Label("to", "speed at its end", Quantity::speed, "km/h", between(1, 500))
                    .of(figures::road_speed)
                    .otherwise(200),
                Label("trap speed", "mean speed over the last 66 ft of the distance", Quantity::speed, "km/h",
                      above(0))
                    .of(figures::road_speed)
                    .optional(),
                Label("distance", "from rest to the end of the trap", Quantity::length, "m",
                      between(50, 5000))
                    .of(figures::distance)
                    .otherwise(402.336),
                Label("injectors", "number of injectors", Quantity::count, "", between(1, 96)).optional(),
                Label("injector flow", "of one injector held open, at the pressure of the pull",
                      Quantity::volume_flow, "cc/min", above(0))
                    .of(figures::injector_flow)
                    .by_mass_too(injection::test_fluid_density)
                    .optional(),
                Label("engine speed", "at the duty; needed with a dead time", Quantity::angular_speed, "rpm",
                      above(0))
                    .of(figures::engine_speed)
                    .optional(),
                Label("dead time", "dead time per pulse: opening delay less closing delay", Quantity::time,
                      "ms", between(0, 10))
                    .of(figures::dead_time)
                    .otherwise(0),
                Label("torque at # rpm", "a point of the torque curve, for its shape", Quantity::torque,
                      "N·m", above(0))
                    .of(figures::torque)
                    .optional(),
            },
    };
    return schema;
}

// A reading with its uncertainty; the default is the share of the reading that is common practice.
std::optional<plan::Reading> reading(const Block& block, std::string_view label, double usual_share) {
    const auto value = block.find(label);
    if (!value) return std::nullopt;
    return plan::Reading{*value, block.uncertainty(label).value_or(usual_share * *value)};
}

Answer power(Call& call) {
    const Block block = call.block(0);
    plan::PowerEvidence evidence;
    evidence.rollers = reading(block, "rollers", 0.03);
    evidence.air_flow = reading(block, "air flow", 0.03);
    evidence.injector_duty = reading(block, "injector duty", 0.02);
    evidence.road_time = reading(block, "road time", 0.01);
    evidence.trap_speed = reading(block, "trap speed", 0.01);
    evidence.from = block.number("from");
    evidence.to = block.number("to");
    evidence.distance = block.number("distance");
    plan::PowerAssumptions assumptions;
    if (call.given(1)) {
        const Block engine = call.block(1);
        assumptions.efficiency = {engine.number("efficiency"),
                                  engine.uncertainty("efficiency").value_or(0.015)};
        assumptions.lambda = {engine.number("lambda"), engine.uncertainty("lambda").value_or(0.01)};
    }
    if (const auto count = block.find("injectors")) assumptions.injectors = *count;
    if (const auto flow = reading(block, "injector flow", 0.02)) assumptions.injector_flow = *flow;
    if (const auto speed = block.find("engine speed")) assumptions.injector_speed = *speed;
    assumptions.dead_time = block.number("dead time");
    assumptions.fuel = call.fuel(3);
    Day day;
    if (call.given(4)) day = day_from(call.block(4), "weather", call.language());
    assumptions.weather = road_weather(day);
    if (call.given(2)) {
        assumptions.vehicle = vehicle_from(call.block(2), "vehicle", call.language());
        assumptions.road_uncertainty = plan::usual_uncertainty(*assumptions.vehicle, assumptions.weather);
    }
    const auto points = block.numbered("torque at # rpm");
    if (!points.empty()) {
        std::vector<double> speeds;
        std::vector<double> torques;
        for (const auto& [rpm, torque] : points) {
            speeds.push_back(find_unit("rpm")->to_si(rpm, Quantity::angular_speed));
            torques.push_back(torque);
        }
        assumptions.curve.emplace(speeds, torques);
    }
    const auto found = plan::power_check(evidence, assumptions, call.si(5));
    const auto& agreement = found.agreement;
    Rows rows;
    rows.push_back(consensus(agreement));
    for (std::size_t i = 0; i < found.measurements.size(); ++i) {
        const auto& measurement = found.measurements[i];
        std::string name;
        switch (measurement.evidence) {
            case plan::Evidence::rollers: name = "rollers"; break;
            case plan::Evidence::air_flow: name = "air flow"; break;
            case plan::Evidence::injector_duty: name = "injector duty"; break;
            case plan::Evidence::road_time: name = "road time"; break;
            case plan::Evidence::trap_speed: name = "trap speed"; break;
        }
        rows.push_back(compared(name, measurement.power, measurement.uncertainty, agreement, i));
    }
    return rows;
}

}  // namespace

std::vector<Function> check() {
    return {
        {
            .name = "CHECK.AGREEMENT",
            .summary = "Do several values of one quantity agree within their uncertainties?",
            .parameters =
                {plain_series("values", "values of one quantity, in one unit").of(figures::anything),
                 plain_series("standard_uncertainties", "their standard uncertainties, in the same unit")
                     .of(figures::anything),
                 share("confidence", "confidence level", {0.5, 0.9999, false, false}).otherwise(0.95)},
            .result = Result::table("weighted mean, χ² test, and each value against the mean of the others",
                                    {{"quantity"},
                                     {"value", figures::anything},
                                     {"standard uncertainty", figures::anything},
                                     {"normalised deviation", figures::anything},
                                     {"degrees of freedom", figures::not_negative_figure},
                                     {"p", figures::probability},
                                     {"verdict"}}),
            .method = "Mean weighted with 1/u², χ² test, Birge ratio. Each value is compared with the "
                      "weighted mean of the others; check the one with the largest deviation first.",
            .formula = "x_m = Σ(x_i/u_i^2)/Σ(1/u_i^2); χ^2 = Σ(((x_i - x_m)/u_i)^2); R_B = √(χ^2/(N - 1))",
            .symbols = "x_i values, u_i their standard uncertainties, N their number, R_B Birge ratio",
            .sources = {"GUM", "Birge 1932"},
            .example = {{examples::column({221, 214, 209}), examples::column({5, 3.5, 6})},
                        214.94445288,
                        1e-9,
                        1,
                        1},
            .compute = agreement,
        },
        {
            .name = "CHECK.POWER",
            .summary = "Do rollers, air flow, injectors and road agree on the power?",
            .parameters =
                {block("evidence",
                       "the measurements, as a block; a fourth column holds standard uncertainties",
                       evidence_schema()),
                 block("engine", "the engine, for efficiency and lambda", engine_schema())
                     .optional("efficiency 0.30 ± 0.015, lambda 0.85 ± 0.01"),
                 block("vehicle", "the car, for road time and trap speed", vehicle_schema())
                     .optional("no measurements on the road"),
                 fuel_parameter(),
                 block("weather", "the day", weather_schema())
                     .optional("15 °C, 101.325 kPa, dry, still, level"),
                 share("confidence", "confidence level", {0.5, 0.9999, false, false}).otherwise(0.95)},
            .result = Result::table("weighted mean, and each measurement converted into crank power",
                                    {{"quantity"},
                                     {"power", Quantity::power, "kW", figures::brake_power},
                                     {"standard uncertainty", Quantity::power, "kW", figures::brake_power},
                                     {"normalised deviation", figures::anything},
                                     {"degrees of freedom", figures::not_negative_figure},
                                     {"p", figures::probability},
                                     {"verdict"}}),
            .method =
                "Each measurement is converted into greatest crank power with its uncertainty by the GUM; an "
                "input that two measurements share counts as a common error. Where no uncertainty is given, "
                "common practice is taken: rollers and air flow 3 %, duty and injector flow 2 %, road time "
                "and trap speed 1 %. Where slightly more power makes another shift worthwhile, the trap "
                "speed jumps; a speed within the jump counts as the power at the jump.",
            .sources = {"GUM", "Birge 1932", "Gillespie 1992"},
            .example = {{examples::evidence(), examples::engine()}, 246.5606227, 1e-7, 1, 1},
            .compute = power,
        },
    };
}

}  // namespace pullsheet::catalogue::families
