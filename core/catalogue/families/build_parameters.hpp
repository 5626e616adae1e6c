// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "core/catalogue/call.hpp"
#include "core/catalogue/function.hpp"
#include "core/catalogue/parts_table.hpp"

/// What the functions of the BUILD family take, and how they read it.
namespace pullsheet::catalogue::families {

Parameter engine_parameter();
Parameter weather_parameter();
Parameter parts_parameter();
Parameter optional_map();
Parameter optional_turbine_map();

/// The engine block of parameter `i`.
plan::Engine engine_at(Call& call, std::size_t i);
/// The day of parameter `i`, the standard one if omitted.
plan::Weather weather_at(Call& call, std::size_t i);
/// The compressor map of parameter `i`, if there is one.
std::optional<boost::CompressorMap> map_at(Call& call, std::size_t i);
/// The parts of parameter `i`; a map without a compressor among them is a compressor of its own.
NamedParts parts_at(Call& call, std::size_t i, const std::optional<boost::CompressorMap>& map);
/// Gives the turbine map of parameter `i`, if there is one, to the turbine among the parts.
void add_turbine_map(Call& call, std::size_t i, NamedParts& parts);

}  // namespace pullsheet::catalogue::families
