// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "core/boost/compressor.hpp"
#include "core/statistics/monotone_curve.hpp"

namespace pullsheet::boost {

/// A point of a turbine map, as read off a maker's sheet.
struct TurbineMapPoint {
    double pressure_ratio;                ///< absolute, before over behind the turbine, > 1
    double corrected_flow;                ///< kg/s in the reference of the map, > 0
    std::optional<double> efficiency{};   ///< share, bearings included; of all points or of none
    std::optional<double> shaft_speed{};  ///< rad/s, corrected to the reference; of all points or of none
};

/// What a turbine passes by its map: the flow over the expansion ratio, one monotone curve a speed line. The
/// corrected flow is ṁ·√(T₃/T_ref)/(p₃/p_ref).
///
/// Above the last ratio of a line the flow stays; below the first it is scaled as two nozzles in series
/// (flow_function). Between speed lines in proportion to the corrected speed; beyond the slowest and the
/// fastest line that line; where the speed is not known, the mean of the lines. SAE J922, J1826 for the
/// terms; makers differ in the reference.
class TurbineMap {
  public:
    /// At least two points a line, in any order. Throws NoData(map_line_too_short) (details: shaft speed,
    /// points given, needed), InvalidArgument for numbers out of range; with Reason::map_point_twice
    /// (details: shaft speed, flow), with Reason::not_increasing (detail: the point of its line, counted from
    /// 1 by ratio) for a flow that falls as the ratio grows, and with Reason::lengths_differ (details: points
    /// with it, points) where only some points have an efficiency or a speed.
    explicit TurbineMap(const std::vector<TurbineMapPoint>& points, Reference reference = {288.15, 101325.0});

    /// What the map tells at an expansion ratio > 1. `corrected_speed` rad/s where it is known.
    struct Reading {
        double corrected_flow;               ///< kg/s
        std::optional<double> efficiency{};  ///< share, held at the ends of a line; none: the map has none
        bool extrapolated = false;           ///< outside the ratios of a line that was used
    };
    Reading at(double pressure_ratio, std::optional<double> corrected_speed = {}) const;

    /// The expansion ratio at which `flow` kg/s of one turbine passes it, at `gas_temperature` K before and
    /// `outlet_pressure` Pa behind it; `shaft_speed` rad/s, real. 1 where nothing flows. By TOMS 748, at most
    /// 100 evaluations; in closed form above the last ratio.
    double pressure_ratio(double flow, double gas_temperature, double outlet_pressure,
                          std::optional<double> shaft_speed = {}) const;

    /// The speed corrected to the reference of the map, rad/s.
    double corrected_speed(double shaft_speed, double gas_temperature) const;

    const Reference& reference() const { return reference_; }
    bool has_efficiency() const { return has_efficiency_; }

    bool operator==(const TurbineMap&) const = default;

  private:
    struct Line {
        double speed;
        statistics::MonotoneCurve flow;
        std::optional<statistics::MonotoneCurve> efficiency;

        bool operator==(const Line&) const = default;
    };
    Reading on(const Line& line, double pressure_ratio) const;

    Reference reference_;
    std::vector<Line> lines_;  // by speed
    double highest_ratio_ = 1.0;
    bool has_efficiency_ = false;
};

}  // namespace pullsheet::boost
