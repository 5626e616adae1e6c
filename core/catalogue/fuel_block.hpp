// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

#include "core/catalogue/block.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::catalogue {

/// The schema of the fuel block.
const BlockSchema& fuel_schema();
/// Refuses a motor octane number far above the research octane number, and warns if it is slightly above.
void check_octane_numbers(double ron, double mon, std::string_view parameter, Language language,
                          Warnings& warnings);
/// A fuel from its block.
fuel::Fuel fuel_from(const Block& block, std::string_view parameter, Language language, Warnings& warnings);

}  // namespace pullsheet::catalogue
