// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/call.hpp"
#include "core/catalogue/function.hpp"

namespace pullsheet::catalogue::families {

/// A row "label, value, unit" of a labelled result: `si` in the unit `symbol` ("" for plain numbers), held
/// against what the figure can be, or "not known" where it is not a finite number.
std::vector<Cell> labelled(Call& call, std::string label, double si, Quantity quantity,
                           std::string_view symbol, const Figure& figure);

}  // namespace pullsheet::catalogue::families
