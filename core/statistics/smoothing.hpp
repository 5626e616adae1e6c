// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::statistics {

/// The highest polynomial order a smoothing takes; a higher one oscillates.
inline constexpr std::size_t highest_smoothing_order = 6;

/// A smoothed column.
struct Smoothed {
    std::vector<double> values;  ///< as many rows as there are between the first and the last number given
    std::size_t first_row;  ///< the row (from 0) of the column given in which the first of `values` stands
    std::vector<Warning> warnings;  ///< Reason::rows_not_numeric (rows before the first or after the last
                                    ///< number), Reason::rows_filled (count)
};

/// Smooths equally spaced `values` (any unit) by a polynomial of `order` (0 … 6) fitted to each `window` of
/// rows (odd, above `order`, at most the number of rows): the filter of Savitzky & Golay (Smoothing and
/// differentiation of data by simplified least squares procedures, Anal. Chem. 36, 1964), by a QR
/// decomposition (Eigen) in place of the printed tables. The rows closer to an end than half a window take
/// their values from the polynomial of the first or last window. Rows without a number (NaN) at the ends are
/// left out; between numbers they are filled from the polynomial through their neighbours, with a warning.
/// `order` and `window` are doubles as they come from a cell. Throws InvalidArgument("window",
/// Reason::not_odd), InvalidArgument("window" or "order", out of range), NoData(Reason::too_few_points) for
/// less than three numbers or a window with too many gaps, InvalidArgument("window",
/// Reason::smoothing_too_long) where rows and window together would take longer than a cell may.
Smoothed smooth(std::span<const double> values, double window, double order = 2.0);

}  // namespace pullsheet::statistics
