// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/sentences.hpp"
#include "core/catalogue/value.hpp"

namespace pullsheet::catalogue {

/// The tolerance between a computed value and its reference value.
struct Tolerance {
    double value;
    bool is_relative;

    static constexpr Tolerance absolute(double value) { return {value, false}; }
    static constexpr Tolerance relative(double value) { return {value, true}; }
    /// Half a unit of the last of `decimals` printed decimals (negative: of tens, hundreds …).
    static Tolerance printed(int decimals);
    /// An exact definition: only floating-point rounding is allowed.
    static constexpr Tolerance exact() { return {1e-12, true}; }
};

/// The origin of a reference value.
enum class Evidence {
    /// Published: in a standard, a handbook, a textbook or a report. The tolerance is half a unit of the last
    /// printed digit.
    printed,
    /// Computed by another program or another formula; the source names it and how it was run.
    independent,
    /// Identity: an exact definition, a reference condition, or a second evaluation of the cited formula. It
    /// detects coding errors, not a wrong formula.
    identity,
};

/// The publication of a printed value.
struct Reference {
    std::string_view work;       ///< author or body, title, year
    std::string_view read = {};  ///< the copy in which it was read; nothing: quoted from memory of the work
};

/// A reference value for a function of the catalogue. Anyone with the source can verify it.
struct Check {
    std::string_view function;
    std::vector<Value> arguments;
    double expected;  ///< in the unit that the arguments ask for, or the default unit
    Tolerance tolerance;
    Evidence evidence;
    std::string source;          ///< author or body, title, year, and the page, table or example
    std::string_view read;       ///< of a printed value: the copy in which it was read; nothing: from memory
    std::string_view note = {};  ///< what the reader of the source must know
    /// A printed value whose tolerance is wider than what is printed; the note says why.
    bool is_wider = false;
    std::size_t row = 0;  ///< of a table result, the header is row 0
    std::size_t column = 0;
    /// The check applies to a difference quotient: the value minus the value with these arguments, divided by
    /// `step`.
    std::vector<Value> from = {};
    double step = 1.0;

    /// The cell of a table result.
    Check at(std::size_t in_row, std::size_t in_column) &&;
    /// Checks the change of the value from a call with other arguments, per step.
    Check change(std::vector<Value> from_arguments, double for_step) &&;
    /// Sets the tolerance `wider` instead of the printed precision; the note gives the reason.
    Check within(Tolerance wider, std::string_view reason) &&;
};

/// A value as printed, with so many decimals; `place` is the page, table or example.
Check printed(std::string_view function, std::vector<Value> arguments, double expected, int decimals,
              const Reference& reference, std::string_view place, std::string_view note = {});
/// A value of another program or formula; `source` names it and how it was run.
Check independent(std::string_view function, std::vector<Value> arguments, double expected,
                  Tolerance tolerance, std::string_view source, std::string_view note = {});
/// A value that follows from an identity.
Check identity(std::string_view function, std::vector<Value> arguments, double expected, Tolerance tolerance,
               std::string_view source, std::string_view note = {});

/// The result of a check.
struct CheckResult {
    std::optional<double> computed;  ///< nothing if the call failed
    /// computed − expected, divided by the expected value if the tolerance is relative
    double deviation = 0.0;
    bool agrees = false;
    std::string sentence;  ///< why the call failed
};

/// How many check values there are of each kind.
struct Counts {
    std::size_t printed = 0;      ///< to the printed precision
    std::size_t conversions = 0;  ///< of these, conversions of units
    std::size_t remembered = 0;   ///< of these, quoted from memory of the work
    std::size_t wider = 0;  ///< printed, but held only within a wider tolerance: not counted in `printed`
    std::size_t independent = 0;
    std::size_t identities = 0;
};

/// All check values, in the order of the families.
std::span<const Check> checks();

Counts count(std::span<const Check> checks);

/// The minimum counts for `pullsheet verify`, and the maximum counts of conversions and of values from
/// memory. Raise them when values are added.
Counts least_counts();
bool is_enough(const Counts& counts);

/// Runs the check; the reason of a failed call is given in `language`.
CheckResult run(const Check& check, Language language = Language::english);

}  // namespace pullsheet::catalogue
