// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/sentences.hpp"
#include "core/catalogue/value.hpp"

namespace pullsheet::catalogue {

/// How far a computed value may lie from a published one.
struct Tolerance {
    double value;
    bool is_relative;

    static constexpr Tolerance absolute(double value) { return {value, false}; }
    static constexpr Tolerance relative(double value) { return {value, true}; }
    /// Half a unit of the last of `decimals` printed decimals (negative: of tens, hundreds …).
    static Tolerance printed(int decimals);
    /// An exact definition: only the rounding of the computation itself is forgiven.
    static constexpr Tolerance exact() { return {1e-12, true}; }
};

/// A published value against which a function of the catalogue can be checked by anyone who holds the source.
struct Check {
    std::string_view function;
    std::vector<Value> arguments;
    double expected;  ///< in the unit that the arguments ask for, or the default unit
    Tolerance tolerance;
    std::string_view source;     ///< author or body, title, year, place
    std::string_view note = {};  ///< "not checked against the printed text", "computed", or nothing
    std::size_t row = 0;         ///< of a table result, the header is row 0
    std::size_t column = 0;
};

/// A check, run.
struct CheckResult {
    std::optional<double> computed;  ///< nothing if the call failed
    double deviation =
        0.0;  ///< computed − published, divided by the published value if the tolerance is relative
    bool agrees = false;
    std::string sentence;  ///< why the call failed
};

/// All published check values, in the order of the families.
std::span<const Check> checks();

/// Computes the value; why a call failed is said in `language`.
CheckResult run(const Check& check, Language language = Language::english);

}  // namespace pullsheet::catalogue
