// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/catalogue/call.hpp"
#include "core/catalogue/function.hpp"

/// The entries, a file a family.
namespace pullsheet::catalogue::families {

std::vector<Function> unit();
std::vector<Function> air();
std::vector<Function> dyno();
std::vector<Function> engine();
std::vector<Function> fuel();
std::vector<Function> injector();
std::vector<Function> pump();
std::vector<Function> pull();
std::vector<Function> check();
std::vector<Function> compressor();
std::vector<Function> charge();
std::vector<Function> turbine();
std::vector<Function> pipe();
std::vector<Function> cycle();
std::vector<Function> knock();
std::vector<Function> build();
std::vector<Function> build_match();
std::vector<Function> road();
std::vector<Function> tyre();
std::vector<Function> function();

}  // namespace pullsheet::catalogue::families
