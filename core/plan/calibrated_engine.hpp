// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <vector>

#include "core/cycle/cycle.hpp"
#include "core/plan/parts.hpp"

namespace pullsheet::plan {

/// A fuel on offer.
struct OfferedFuel {
    fuel::Fuel fuel{};
    double lambda = 0.85;  ///< at full load
};

/// A quantity over engine speed: linear between its points, the end values held outside.
struct OverSpeed {
    std::vector<double> speeds;  ///< rad/s, rising
    std::vector<double> values;
    std::vector<int> counts{};  ///< of the points added at each speed; as long as `speeds` or empty

    bool empty() const { return speeds.empty(); }
    /// Where there are points.
    double at(double speed) const;
    double at(double speed, double if_empty) const { return empty() ? if_empty : at(speed); }
    /// Adds a point; at a speed that is there already the mean of all points added there stands.
    void add(double speed, double value);
};

/// What measurements set over speed, beside the numbers of the cylinder. An empty quantity changes nothing.
struct SpeedFit {
    OverSpeed octane_offset;          ///< added to the cylinder's
    OverSpeed efficiency_factor;      ///< times the cylinder's
    OverSpeed burn_duration;          ///< times the cylinder's
    OverSpeed volumetric_efficiency;  ///< times the engine's and the cylinder's
    OverSpeed latest_burn;            ///< rad after top dead centre, the latest half-burned angle
    OverSpeed peak_pressure;          ///< Pa, in place of the engine's
    OverSpeed lambda;                 ///< in place of that of the fuel
    OverSpeed charge_rise_factor;     ///< Engine::charge_rise_factor
    OverSpeed charge_heating;         ///< K, Engine::charge_heating
    /// rad/s: the power of a pull peaked here, so above it power is no greater.
    std::optional<double> power_peak_speed{};
};

/// What was fitted to a map measured on one stage and fuel.
struct FittedMap {
    Parts parts;
    OfferedFuel fuel;
    double power_uncertainty;  ///< relative, standard
    bool knocks;               ///< knock began at one of its points at least
    SpeedFit fit;
};

/// A point at which the engine was measured.
struct CalibratedPoint {
    double speed;              ///< rad/s
    double manifold_pressure;  ///< Pa, absolute
    double gas_temperature;    ///< K, as a probe before the turbine reads it: measured or of the cycle there
    double compression_ratio;
    fuel::Fuel fuel;
};

/// A warning of a calibration: of a map, and of one of its points or of the map as a whole.
struct CalibrationWarning {
    std::size_t map;
    std::optional<std::size_t> point;
    Warning why;
    bool point_unused = false;  ///< the point could not be used, for that reason
};

/// What an engine was calibrated from, to calibrate it again with other assumptions; see calibration.hpp.
struct CalibrationOrigin;

/// Relative standard uncertainty of the power of a cycle to which nothing was measured. Common practice.
inline constexpr double usual_uncalibrated_uncertainty = 0.08;

/// The cycle of an engine, what it bears, and what it was calibrated to. As it stands it is not calibrated;
/// `calibrated` makes one that is.
struct CalibratedEngine {
    cycle::Cylinder cylinder{};  ///< with octane offset and efficiency factor
    SpeedFit fit{};              ///< of the first map; of a cell, see for_cell
    /// Relative standard uncertainty of the power to which it was calibrated.
    double power_uncertainty = usual_uncalibrated_uncertainty;
    /// What the engine bears where a stage does not state it: assumptions.
    double latest_half_burned = 35.0 * pi / 180.0;       ///< rad after top dead centre
    double gas_temperature = 1323.15;                    ///< K, as a probe before the turbine reads it
    double peak_pressure = 140e5;                        ///< Pa in the cylinder
    bool peak_pressure_measured = false;                 ///< a measured map without knock had it
    std::optional<double> calibrated_gas_temperature{};  ///< K, the highest reading of the calibration
    std::vector<FittedMap> maps{};                       ///< all that were measured
    std::vector<CalibratedPoint> points{};               ///< all that could be used; none: a guess
    std::shared_ptr<const CalibrationOrigin> origin{};   ///< null: nothing was measured
    std::vector<CalibrationWarning> warnings{};

    /// The cylinder at an angular speed, rad/s.
    cycle::Cylinder cylinder_at(double speed) const;
};

/// The calibrated engine as it predicts a stage on a fuel. On a stage and fuel that was measured it is what
/// that map fitted. Elsewhere each quantity is the mean of the maps, weighted by how well each is known to
/// hold there: by the uncertainty of its power, and with another fuel or stage by what such a step adds. The
/// octane offset is that of maps on the same fuel where there are any. Only maps with knock set octane offset
/// and latest burn. Lambda goes with the fuel, the charge temperature with the charge cooler; the speed of
/// greatest power with compressor, turbine and exhaust. The cell knows of no maps: asked again it is the
/// same.
CalibratedEngine for_cell(const CalibratedEngine& engine, const Parts& parts, const OfferedFuel& fuel);

}  // namespace pullsheet::plan
