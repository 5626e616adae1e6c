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

std::vector<Check> agreement() {
    const std::string_view birge = citation("Birge 1932");
    const Table values = column({221.0, 214.0, 209.0});
    const Table uncertainties = column({5.0, 3.5, 6.0});
    return {
        identity("CHECK.AGREEMENT", {values, uncertainties}, 214.94445288, Tolerance::printed(8), birge,
                 again)
            .at(1, 1),
    };
}

std::vector<Check> uncertainty() {
    return {
        identity("FUNCTION.UNCERTAINTY", {"ENGINE.POWER", column({1.2, 3.0}), 400.0, 5500.0}, 0.70248147,
                 Tolerance::printed(7), citation("GUM"), again)
            .at(2, 1),
    };
}

}  // namespace pullsheet::catalogue::evidence
