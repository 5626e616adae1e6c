// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>

#include "core/plan/operating_point.hpp"

namespace pullsheet::plan {

/// A load whose use is demand divided by capacity.
PartLoad load_of(double demand, double capacity, Quantity quantity);

/// K, of what cools the charge: its own, or the air outside.
double coolant_temperature(const ChargeCooler& cooler, const Weather& weather);

/// What each part is asked for at an operating point, and what it has. It refers to its arguments, which must
/// outlive it.
class PartLoads {
  public:
    PartLoads(const Parts& parts, const fuel::Fuel& fuel, const Weather& weather)
        : parts_(parts), fuel_(fuel), weather_(weather) {}

    /// Whether the part's load depends on the air path, or on power and fuel alone.
    bool needs_air(std::size_t part) const;

    /// Whether the part states any limit at all.
    bool limited(std::size_t part) const;

    /// The load of a part at a point; of one that needs_air the air path must be there. Throws NoSolution
    /// where the part cannot do anything there, NoData beyond what is known of it.
    PartLoad load(std::size_t part, const OperatingPoint& point) const;
    /// Whether what is known of the part is a curve or a map, which ends somewhere.
    bool by_points(std::size_t part) const;
    /// Why nothing is known of a part at a point, where its curve or map ends before the part's own limit.
    std::optional<Warning> data_end(std::size_t part, const OperatingPoint& point) const;
    /// The function whose root is the part's limit: continuous in power, negative while the part carries the
    /// point, zero at its limit. None beyond the curve of a pump: a root search often asks there, and an
    /// exception takes as long as the rest. Throws as `load` otherwise.
    std::optional<double> excess(std::size_t part, const OperatingPoint& point) const;
    /// The same without the surge line of a compressor map: what holds the manifold pressure down.
    std::optional<double> upper_excess(std::size_t part, const OperatingPoint& point) const;
    /// Share of the flow to the surge line of the compressor map (boost::CompressorMap::surge_flow), below 0
    /// left of it; none without a map or where the compressor has nothing to do.
    std::optional<double> surge_margin(const OperatingPoint& point) const;

  private:
    std::optional<double> excess(std::size_t part, const OperatingPoint& point, bool with_surge) const;

    const Parts& parts_;
    const fuel::Fuel& fuel_;
    const Weather& weather_;
};

}  // namespace pullsheet::plan
