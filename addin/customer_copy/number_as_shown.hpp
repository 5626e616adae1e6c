// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

namespace pullsheet::addin::customer_copy {

/// The number with no more digits than the text shows of it: 6469.79 shown as "6,470" is 6470. Nothing if the
/// text does not show the number digit by digit.
std::optional<double> number_as_shown(double value, const std::string& shown);

/// The shortest text that reads as this number.
std::string shortest(double value);

}  // namespace pullsheet::addin::customer_copy
