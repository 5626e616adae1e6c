// SPDX-License-Identifier: Apache-2.0
#include "core/boost/pipe.hpp"

#include <boost/math/special_functions/lambert_w.hpp>
#include <cmath>

#include "core/air/viscosity.hpp"

namespace pullsheet::boost {

namespace {

constexpr double laminar_up_to = 2300.0;
constexpr double turbulent_from = 4000.0;
constexpr double fast_mach = 0.3;
constexpr double large_loss_share = 0.1;

/// The w > 0 with w + ln w = z, which is W(e^z); e^z itself may be too large for a double.
double lambert_w_of_exp(double z) {
    if (z < 700.0) return ::boost::math::lambert_w0(std::exp(z));
    double w = z - std::log(z);
    for (int i = 0; i < 4; ++i) w -= (w + std::log(w) - z) / (1.0 + 1.0 / w);
    return w;
}

/// 1/√f = −2·lg(ε/3.7 + 2.51/(Re·√f)). With y the argument of the logarithm, y/k + ln y = ε/(3.7·k).
double colebrook(double reynolds, double relative_roughness) {
    const double k = 2.0 * 2.51 / (reynolds * std::numbers::ln10);
    const double ln_k = std::log(k);
    const double w = lambert_w_of_exp(relative_roughness / (3.7 * k) - ln_k);
    const double lg_y = (std::log(w) + ln_k) / std::numbers::ln10;
    return 1.0 / (4.0 * lg_y * lg_y);
}

struct State {
    double area;     ///< m²
    double density;  ///< kg/m³
    double sound;    ///< m/s
};

State state(double diameter, double temperature, double pressure, PipeGas gas) {
    require("diameter", diameter, positive);
    require("temperature", temperature, positive);
    require("pressure", pressure, positive);
    return {0.25 * pi * diameter * diameter, pressure / (gas.gas_constant * temperature),
            std::sqrt(gas.heat_capacity_ratio * gas.gas_constant * temperature)};
}

double velocity_in(const State& here, double air_flow) {
    require("air_flow", air_flow, not_negative);
    const double velocity = air_flow / (here.density * here.area);
    if (!(velocity <= here.sound * (1.0 + 1e-12))) {  // sonic up to rounding still passes
        throw NoSolution(Reason::pipe_choked, {{air_flow, Quantity::mass_flow},
                                               {here.density * here.area * here.sound, Quantity::mass_flow}});
    }
    return velocity;
}

}  // namespace

double pipe_velocity(double air_flow, double diameter, double temperature, double pressure, PipeGas gas) {
    return velocity_in(state(diameter, temperature, pressure, gas), air_flow);
}

double pipe_mach(double air_flow, double diameter, double temperature, double pressure, PipeGas gas) {
    const State here = state(diameter, temperature, pressure, gas);
    return velocity_in(here, air_flow) / here.sound;
}

double pipe_diameter(double air_flow, double mach, double temperature, double pressure, PipeGas gas) {
    require("air_flow", air_flow, positive);
    require("mach_number", mach, {0.0, 1.0, true, false});
    const State here = state(1.0, temperature, pressure, gas);
    return std::sqrt(4.0 * air_flow / (pi * here.density * here.sound * mach));
}

double friction_factor(double reynolds, double relative_roughness) {
    require("reynolds", reynolds, positive);
    require("relative_roughness", relative_roughness, {0.0, 0.5});
    if (reynolds <= laminar_up_to) return 64.0 / reynolds;
    if (reynolds >= turbulent_from) return colebrook(reynolds, relative_roughness);
    const double laminar = 64.0 / laminar_up_to;
    const double turbulent = colebrook(turbulent_from, relative_roughness);
    return laminar + (turbulent - laminar) * (reynolds - laminar_up_to) / (turbulent_from - laminar_up_to);
}

PipeFlow pipe_flow_unbounded(double air_flow, const Pipe& pipe, double temperature, double pressure,
                             PipeGas gas) {
    const State here = state(pipe.diameter, temperature, pressure, gas);
    require("air_flow", air_flow, not_negative);
    require("length", pipe.length, not_negative);
    require("loss_coefficient", pipe.loss_coefficient, not_negative);
    require("roughness", pipe.roughness, {0.0, 0.5 * pipe.diameter});
    PipeFlow flow{air_flow / (here.density * here.area), 0.0, 0.0, 0.0, 0.0, {}};
    if (flow.velocity == 0.0) return flow;
    flow.mach = flow.velocity / here.sound;
    flow.reynolds = here.density * flow.velocity * pipe.diameter / air::viscosity(temperature);
    flow.friction_factor = friction_factor(flow.reynolds, pipe.roughness / pipe.diameter);
    flow.pressure_loss = (flow.friction_factor * pipe.length / pipe.diameter + pipe.loss_coefficient) * 0.5 *
                         here.density * flow.velocity * flow.velocity;
    return flow;
}

PipeFlow pipe_flow(double air_flow, const Pipe& pipe, double temperature, double pressure, PipeGas gas) {
    velocity_in(state(pipe.diameter, temperature, pressure, gas), air_flow);
    PipeFlow flow = pipe_flow_unbounded(air_flow, pipe, temperature, pressure, gas);
    if (!(flow.pressure_loss < pressure)) {
        throw NoSolution(Reason::pipe_loss_too_great, {{flow.pressure_loss, Quantity::pressure_difference},
                                                       {pressure, Quantity::pressure}});
    }
    if (flow.mach > fast_mach) flow.warnings.push_back({Reason::pipe_fast, {{flow.mach, Quantity::ratio}}});
    if (flow.pressure_loss > large_loss_share * pressure) {
        flow.warnings.push_back(
            {Reason::pipe_loss_large,
             {{flow.pressure_loss, Quantity::pressure_difference}, {pressure, Quantity::pressure}}});
    }
    return flow;
}

}  // namespace pullsheet::boost
