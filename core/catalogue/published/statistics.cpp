// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/published/published.hpp"

namespace pullsheet::catalogue::published {

using examples::column;

std::vector<Check> pull() {
    // Hours of sleep won by ten patients with either of two drugs, taken as two samples.
    const std::string_view sleep =
        "Student, The probable error of a mean, Biometrika 6 (1908) 1, the data of A. R. Cushny and A. R. "
        "Peebles (1905)";
    const std::string_view by_r = "evaluated by the function t.test of R; its documentation was not checked";
    const Table before = column({0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0});
    const Table after = column({1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4});
    return {
        {"PULL.GAIN", {before, after}, 1.58, Tolerance::printed(8), sleep, by_r, 1, 1},
        {"PULL.GAIN", {before, after}, -0.2054832, Tolerance::printed(7), sleep, by_r, 2, 1},
        {"PULL.GAIN", {before, after}, 3.3654832, Tolerance::printed(7), sleep, by_r, 3, 1},
        {"PULL.GAIN", {before, after}, 0.07939, Tolerance::printed(5), sleep, by_r, 4, 1},
    };
}

std::vector<Check> agreement() {
    const std::string_view birge = citation("Birge 1932");
    const Table values = column({221.0, 214.0, 209.0});
    const Table uncertainties = column({5.0, 3.5, 6.0});
    return {
        {"CHECK.AGREEMENT",
         {values, uncertainties},
         214.94445288,
         Tolerance::printed(8),
         birge,
         computed,
         1,
         1},
    };
}

std::vector<Check> uncertainty() {
    return {
        {"FUNCTION.UNCERTAINTY",
         {"ENGINE.POWER", column({1.2, 3.0}), 400.0, 5500.0},
         0.70248147,
         Tolerance::printed(7),
         citation("GUM"),
         computed,
         2,
         1},
    };
}

}  // namespace pullsheet::catalogue::published
