// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/catalogue/block.hpp"
#include "core/catalogue/function.hpp"
#include "core/catalogue/sentences.hpp"
#include "core/catalogue/warnings.hpp"
#include "core/fuel/fuel.hpp"

namespace pullsheet::catalogue {

/// The greatest number of parameters of a function, the unit of the result included.
inline constexpr std::size_t max_parameters = 20;

/// The arguments of one call, converted to SI, as passed to the functions of the entries. Parameters are
/// counted from 0 in the order of the entry.
class Call {
  public:
    Call(const Function& function, Language language, Warnings& warnings_)
        : warnings(warnings_), function_(function), language_(language) {}

    /// The number of parameter `i`, SI; its default if it was omitted.
    double si(std::size_t i) const { return read_[i].number; }
    /// False if the argument was omitted, even if it has a default.
    bool given(std::size_t i) const { return read_[i].given; }
    /// The text of parameter `i`, empty if omitted.
    std::string_view text(std::size_t i) const;
    /// The index of the choice of parameter `i`.
    std::size_t choice(std::size_t i) const { return static_cast<std::size_t>(read_[i].number); }
    /// The fuel of parameter `i`.
    fuel::Fuel fuel(std::size_t i);
    /// The row or column of parameter `i`, SI. Every cell must hold a number.
    std::vector<double> series(std::size_t i);
    /// The same from a raw log: cells that are not numbers arrive as NaN.
    std::vector<double> raw_series(std::size_t i);
    /// The block of parameter `i`.
    Block block(std::size_t i);
    /// The argument as passed, unconverted.
    const Value& value(std::size_t i) const { return *read_[i].value; }
    /// All arguments from parameter `i` on (Kind::list).
    std::span<const Value> list() const { return list_; }

    Language language() const { return language_; }
    const Function& function() const { return function_; }

    /// Compares a number of a row that states its own quantity with the ranges of its figure. Returns the
    /// number, or a failure if it is impossible; adds a warning if it is unusual.
    Cell held(std::string_view name, double si, const Figure& figure);

    /// Adds a warning to the result.
    void warn(const std::vector<Warning>& more);
    void warn(std::string sentence) { warnings.add(std::move(sentence)); }

    Warnings& warnings;

  private:
    friend class Evaluation;
    struct Read {
        double number;
        const Value* value;
        const Cell* cell;  ///< when the argument is one cell of a range
        bool given;
    };
    const Function& function_;
    Language language_;
    Read read_[max_parameters];  ///< those of the function's parameters are set before the call
    std::span<const Value> list_;
};

}  // namespace pullsheet::catalogue
