// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "core/boost/shaft.hpp"
#include "core/boost/turbine.hpp"

/// The full-load match of an engine and its turbocharger: the manifold pressure that turbine and compressor
/// balance at, from which engine speed on a boost is there, and how long the shaft takes to it.
namespace pullsheet::plan {

/// What an engine makes of a manifold pressure and a pressure before its turbine at one speed.
struct Breath {
    boost::GasStream gas;          ///< towards the turbine: air and fuel
    double air_flow;               ///< kg/s
    double torque;                 ///< N·m
    double pressure_ratio;         ///< of the compressor
    double compressor_efficiency;  ///< share
    double compressor_power;       ///< W, of all compressors; not above 0 where they have nothing to do
    std::optional<double> shaft_speed{};  ///< rad/s, where it is known
    /// Share of the flow to the surge line; below 0 left of it.
    double surge_margin = std::numeric_limits<double>::infinity();
};

/// An engine as the match looks at it, at full load.
class MatchedEngine {
  public:
    MatchedEngine() = default;
    MatchedEngine(const MatchedEngine&) = default;
    MatchedEngine& operator=(const MatchedEngine&) = default;
    virtual ~MatchedEngine() = default;

    /// `speed` rad/s, `manifold_pressure` and `exhaust_pressure` (before the turbine) Pa. Continuous in all.
    virtual Breath breathe(double speed, double manifold_pressure, double exhaust_pressure) const = 0;
    /// Manifold pressure, Pa, that the surroundings alone give: the compressor has nothing to do.
    virtual double natural_filling(double speed) const = 0;
    /// Pressure after the turbine, Pa, for the gas that comes to it; `turbine_power` W is what cools it.
    virtual double outlet_pressure(const boost::GasStream& gas, double turbine_power) const = 0;
};

/// A manifold pressure that somebody else than the turbocharger holds the engine at.
struct Ceiling {
    double manifold_pressure;  ///< Pa
    std::size_t by;            ///< the caller's number for what sets it
};

/// What holds the manifold pressure at full load.
enum class Held {
    ceiling,    ///< the lowest ceiling
    turbine,    ///< no more power from the turbine
    wastegate,  ///< fully open, and still more boost than wanted
    surge,      ///< the compressor would surge
    throttle,   ///< the ceiling lies below what the surroundings give
};

/// The engine at full load at one speed.
struct FullLoad {
    double speed;              ///< rad/s
    double manifold_pressure;  ///< Pa
    Held held;
    std::optional<std::size_t> ceiling{};  ///< by whom, where a ceiling or the throttle holds
    bool creeps = false;                   ///< the wastegate, fully open, cannot hold the lowest ceiling
    Breath breath;
    boost::Expansion expansion;
};

/// From which engine speed on a boost is there.
struct Threshold {
    std::optional<double> rising;   ///< rad/s: lowest at which the boost is reached from below
    std::optional<double> falling;  ///< rad/s: lowest at which the boost, once there, is still held
    double highest_pressure;        ///< Pa, the greatest of the speeds looked at, up to the one asked
    double highest_speed;           ///< rad/s, at which it was found
};

/// How far the numbers of a match are trusted: standard uncertainties. Common practice, no source.
struct MatchUncertainty {
    double area = 0.05;                   ///< relative, of the effective area
    double turbine_efficiency = 0.03;     ///< share
    double gas_temperature = 30.0;        ///< K
    double filling = 0.03;                ///< relative, of the volumetric efficiency
    double compressor_efficiency = 0.03;  ///< share
    double outlet_pressure = 10e3;        ///< Pa
    double pulse_amplitude = 0.6;         ///< share
};

/// A threshold with its band.
struct ThresholdBand {
    Threshold threshold;
    std::optional<double> low;   ///< rad/s, two standard uncertainties below the rising threshold
    std::optional<double> high;  ///< rad/s, two above; none: not known, it may not be reached at all
    std::vector<double> shifts;  ///< rad/s, of each uncertainty in the order of MatchUncertainty; NaN where
                                 ///< it is not reached
};

/// What the shaft does at one engine speed after the throttle is opened.
struct SpoolMoment {
    double time;               ///< s
    double shaft_speed;        ///< rad/s
    double manifold_pressure;  ///< Pa
    double torque;             ///< N·m
};

/// The match of one engine and its turbine, or equal ones. It refers to both, which must outlive it.
///
/// The boost comes from below: the first manifold pressure above the natural filling at which the turbine,
/// wastegate shut, gives no more than the compressor takes up. Where the surplus is below zero in a band
/// below the pressure wanted and above zero at it, the boost does not get through the band. A sign is looked
/// for at steps of 3 % of the pressure, and between three steps at the least surplus.
class Match {
  public:
    /// Throws InvalidArgument as boost::require_turbine does.
    Match(const MatchedEngine& engine, const boost::Turbine& turbine);

    /// An engine at a manifold pressure with the wastegate shut.
    struct Shut {
        Breath breath;
        boost::Expansion expansion;
        /// (P_t − P_c)/P_t; 1 where the compressor takes up nothing.
        double surplus_share() const;
        double surplus() const { return expansion.power - breath.compressor_power; }  ///< W
    };
    /// The pressure before the turbine and what the engine makes of it rest on one another: at most 40
    /// evaluations of the engine, four as a rule. Throws NoSolution(no_pressure_balance).
    Shut shut(double speed, double manifold_pressure) const;

    /// First manifold pressure, Pa, from the natural filling up to `highest`, at which the turbine's surplus
    /// falls through zero; none where it does not.
    std::optional<double> balance(double speed, double highest) const;

    /// The least share of surplus from the natural filling up to a pressure, Pa; 1 where that lies below.
    double least_share(double speed, double highest) const;

    /// The engine at full load under ceilings, at least one; the lowest holds.
    FullLoad full_load(double speed, std::span<const Ceiling> ceilings) const;

    /// The threshold of a manifold pressure, Pa, between two engine speeds, rad/s. To 1e-9 of the speed.
    Threshold threshold(double manifold_pressure, double lowest_speed, double highest_speed) const;

    /// The same with its band: each uncertainty moves the configuration by one standard uncertainty to the
    /// worse (pulses to the better), the threshold is solved again, and the shifts are added in quadrature
    /// (JCGM 100:2008, first order). At most 60 times the least surplus of a speed for each.
    ThresholdBand threshold_band(double manifold_pressure, double lowest_speed, double highest_speed,
                                 const MatchUncertainty& uncertainty = {}) const;

    /// What one standard uncertainty of each number, to the worse, changes the share of surplus at a manifold
    /// pressure, in the order of MatchUncertainty (pulses to the better).
    std::vector<double> surplus_shifts(double speed, double manifold_pressure,
                                       const MatchUncertainty& uncertainty = {}) const;

    /// The effective area of one turbine for a manifold pressure at a speed.
    struct AreaFor {
        double balance;     ///< m², with which turbine and compressor balance at that pressure
        double from_below;  ///< m², with which the pressure is reached from below; at most `balance`
    };
    /// 0.1 to 200 cm². Throws NoSolution(turbine_power_out_of_reach) (details: power wanted, power there is)
    /// where even the smallest does not give it; where the largest does, the largest.
    AreaFor area_for(double speed, double manifold_pressure) const;

    /// How the boost builds up at one engine speed, the wastegate shut, to the moment at which the torque is
    /// `share` of that at `target` Pa. The shaft starts in balance at `start_pressure` Pa, or where the
    /// compressor just begins to compress; its inertia must be among the numbers of the turbine. Throws
    /// InvalidArgument(inertia), NoSolution(boost_not_reached) (details: torque wanted, highest torque) where
    /// it takes more than a minute.
    std::vector<SpoolMoment> spool(double speed, double start_pressure, double target, double share) const;

  private:
    Shut settled(double speed, double manifold_pressure, double area_factor) const;
    template <class Expand>
    Shut balanced(double speed, double manifold_pressure, Expand expand) const;
    template <class Of>
    std::vector<double> each_moved(const MatchUncertainty& uncertainty, Of of) const;
    template <class Share>
    double area_where(double speed, double manifold_pressure, Share share) const;

    const MatchedEngine& engine_;
    boost::Turbine turbine_;
};

}  // namespace pullsheet::plan
