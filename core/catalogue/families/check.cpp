// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/families/examples.hpp"
#include "core/catalogue/families/families.hpp"
#include "core/statistics/agreement.hpp"

namespace pullsheet::catalogue::families {
namespace {

Answer agreement(Call& call) {
    const auto values = call.series(0);
    const auto uncertainties = call.series(1);
    const auto found = statistics::agreement(values, uncertainties, call.si(2));
    Rows rows;
    rows.push_back(row(std::string("weighted mean"), found.mean, found.uncertainty, std::string(),
                       std::string(found.agrees ? "all agree" : "do not agree")));
    rows.push_back(row(std::string("χ²"), found.chi_squared, static_cast<double>(found.freedom), found.p,
                       std::string("degrees of freedom, p")));
    rows.push_back(row(std::string("Birge ratio"), found.birge_ratio, std::string(), std::string(), std::string()));
    for (std::size_t i = 0; i < values.size(); ++i)
        rows.push_back(row("value " + number_text(static_cast<double>(i + 1)), values[i], uncertainties[i],
                           found.witnesses[i].deviation,
                           std::string(found.witnesses[i].agrees                                   ? "agrees"
                                       : i == found.farthest && !found.agrees ? "stands out, farthest"
                                                                                                    : "stands out")));
    return rows;
}

}  // namespace

std::vector<Function> check() {
    return {
        {
            .name = "CHECK.AGREEMENT",
            .summary = "Do several values of one quantity agree within their uncertainties?",
            .parameters = {plain_series("values", "values of one quantity, in one unit"),
                           plain_series("standard_uncertainties", "their standard uncertainties, in the same unit"),
                           share("confidence", "confidence of the statement", {0.5, 0.9999, false, false}).otherwise(0.95)},
            .result = Result::table("consensus, χ² test, and each value against the consensus of the others",
                                    {{"what"}, {"value"}, {"standard uncertainty"}, {"normalised deviation"}, {"verdict"}}),
            .method = "Mean weighted with 1/u², χ² test, Birge ratio. Each value is held against the consensus of the others, "
                      "which it has not pulled itself; the farthest is the one to look at first.",
            .sources = {"GUM", "Birge 1932"},
            .example = {{examples::column({221, 214, 209}), examples::column({5, 3.5, 6})}, 214.94445288, 1e-9, 1, 1},
            .compute = agreement,
        },
    };
}

}  // namespace pullsheet::catalogue::families
