// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/plan/exhaust_side.hpp"
#include "core/plan/operating_point.hpp"

namespace pullsheet::plan {

/// The chain from power to hardware at one speed, made ready for many powers: what operating_point and limits
/// have in common. It refers to its arguments, which must outlive it.
class Chain {
  public:
    /// Checks every number; see operating_point for what is thrown.
    Chain(const Engine& engine, const fuel::Fuel& fuel, double speed, const Weather& weather,
          const Parts& parts);

    /// Whether the part's load depends on the air path, or on power and fuel alone.
    bool needs_air(std::size_t part) const;

    /// Whether the part is a pipe in front of the compressor.
    bool in_intake(std::size_t part) const;

    /// Whether the part states any limit at all.
    bool limited(std::size_t part) const;

    /// Power, torque, fuel and air flow; the air path is left at zero, and no load is told.
    OperatingPoint fuel_side(double power) const;
    /// The whole chain, every refusal and warning included, and the loads of all parts.
    OperatingPoint strict(double power) const;
    /// Adds the air path to a point of fuel_side, and the loads of its pipes, without refusals: beyond the
    /// compressor map its nearest point is taken, beyond the speed of sound the formula goes on.
    void add_air(OperatingPoint& point) const;
    /// The same for the intake pipes alone; all that they need to know is the flow.
    void add_intake(OperatingPoint& point) const;

    /// The load of a part at a point; of one that needs_air the air path must be there. Throws NoSolution
    /// where the part cannot do anything there, NoData beyond what is known of it.
    PartLoad load(std::size_t part, const OperatingPoint& point) const;
    /// Whether what is known of the part is a curve or a map, which ends somewhere.
    bool by_points(std::size_t part) const;
    /// Why nothing is known of a part at a point, where its curve or map has ended before it has given out.
    std::optional<Warning> data_end(std::size_t part, const OperatingPoint& point) const;
    /// Continuous in power, negative while the part carries the point, zero at its limit. Nothing beyond the
    /// curve of a pump: a search often looks there, and an exception takes as long as the rest. Throws as
    /// `load` otherwise.
    std::optional<double> excess(std::size_t part, const OperatingPoint& point) const;

  private:
    struct AirPath;

    AirPath path(const OperatingPoint& point, double ratio, bool refuse, OperatingPoint* record) const;
    double ratio_that_feeds(const OperatingPoint& point) const;
    void solve(OperatingPoint& point, bool refuse) const;
    double intake(OperatingPoint& point, bool refuse) const;
    double needed_pressure(const OperatingPoint& point, double temperature) const;
    boost::PipeFlow flow_in(std::size_t part, double flow, double temperature, double pressure,
                            bool refuse) const;
    PartLoad exhaust_load(const PlacedPipe& pipe, const OperatingPoint& point) const;
    void exhaust(OperatingPoint& point) const;
    boost::MapReading reading(const OperatingPoint& point) const;
    template <class Kind>
    const Kind& get(std::size_t part) const {
        return std::get<Kind>(parts_[part]);
    }

    const Engine& engine_;
    const fuel::Fuel& fuel_;
    const Weather& weather_;
    const Parts& parts_;
    double speed_;
    double volumetric_efficiency_;
    double air_fuel_ratio_;
    double humidity_ratio_;
    boost::PipeGas air_;
    Compressor no_compressor_{};
    const Compressor* compressor_ = &no_compressor_;
    const ChargeCooler* cooler_ = nullptr;
    ExhaustSide exhaust_side_;
    std::vector<std::size_t> intake_, hot_, charge_;  // indices of pipes
    std::size_t path_end_ = 0;                        // behind the last of these
};

}  // namespace pullsheet::plan
