// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/block.hpp"
#include "core/road/vehicle.hpp"

namespace pullsheet::catalogue {

/// The schema of the vehicle block.
const BlockSchema& vehicle_schema();

/// The vehicle from its block. Throws Refused.
road::Vehicle vehicle_from(const Block& block, std::string_view parameter, Language language);

}  // namespace pullsheet::catalogue
