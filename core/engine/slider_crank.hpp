// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::engine {

/// A cylinder with a crank whose axis lies on the cylinder's axis (no pin or crank offset).
/// Heywood (1988), Internal Combustion Engine Fundamentals, section 2.2. All angles in rad from top dead
/// centre. The functions do not check their arguments; `require_possible` does, once.
struct SliderCrank {
    double bore;               ///< m
    double stroke;             ///< m
    double rod;                ///< m, centre to centre, more than half the stroke
    double compression_ratio;  ///< more than 1

    double crank_radius() const { return 0.5 * stroke; }
    double bore_area() const { return 0.25 * pi * bore * bore; }
    /// Displacement of the one cylinder, m³.
    double displaced_volume() const { return bore_area() * stroke; }
    double clearance_volume() const { return displaced_volume() / (compression_ratio - 1.0); }

    /// Distance of the piston from its top dead centre, m.
    double position(double angle) const {
        const double r = crank_radius();
        const double sine = std::sin(angle);
        return r * (1.0 - std::cos(angle)) + rod - std::sqrt(rod * rod - r * r * sine * sine);
    }

    /// Volume of the cylinder, m³.
    double volume(double angle) const { return clearance_volume() + bore_area() * position(angle); }

    /// First derivative of the position by the angle, m/rad. Times angular speed: piston speed.
    double position_slope(double angle) const {
        const double r = crank_radius();
        const double sine = std::sin(angle);
        const double cosine = std::cos(angle);
        return r * sine * (1.0 + r * cosine / std::sqrt(rod * rod - r * r * sine * sine));
    }

    /// First derivative of the volume by the angle, m³/rad.
    double volume_slope(double angle) const { return bore_area() * position_slope(angle); }

    /// Second derivative of the position by the angle, m/rad². Times angular speed squared: piston
    /// acceleration, positive at top dead centre.
    double position_curvature(double angle) const {
        const double r = crank_radius();
        const double sine = std::sin(angle);
        const double cosine = std::cos(angle);
        const double s = std::sqrt(rod * rod - r * r * sine * sine);
        return r * cosine + r * r * (cosine * cosine - sine * sine) / s +
               r * r * r * r * sine * sine * cosine * cosine / (s * s * s);
    }

    /// Throws InvalidArgument naming the field if a number is impossible or not a number.
    void require_possible() const {
        require("bore", bore, positive);
        require("stroke", stroke, positive);
        require("rod_length", rod, {0.5 * stroke, positive.high, true, true});
        require("compression_ratio", compression_ratio, {1.0, positive.high, true, true});
    }
};

/// Piston speed, m/s, positive away from top dead centre; speed in rad/s.
inline double piston_speed(const SliderCrank& crank, double angle, double speed) {
    return speed * crank.position_slope(angle);
}

/// Piston acceleration, m/s², positive away from top dead centre; speed in rad/s.
inline double piston_acceleration(const SliderCrank& crank, double angle, double speed) {
    return speed * speed * crank.position_curvature(angle);
}

}  // namespace pullsheet::engine
