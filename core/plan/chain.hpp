// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/plan/exhaust_side.hpp"
#include "core/plan/operating_point.hpp"
#include "core/plan/part_loads.hpp"

namespace pullsheet::plan {

/// The chain of equations from a power to the loads of the parts, at one engine speed and for any power: what
/// operating_point and limits have in common. It refers to its arguments, which must outlive it.
class Chain {
  public:
    /// Checks every number; see operating_point for what is thrown.
    Chain(const Engine& engine, const fuel::Fuel& fuel, double speed, const Weather& weather,
          const Parts& parts);

    /// Power, torque, fuel and air flow; the air path is left at zero and the loads are left out.
    OperatingPoint fuel_side(double power) const;
    /// The whole chain with all errors and warnings, and the loads of all parts.
    OperatingPoint strict(double power) const;
    /// Adds the air path to a point of fuel_side, and the loads of its pipes, without these errors: outside
    /// the compressor map its nearest point is taken, above the speed of sound the formula is continued.
    void add_air(OperatingPoint& point) const;
    /// The air path at a manifold pressure, Pa > 0, of an engine whose cylinders fill to `filling` (> 0)
    /// times their volumetric efficiency; without the errors that add_air leaves out, and without the exhaust
    /// side. Air and fuel flow follow; power and torque are left at zero. Flow, charge
    /// temperature and pressure ratio rest on one another: fixed-point iteration, at most 201 evaluations of
    /// the air path, some ten as a rule. Throws NoSolution(no_pressure_ratio).
    OperatingPoint filled(double manifold_pressure, double filling = 1.0) const;
    /// The loads of the parts at a point of this chain.
    const PartLoads& loads() const { return loads_; }

  private:
    struct AirPath;

    AirPath path(const OperatingPoint& point, double ratio, bool refuse, OperatingPoint* record) const;
    double required_ratio(const OperatingPoint& point) const;
    AirPath solve_air(OperatingPoint& point, bool refuse) const;
    void set_air(OperatingPoint& point, const AirPath& path, bool refuse) const;
    double corrected(const OperatingPoint& point, double inlet_pressure) const;
    boost::Reference reference() const;
    void solve(OperatingPoint& point, bool refuse) const;
    double intake(OperatingPoint& point, bool refuse) const;
    double needed_pressure(const OperatingPoint& point, double temperature) const;
    boost::PipeFlow flow_in(std::size_t part, double flow, double temperature, double pressure,
                            bool refuse) const;
    void exhaust(OperatingPoint& point) const;
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
    PartLoads loads_;
    std::vector<std::size_t> intake_, hot_, charge_;  // indices of pipes
    std::size_t path_end_ = 0;                        // one after the last of these
};

}  // namespace pullsheet::plan
