// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/boost/compressor_map.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {

/// Reads a compressor map: four columns shaft speed [rpm], corrected flow [g/s], pressure ratio, efficiency,
/// one row per point. A header row may stand above and may name other units in brackets ("flow [lb/min]").
/// Blank rows are skipped. Throws Refused for a bad cell, and what the map itself throws.
boost::CompressorMap read_compressor_map(const Table& table, std::string_view parameter,
                                         boost::Reference reference, Language language, Warnings& warnings);

}  // namespace pullsheet::catalogue
