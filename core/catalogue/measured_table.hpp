// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/catalogue/block.hpp"
#include "core/catalogue/stages_table.hpp"
#include "core/plan/calibration.hpp"

namespace pullsheet::catalogue {

/// The labels of a measured point: of a block, or the columns of a table with one row a speed.
const BlockSchema& measured_schema();

/// What was measured on one stage and fuel.
struct MeasuredCell {
    std::size_t stage, fuel;        ///< indices
    std::vector<std::size_t> rows;  ///< of the table, from 1, of each point; empty for a block
    plan::MeasuredMap map;
};

/// Reads what was measured: a block, or a table of five columns or more. Rows of one stage and fuel are one
/// map; a row without stage or fuel belongs to that of the row above, the first to the only one there is. A
/// lambda not given is that of the fuel. Throws Refused for an unknown stage, fuel or column and for a row
/// that cannot be read; rows of empty cells are skipped.
std::vector<MeasuredCell> read_measured(const Table& table, std::string_view parameter,
                                        const std::vector<Stage>& stages, const std::vector<NamedFuel>& fuels,
                                        Language language, Warnings& warnings);

/// The maps alone.
std::vector<plan::MeasuredMap> maps_of(const std::vector<MeasuredCell>& measured);

/// What a calibration warns of, with the stage, the fuel and the speed it belongs to.
void warn_of_calibration(const plan::CalibratedEngine& engine, const std::vector<MeasuredCell>& measured,
                         const std::vector<Stage>& stages, const std::vector<NamedFuel>& fuels,
                         Language language, Warnings& warnings);

}  // namespace pullsheet::catalogue
