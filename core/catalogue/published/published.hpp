// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/catalogue/checks.hpp"

/// The published check values, a file a family.
namespace pullsheet::catalogue::published {

std::vector<Check> unit();

}  // namespace pullsheet::catalogue::published
