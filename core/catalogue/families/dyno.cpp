// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/families.hpp"
#include "core/dyno/correction.hpp"
#include "core/dyno/roller.hpp"

namespace pullsheet::catalogue::families {
namespace {

// In the order of dyno::Standard.
const std::vector<std::string_view> standards = {"ISO 1585", "SAE J1349",   "SAE J607",  "DIN 70020",
                                                 "ECE R85",  "80/1269/EEC", "JIS D 1001"};
const std::vector<std::string_view> diesel_standards = {"ISO 1585", "ECE R85", "80/1269/EEC"};
const std::vector<std::string_view> chargings = {"no turbocharger", "turbocharger", "turbocharger, coolant"};

Parameter standard(Text name, Text meaning) {
    return choice(name, meaning, standards);
}
Parameter temperature() {
    return number("temperature", "temperature of the intake air", Quantity::temperature, "°C",
                  Si(dyno::possible::temperature))
        .of(figures::air_temperature);
}
Parameter total_pressure() {
    return number("pressure", "total station pressure, water vapour included; not reduced to sea level",
                  Quantity::pressure, "kPa", Si(dyno::possible::pressure))
        .of(figures::air_pressure);
}
Parameter relative_humidity() {
    return share("humidity", "relative humidity").of(figures::share).otherwise(0);
}

dyno::Standard standard_at(Call& call, std::size_t i) {
    return static_cast<dyno::Standard>(call.choice(i));
}

Answer factor(Call& call) {
    const auto correction = dyno::correction(standard_at(call, 0), call.si(1), call.si(2), call.si(3));
    call.warn(correction.warnings);
    return correction.factor;
}

Answer factor_diesel(Call& call) {
    const double boost_ratio = call.si(4);
    const auto charging = call.given(6)       ? static_cast<dyno::DieselCharging>(call.choice(6))
                          : boost_ratio > 1.0 ? dyno::DieselCharging::turbocharger
                                              : dyno::DieselCharging::no_turbocharger;
    const auto correction =
        dyno::diesel_correction(static_cast<dyno::DieselStandard>(call.choice(0)), charging, call.si(1),
                                call.si(2), call.si(5), call.si(3), boost_ratio);
    call.warn(correction.warnings);
    return correction.factor;
}

Answer restate(Call& call) {
    const auto restated = dyno::restated_power(call.si(0), standard_at(call, 1), standard_at(call, 2),
                                               call.si(3), call.si(4), call.si(5));
    call.warn(restated.warnings);
    return restated.power;
}

std::vector<Function> corrections() {
    return {
        {
            .name = "DYNO.FACTOR",
            .summary = "Power correction factor of a standard for the weather of the day",
            .parameters = {standard("standard", "the power standard"), temperature(), total_pressure(),
                           relative_humidity()},
            .result =
                Result::plain("corrected power / measured power", Quantity::ratio).of(figures::power_factor),
            .method =
                "Spark ignition. ISO 1585, ECE R85, 80/1269/EEC, JIS D 1001: (99 kPa/p_dry)^1.2·(T/298)^0.6. "
                "SAE J1349: 1.18·(99/p_dry)·√(T/298) − 0.18. SAE J607: (29.92 inHg/p_dry)·√(T/519.67 °R). "
                "DIN 70020: (1013 mbar/p_total)·√(T/293). T = 273 + t, as in the regulations. Not for "
                "engines whose boost control compensates for ambient conditions.",
            .formula = "α = (99/p_d)^1.2·(T/298)^0.6; α_J1349 = 1.18·(99/p_d)·√(T/298) - 0.18; α_J607 = "
                       "(101.32/p_d)·√(T/288.71); α_DIN = (101.3/p)·√(T/293)",
            .symbols =
                "first line: ISO 1585, ECE R85, 80/1269/EEC and JIS D 1001; then SAE J1349, SAE J607, DIN "
                "70020; p_d pressure of the dry air in kPa, p total pressure in kPa, T temperature in K",
            .sources = {"ISO 1585", "UN R85", "SAE J1349", "SAE J607", "DIN 70020", "80/1269/EEC",
                        "JIS D 1001"},
            .example = {{"ISO 1585", 35.0, 100.0, 0.6}, 1.050190301, 1e-8},
            .compute = factor,
            .accuracy = "formulas as printed in the standards; outside a standard's limits the factor is "
                        "given with a warning",
        },
        {
            .name = "DYNO.FACTOR.DIESEL",
            .summary = "Correction factor of a compression-ignition engine",
            .parameters = {choice("standard", "the power standard", diesel_standards), temperature(),
                           total_pressure(),
                           number("fuel_per_cycle", "fuel at full load per litre of displacement and cycle",
                                  Quantity::mass_per_volume_and_cycle, "mg/(L·cycle)",
                                  Si(dyno::possible::fuel_per_cycle))
                               .of(figures::fuel_per_cycle),
                           plain("boost_ratio", "absolute charge pressure / ambient pressure",
                                 Quantity::ratio, dyno::possible::boost_ratio)
                               .of(figures::pressure_ratio),
                           relative_humidity(),
                           choice("charging", "type of charging and charge cooling", chargings)
                               .optional("boost_ratio 1: no turbocharger; above 1: turbocharger, with an "
                                         "air-to-air charge cooler or none")},
            .result =
                Result::plain("corrected power / measured power", Quantity::ratio).of(figures::power_factor),
            .method = "Atmospheric factor to the power of the engine factor; ISO 1585 and ECE R85 with their "
                      "own exponents and engine factors (37.2 and 40 mg/L as the lower bound).",
            .formula = "α = f_a^f_m; f_m = 0.036·q_c - 1.14; f_a = (99/p_d)^a·(T/298)^b",
            .symbols = "q_c fuel in mg per cycle and litre, divided by the boost ratio; a, b exponents of "
                       "the standard for the type of charging (1 and 0.7 without a turbocharger); p_d "
                       "pressure of the dry air in kPa, T temperature in K",
            .sources = {"ISO 1585", "UN R85"},
            .example = {{"ECE R85", 35.0, 100.0, 100.0, 2.0, 0.6}, 1.044883884, 1e-8},
            .compute = factor_diesel,
        },
        {
            .name = "DYNO.RESTATE",
            .summary = "Corrected power restated by another standard for the same day",
            .parameters = {number("power", "power already corrected", Quantity::power, "kW", from(0))
                               .of(figures::brake_power),
                           standard("from_standard", "standard by which it was corrected"),
                           standard("to_standard", "the standard wanted"), temperature(), total_pressure(),
                           relative_humidity()},
            .result = Result::number("power by the standard wanted", Quantity::power, "kW")
                          .of(figures::brake_power),
            .method = "Removes the day's factor of one standard and applies that of the other.",
            .formula = "P_2 = P_1·α_2/α_1",
            .symbols = "α_1 and α_2 factors of the two standards for the day",
            .sources = {"ISO 1585", "UN R85", "SAE J1349", "SAE J607", "DIN 70020", "80/1269/EEC",
                        "JIS D 1001"},
            .example = {{300.0, "SAE J607", "ISO 1585", 25.0, 100.0, "31.55 %"}, 288.4484944, 1e-8},
            .compute = restate,
        },
        {
            .name = "DYNO.CRANK.POWER",
            .summary = "Crank power from the power at the wheels",
            .parameters = {number("wheel_power", "power at the wheels or rollers", Quantity::power, "kW",
                                  from(0))
                               .of(figures::brake_power),
                           share("loss_share", "loss as a share of crank power", dyno::possible::loss_share)
                               .otherwise(0.15)
                               .established(dyno::established::loss_share),
                           number("fixed_loss", "loss that does not depend on the load", Quantity::power,
                                  "kW", from(0))
                               .of(figures::loss_power)
                               .otherwise(0)},
            .result = Result::number("crank power", Quantity::power, "kW").of(figures::brake_power),
            .method =
                "(wheel + fixed) / (1 − share). The loss is assumed, not measured; a coast-down measures it.",
            .formula = "P = (P_w + P_f)/(1 - s)",
            .symbols = "P_w power at the wheels, P_f fixed loss, s share lost",
            .sources = {"common practice"},
            .example = {{170.0}, 200.0},
            .compute = [](Call& call) -> Answer {
                return dyno::crank_power(call.si(0), call.si(1), call.si(2));
            },
        },
    };
}

Answer roller_pull(Call& call) {
    const auto pull = dyno::roller_pull(call.raw_series(0), call.raw_series(1), call.si(2), call.si(3),
                                        call.given(4) ? std::optional<double>(call.si(4)) : std::nullopt);
    call.warn(pull.reading.warnings);
    Rows rows;
    rows.reserve(pull.rows.size());
    for (const auto& moment : pull.rows)
        rows.push_back(row(moment.engine_speed, moment.power, moment.torque));
    return rows;
}

Answer coast_loss(Call& call) {
    const auto coast = dyno::coast_loss(call.raw_series(0), call.raw_series(1), call.si(2),
                                        call.given(3) ? std::optional<double>(call.si(3)) : std::nullopt);
    call.warn(coast.reading.warnings);
    Rows rows;
    rows.reserve(coast.rows.size());
    for (const auto& moment : coast.rows) rows.push_back(row(moment.roller_speed, moment.loss_power));
    return rows;
}

std::vector<Function> rollers() {
    const auto time = [] {
        return series("times", "time of each row of the log", Quantity::time, "s").of(figures::log_time);
    };
    const auto speed = [] {
        return series("roller_speeds", "speed of the rollers", Quantity::angular_speed, "rpm")
            .of(figures::roller_speed);
    };
    const auto inertia = [] {
        return number("inertia", "moment of inertia of all rotating parts, referred to the rollers",
                      Quantity::inertia, "kg·m²", above(0))
            .of(figures::inertia);
    };
    const auto half_width = [] {
        return number("half_width", "half the width of the window of the local fit", Quantity::time, "s",
                      above(0))
            .of(figures::fit_time)
            .optional("chosen from the scatter of the log");
    };
    Table seconds(41, 1);
    Table rising(41, 1);
    Table falling(41, 1);
    for (std::size_t i = 0; i < 41; ++i) {
        const double t = 0.25 * static_cast<double>(i);
        seconds.at(i, 0) = t;
        rising.at(i, 0) = 300.0 + 120.0 * t;
        falling.at(i, 0) = 1500.0 - 90.0 * t;
    }
    return {
        {
            .name = "DYNO.ROLLER.PULL",
            .summary = "Power and torque of a pull on an inertia dynamometer",
            .parameters = {time(), speed(), inertia(),
                           plain("speed_ratio", "engine speed / roller speed", Quantity::ratio, above(0))
                               .of(figures::speed_ratio)
                               .otherwise(1),
                           half_width()},
            .result = Result::table("the pull, row by row",
                                    {{"engine speed", Quantity::angular_speed, "rpm", figures::engine_speed},
                                     {"power", Quantity::power, "kW", figures::power},
                                     {"torque", Quantity::torque, "N·m", figures::torque}}),
            .method = "P = d(½·I·ω²)/dt by a local parabola in the kinetic energy, exact at constant power "
                      "and at constant torque. The log is cleaned first; a warning says which rows were left "
                      "out. Losses are not added.",
            .formula = "P = d(I·ω^2/2)/dt",
            .symbols = "I moment of inertia, ω speed of the rollers, t time",
            .sources = {"Savitzky & Golay 1964"},
            .example = {{seconds, rising, 20.0}, 251.327412, 1e-6, 2, 2},
            .compute = roller_pull,
        },
        {
            .name = "DYNO.COAST.LOSS",
            .summary = "Loss power of the rollers from a coast-down",
            .parameters = {time(), speed(), inertia(), half_width()},
            .result = Result::table("the loss, row by row",
                                    {{"roller speed", Quantity::angular_speed, "rpm", figures::roller_speed},
                                     {"loss power", Quantity::power, "kW", figures::loss_power}}),
            .method = "−d(½·I·ω²)/dt by a local parabola in the kinetic energy.",
            .formula = "P_l = -d(I·ω^2/2)/dt",
            .symbols = "I moment of inertia, ω speed of the rollers, t time",
            .sources = {"Savitzky & Golay 1964"},
            .example = {{seconds, falling, 20.0}, 28.27641661, 1e-8, 2, 1},
            .compute = coast_loss,
        },
    };
}

}  // namespace

std::vector<Function> dyno() {
    std::vector<Function> all = corrections();
    for (Function& function : rollers()) all.push_back(std::move(function));
    return all;
}

}  // namespace pullsheet::catalogue::families
