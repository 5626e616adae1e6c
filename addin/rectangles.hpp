// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "addin/formula.hpp"

namespace pullsheet::addin {

/// What of the areas lies in none of the others.
std::vector<Area> without(std::vector<Area> areas, const std::vector<Area>& others);

/// What two areas of one sheet share; an area with no cells if they share nothing.
Area common(const Area& a, const Area& b);

}  // namespace pullsheet::addin
