// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <span>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::statistics {

/// What the uncertainty of one argument does to the result.
struct Contribution {
    double effect;  ///< sensitivity × standard uncertainty of the argument, unit of the result, signed
    double share;   ///< its part of the squared combined uncertainty, 0 … 1
};

/// A value with its uncertainty.
struct Uncertain {
    double value;
    double uncertainty;                       ///< combined standard uncertainty, unit of the value
    std::vector<Contribution> contributions;  ///< one for each argument
    std::vector<Warning> warnings;            ///< Reason::strongly_curved, one_sided_difference
};

/// A function of several numbers. Answers NaN where it is not defined; what it throws passes through.
using Model = std::function<double(std::span<const double>)>;

/// Propagates the `standard_uncertainties` (≥ 0, same order and units as `arguments`, independent of each
/// other) through `model` to first order: u² = Σ(cᵢuᵢ)² with cᵢuᵢ = ½(f(xᵢ + uᵢ) − f(xᵢ − uᵢ)), the central
/// difference over ± one standard uncertainty. JCGM 100:2008 (GUM) eq. 10 and 5.1.3 note 2. Where the model
/// is not defined a standard uncertainty away, a hundredth of it is taken and scaled up; where only one side
/// is defined, the difference to that side (Reason::one_sided_difference, detail: position from 1). If f
/// bends over ± uᵢ by more than a tenth of cᵢuᵢ and that part matters, Reason::strongly_curved (position from
/// 1, bend/effect) says that the first order is not enough. Throws InvalidArgument("standard_uncertainties"),
/// NoSolution(Reason::not_finite) if the model has no value at the arguments or beside them.
Uncertain propagate(const Model& model, std::span<const double> arguments,
                    std::span<const double> standard_uncertainties);

}  // namespace pullsheet::statistics
