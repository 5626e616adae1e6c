// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/catalogue/call.hpp"
#include "core/catalogue/measured_table.hpp"
#include "core/catalogue/stages_table.hpp"
#include "core/plan/stage_table.hpp"

namespace pullsheet::catalogue::families {

/// What a shop offers: an engine, its stages and fuels, and what was measured of them.
struct Offer {
    std::vector<Stage> stages;
    std::vector<NamedFuel> fuels;
    plan::TableBase base;
    std::vector<MeasuredCell> measured;
};

/// Where they stand among the arguments.
struct OfferArguments {
    std::size_t engine, stages, fuels, weather, measured;
};

/// Reads an offer and, where something was measured, calibrates the engine to it. Throws Refused.
Offer read_offer(Call& call, const OfferArguments& at);

/// What BUILD.CALIBRATION answers.
Answer calibration(Call& call);

}  // namespace pullsheet::catalogue::families
