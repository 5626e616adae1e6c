// SPDX-License-Identifier: Apache-2.0
#include "addin/customer_copy/number_as_shown.hpp"

#include <charconv>
#include <cmath>
#include <cstdlib>

namespace pullsheet::addin::customer_copy {

std::optional<double> number_as_shown(double value, const std::string& shown) {
    // The digits as one integer, without the exponent.
    std::string digits;
    for (std::size_t i = 0; i < shown.size(); ++i) {
        if (shown[i] >= '0' && shown[i] <= '9') digits += shown[i];
        const bool is_exponent = (shown[i] == 'E' || shown[i] == 'e') && !digits.empty() &&
                                 i + 1 < shown.size() && (shown[i + 1] == '+' || shown[i + 1] == '-');
        if (is_exponent) break;
    }
    if (digits.empty() || digits.size() > 300) return std::nullopt;
    const double whole = std::strtod(digits.c_str(), nullptr);
    if (whole == 0.0) return std::fabs(value) < 0.5 ? std::optional(0.0) : std::nullopt;
    if (value == 0.0) return std::nullopt;
    const int exponent = static_cast<int>(std::lround(std::log10(std::fabs(value) / whole)));
    if (exponent < -400 || exponent > 400) return std::nullopt;
    const std::string text = (value < 0.0 ? "-" : "") + digits + "e" + std::to_string(exponent);
    const double as_shown = std::strtod(text.c_str(), nullptr);
    // Half a unit of the last digit, plus a tolerance for ties.
    const double unit = std::strtod(("1e" + std::to_string(exponent)).c_str(), nullptr);
    if (!(std::fabs(as_shown - value) <= 0.5001 * unit + 1e-14 * std::fabs(value))) return std::nullopt;
    return as_shown;
}

std::string shortest(double value) {
    char text[64];
    const auto end = std::to_chars(text, text + sizeof text, value).ptr;
    return {text, end};
}

}  // namespace pullsheet::addin::customer_copy
