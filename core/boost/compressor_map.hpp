// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "core/boost/compressor.hpp"
#include "core/error.hpp"

namespace pullsheet::boost {

/// One point of a compressor map, as read off it.
struct MapPoint {
    double shaft_speed;     ///< rad/s, corrected, > 0; the points of a speed line carry the same value
    double corrected_flow;  ///< kg/s, > 0
    double pressure_ratio;  ///< total to total, >= 1
    double efficiency;      ///< isentropic, share, above 0 to 1
};

/// What bounds a compressor map on a side.
enum class MapEdge {
    surge,          ///< the left ends of the speed lines
    choke,          ///< the right ends of the speed lines
    highest_speed,  ///< the fastest speed line drawn
    lowest_speed,  ///< the slowest speed line drawn: the compressor works beyond it, but the map does not say
                   ///< how
};

/// What a map says at a flow and a pressure ratio.
struct MapReading {
    double efficiency;    ///< share
    double shaft_speed;   ///< rad/s, corrected
    double left_flow;     ///< kg/s corrected at which the map begins at this pressure ratio
    double right_flow;    ///< kg/s corrected at which the map ends at this pressure ratio
    MapEdge left_edge;    ///< surge, lowest_speed or (above the beginning of the fastest line) highest_speed
    MapEdge right_edge;   ///< choke or highest_speed
    double surge_margin;  ///< (flow − left flow)/flow, share: how much less may flow at this pressure ratio
    double choke_margin;  ///< (right flow − flow)/flow, share: how much more may flow at this pressure ratio
    double lowest_ratio;  ///< pressure ratio of the slowest speed line there: below it the map does not say
                          ///< anything
    double ratio_margin;  ///< (highest pressure ratio of the map − pressure ratio)/pressure ratio
    std::vector<Warning> warnings;  ///< Reason::near_surge, near_choke, near_highest_speed (detail: margin)
};

/// A compressor map out of digitised points.
///
/// Each speed line is a curve through its points over the coordinate u, which runs from 0 at the surge end to
/// 1 at the choke end: the mean of the share of the line's flow range that is behind and the share of its
/// pressure range that is spent. So neither the flat beginning nor the steep end of a line is a difficulty
/// (the auxiliary coordinate is common practice with maps of gas turbines). Flow, ratio and efficiency are
/// curves of statistics::MonotoneCurve in u, and so are flow, efficiency and speed over pressure ratio from
/// speed line to speed line at equal u. The curves pass through every point given and do not overshoot
/// between points.
class CompressorMap {
  public:
    /// `points` in any order. Points whose shaft speeds differ by less than 0.5 % form one speed line.
    /// Throws InvalidArgument("map", …) with Reason::map_line_shape (detail: shaft speed) where a line does
    /// not fall from a higher ratio at small flow to a lower one at large flow, Reason::map_point_twice
    /// (shaft speed, flow) for two points at one place, Reason::map_lines_cross (the two shaft speeds) where
    /// a faster line does not lie above a slower one; InvalidArgument for a number outside its range; NoData
    /// with Reason::map_too_small (speed lines given, needed) or Reason::map_line_too_short (shaft speed,
    /// points given, needed) below two speed lines or three points.
    explicit CompressorMap(std::span<const MapPoint> points, Reference reference = {});

    /// Reads the map at `corrected_flow` kg/s and `pressure_ratio`. Throws NoSolution outside the map:
    /// Reason::map_ends_left (ratio, flow where the map begins, flow asked), map_ends_right (ratio, flow
    /// where it ends, flow asked), map_ends_above (highest ratio, ratio asked), map_begins_above (ratio of
    /// the slowest line there, ratio asked). Less than 5 % from an edge the reading carries a warning.
    MapReading at(double corrected_flow, double pressure_ratio) const;

    /// The same without the refusal: efficiency and speed of the nearest point of the map, and margins that
    /// are negative outside. For solving only: a result that matters must be inside, see clearance. At most
    /// four roots, each of at most 102 evaluations of a curve.
    MapReading nearest(double corrected_flow, double pressure_ratio) const;

    /// Corrected flow of the surge line at a pressure ratio >= 1, kg/s, that of the highest ratio above it.
    /// Below the slowest speed line it follows from that line's surge end by similarity: flow with speed,
    /// Π^((κ−1)/κ) − 1 with its square (Dixon & Hall 2014, ch. 2).
    double surge_flow(double pressure_ratio) const;

    /// The factor on the speed of the slowest line at which the compressor gives a pressure ratio below that
    /// line at `corrected_flow` kg/s, by the same similarity: 0 … 1; 1 on the line and above.
    double speed_below_slowest(double corrected_flow, double pressure_ratio) const;

    Reference reference() const noexcept { return reference_; }
    double highest_ratio() const noexcept;
    /// The greatest flow of any speed line, kg/s corrected.
    double highest_flow() const noexcept;

    /// The same map: a copy of it.
    bool operator==(const CompressorMap&) const = default;

  private:
    struct Lines;
    std::shared_ptr<const Lines> lines_;  // never changed after construction, so copies may share it
    Reference reference_;
};

/// How far inside the map a reading lies: the smallest of its margins to surge, choke, highest speed and
/// highest ratio; negative outside. The lowest speed line does not count, since a compressor works below it.
double clearance(const MapReading& reading);

}  // namespace pullsheet::boost
