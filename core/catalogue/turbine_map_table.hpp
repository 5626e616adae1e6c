// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/boost/turbine_map.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {

/// Reads a turbine map, one row per point: pressure ratio, corrected flow [g/s], and where they are known
/// shaft speed [rpm], corrected, and efficiency. A header row names the columns, in any order, and may name
/// other units in brackets ("corrected flow [lb/min]"). Without one, two columns are ratio and flow, three
/// ratio, flow and efficiency, four shaft speed, ratio, flow and efficiency. Blank rows are skipped. Throws
/// Refused for a bad cell, and what the map itself throws.
boost::TurbineMap read_turbine_map(const Table& table, std::string_view parameter, Language language,
                                   Warnings& warnings);

}  // namespace pullsheet::catalogue
