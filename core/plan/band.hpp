// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "core/plan/basis.hpp"
#include "core/plan/calibration.hpp"

/// The band of a predicted power: each assumption is varied by one standard uncertainty, the engine is
/// calibrated again to the same measurements, and what that moves is added in quadrature (JCGM 100:2008,
/// 5.1.2, with differences for the derivatives as in 5.1.3, note 2).
namespace pullsheet::plan {

/// How far the assumptions of a prediction are trusted: standard uncertainties. The defaults are common
/// practice, no source; the exponents of the knock delay are the scatter of published fits.
struct TableUncertainty {
    double efficiency = 0.02;   ///< relative, of the cycle's efficiency from point to point
    double octane = 1.5;        ///< octane numbers, of another fuel than the measured and of its delay
    double part_rating = 0.03;  ///< relative, of what a part carries
    double assumed_peak_pressure = 0.1 / 1.2;      ///< relative, of a peak pressure that nobody stated
    double stated_peak_pressure = 0.03;            ///< relative
    double latest_half_burned = 1.5 * pi / 180.0;  ///< rad, of the latest burn on another fuel or stage
    double octane_index_k = 0.3;
    double pressure_exponent = 0.2;         ///< of the knock delay
    double activation_temperature = 600.0;  ///< K, of the knock delay
    double octane_exponent = 0.4;           ///< of the knock delay
    double ethanol_octane = 2.0;            ///< octane numbers, of ethanol in a blend
    double molar_mass = 0.1;             ///< relative, of the gasoline: by it goes the molar share of ethanol
    double evaporated = 0.10;            ///< share
    double cooler_effectiveness = 0.05;  ///< share
    double burn_duration = 7.0 * pi / 180.0;  ///< rad
    double wall_heat_factor = 0.3;
    double turbine_area = 0.10;         ///< relative
    double spark = 2.0 * pi / 180.0;    ///< rad, of a measured spark
    double guessed_octane = 8.0;        ///< octane numbers, where nothing was measured
    double guessed_efficiency = 0.08;   ///< relative, of power, likewise
    double guessed_temperature = 0.11;  ///< relative, of power by the gas temperature, likewise
    double guessed_burn = 0.05;         ///< relative, of power by burn duration, likewise
};

/// What a prediction rests on and what may be otherwise.
enum class Assumption : std::size_t {
    // Those with which the engine is calibrated again.
    octane_index_k,
    pressure_exponent,
    activation_temperature,
    octane_exponent,
    evaporated,
    cooler_effectiveness,
    burn_duration,
    wall_heat,
    turbine_area,
    spark,
    // Those that the measurement does not tell.
    measured_power,
    efficiency,
    octane,
    ethanol_octane,
    molar_share,
    latest_half_burned,
    peak_pressure,
    part_rating,
    gas_temperature,
    distance,  ///< from what was measured
    count
};

/// W by which one standard uncertainty of each assumption moves the power, with its sign.
class Effects {
  public:
    double& operator[](Assumption a) { return effects_[static_cast<std::size_t>(a)]; }
    double operator[](Assumption a) const { return effects_[static_cast<std::size_t>(a)]; }
    /// W, one standard uncertainty of the power.
    double spread() const;
    /// W, one standard uncertainty of the gain over another power predicted from the same assumptions: what
    /// moves both alike does not count. Ratings of parts are independent.
    double spread_of_gain(const Effects& over) const;

  private:
    std::array<double, static_cast<std::size_t>(Assumption::count)> effects_{};
};

/// An engine with one assumption moved by one standard uncertainty, calibrated to the same measurements.
struct Alternative {
    Assumption assumption;
    double sign;  ///< −1 or 1
    StageBase base;
};

/// The assumptions with which an engine is calibrated again, each moved both ways; their bases are not
/// calibrated yet. None where nothing was measured.
std::vector<Alternative> alternatives(const CalibratedEngine& engine, const TableUncertainty& u);

/// Calibrates an alternative of `engine` for predictions at `speeds`, rad/s. False where that cannot be:
/// such an alternative does not count. Some ten cycles for each speed.
bool recalibrate(Alternative& alternative, const CalibratedEngine& engine, std::span<const double> speeds,
                 const TableUncertainty& u);

/// A limit whose band is asked for.
struct BandAt {
    const StageBase& base;  ///< of the table
    const Parts& parts;
    const OfferedFuel& fuel;
    const StageLimit& limit;
    const InitialGuess& guess;  ///< as the search for the limit left it
    double speed;               ///< rad/s
    Basis basis;
};

/// What the assumptions move. A limit that was measured is as uncertain as the measured power; one of a part
/// that states power or torque as that rating. That of another part moves with its rating (a turbine with its
/// area), the measured power, the efficiency and the octane number of another fuel. Where the engine is the
/// limit, all that is told here count: three cycles each way as a rule.
Effects effects_on(const BandAt& at, std::span<const Alternative> alternatives, const TableUncertainty& u);

}  // namespace pullsheet::plan
