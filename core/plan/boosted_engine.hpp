// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/cycle/charge.hpp"
#include "core/plan/calibration.hpp"
#include "core/plan/chain.hpp"
#include "core/plan/match.hpp"
#include "core/plan/stage_limit.hpp"

namespace pullsheet::plan {

/// A cycle at full load with the air path that feeds it.
struct BoostedLoad {
    OperatingPoint point;  ///< with power, torque and the pressure before the turbine
    cycle::CycleResult cycle;
    double spark_angle;          ///< rad before top dead centre
    boost::Expansion expansion;  ///< of the turbine; only its inlet pressure where that was given
};

/// An engine with the parts of a stage, a turbine among them, on one fuel: the air path of the parts, and the
/// two-zone cycle at the spark that full load allows. The gas before the turbine is the frozen exhaust gas of
/// the cycle at the gas temperature of the cycle. It refers to the parts, which must outlive it.
class BoostedEngine final : public MatchedEngine {
  public:
    /// Throws InvalidArgument(turbine) with Reason::turbine_missing where the parts have none.
    BoostedEngine(const StageBase& base, const Parts& parts, const OfferedFuel& fuel);
    BoostedEngine(const StageBase& base, Parts&& parts, const OfferedFuel& fuel) = delete;
    BoostedEngine(const BoostedEngine&) = delete;
    BoostedEngine& operator=(const BoostedEngine&) = delete;

    /// The spark is that of cycle::spark_limit, though no later than the latest burn that the engine may be
    /// asked to bear. Throws as Chain and cycle::spark_limit do, save where it knocks at any spark: then the
    /// latest burn is taken. Some fifteen cycles.
    BoostedLoad load(double speed, double manifold_pressure, double exhaust_pressure) const;

    Breath breathe(double speed, double manifold_pressure, double exhaust_pressure) const override;
    double natural_filling(double speed) const override;
    double outlet_pressure(const boost::GasStream& gas, double turbine_power) const override;

    const boost::Turbine& turbine() const { return *exhaust_side_.turbine(); }
    const ExhaustSide& exhaust_side() const { return exhaust_side_; }
    const StageBase& base() const { return base_; }
    const Parts& parts() const { return parts_; }
    const OfferedFuel& fuel() const { return fuel_; }

  private:
    friend class BoostedSpeed;
    StageBase base_;
    const Parts& parts_;
    OfferedFuel fuel_;
    ExhaustSide exhaust_side_;
    double dry_;  // share of dry air in the pressure
};

/// That engine at one speed, with searches that begin at a known state nearby. It refers to the engine, which
/// must outlive it.
class BoostedSpeed {
  public:
    BoostedSpeed(const BoostedEngine& engine, double speed);
    BoostedSpeed(const BoostedSpeed&) = delete;
    BoostedSpeed& operator=(const BoostedSpeed&) = delete;

    double speed() const { return speed_; }
    double natural_filling() const { return natural_filling_; }
    const cycle::BoostBounds& bounds() const { return bounds_; }
    const PartLoads& loads() const { return chain_.loads(); }

    /// The air path against a pressure before the turbine, Pa. The cylinders fill as those of the cycle do.
    OperatingPoint against(double manifold_pressure, double exhaust_pressure) const;
    /// What the match sees of an air path with gas of a temperature, K, before the turbine.
    Breath breath(const OperatingPoint& point, double gas_temperature) const;
    /// The air path and the turbine that gas of `gas_temperature` K comes to: flow, charge temperature and
    /// the pressure before the turbine rest on one another. With `governing` the wastegate is as far open as
    /// the compressor's power allows, and shut where that is not reached; otherwise it is shut.
    struct AirPath {
        OperatingPoint point;
        boost::Expansion expansion;
    };
    AirPath air_path(double manifold_pressure, double gas_temperature, bool governing) const;

    /// Where a search for the spark begins.
    struct Near {
        double half_burned = 20.0 * pi / 180.0;  ///< rad after top dead centre
        double gas_temperature = 1200.0;         ///< K
        /// rad after top dead centre, of best torque; 0: not known
        double best_torque = 0.0;
    };
    /// The load with the turbine as in air_path, at the spark of BoostedEngine::load; spark, gas temperature
    /// and pressure before the turbine are found together. `near` is the state to begin with, and receives
    /// the one found. Three cycles as a rule where knock limits the spark.
    BoostedLoad shut(double manifold_pressure, Near& near) const;
    /// The same to half a kelvin of the gas temperature.
    BoostedLoad shut_nearly(double manifold_pressure, Near& near) const;
    BoostedLoad governed(double manifold_pressure, Near& near) const;
    /// The same against a pressure before the turbine.
    BoostedLoad opposed(double manifold_pressure, double exhaust_pressure, Near& near) const;

    /// The highest manifold pressure that the bounds of the engine allow, the wastegate governing.
    struct EngineLimit {
        double manifold_pressure;  ///< Pa
        EngineBound bound;
        double torque;  ///< N·m
    };
    EngineLimit engine_limit(Near& near, double begin_pressure = 0.0) const;

  private:
    /// How well spark and gas temperature have to agree.
    struct Tolerance {
        double knock;  ///< of the logarithm of the knock integral
        double gas;    ///< K
    };
    static constexpr Tolerance exact{4e-5, 0.05};
    static constexpr Tolerance nearly{2e-3, 0.5};
    template <class Path>
    BoostedLoad settle(double manifold_pressure, Near& near, const Tolerance& tolerance, Path path) const;
    template <class Run>
    double best_torque(Run run, Near& near) const;
    double filling(double manifold_pressure, double exhaust_pressure) const;

    const BoostedEngine& engine_;
    double speed_;
    Engine engine_at_speed_;
    Chain chain_;
    cycle::BoostBounds bounds_;
    cycle::Cylinder cylinder_;
    cycle::Cycles cycles_;
    cycle::FrozenGas exhaust_gas_;
    double natural_filling_;
};

/// `calibrated` for parts with a turbine: the pressure before it at the measured point of greatest power is
/// that of the turbine, the wastegate governing, in place of the rule of the cylinder. Maps without a turbine
/// are taken by the rule.
CalibratedEngine calibrated_with_turbine(const StageBase& base, std::span<const MeasuredMap> maps,
                                         std::span<const double> speeds);

}  // namespace pullsheet::plan
