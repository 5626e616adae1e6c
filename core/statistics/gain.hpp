// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "core/statistics/summary.hpp"

namespace pullsheet::statistics {

/// A change between two series of measurements.
struct Gain {
    double gain;     ///< mean after − mean before
    double low;      ///< lower end of the interval at the confidence asked for
    double high;     ///< upper end
    double p;        ///< probability of a difference at least as large, either way, if nothing had changed
    double t;        ///< gain / standard error
    double freedom;  ///< effective degrees of freedom (Welch–Satterthwaite)
};

/// The change from `before` to `after` (same unit, at least two values each), the two scatters not assumed
/// equal: Welch (The generalization of 'Student's' problem, Biometrika 34, 1947); NIST/SEMATECH e-Handbook of
/// Statistical Methods 1.3.5.3. `confidence` between 0 and 1. Throws InvalidArgument("before" or "after",
/// value not finite), InvalidArgument("confidence"), NoData(too_few_points), NoSolution(Reason::no_scatter)
/// if neither series scatters.
Gain gain(std::span<const double> before, std::span<const double> after, double confidence = 0.95);
/// The same from summaries.
Gain gain(const Summary& before, const Summary& after, double confidence = 0.95);

/// Effective degrees of freedom of a combined standard uncertainty: (Σu²)² / Σ(u⁴/ν). JCGM 100:2008 (GUM) eq.
/// G.2b. `uncertainties` and `freedoms` of equal length.
double effective_freedom(std::span<const double> uncertainties, std::span<const double> freedoms);

}  // namespace pullsheet::statistics
