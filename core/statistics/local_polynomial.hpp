// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace pullsheet::statistics {

/// The results of the local fits, one for each place asked for.
struct LocalFit {
    std::vector<double> value;       ///< unit of y
    std::vector<double> derivative;  ///< unit of y / unit of x
    /// Standard deviation of value and derivative for independent rows that scatter by one unit of y
    /// (ordinary least squares, square roots of the diagonal of (XᵀX)⁻¹); times the scatter of the rows,
    /// their uncertainty.
    std::vector<double> value_factor;
    std::vector<double> derivative_factor;
};

/// Values and first derivatives of (x, y) at the places `at`, by a polynomial of `order` (1, 2 or 3) fitted
/// by least squares to the rows within `half_width` of each place: Savitzky & Golay's method (Anal. Chem. 36,
/// 1964) for abscissae that need not be equally spaced. `x` strictly ascending, `at` ascending and within x.
/// A place with less than `least_rows` rows (at least order + 2) within reach takes the nearest ones on both
/// sides instead, so a gap in a log is bridged. Near an end the window is one-sided. The sums of the normal
/// equations slide along with the place, about an origin that moves with it, so that the effort does not grow
/// with the window; agrees with a QR fit to about 1e-9 of the range of y. Throws
/// InvalidArgument("half_width", "order", "at"), InvalidArgument("values", Reason::lengths_differ),
/// NoData(Reason::too_few_points).
LocalFit local_polynomial(std::span<const double> x, std::span<const double> y, std::span<const double> at,
                          double half_width, std::size_t order = 2, std::size_t least_rows = 0);

/// How much the y of a log scatter about a smooth curve, one standard deviation, unit of y: from the
/// departures of each row from the line through its two neighbours (Gasser, Sroka & Jennen-Steinmetz,
/// Residual variance and residual pattern in nonlinear regression, Biometrika 73, 1986, eq. 2.3), taken
/// robustly by their median. Where a coarse resolution holds y for several rows, the scatter of that rounding
/// is counted and `spacing` is the spacing of the changes.
struct Scatter {
    double standard_deviation;
    double spacing;  ///< of independent rows, unit of x
};
/// `x` strictly ascending, at least three rows; else NoData(Reason::too_few_points).
Scatter scatter(std::span<const double> x, std::span<const double> y);

}  // namespace pullsheet::statistics
