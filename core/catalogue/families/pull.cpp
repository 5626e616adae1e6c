// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/catalogue/families/labelled.hpp"
#include "core/dyno/curve.hpp"
#include "core/statistics/gain.hpp"
#include "core/statistics/repeatability.hpp"
#include "core/statistics/smoothing.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter speeds() {
    return plain_series("speeds", "engine speeds of the pull in any unit; results have the same unit")
        .of(figures::anything);
}
Parameter values() {
    return plain_series("values", "torque, power or another quantity, one value per speed")
        .of(figures::anything);
}
Parameter speed_bound(Text name, Text meaning) {
    return plain(name, meaning, Quantity::number, finite);
}
Parameter confidence() {
    return share("confidence", "confidence level of the interval", {0.5, 0.9999, false, false})
        .otherwise(0.95);
}

dyno::MeasuredCurve curve(Call& call) {
    dyno::MeasuredCurve measured(call.raw_series(0), call.raw_series(1));
    call.warn(measured.warnings());
    return measured;
}

// A row in the unit of the input values, which the function does not know.
std::vector<Cell> in_own_unit(Call& call, const char* label, double value,
                              const Figure& figure = figures::anything) {
    return labelled(call, label, value, Quantity::number, "", figure);
}

Answer resample(Call& call) {
    const auto resampled = curve(call).resample(call.si(2), call.si(3), call.si(4));
    call.warn(resampled.warnings);
    Rows rows;
    for (const auto& point : resampled.rows)
        rows.push_back(row(point.speed, point.value ? Cell(*point.value) : Cell(std::string())));
    return rows;
}

Answer smooth(Call& call) {
    const auto smoothed = statistics::smooth(call.raw_series(0), call.si(1), call.si(2));
    call.warn(smoothed.warnings);
    Rows rows(smoothed.first_row, row(std::string()));
    for (const double value : smoothed.values) rows.push_back(row(value));
    return rows;
}

Answer band(Call& call) {
    const auto found = curve(call).band(call.si(2));
    call.warn(found.warnings);
    return Rows{in_own_unit(call, "from", found.from), in_own_unit(call, "to", found.to),
                in_own_unit(call, "width", found.width)};
}

Answer repeatability(Call& call) {
    const auto found = statistics::repeatability(call.series(0), call.si(1));
    const auto& spread = figures::not_negative_figure;
    return Rows{in_own_unit(call, "mean", found.mean),
                in_own_unit(call, "standard deviation", found.standard_deviation, spread),
                in_own_unit(call, "half-width of the mean", found.half_width, spread),
                row(std::string("coefficient of variation"),
                    found.variation ? Cell(*found.variation) : Cell(std::string()), std::string()),
                in_own_unit(call, "repeatability limit", found.limit, spread)};
}

Answer gain(Call& call) {
    const auto found = statistics::gain(call.series(0), call.series(1), call.si(2));
    return Rows{in_own_unit(call, "gain", found.gain), in_own_unit(call, "low", found.low),
                in_own_unit(call, "high", found.high), in_own_unit(call, "p", found.p, figures::probability)};
}

constexpr const char* cleaning =
    "Left out, with a warning: cells without a number, rows after lift-off and spikes. Repeated speeds are "
    "averaged. Between the rows the curve is a shape-preserving cubic; outside them there is no value.";

}  // namespace

std::vector<Function> pull() {
    const Table rpm = examples::engine_speeds();
    const Table torque = examples::torques();
    return {
        {
            .name = "PULL.AT",
            .summary = "Value of a measured curve at an engine speed",
            .parameters = {speeds(), values(),
                           speed_bound("speed", "speed at which the value is wanted").of(figures::anything)},
            .result =
                Result::plain("the value, in the unit of the values", Quantity::number).of(figures::anything),
            .method = cleaning,
            .sources = {"Fritsch & Butland 1984"},
            .example = {{rpm, torque, 4750.0}, 420.6666667, 1e-8},
            .compute = [](Call& call) -> Answer { return curve(call).at(call.si(2)); },
        },
        {
            .name = "PULL.PEAK",
            .summary = "Peak of a measured curve",
            .parameters = {speeds(), values()},
            .result = Result::labelled("the peak and its speed"),
            .method = "Left out, with a warning: cells without a number, rows after lift-off and spikes. The "
                      "interpolated curve keeps the shape of the data, so its peak is one of the rows: "
                      "smooth a noisy log first.",
            .sources = {"Fritsch & Butland 1984"},
            .example = {{rpm, torque}, 430.0, 1e-9, 1, 1},
            .compute = [](Call& call) -> Answer {
                const auto peak = curve(call).peak();
                return Rows{in_own_unit(call, "value", peak.value), in_own_unit(call, "speed", peak.speed)};
            },
        },
        {
            .name = "PULL.RESAMPLE",
            .summary = "Measured curve at equal speed steps, to compare pulls",
            .parameters = {speeds(), values(), speed_bound("from", "first speed").of(figures::anything),
                           speed_bound("to", "last speed").of(figures::anything),
                           plain("speed_step", "speed step from row to row", Quantity::number, above(0))
                               .of(figures::anything)},
            .result = Result::table("the curve; rows outside the measured range are empty",
                                    {{"speed", figures::anything}, {"value", figures::anything}}),
            .method = cleaning,
            .sources = {"Fritsch & Butland 1984"},
            .example = {{rpm, torque, 3000.0, 6000.0, 500.0}, 410.0, 1e-9, 1, 1},
            .compute = resample,
        },
        {
            .name = "PULL.SMOOTH",
            .summary = "Column smoothed by local polynomials",
            .parameters =
                {plain_series("values", "equally spaced values").of(figures::anything),
                 plain("window", "number of rows in each fit, odd", Quantity::count, between(3, 10001)),
                 plain("order", "order of the polynomial", Quantity::count, between(0, 6)).otherwise(2)},
            .result = Result::table("the smoothed column", {{"value", figures::anything}}),
            .method = "Savitzky–Golay: least-squares polynomial of each window, by QR; at the ends the "
                      "polynomial of the first and last window.",
            .sources = {"Savitzky & Golay 1964"},
            .example =
                {{examples::column({0, 1, 4, 9, 16, 25.5, 36, 49, 64, 81}), 5.0}, 8.957142857, 1e-9, 4, 0},
            .compute = smooth,
            .accuracy =
                "agrees with the published coefficient tables, except for their misprint at 25 points",
        },
        {
            .name = "PULL.MEAN",
            .summary = "Mean of a measured curve between two speeds",
            .parameters = {speeds(), values(), speed_bound("from", "lower speed").of(figures::anything),
                           speed_bound("to", "upper speed").of(figures::anything)},
            .result = Result::plain("mean value", Quantity::number).of(figures::anything),
            .method = "Integral of the interpolated curve divided by the speed range. Cells without a "
                      "number, rows after lift-off and spikes are left out.",
            .formula = "m = ∫(y·dn)/(n_2 - n_1)",
            .symbols = "y curve, n_1 and n_2 lower and upper speed",
            .sources = {"Fritsch & Butland 1984"},
            .example = {{rpm, torque, 3500.0, 4000.0}, 430.0, 1e-9},
            .compute = [](Call& call) -> Answer { return curve(call).mean(call.si(2), call.si(3)); },
        },
        {
            .name = "PULL.BAND",
            .summary = "Speed band in which torque stays above a share of its peak",
            .parameters =
                {speeds(), plain_series("values", "torque or power at those speeds").of(figures::anything),
                 share("share", "share of the peak to be held", {0.0, 1.0, true, false}).otherwise(0.9)},
            .result = Result::labelled("the band"),
            .method = cleaning,
            .sources = {"Fritsch & Butland 1984"},
            .example = {{rpm, torque, 0.9}, 2805.385359, 1e-8, 1, 1},
            .compute = band,
        },
        {
            .name = "PULL.REPEATABILITY",
            .summary = "Repeatability of pulls: mean, scatter and limit",
            .parameters = {plain_series("values", "one figure from each pull, for example peak power")
                               .of(figures::anything),
                           confidence()},
            .result = Result::labelled("mean and scatter"),
            .method = "Half-width of the mean by Student's t. Repeatability limit: 2.8 standard deviations; "
                      "two pulls differ by more than that once in twenty times.",
            .formula = "h = t_q·s/√(N); r = 2.8·s",
            .symbols = "s standard deviation of N pulls, t_q quantile of Student's t, h half-width of the "
                       "mean, r repeatability limit",
            .sources = {"ISO 5725-6", "Student 1908"},
            .example = {{examples::column({251.2, 249.8, 252.6, 250.9, 251.7})}, 251.24, 1e-9, 1, 1},
            .compute = repeatability,
        },
        {
            .name = "PULL.GAIN",
            .summary = "Gain from one set of pulls to another, with interval and significance",
            .parameters =
                {plain_series("before", "one figure from each pull before the change").of(figures::anything),
                 plain_series("after", "the same figure from each pull after the change")
                     .of(figures::anything),
                 confidence()},
            .result = Result::labelled("the gain with its interval"),
            .method = "Difference of the means with Welch's interval; p is the probability of a difference "
                      "this large if nothing had changed.",
            .formula = "g = m_2 - m_1; h = t_q·√(s_1^2/N_1 + s_2^2/N_2)",
            .symbols = "m means, s standard deviations, N numbers of pulls before (1) and after (2), t_q "
                       "quantile of Student's t with Welch's degrees of freedom, h half-width of the gain",
            .sources = {"Welch 1947", "NIST e-Handbook"},
            .example = {{examples::column({251.2, 249.8, 252.6, 250.9, 251.7}),
                         examples::column({262.4, 259.1, 265.8, 261.0, 258.7, 263.3})},
                        10.476667,
                        1e-6,
                        1,
                        1},
            .compute = gain,
        },
    };
}

}  // namespace pullsheet::catalogue::families
