// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::statistics {

/// The argument found, and what should be known about it.
struct Solution {
    double argument;
    std::vector<Warning> warnings;  ///< Reason::several_solutions (number found, the next one)
};

/// The argument between `low` and `high` (low < high) for which `function` gives `target`; the lowest one if
/// there are several, which is said. The interval is searched in 32 steps and at the highest and lowest
/// places between them (Brent 1973), so that two solutions within one step, or a target just touched, are
/// found too, and where the function ceases to have a value; each bracket is solved by TOMS 748 (Alefeld,
/// Potra & Shi 1995). `function` answers NaN where it is not defined; what it throws passes through. A sign
/// change across a jump is no solution. A smooth function is evaluated some fifty times, the worst never more
/// than 23 000 times. Throws InvalidArgument("target", "low" or "high"),
/// NoSolution(Reason::target_not_reached) with the lowest and the highest value found between the bounds,
/// NoSolution(Reason::not_finite) if the function has no value anywhere there.
Solution solve(const std::function<double(double)>& function, double target, double low, double high);

}  // namespace pullsheet::statistics
