// SPDX-License-Identifier: Apache-2.0
#include "core/boost/turbine.hpp"

#include <cmath>

#include "core/constants.hpp"
#include "core/error.hpp"
#include "core/solve.hpp"

namespace pullsheet::boost {

namespace {

constexpr Interval some_share{0.0, 1.0, true, false};
constexpr Interval expanding{1.0, std::numeric_limits<double>::infinity(), false, true};
constexpr Interval really_expanding{1.0, std::numeric_limits<double>::infinity(), true, true};
constexpr Interval nozzle_counts{1.0, 2.0, false, false};
constexpr Interval blade_speed_ratios{0.0, 2.0, true, false};
constexpr double smallest_area = 1e-6;  // m²
constexpr double largest_area = 1.0;    // m²
constexpr int turbine_bits = 46;

/// (κ − 1)/κ.
double exponent(Gas gas) {
    return (gas.heat_capacity_ratio - 1.0) / gas.heat_capacity_ratio;
}

/// Share of the heat of the gas that an expansion without losses turns into work: 1 − ε^(−(κ−1)/κ).
double ideal_share(double pressure_ratio, Gas gas) {
    return -std::expm1(-exponent(gas) * std::log(pressure_ratio));
}

/// ψ of one nozzle at a ratio >= 1.
double nozzle_flow(double ratio, Gas gas) {
    const double kappa = gas.heat_capacity_ratio;
    const double y = std::fmin(ratio, critical_pressure_ratio(gas));
    // y^(−2/κ) − y^(−(κ+1)/κ) without the difference of two nearly equal numbers.
    const double log_y = std::log(y);
    return std::sqrt(2.0 / exponent(gas) * std::exp(-2.0 / kappa * log_y) *
                     -std::expm1(-exponent(gas) * log_y));
}

/// Nozzles in series between a stream and the pressure after them.
struct Nozzles {
    double temperature;      // K
    double outlet_pressure;  // Pa
    double count;            // 1 or 2
    Gas gas;

    /// Flow through an area of 1 m², kg/s.
    double flow_per_area(double ratio) const {
        const double each = count == 1.0 ? ratio : std::sqrt(ratio);
        return ratio * outlet_pressure / std::sqrt(gas_constant(gas) * temperature) * nozzle_flow(each, gas);
    }

    /// The ratio at which this much flows through 1 m².
    double ratio(double flow_per_area) const {
        if (!(flow_per_area > 0.0)) return 1.0;
        const double reduced = flow_per_area * std::sqrt(gas_constant(gas) * temperature) / outlet_pressure;
        const double critical = critical_pressure_ratio(gas);
        const double choked = reduced / nozzle_flow(critical, gas);
        if (choked >= (count == 1.0 ? critical : critical * critical)) return choked;
        // With y = (1 + d)^(κ/(κ−1)) for the ratio of each nozzle, the square of yⁿ·ψ(y) is
        // 2κ/(κ−1)·d·(1 + d)^m. In ln d that is nearly straight.
        const double m = 1.0 + 2.0 * (count - 1.0) / exponent(gas);
        const double wanted = std::log(0.5 * exponent(gas) * reduced * reduced);
        double log_d = std::fmin(wanted, std::log(0.5 * (gas.heat_capacity_ratio - 1.0)));
        constexpr int most_steps = 50;
        for (int step = 0; step < most_steps; ++step) {
            const double d = std::exp(log_d);
            const double change = (log_d + m * std::log1p(d) - wanted) / (1.0 + m * d / (1.0 + d));
            log_d -= change;
            if (std::fabs(change) < 1e-13) break;
        }
        return std::exp(count / exponent(gas) * std::log1p(std::exp(log_d)));
    }
};

/// Calls `at(factor)` for the mid-points of a period of 1 + a·sin φ and returns the mean of what it gives.
/// Half a period, from the lowest to the highest flow, serves: the other half repeats it.
template <class Sum, class At>
Sum mean_over_pulse(double amplitude, At at) {
    constexpr int points = 32;
    Sum sum{};
    for (int k = 0; k < points; ++k) sum += at(1.0 + amplitude * std::sin(pi * ((k + 0.5) / points - 0.5)));
    sum *= 1.0 / points;
    return sum;
}

/// The quantities averaged over the pulse.
struct Mean {
    double inlet_pressure = 0.0;
    double power = 0.0;
    double wastegate_flow_per_area = 0.0;

    Mean& operator+=(const Mean& other) {
        inlet_pressure += other.inlet_pressure;
        power += other.power;
        wastegate_flow_per_area += other.wastegate_flow_per_area;
        return *this;
    }
    Mean& operator*=(double factor) {
        inlet_pressure *= factor;
        power *= factor;
        wastegate_flow_per_area *= factor;
        return *this;
    }
};

/// A turbine in a stream, checked once for many evaluations.
class StreamedTurbine {
  public:
    StreamedTurbine(const Turbine& turbine, const GasStream& stream, double outlet_pressure,
                    std::optional<double> shaft_speed)
        : turbine_(turbine),
          stream_(stream),
          nozzles_{stream.temperature, outlet_pressure, turbine.nozzles, stream.gas} {
        require_turbine(turbine);
        require("gas_flow", stream.flow, positive);
        require("gas_temperature", stream.temperature, positive);
        require("outlet_pressure", outlet_pressure, positive);
        if (shaft_speed) shaft_speed_ = *shaft_speed;
        if (turbine.wheel_diameter && shaft_speed)
            tip_speed_ = 0.5 * *turbine.wheel_diameter * require("shaft_speed", *shaft_speed, positive);
    }

    double smallest() const { return turbine_.count * turbine_.effective_area; }
    double widest() const { return turbine_.count * turbine_.largest_area.value_or(turbine_.effective_area); }

    /// `flow` kg/s in the mean through an area, m².
    Mean mean(double flow, double area) const {
        const double a = turbine_.pulse_amplitude;
        if (a == 0.0) return moment(flow, area);
        return mean_over_pulse<Mean>(a, [&](double factor) { return moment(factor * flow, area); });
    }
    double power(double flow, double area) const { return mean(flow, area).power; }

    Expansion expansion(double flow, double area) const {
        const Mean mean = this->mean(flow, area);
        Expansion result{};
        result.turbine_flow = flow;
        result.inlet_pressure = mean.inlet_pressure;
        result.outlet_pressure = nozzles_.outlet_pressure;
        result.power = mean.power;
        if (turbine_.pulse_amplitude > 0.0) result.pulse_factor = mean.power / moment(flow, area).power;
        result.area = area;
        const double rest = stream_.flow - flow;
        if (rest > 0.0) {
            result.wastegate_share = rest / stream_.flow;
            result.wastegate_area = rest / mean.wastegate_flow_per_area;
        }
        return result;
    }

    /// The flow, up to that of the stream, at which `f`, which rises with it, is zero.
    template <class F>
    double flow_where(F f) const {
        return stream_.flow * root_between([&](double share) { return f(share * stream_.flow); }, 0.0, 1.0,
                                           Reason::not_finite, {}, turbine_bits);
    }

  private:
    std::optional<double> corrected_speed() const {
        if (!shaft_speed_) return std::nullopt;
        return turbine_.map->corrected_speed(*shaft_speed_, stream_.temperature);
    }

    /// The ratio at which this much flows through 1 m².
    double ratio(double flow_per_area) const {
        if (!turbine_.map) return nozzles_.ratio(flow_per_area);
        return turbine_.map->pressure_ratio(flow_per_area * turbine_.effective_area, stream_.temperature,
                                            nozzles_.outlet_pressure, shaft_speed_);
    }

    Mean moment(double flow, double area) const {
        const double ratio = this->ratio(flow / area);
        const double p4 = nozzles_.outlet_pressure;
        Mean at{ratio * p4, 0.0, 0.0};
        if (!(ratio > 1.0)) return at;
        const double ideal = ideal_share(ratio, stream_.gas);
        double efficiency = turbine_.efficiency;
        const double heat = stream_.gas.heat_capacity * stream_.temperature;
        if (tip_speed_ > 0.0)
            efficiency = turbine_efficiency(tip_speed_ / std::sqrt(2.0 * heat * ideal), turbine_.efficiency,
                                            turbine_.optimum_blade_speed_ratio);
        if (turbine_.map && turbine_.map->has_efficiency())
            efficiency = *turbine_.map->at(ratio, corrected_speed()).efficiency;
        at.power = flow * heat * efficiency * ideal;
        at.wastegate_flow_per_area =
            Nozzles{nozzles_.temperature, p4, 1.0, nozzles_.gas}.flow_per_area(ratio);
        return at;
    }

    const Turbine& turbine_;
    const GasStream& stream_;
    Nozzles nozzles_;
    double tip_speed_ = 0.0;
    std::optional<double> shaft_speed_;
};

Nozzles checked_nozzles(double gas_temperature, double outlet_pressure, double nozzles, Gas gas) {
    require("gas_temperature", gas_temperature, positive);
    require("outlet_pressure", outlet_pressure, positive);
    require_whole("nozzles", nozzles, nozzle_counts);
    return {gas_temperature, outlet_pressure, nozzles, gas};
}

[[noreturn]] void out_of_reach(double wanted, double greatest) {
    throw NoSolution(Reason::turbine_power_out_of_reach,
                     {{wanted, Quantity::power}, {greatest, Quantity::power}});
}

/// Power of an expansion into a vacuum, W.
double greatest_power(double gas_flow, double gas_temperature, double efficiency, Gas gas) {
    require("gas_flow", gas_flow, positive);
    require("gas_temperature", gas_temperature, positive);
    require("turbine_efficiency", efficiency, some_share);
    return gas_flow * gas.heat_capacity * gas_temperature * efficiency;
}

}  // namespace

double critical_pressure_ratio(Gas gas) {
    return std::pow(0.5 * (gas.heat_capacity_ratio + 1.0), 1.0 / exponent(gas));
}

double flow_function(double pressure_ratio, Gas gas) {
    require("heat_capacity_ratio", gas.heat_capacity_ratio, really_expanding);
    return nozzle_flow(require("pressure_ratio", pressure_ratio, expanding), gas);
}

double turbine_flow(double gas_temperature, double inlet_pressure, double outlet_pressure,
                    double effective_area, double nozzles, Gas gas) {
    const Nozzles series = checked_nozzles(gas_temperature, outlet_pressure, nozzles, gas);
    require("effective_area", effective_area, positive);
    require("inlet_pressure", inlet_pressure,
            {outlet_pressure, std::numeric_limits<double>::infinity(), false, true});
    return effective_area * series.flow_per_area(inlet_pressure / outlet_pressure);
}

double turbine_area(double gas_flow, double gas_temperature, double inlet_pressure, double outlet_pressure,
                    double nozzles, Gas gas) {
    require("gas_flow", gas_flow, positive);
    const Nozzles series = checked_nozzles(gas_temperature, outlet_pressure, nozzles, gas);
    require("inlet_pressure", inlet_pressure,
            {outlet_pressure, std::numeric_limits<double>::infinity(), true, true});
    return gas_flow / series.flow_per_area(inlet_pressure / outlet_pressure);
}

double turbine_inlet_pressure(double gas_flow, double gas_temperature, double outlet_pressure,
                              double effective_area, double pulse_amplitude, double nozzles, Gas gas) {
    require("gas_flow", gas_flow, not_negative);
    const Nozzles series = checked_nozzles(gas_temperature, outlet_pressure, nozzles, gas);
    require("effective_area", effective_area, positive);
    require("pulse_amplitude", pulse_amplitude, unit_share);
    const auto pressure = [&](double factor) {
        return outlet_pressure * series.ratio(factor * gas_flow / effective_area);
    };
    return pulse_amplitude == 0.0 ? pressure(1.0) : mean_over_pulse<double>(pulse_amplitude, pressure);
}

double turbine_power(double gas_flow, double gas_temperature, double pressure_ratio, double efficiency,
                     Gas gas) {
    const double greatest = greatest_power(gas_flow, gas_temperature, efficiency, gas);
    return greatest * ideal_share(require("pressure_ratio", pressure_ratio, expanding), gas);
}

double turbine_pressure_ratio(double gas_flow, double gas_temperature, double compressor_power,
                              double efficiency, Gas gas) {
    require("compressor_power", compressor_power, not_negative);
    const double greatest = greatest_power(gas_flow, gas_temperature, efficiency, gas);
    if (!(compressor_power < greatest)) out_of_reach(compressor_power, greatest);
    return std::exp(-std::log1p(-compressor_power / greatest) / exponent(gas));
}

double blade_speed_ratio(double diameter, double shaft_speed, double gas_temperature, double pressure_ratio,
                         Gas gas) {
    require("diameter", diameter, positive);
    require("shaft_speed", shaft_speed, not_negative);
    require("gas_temperature", gas_temperature, positive);
    require("pressure_ratio", pressure_ratio, really_expanding);
    const double ideal = ideal_share(pressure_ratio, gas);
    return 0.5 * diameter * shaft_speed / std::sqrt(2.0 * gas.heat_capacity * gas_temperature * ideal);
}

double turbine_efficiency(double blade_speed_ratio, double peak_efficiency,
                          double optimum_blade_speed_ratio) {
    require("blade_speed_ratio", blade_speed_ratio, not_negative);
    require("peak_efficiency", peak_efficiency, some_share);
    require("optimum_blade_speed_ratio", optimum_blade_speed_ratio, blade_speed_ratios);
    const double off = blade_speed_ratio / optimum_blade_speed_ratio - 1.0;
    return std::fmax(peak_efficiency * (1.0 - off * off),
                     std::fmin(lowest_turbine_efficiency, peak_efficiency));
}

std::vector<Warning> expansion_warnings(double pressure_ratio) {
    if (!(pressure_ratio > usual_highest_expansion_ratio)) return {};
    return {{Reason::expansion_ratio_high,
             {{pressure_ratio, Quantity::ratio}, {usual_highest_expansion_ratio, Quantity::ratio}}}};
}

void require_turbine(const Turbine& turbine) {
    require("effective_area", turbine.effective_area, positive);
    require("turbine_efficiency", turbine.efficiency, some_share);
    require("pulse_amplitude", turbine.pulse_amplitude, unit_share);
    require("optimum_blade_speed_ratio", turbine.optimum_blade_speed_ratio, blade_speed_ratios);
    require_whole("nozzles", turbine.nozzles, nozzle_counts);
    require_whole("count", turbine.count, {1.0, 4.0});
    if (turbine.wastegate_area) require("wastegate_area", *turbine.wastegate_area, not_negative);
    if (turbine.wheel_diameter) require("wheel_diameter", *turbine.wheel_diameter, positive);
    if (turbine.inertia) require("inertia", *turbine.inertia, positive);
    if (turbine.max_gas_temperature) require("max_gas_temperature", *turbine.max_gas_temperature, positive);
    if (turbine.largest_area)
        require("largest_area", *turbine.largest_area,
                {turbine.effective_area, std::numeric_limits<double>::infinity(), false, true});
}

Expansion expand(const Turbine& turbine, const GasStream& stream, double outlet_pressure,
                 std::optional<double> shaft_speed) {
    const StreamedTurbine stage(turbine, stream, outlet_pressure, shaft_speed);
    return stage.expansion(stream.flow, stage.smallest());
}

Expansion drive(const Turbine& turbine, const GasStream& stream, double outlet_pressure, double power,
                std::optional<double> shaft_speed) {
    const StreamedTurbine stage(turbine, stream, outlet_pressure, shaft_speed);
    require("power", power, positive);
    const double greatest = stage.power(stream.flow, stage.smallest());
    if (!(greatest >= power)) out_of_reach(power, greatest);
    // Power goes about with the third power of the flow.
    const auto surplus = [&](double flow, double area) {
        return std::cbrt(stage.power(flow, area) / power) - 1.0;
    };
    if (stage.widest() > stage.smallest() && surplus(stream.flow, stage.widest()) <= 0.0) {
        const double area =
            root_between([&](double trial) { return surplus(stream.flow, trial); }, stage.smallest(),
                         stage.widest(), Reason::not_finite, {}, turbine_bits);
        return stage.expansion(stream.flow, area);
    }
    const double flow = stage.flow_where([&](double trial) { return surplus(trial, stage.widest()); });
    return stage.expansion(flow, stage.widest());
}

Expansion expand_open(const Turbine& turbine, const GasStream& stream, double outlet_pressure,
                      double wastegate_area, std::optional<double> shaft_speed) {
    const StreamedTurbine stage(turbine, stream, outlet_pressure, shaft_speed);
    require("wastegate_area", wastegate_area, not_negative);
    if (wastegate_area == 0.0) return stage.expansion(stream.flow, stage.widest());
    const double flow = stage.flow_where([&](double trial) {
        const double past = wastegate_area * stage.mean(trial, stage.widest()).wastegate_flow_per_area;
        return (trial + past) / stream.flow - 1.0;
    });
    return stage.expansion(flow, stage.widest());
}

double area_that_drives(const Turbine& turbine, const GasStream& stream, double outlet_pressure, double power,
                        std::optional<double> shaft_speed) {
    const StreamedTurbine stage(turbine, stream, outlet_pressure, shaft_speed);
    require("power", power, positive);
    const double greatest = stage.power(stream.flow, turbine.count * smallest_area);
    if (!(greatest > power)) out_of_reach(power, greatest);
    const auto surplus = [&](double log_area) {
        return stage.power(stream.flow, turbine.count * std::exp(log_area)) / power - 1.0;
    };
    return std::exp(root_between(surplus, std::log(smallest_area), std::log(largest_area),
                                 Reason::turbine_power_out_of_reach,
                                 {{power, Quantity::power}, {greatest, Quantity::power}}, turbine_bits));
}

}  // namespace pullsheet::boost
