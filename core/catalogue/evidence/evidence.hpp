// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "core/catalogue/checks.hpp"

/// The values that the functions are held against, a file a family.
namespace pullsheet::catalogue::evidence {

/// Beside an identity that is no definition.
inline constexpr std::string_view again = "the cited formula, evaluated once more";

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
std::vector<Check> pull_printed();
std::vector<Check> roller();
std::vector<Check> road();
std::vector<Check> cycle();
std::vector<Check> knock();
std::vector<Check> agreement();
std::vector<Check> uncertainty();

}  // namespace pullsheet::catalogue::evidence
