// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::boost {

/// What flows in a pipe: gas constant J/(kg·K) and ratio of specific heats.
struct PipeGas {
    double gas_constant = dry_air_gas_constant;
    double heat_capacity_ratio = air_heat_capacity_ratio;
};

/// Mean velocity in a round pipe, m/s: ṁ/(ρ·A), ρ = p/(R·T). `air_flow` kg/s >= 0, `diameter` m > 0 (inside),
/// `temperature` K > 0 and `pressure` Pa > 0 of the flowing gas (static, absolute). Throws InvalidArgument,
/// and NoSolution with Reason::pipe_choked (details: kg/s asked, kg/s at the speed of sound) beyond Mach 1.
double pipe_velocity(double air_flow, double diameter, double temperature, double pressure, PipeGas gas = {});

/// Mach number of the same flow: velocity divided by √(κ·R·T). Errors as for pipe_velocity.
double pipe_mach(double air_flow, double diameter, double temperature, double pressure, PipeGas gas = {});

/// Inside diameter, m, in which the flow has the Mach number `mach` (above 0 to 1). `air_flow` > 0.
double pipe_diameter(double air_flow, double mach, double temperature, double pressure, PipeGas gas = {});

/// Darcy friction factor of a round pipe from the Reynolds number (> 0) and the relative roughness (0 … 0.05
/// in the Moody diagram, allowed to 0.5). Up to Re 2300: 64/Re (Hagen–Poiseuille). From Re 4000: the equation
/// of Colebrook (1939) solved exactly by the Lambert W function. Between, where no law holds, a straight line
/// from the one to the other, so that the loss is continuous in the flow.
double friction_factor(double reynolds, double relative_roughness);

/// A straight round pipe with its fittings.
struct Pipe {
    double diameter;      ///< m, inside, > 0
    double length = 0.0;  ///< m, >= 0
    double loss_coefficient =
        0.0;  ///< sum of the ζ of bends, filter, throttle …, >= 0, on the velocity in `diameter`
    double roughness = 1.5e-6;  ///< m, >= 0; 0.0015 mm is drawn tube (Moody 1944)

    bool operator==(const Pipe&) const = default;
};

/// The flow in a pipe.
struct PipeFlow {
    double velocity;         ///< m/s
    double mach;             ///< ratio
    double reynolds;         ///< ratio
    double friction_factor;  ///< Darcy, ratio
    double pressure_loss;    ///< Pa
    std::vector<Warning>
        warnings;  ///< Reason::pipe_fast (Mach number), Reason::pipe_loss_large (loss, pressure)
};

/// Total pressure loss by Darcy–Weisbach with the density at the inlet: (f·L/D + ζ)·ρ·v²/2, viscosity of air
/// by Sutherland. Good to a few per cent while the loss is below a tenth of the pressure (Crane TP 410) and
/// the Mach number below 0.3: beyond that a warning. Throws as pipe_velocity, and NoSolution with
/// Reason::pipe_loss_too_great (details: loss, pressure) where the loss would exceed the pressure.
PipeFlow pipe_flow(double air_flow, const Pipe& pipe, double temperature, double pressure, PipeGas gas = {});

/// The same without the refusals of choked flow and of a loss beyond the pressure, and without warnings: for
/// an iteration on its way. A result that matters comes from pipe_flow.
PipeFlow pipe_flow_unbounded(double air_flow, const Pipe& pipe, double temperature, double pressure,
                             PipeGas gas = {});

}  // namespace pullsheet::boost
