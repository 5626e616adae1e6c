// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "core/error.hpp"

namespace pullsheet::statistics {

/// What was taken out of a raw log, or moved, in rows.
struct Dropped {
    std::size_t not_numeric = 0;   ///< a cell was empty, text or not finite
    std::size_t repeated = 0;      ///< averaged into another row with the same abscissa
    std::size_t out_of_order = 0;  ///< sorted into place; nothing is lost
    std::size_t lead = 0;          ///< before the run begins
    std::size_t tail = 0;          ///< after the run ends
    std::size_t spikes = 0;        ///< taken out as spikes

    bool nothing() const { return not_numeric + repeated + out_of_order + lead + tail + spikes == 0; }
};

/// One warning for each kind of row counted in `dropped`: Reason::rows_not_numeric, rows_repeated,
/// rows_sorted, rows_before_run, rows_after_run, rows_spikes (detail: count).
std::vector<Warning> warnings(const Dropped& dropped);

/// Two columns that belong together, x strictly ascending.
struct Series {
    std::vector<double> x;
    std::vector<double> y;
    Dropped dropped;
};

/// What kind of log is cleaned.
enum class Log {
    over_time,  ///< x is a time; the rows run once from begin to end
    over_speed  ///< x is a speed that rose during the run and may fall after it (lift-off)
};

/// The names of the two columns, as the parameters of the function that takes them.
struct Columns {
    const char* x;
    const char* y;
};

/// Turns two raw columns into a series that can be computed with. In this order:
///  1. rows in which either cell is NaN or infinite are left out (empty cells, headings, remarks);
///  2. over_speed only: when x rises to its highest value and then falls back, the falling rows are left out
///     (the tail after lift-off); a table that falls or jumps about from the beginning is sorted instead;
///  3. rows out of order are sorted into place;
///  4. rows with the same x are averaged into one;
///  5. spikes of y are left out (see spikes), if there are at least `least_rows_for_spikes` rows.
/// `columns` are the names for errors. Throws InvalidArgument(y, Reason::lengths_differ) for columns of
/// unequal length; InvalidArgument(x, Reason::series_starts_again) (details: row counted from 1, value
/// before, value there) where a log over time goes back and runs again, as when two runs are pasted into one
/// column; InvalidArgument(y, Reason::too_many_spikes) (spikes, rows) if more than a tenth of the rows are
/// spikes; NoData(Reason::too_few_points) (rows left, needed) if less than `needed` rows remain.
Series clean_series(std::span<const double> x, std::span<const double> y, Log log, Columns columns,
                    std::size_t needed = 2);

/// Below so many rows nothing is called a spike: a short table is typed by hand and has its corners.
inline constexpr std::size_t least_rows_for_spikes = 25;

/// True for each row of (x, y), x strictly ascending, that is a spike: it departs from the median of straight
/// lines through its neighbours by more than six robust standard deviations (1.4826 × median absolute
/// deviation, the greater of that of the whole series and that of the seven rows around), and by more than
/// three steps of the finest resolution seen. This is the identifier of Hampel (1974; Davies & Gather, The
/// identification of multiple outliers, J. Am. Stat. Assoc. 88, 1993), with lines in place of the median
/// level so that a steep slope is no spike. Finds spikes of one or two rows.
std::vector<bool> spikes(std::span<const double> x, std::span<const double> y);

/// The median of `values` (sorted partly on the way); NaN if there are none.
double median(std::vector<double>& values);

}  // namespace pullsheet::statistics
