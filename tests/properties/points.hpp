// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "core/catalogue/catalogue.hpp"
#include "tests/catalogue/all_functions.hpp"

/// Points in the ranges that the catalogue states, for the properties and sweeps of every function.
namespace pullsheet::catalogue::properties {

/// Where the points lie.
enum class Reach {
    established,  ///< inside the range for which the formula was established; where none is stated, near the
                  ///< example
    whole,        ///< in all of the range that is allowed; where it has no end, over twelve powers of ten
};

using sample::all_functions;
using sample::test_name;

/// The functions that integrate or search: they are tested at few points.
bool takes_long(const Function& function);

/// The arguments of the example, with room for those it leaves out.
std::vector<Value> example_arguments(const Function& function);

/// The number that an argument is, in the default unit of its parameter.
std::optional<double> number_in(const Parameter& parameter, const Value& value);

/// The number at `share` (0 … 1) of the way through the range of a parameter, in its default unit. `near` is
/// the number of the example, which says where an endless range is of interest.
double number_at(const Parameter& parameter, double near, double share, Reach reach);

/// Whether a parameter is varied by `argument_at`.
bool is_varied(const Parameter& parameter, const Value& example);

/// The argument at `share` of the way through the range of a parameter.
Value argument_at(const Parameter& parameter, const Value& example, double share, Reach reach);

/// The arguments of a function, each number and choice at its share of the way through its range.
std::vector<Value> arguments_at(const Function& function, std::span<const double> shares, Reach reach);

/// Points that fill a box evenly: a Latin hypercube (McKay, Beckman & Conover 1979), of which every
/// coordinate takes each of `count` equal steps once; of fewer in a build that is watched. The same points on
/// every machine.
class LatinHypercube {
  public:
    LatinHypercube(std::size_t count, std::size_t dimensions);
    std::size_t count() const { return count_; }
    /// Coordinate `dimension` of a point, above 0 and below 1.
    double share(std::size_t point, std::size_t dimension) const {
        return (static_cast<double>(steps_[dimension][point]) + 0.5) / static_cast<double>(count_);
    }
    /// Coordinate `dimension` of a point, from `low` to `high`.
    double between(std::size_t point, std::size_t dimension, double low, double high) const {
        return low + share(point, dimension) * (high - low);
    }
    /// The same on a logarithmic scale.
    double decades(std::size_t point, std::size_t dimension, double low, double high) const;
    std::vector<double> shares(std::size_t point) const;

  private:
    std::size_t count_;
    std::vector<std::vector<std::size_t>> steps_;
};

/// The answer of a call that must answer with a number.
double number(const char* name, std::vector<Value> arguments);

/// One cell of the answer of a call that must answer with a table; row 0 is the header.
double cell(const char* name, std::vector<Value> arguments, std::size_t row, std::size_t column);

/// A value as a person would read it in the message of a failed test.
std::string shown(const Value& value);

std::string shown(const Function& function, std::span<const Value> arguments);

}  // namespace pullsheet::catalogue::properties
