// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "core/plan/parts.hpp"

namespace pullsheet::plan {

/// The parts of a build in the exhaust, and the boost control. It refers to the parts, which
/// must outlive it.
class ExhaustSide {
  public:
    /// Throws InvalidArgument with Reason::part_twice for a second turbine, exhaust system or boost control,
    /// with Reason::turbine_without_compressor for a turbine where there is no compressor; and where a number
    /// of a part is impossible.
    explicit ExhaustSide(const Parts& parts);

    const boost::Turbine* turbine() const { return turbine_; }      ///< null: the build has none
    const boost::ExhaustSystem* system() const { return system_; }  ///< null: none is known
    const BoostControl* control() const { return control_; }        ///< null: nothing is set

    /// Pressure after the turbine, Pa, for the gas that leaves it: that of the surroundings and the loss of
    /// the exhaust system; without one that of the surroundings. `turbine_power` W is what cooled the gas.
    double outlet_pressure(const boost::GasStream& stream, double ambient_pressure,
                           double turbine_power) const;

    /// All gas through the turbine, wastegate shut: the greatest power there is. Power and pressure after the
    /// turbine depend on one another: fixed-point iteration, at most 60 steps, some eight as a rule. Only
    /// with a turbine.
    boost::Expansion shut(const boost::GasStream& stream, double ambient_pressure,
                          std::optional<double> shaft_speed = {}) const;

    /// The turbine driving a compressor that takes up `power` W > 0, with the wastegate as far open as that
    /// takes; none where the turbine does not give that power. Only with a turbine.
    std::optional<boost::Expansion> driving(const boost::GasStream& stream, double ambient_pressure,
                                            double power, std::optional<double> shaft_speed = {}) const;

    /// `driving`, or `shut` where the turbine does not give the power.
    struct State {
        boost::Expansion expansion;
        bool drives;
    };
    State state(const boost::GasStream& stream, double ambient_pressure, double power,
                std::optional<double> shaft_speed = {}) const;

  private:
    const boost::Turbine* turbine_ = nullptr;
    const boost::ExhaustSystem* system_ = nullptr;
    const BoostControl* control_ = nullptr;
};

}  // namespace pullsheet::plan
