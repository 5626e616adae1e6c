// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <exception>
#include <initializer_list>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "core/quantity.hpp"
#include "core/reason.hpp"

namespace pullsheet {

/// A closed, half-open or open interval of numbers. NaN lies in no interval.
struct Interval {
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
    bool low_open = false;
    bool high_open = false;

    constexpr bool contains(double x) const {
        return (low_open ? x > low : x >= low) && (high_open ? x < high : x <= high);
    }
};

/// All finite numbers above zero.
inline constexpr Interval positive{0.0, std::numeric_limits<double>::infinity(), true, true};
/// All finite numbers from zero up.
inline constexpr Interval not_negative{0.0, std::numeric_limits<double>::infinity(), false, true};
/// All finite numbers.
inline constexpr Interval finite{-std::numeric_limits<double>::infinity(),
                                 std::numeric_limits<double>::infinity(), true, true};
/// A share: 0 … 1.
inline constexpr Interval unit_share{0.0, 1.0, false, false};

/// One number that belongs to an error or a warning, in SI. The catalogue writes it in a trade unit.
struct Detail {
    double value;
    Quantity quantity = Quantity::number;
};

/// A number of things as a detail.
inline Detail counted(std::size_t n) {
    return {static_cast<double>(n), Quantity::count};
}

/// What every error of the core has in common. What to do about it is each host's affair.
class Error : public std::exception {
  public:
    const char* what() const noexcept override = 0;
};

/// An argument that the function cannot take.
class InvalidArgument final : public Error {
  public:
    /// `parameter` is the name of the parameter in the header, `value` (SI) lies outside `allowed` (SI).
    InvalidArgument(const char* parameter, double value, Interval allowed)
        : parameter_(parameter), value_(value), allowed_(allowed), reason_(Reason::out_of_range) {}
    /// An argument refused for another reason than its size.
    InvalidArgument(const char* parameter, Reason reason, std::initializer_list<Detail> details = {})
        : parameter_(parameter), reason_(reason), details_(details) {}

    const char* parameter() const noexcept { return parameter_; }
    double value() const noexcept { return value_; }
    Interval allowed() const noexcept { return allowed_; }
    Reason reason() const noexcept { return reason_; }
    const std::vector<Detail>& details() const noexcept { return details_; }
    const char* what() const noexcept override { return parameter_; }

  private:
    const char* parameter_;
    double value_ = std::numeric_limits<double>::quiet_NaN();
    Interval allowed_;
    Reason reason_;
    std::vector<Detail> details_;
};

/// The problem is well posed but has no solution (a target out of reach, a bracket without a root).
class NoSolution final : public Error {
  public:
    explicit NoSolution(Reason reason, std::initializer_list<Detail> details = {})
        : reason_(reason), details_(details) {}
    Reason reason() const noexcept { return reason_; }
    const std::vector<Detail>& details() const noexcept { return details_; }
    const char* what() const noexcept override { return "no solution"; }

  private:
    Reason reason_;
    std::vector<Detail> details_;
};

/// There is too little data, or none, to answer from.
class NoData final : public Error {
  public:
    explicit NoData(Reason reason, std::initializer_list<Detail> details = {})
        : reason_(reason), details_(details) {}
    Reason reason() const noexcept { return reason_; }
    const std::vector<Detail>& details() const noexcept { return details_; }
    const char* what() const noexcept override { return "no data"; }

  private:
    Reason reason_;
    std::vector<Detail> details_;
};

/// A value was given, and this should be known beside it.
struct Warning {
    Reason reason;
    std::vector<Detail> details;
};

/// Throws InvalidArgument(parameter, value, {low, high, low_open, high_open}). Out of line and with plain
/// numbers, so that a check that passes is two comparisons with constants.
[[noreturn]] void refuse(const char* parameter, double value, double low, double high, bool low_open,
                         bool high_open);

/// Returns `value` if it lies in `allowed`; throws InvalidArgument otherwise (also for NaN).
inline double require(const char* parameter, double value, Interval allowed) {
    if (!allowed.contains(value))
        refuse(parameter, value, allowed.low, allowed.high, allowed.low_open, allowed.high_open);
    return value;
}

/// The same for a value that may be left out.
inline void require_if_given(const char* parameter, const std::optional<double>& value, Interval allowed) {
    if (value) require(parameter, *value, allowed);
}

/// Throws InvalidArgument(parameter, Reason::not_whole, value).
[[noreturn]] void refuse_fraction(const char* parameter, double value);

/// Returns a count from 0 to 2⁵² if it is a whole number; throws InvalidArgument otherwise.
inline double require_whole(const char* parameter, double value) {
    constexpr double no_fraction_above = 0x1p52;  // added to it, a number is rounded to a whole one
    if ((value + no_fraction_above) - no_fraction_above != value) refuse_fraction(parameter, value);
    return value;
}

/// The same for a count that must lie in `allowed`.
inline double require_whole(const char* parameter, double value, Interval allowed) {
    return require_whole(parameter, require(parameter, value, allowed));
}

}  // namespace pullsheet
