// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "core/error.hpp"
#include "core/statistics/monotone_curve.hpp"

namespace pullsheet::dyno {

/// A place of a curve.
struct CurvePoint {
    double speed;
    double value;
};

/// A row of a resampled curve; no value outside what was measured.
struct ResampledRow {
    double speed;
    std::optional<double> value;
};

struct Resampled {
    std::vector<ResampledRow> rows;
    std::vector<Warning> warnings;  ///< Reason::rows_outside_curve (count, lowest, highest measured speed)
};

/// Where a curve holds a share of its peak.
struct Band {
    double from;
    double to;
    double width;
    std::vector<Warning> warnings;  ///< Reason::band_reaches_end (speed), band_interrupted (other stretches)
};

/// A measured curve over engine speed: torque, power or anything else a pull brings. Speeds and values carry
/// any unit and are answered in it.
///
/// The raw columns are cleaned (statistics::clean_series, Log::over_speed): cells that are not numbers, the
/// falling tail after lift-off and spikes are left out, rows are sorted, repeated speeds averaged;
/// `warnings()` say so. Between the rows runs statistics::MonotoneCurve;
/// nothing is extrapolated, and the noise of a log is kept: smooth first where it disturbs.
class MeasuredCurve {
  public:
    /// `speeds` and `values` of equal length, at least two usable rows. `values_name` is the name of the
    /// second parameter for errors ("values", "torques"). Throws what statistics::clean_series throws.
    MeasuredCurve(std::span<const double> speeds, std::span<const double> values,
                  const char* values_name = "values");

    /// What was left out or moved.
    const std::vector<Warning>& warnings() const noexcept { return warnings_; }
    const statistics::MonotoneCurve& curve() const noexcept { return curve_; }

    /// The value at `speed`. Throws InvalidArgument("speed") outside what was measured.
    double at(double speed) const { return curve_.at(speed); }

    /// The highest place. The cubic keeps the shape of the rows, so it is one of them; the lowest speed of
    /// several equal ones.
    CurvePoint peak() const;

    /// Values at `from`, from + `step` … up to `to`, to lay pulls over each other; rows outside what was
    /// measured stay empty, and that is said. Throws InvalidArgument("speed_step" ≤ 0, "to" < from, or
    /// Reason::too_many_rows), InvalidArgument("from" or "to") if nothing between them was measured.
    Resampled resample(double from, double to, double step) const;

    /// Mean value between `from` and `to` (from < to, both measured): integral of the cubic / width. Throws
    /// InvalidArgument("from" or "to").
    double mean(double from, double to) const;

    /// The speeds about the peak between which the curve holds at least `share` (above 0 up to 1) of its peak
    /// without a break. Two roots of at most 102 evaluations. Throws InvalidArgument("share"),
    /// InvalidArgument(values, Reason::no_peak_above_zero) (the peak).
    Band band(double share = 0.9) const;

  private:
    struct Cleaned;
    explicit MeasuredCurve(Cleaned cleaned);

    const char* values_name_;
    std::vector<Warning> warnings_;
    statistics::MonotoneCurve curve_;
};

}  // namespace pullsheet::dyno
