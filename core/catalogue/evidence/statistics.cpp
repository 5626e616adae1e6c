// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/evidence/evidence.hpp"
#include "core/catalogue/families/examples.hpp"

namespace pullsheet::catalogue::evidence {

using examples::column;

std::vector<Check> pull() {
    // Hours of sleep won by ten patients with either of two drugs, taken as two samples.
    const std::string_view r = "R 4.2.2, run as t.test(extra ~ group, data = sleep)";
    const std::string_view sleep = "the data of Student, Biometrika 6 (1908) 1";
    const Table before = column({0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0});
    const Table after = column({1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4});
    return {
        independent("PULL.GAIN", {before, after}, 1.58, Tolerance::printed(8), r, sleep).at(1, 1),
        independent("PULL.GAIN", {before, after}, -0.2054832, Tolerance::printed(7), r, sleep).at(2, 1),
        independent("PULL.GAIN", {before, after}, 3.3654832, Tolerance::printed(7), r, sleep).at(3, 1),
        independent("PULL.GAIN", {before, after}, 0.07939, Tolerance::printed(5), r, sleep).at(4, 1),
    };
}

std::vector<Check> pull_printed() {
    const Reference savitzky_golay{citation("Savitzky & Golay 1964"), "a copy of table I"};
    const Reference nist{"NIST Statistical Reference Datasets, univariate, Michelso",
                         "a transcription of the certified values"};
    const std::string_view impulse = "an impulse of the norm gives the integers of the table";
    // The speed of light, 100 measurements, in thousands of km/s.
    const Table michelso = column(
        {299.85, 299.74, 299.90, 300.07, 299.93, 299.85, 299.95, 299.98, 299.98, 299.88, 300.00, 299.98,
         299.93, 299.65, 299.76, 299.81, 300.00, 300.00, 299.96, 299.96, 299.96, 299.94, 299.96, 299.94,
         299.88, 299.80, 299.85, 299.88, 299.90, 299.84, 299.83, 299.79, 299.81, 299.88, 299.88, 299.83,
         299.80, 299.79, 299.76, 299.80, 299.88, 299.88, 299.88, 299.86, 299.72, 299.72, 299.62, 299.86,
         299.97, 299.95, 299.88, 299.91, 299.85, 299.87, 299.84, 299.84, 299.85, 299.84, 299.84, 299.84,
         299.89, 299.81, 299.81, 299.82, 299.80, 299.77, 299.76, 299.74, 299.75, 299.76, 299.91, 299.92,
         299.89, 299.86, 299.88, 299.72, 299.84, 299.85, 299.85, 299.78, 299.89, 299.84, 299.78, 299.81,
         299.76, 299.81, 299.79, 299.81, 299.82, 299.85, 299.87, 299.87, 299.81, 299.74, 299.81, 299.94,
         299.95, 299.80, 299.81, 299.87});
    const Table of_five = column({0.0, 0.0, 0.0, 35.0, 0.0, 0.0, 0.0});
    const Table of_seven = column({0.0, 0.0, 0.0, 0.0, 21.0, 0.0, 0.0, 0.0, 0.0});
    const auto coefficient = [&](const Table& values, double window, double expected, std::size_t row,
                                 std::string_view place) {
        return printed("PULL.SMOOTH", {values, window}, expected, 0, savitzky_golay, place, impulse)
            .at(row, 0);
    };
    return {
        coefficient(of_five, 5.0, 17.0, 4, "table I, 5 points, centre"),
        coefficient(of_five, 5.0, 12.0, 5, "table I, 5 points, next"),
        coefficient(of_five, 5.0, 12.0, 3, "table I, 5 points, before"),
        coefficient(of_seven, 7.0, 7.0, 5, "table I, 7 points, centre"),
        coefficient(of_seven, 7.0, 6.0, 4, "table I, 7 points, next"),
        printed("PULL.REPEATABILITY", {michelso}, 299.8524, 12, nist, "sample mean").at(1, 1),
        printed("PULL.REPEATABILITY", {michelso}, 0.0790105478190518, 13, nist,
                "standard deviation, to 13 decimals")
            .at(2, 1),
    };
}

std::vector<Check> agreement() {
    const std::string_view birge = citation("Birge 1932");
    const Reference taylor{"J. R. Taylor, An Introduction to Error Analysis, chapter 7"};
    const std::string_view r = "R 4.2.2, run as weighted.mean(c(221, 214, 209), 1/c(5, 3.5, 6)^2)";
    const std::string_view r_sum = "R 4.2.2, run as sum(((x - m)/u)^2) of that mean";
    const std::string_view r_p = "R 4.2.2, run as pchisq(q, 2, lower.tail = FALSE) of that sum of squares";
    const Table values = column({221.0, 214.0, 209.0});
    const Table uncertainties = column({5.0, 3.5, 6.0});
    return {
        independent("CHECK.AGREEMENT", {values, uncertainties}, 214.9444529, Tolerance::printed(7), r)
            .at(1, 1),
        independent("CHECK.AGREEMENT", {values, uncertainties}, 2.52117165, Tolerance::printed(8), r_sum)
            .at(2, 1),
        independent("CHECK.AGREEMENT", {values, uncertainties}, 0.2834879036, Tolerance::printed(10), r_p)
            .at(1, 5),
        identity("CHECK.AGREEMENT", {values, uncertainties}, 2.58707811, Tolerance::printed(8), birge, again)
            .at(1, 2),
        printed("CHECK.AGREEMENT", {column({11.0, 12.0, 10.0}), column({1.0, 1.0, 3.0})}, 11.42, 2, taylor,
                "three measurements of a resistance")
            .at(1, 1),
        printed("CHECK.AGREEMENT", {column({11.0, 12.0, 10.0}), column({1.0, 1.0, 3.0})}, 0.69, 2, taylor,
                "three measurements of a resistance")
            .at(1, 2),
    };
}

std::vector<Check> uncertainty() {
    const Reference doebelin{
        "E. O. Doebelin, D. N. Manik, Measurement Systems",
        "FOSSEE, Python Textbook Companions, Measurement_Systems_by_E._O._Doebelin_And_D._N._Manik"};
    const std::string_view combined =
        "force and arm combined to the torque, revolutions and time to the speed";
    return {
        printed("FUNCTION.UNCERTAINTY", {"ENGINE.POWER", column({0.0915285, 10.06644}), 17.865, 1202.0, "W"},
                22.1, 1, doebelin, "example 3.2, page 62: 22.075 W", combined)
            .at(2, 1),
        printed("FUNCTION.UNCERTAINTY", {"ENGINE.POWER", column({0.136864, 391.546}), 39.695, 7830.0, "W"},
                1631.5, 1, doebelin, "example 3.3, page 64: 1631.46 W", combined)
            .at(2, 1),
        identity("FUNCTION.UNCERTAINTY", {"ENGINE.POWER", column({1.2, 3.0}), 400.0, 5500.0}, 0.70248147,
                 Tolerance::printed(7), citation("GUM"), again)
            .at(2, 1),
    };
}

}  // namespace pullsheet::catalogue::evidence
