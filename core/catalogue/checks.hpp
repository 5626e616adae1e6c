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

/// How far a computed value may lie from the value it is held against.
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

/// Where the value that a function is held against comes from.
enum class Evidence {
    /// Somebody else has printed it: a standard, a handbook, a textbook, a report. The tolerance is half a
    /// unit
    /// of the last printed digit.
    printed,
    /// Another program or another formula gave it, named, with how it was run.
    independent,
    /// It must be so: an exact definition, a reference condition, or the cited formula evaluated once more.
    /// It
    /// guards against a slip, not against a wrong formula.
    identity,
};

/// Where a printed value stands.
struct Reference {
    std::string_view work;       ///< author or body, title, year
    std::string_view read = {};  ///< the copy in which it was read; nothing: quoted from memory of the work
};

/// A value that a function of the catalogue is held against. Anyone who holds the source can follow it.
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
    /// Not a value but its change is meant: the value less that with these arguments, divided by `step`.
    std::vector<Value> from = {};
    double step = 1.0;

    /// The cell of a table result.
    Check at(std::size_t in_row, std::size_t in_column) &&;
    /// The change of the value from a call with other arguments, for each step.
    Check change(std::vector<Value> from_arguments, double for_step) &&;
    /// The printed value holds only within `wider`, for the reason that the note gives.
    Check within(Tolerance wider, std::string_view reason) &&;
};

/// A value as printed, with so many decimals; `place` is the page, table or example.
Check printed(std::string_view function, std::vector<Value> arguments, double expected, int decimals,
              const Reference& reference, std::string_view place, std::string_view note = {});
/// A value of another program or formula, which `source` names, with how it was run.
Check independent(std::string_view function, std::vector<Value> arguments, double expected,
                  Tolerance tolerance, std::string_view source, std::string_view note = {});
/// A value that must be so.
Check identity(std::string_view function, std::vector<Value> arguments, double expected, Tolerance tolerance,
               std::string_view source, std::string_view note = {});

/// A check, run.
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

/// What `pullsheet verify` must find at least; of conversions and of values from memory, at most. To be
/// raised when values are added.
Counts least_counts();
bool is_enough(const Counts& counts);

/// Computes the value; why a call failed is said in `language`.
CheckResult run(const Check& check, Language language = Language::english);

}  // namespace pullsheet::catalogue
