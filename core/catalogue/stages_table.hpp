// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/parts_table.hpp"
#include "core/plan/stage_table.hpp"

namespace pullsheet::catalogue {

/// One stage with all parts it holds: its own and those of the stages above that it does not replace.
struct Stage {
    std::string name;
    NamedParts parts;
    double price = 0.0;  ///< of this stage and all above
};

/// Reads a stages table: a header row with the columns stage, part, kind, then value and unit in turn, and
/// price. A row without a stage name belongs to the stage above it. Throws Refused.
std::vector<Stage> read_stages(const Table& table, std::string_view parameter, Language language,
                               Warnings& warnings);

/// A fuel of the fuels table.
struct NamedFuel {
    std::string name;
    plan::OfferedFuel fuel;
};

/// Reads a fuels table: a header row with the column name and labels of the fuel block (ethanol share, RON …)
/// and, if wanted, lambda. Throws Refused.
std::vector<NamedFuel> read_fuels(const Table& table, std::string_view parameter, double lambda,
                                  Language language, Warnings& warnings);

}  // namespace pullsheet::catalogue
