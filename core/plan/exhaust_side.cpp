// SPDX-License-Identifier: Apache-2.0
#include "core/plan/exhaust_side.hpp"

#include <cmath>

namespace pullsheet::plan {

ExhaustSide::ExhaustSide(const Parts& parts) {
    const auto take = [](const auto*& place, const auto* part, const char* name) {
        if (!part) return;
        if (place) throw InvalidArgument(name, Reason::part_twice);
        place = part;
    };
    bool compressor = false;
    for (const Part& part : parts) {
        take(turbine_, std::get_if<boost::Turbine>(&part), "turbine");
        take(system_, std::get_if<boost::ExhaustSystem>(&part), "exhaust_system");
        take(control_, std::get_if<BoostControl>(&part), "boost_control");
        compressor = compressor || std::holds_alternative<Compressor>(part);
    }
    if (turbine_) {
        if (!compressor) throw InvalidArgument("turbine", Reason::turbine_without_compressor);
        boost::require_turbine(*turbine_);
    }
    if (system_) boost::require_exhaust_system(*system_);
    if (control_) {
        if (control_->max_boost) require("max_boost", *control_->max_boost, positive);
        if (control_->max_torque) require("max_torque", *control_->max_torque, positive);
        if (control_->spring_pressure) require("spring_pressure", *control_->spring_pressure, not_negative);
    }
}

double ExhaustSide::outlet_pressure(const boost::GasStream& stream, double ambient_pressure,
                                    double turbine_power) const {
    if (!system_) return ambient_pressure;
    const double temperature = stream.temperature - turbine_power / (stream.flow * stream.gas.heat_capacity);
    return ambient_pressure + boost::exhaust_loss(*system_, stream.flow, temperature, ambient_pressure);
}

boost::Expansion ExhaustSide::shut(const boost::GasStream& stream, double ambient_pressure,
                                   std::optional<double> shaft_speed) const {
    constexpr int most_rounds = 60;
    double outlet = outlet_pressure(stream, ambient_pressure, 0.0);
    boost::Expansion expansion = boost::expand(*turbine_, stream, outlet, shaft_speed);
    if (!system_) return expansion;
    for (int round = 1; round < most_rounds; ++round) {
        const double next = outlet_pressure(stream, ambient_pressure, expansion.power);
        const bool same = std::fabs(next - outlet) <= 1e-13 * outlet;
        outlet = next;
        expansion = boost::expand(*turbine_, stream, outlet, shaft_speed);
        if (same) break;
    }
    return expansion;
}

std::optional<boost::Expansion> ExhaustSide::driving(const boost::GasStream& stream, double ambient_pressure,
                                                     double power, std::optional<double> shaft_speed) const {
    // The power taken out cools the gas, and it is known: so the pressure after the turbine is known as well.
    const double coldest = stream.flow * stream.gas.heat_capacity * stream.temperature;
    if (!(power < turbine_->efficiency * coldest)) return std::nullopt;
    const double outlet = outlet_pressure(stream, ambient_pressure, power);
    if (!(boost::expand(*turbine_, stream, outlet, shaft_speed).power >= power)) return std::nullopt;
    return boost::drive(*turbine_, stream, outlet, power, shaft_speed);
}

ExhaustSide::State ExhaustSide::state(const boost::GasStream& stream, double ambient_pressure, double power,
                                      std::optional<double> shaft_speed) const {
    if (power > 0.0) {
        if (const auto expansion = driving(stream, ambient_pressure, power, shaft_speed))
            return {*expansion, true};
        return {shut(stream, ambient_pressure, shaft_speed), false};
    }
    return {shut(stream, ambient_pressure, shaft_speed), true};
}

}  // namespace pullsheet::plan
