// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/checks.hpp"

/// The published check values, a file a family. A note says where a value was not read in the source itself.
namespace pullsheet::catalogue::published {

/// The value was computed, apart from this project, from the formula or the definition that the source
/// prints.
inline constexpr std::string_view computed = "computed from the published formula";
/// The value is quoted from memory of the source.
inline constexpr std::string_view from_memory = "not checked against the printed text";

std::vector<Check> unit();
std::vector<Check> air();
std::vector<Check> dyno();
std::vector<Check> engine();
std::vector<Check> fuel();
std::vector<Check> injector();
std::vector<Check> pump();
std::vector<Check> compressor();
std::vector<Check> charge();
std::vector<Check> turbine();
std::vector<Check> pipe();
std::vector<Check> tyre();
std::vector<Check> pull();
std::vector<Check> agreement();
std::vector<Check> uncertainty();

}  // namespace pullsheet::catalogue::published
