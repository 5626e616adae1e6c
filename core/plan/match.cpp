// SPDX-License-Identifier: Apache-2.0
#include "core/plan/match.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>

#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

constexpr double pressure_step = 1.03;
constexpr double speed_step = 1.04;
constexpr int match_bits = 40;

/// The least value of a function on an interval, by Brent's method.
template <class F>
double least_between(F f, double low, double high) {
    constexpr int bits = 20;
    std::uintmax_t steps = 40;
    return ::boost::math::tools::brent_find_minima(f, low, high, bits, steps).second;
}

/// Values from `low` to `high` in equal ratios of at most `step`.
std::vector<double> graded(double low, double high, double step) {
    const double steps = std::fmax(std::ceil(std::log(high / low) / std::log(step)), 2.0);
    std::vector<double> values;
    for (double i = 0.0; i <= steps; ++i) values.push_back(low * std::pow(high / low, i / steps));
    values.back() = high;
    return values;
}

/// Where a function that begins at or above zero first falls below it; none where it does not. Between three
/// values the middle one of which is the least, it may dip below zero and rise again: the least value tells.
template <class F>
std::optional<double> first_fall(F f, const std::vector<double>& at) {
    constexpr double near_zero = 0.3;
    const auto crossing = [&](double from, double to) {
        return root_between(f, from, to, Reason::no_pressure_balance, {}, match_bits);
    };
    std::vector<double> values;
    for (std::size_t i = 0; i < at.size(); ++i) {
        values.push_back(f(at[i]));
        if (i == 0) {
            if (values[0] < 0.0) return at[0];
            continue;
        }
        if (values[i] < 0.0) return crossing(at[i - 1], at[i]);
        if (i < 2 || values[i - 1] > near_zero || values[i - 1] > values[i] || values[i - 1] > values[i - 2])
            continue;
        double place = at[i - 1];
        double lowest_value = values[i - 1];
        least_between(
            [&](double x) {
                const double value = f(x);
                if (value < lowest_value) {
                    lowest_value = value;
                    place = x;
                }
                return value;
            },
            at[i - 2], at[i]);
        if (lowest_value < 0.0) return crossing(at[i - 2], place);
    }
    return std::nullopt;
}

/// An engine with some of its numbers moved.
class MovedEngine final : public MatchedEngine {
  public:
    explicit MovedEngine(const MatchedEngine& engine) : engine_(engine) {}

    double gas_temperature = 0.0;        // K, added
    double filling = 1.0;                // factor
    double compressor_efficiency = 0.0;  // added
    double outlet = 0.0;                 // Pa, added

    Breath breathe(double speed, double manifold_pressure, double exhaust_pressure) const override {
        Breath breath = engine_.breathe(speed, manifold_pressure, exhaust_pressure);
        breath.gas.flow *= filling;
        breath.air_flow *= filling;
        breath.torque *= filling;
        breath.gas.temperature += gas_temperature;
        breath.compressor_power *=
            filling * breath.compressor_efficiency / (breath.compressor_efficiency + compressor_efficiency);
        return breath;
    }
    double natural_filling(double speed) const override { return engine_.natural_filling(speed); }
    double outlet_pressure(const boost::GasStream& gas, double turbine_power) const override {
        return engine_.outlet_pressure(gas, turbine_power) + outlet;
    }

  private:
    const MatchedEngine& engine_;
};

}  // namespace

double Match::Shut::surplus_share() const {
    if (!(breath.compressor_power > 0.0)) return 1.0;
    return expansion.power > 0.0 ? 1.0 - breath.compressor_power / expansion.power : -1e3;
}

Match::Match(const MatchedEngine& engine, const boost::Turbine& turbine)
    : engine_(engine), turbine_(turbine) {
    boost::require_turbine(turbine);
}

/// The pressure before the turbine that the engine gives when it feels just that pressure, by secants on the
/// fixed point. `expand` makes an expansion of a breath.
template <class Expand>
Match::Shut Match::balanced(double speed, double manifold_pressure, Expand expand) const {
    constexpr int rounds_allowed = 40;
    constexpr double agreed = 1e-11;
    const auto look = [&](double exhaust_pressure) {
        const Breath breath = engine_.breathe(speed, manifold_pressure, exhaust_pressure);
        return Shut{breath, expand(breath)};
    };
    double felt = manifold_pressure;
    Shut at = look(felt);
    double gap = at.expansion.inlet_pressure - felt;
    double before = felt;
    double gap_before = gap;
    felt = at.expansion.inlet_pressure;
    for (int round = 1; round < rounds_allowed; ++round) {
        at = look(felt);
        gap = at.expansion.inlet_pressure - felt;
        if (std::fabs(gap) <= agreed * felt) return at;
        const double slope = (gap - gap_before) / (felt - before);
        before = felt;
        gap_before = gap;
        const double step = slope < -0.1 ? -gap / slope : gap;
        felt = std::fmax(felt + step, 0.5 * felt);
    }
    throw NoSolution(Reason::no_pressure_balance, {{speed, Quantity::angular_speed}});
}

/// The turbine with the wastegate shut, all areas times `area_factor`.
Match::Shut Match::settled(double speed, double manifold_pressure, double area_factor) const {
    boost::Turbine turbine = turbine_;
    turbine.effective_area *= area_factor;
    if (turbine.largest_area) *turbine.largest_area *= area_factor;
    return balanced(speed, manifold_pressure, [&](const Breath& breath) {
        // Power and pressure after the turbine rest on one another.
        constexpr int rounds_allowed = 60;
        double outlet = engine_.outlet_pressure(breath.gas, 0.0);
        boost::Expansion expansion = boost::expand(turbine, breath.gas, outlet, breath.shaft_speed);
        for (int round = 1; round < rounds_allowed; ++round) {
            const double next = engine_.outlet_pressure(breath.gas, expansion.power);
            if (std::fabs(next - outlet) <= 1e-13 * outlet) break;
            outlet = next;
            expansion = boost::expand(turbine, breath.gas, outlet, breath.shaft_speed);
        }
        return expansion;
    });
}

Match::Shut Match::shut(double speed, double manifold_pressure) const {
    return settled(speed, manifold_pressure, 1.0);
}

std::optional<double> Match::balance(double speed, double highest) const {
    const double lowest = engine_.natural_filling(speed);
    if (!(highest > lowest)) return std::nullopt;
    return first_fall([&](double pressure) { return shut(speed, pressure).surplus_share(); },
                      graded(lowest, highest, pressure_step));
}

FullLoad Match::full_load(double speed, std::span<const Ceiling> ceilings) const {
    const Ceiling lowest =
        *std::ranges::min_element(ceilings, {}, [](const Ceiling& c) { return c.manifold_pressure; });
    const double natural = engine_.natural_filling(speed);
    const auto answer = [&](double pressure, Held held, const Shut& at) {
        FullLoad result{speed, pressure, held, {}, false, at.breath, at.expansion};
        if (held == Held::ceiling || held == Held::throttle) result.ceiling = lowest.by;
        return result;
    };
    const auto driven = [&](double pressure) {
        return balanced(speed, pressure, [&](const Breath& breath) {
            const double power = std::fmax(breath.compressor_power, 0.0);
            const double outlet = engine_.outlet_pressure(breath.gas, power);
            // On the way the engine may feel a pressure at which the turbine does not drive.
            const auto shut = boost::expand(turbine_, breath.gas, outlet, breath.shaft_speed);
            if (!(power > 0.0) || shut.power <= power) return shut;
            return boost::drive(turbine_, breath.gas, outlet, power, breath.shaft_speed);
        });
    };
    const auto open = [&](double pressure) {
        return balanced(speed, pressure, [&](const Breath& breath) {
            const double outlet = engine_.outlet_pressure(breath.gas, breath.compressor_power);
            return boost::expand_open(turbine_, breath.gas, outlet, turbine_.count * *turbine_.wastegate_area,
                                      breath.shaft_speed);
        });
    };
    const auto clear_of_surge = [&](FullLoad result) {
        if (!(result.breath.surge_margin < 0.0)) return result;
        const auto margin = [&](double pressure) { return driven(pressure).breath.surge_margin; };
        const std::vector<double> at = graded(natural, result.manifold_pressure, pressure_step);
        std::size_t i = at.size() - 1;
        while (i > 0 && margin(at[i - 1]) < 0.0) --i;
        const double pressure =
            i == 0 ? natural
                   : root_between(margin, at[i - 1], at[i], Reason::no_pressure_balance, {}, match_bits);
        const bool creeps = result.creeps;
        result = answer(pressure, Held::surge, driven(pressure));
        result.creeps = creeps;
        return result;
    };

    if (!(lowest.manifold_pressure > natural))
        return answer(lowest.manifold_pressure, Held::throttle, shut(speed, lowest.manifold_pressure));
    if (const auto pressure = balance(speed, lowest.manifold_pressure))
        return clear_of_surge(answer(*pressure, Held::turbine, shut(speed, *pressure)));
    FullLoad result = answer(lowest.manifold_pressure, Held::ceiling, driven(lowest.manifold_pressure));
    if (turbine_.wastegate_area &&
        result.expansion.wastegate_area > turbine_.count * *turbine_.wastegate_area * (1.0 + 1e-9)) {
        // It rises to the balance with the wastegate fully open, or to the next ceiling.
        const Ceiling* next = nullptr;
        for (const Ceiling& ceiling : ceilings)
            if (ceiling.by != lowest.by && (!next || ceiling.manifold_pressure < next->manifold_pressure))
                next = &ceiling;
        const double highest = next ? next->manifold_pressure : 3.0 * lowest.manifold_pressure;
        std::optional<double> creep;
        if (highest > lowest.manifold_pressure)
            creep = first_fall([&](double pressure) { return open(pressure).surplus_share(); },
                               graded(lowest.manifold_pressure, highest, pressure_step));
        const double pressure = creep.value_or(highest);
        result = answer(pressure, creep || !next ? Held::wastegate : Held::ceiling, open(pressure));
        if (result.held == Held::ceiling) result.ceiling = next->by;
        result.creeps = true;
    }
    return clear_of_surge(result);
}

/// The least share of surplus from the natural filling up to a pressure.
double Match::least_share(double speed, double highest) const {
    const double lowest = engine_.natural_filling(speed);
    if (!(highest > lowest)) return 1.0;
    const auto share = [&](double pressure) { return shut(speed, pressure).surplus_share(); };
    const std::vector<double> at = graded(lowest, highest, pressure_step);
    std::vector<double> values(at.size());
    std::ranges::transform(at, values.begin(), share);
    const auto i = static_cast<std::size_t>(std::ranges::min_element(values) - values.begin());
    if (i == 0 || i + 1 == at.size()) return values[i];
    return std::fmin(values[i], least_between(share, at[i - 1], at[i + 1]));
}

Threshold Match::threshold(double manifold_pressure, double lowest_speed, double highest_speed) const {
    require("manifold_pressure", manifold_pressure, positive);
    require("speed", lowest_speed, positive);
    require("speed", highest_speed, {lowest_speed, std::numeric_limits<double>::infinity(), true, true});
    const auto from_below = [&](double speed) { return least_share(speed, manifold_pressure); };
    const auto at_it = [&](double speed) {
        return manifold_pressure > engine_.natural_filling(speed)
                   ? shut(speed, manifold_pressure).surplus_share()
                   : 1.0;
    };
    const auto root = [](const auto& f, double low, double high) {
        return root_between(f, low, high, Reason::no_pressure_balance, {}, match_bits);
    };
    const std::vector<double> speeds = graded(lowest_speed, highest_speed, speed_step);
    Threshold result{{}, {}, 0.0, lowest_speed};
    for (std::size_t i = 0; i < speeds.size() && !result.rising; ++i) {
        if (!(from_below(speeds[i]) >= 0.0)) continue;
        result.rising = i == 0 ? lowest_speed : root(from_below, speeds[i - 1], speeds[i]);
    }
    // Down from the highest speed that holds it; what is reached from below is held too.
    std::size_t holds = speeds.size();
    for (std::size_t i = speeds.size(); i-- > 0;) {
        const bool held = at_it(speeds[i]) >= 0.0;
        if (held) holds = i;
        if (!held && holds < speeds.size()) break;
    }
    if (holds < speeds.size())
        result.falling = holds == 0 ? lowest_speed : root(at_it, speeds[holds - 1], speeds[holds]);
    if (result.rising) {
        result.highest_pressure = manifold_pressure;
        result.highest_speed = *result.rising;
        return result;
    }
    for (const double speed : speeds) {
        const double pressure = balance(speed, manifold_pressure).value_or(manifold_pressure);
        if (!(pressure > result.highest_pressure)) continue;
        result.highest_pressure = pressure;
        result.highest_speed = speed;
    }
    return result;
}

/// What `of` gives of the match with each number moved by its standard uncertainty.
template <class Of>
std::vector<double> Match::each_moved(const MatchUncertainty& uncertainty, Of of) const {
    const auto with_turbine = [&](auto change) {
        boost::Turbine turbine = turbine_;
        change(turbine);
        return of(Match(engine_, turbine));
    };
    const auto with_engine = [&](auto change) {
        MovedEngine engine(engine_);
        change(engine);
        return of(Match(engine, turbine_));
    };
    return {
        with_turbine([&](boost::Turbine& t) {
            t.effective_area *= 1.0 + uncertainty.area;
            if (t.largest_area) *t.largest_area *= 1.0 + uncertainty.area;
        }),
        with_turbine([&](boost::Turbine& t) {
            t.efficiency = std::fmax(t.efficiency - uncertainty.turbine_efficiency, 0.5 * t.efficiency);
        }),
        with_engine([&](MovedEngine& e) { e.gas_temperature = -uncertainty.gas_temperature; }),
        with_engine([&](MovedEngine& e) { e.filling = 1.0 - uncertainty.filling; }),
        with_engine([&](MovedEngine& e) { e.compressor_efficiency = -uncertainty.compressor_efficiency; }),
        with_engine([&](MovedEngine& e) { e.outlet = uncertainty.outlet_pressure; }),
        with_turbine([&](boost::Turbine& t) {
            t.pulse_amplitude = std::fmin(t.pulse_amplitude + uncertainty.pulse_amplitude, 1.0);
        })};
}

std::vector<double> Match::surplus_shifts(double speed, double manifold_pressure,
                                          const MatchUncertainty& uncertainty) const {
    const double share = shut(speed, manifold_pressure).surplus_share();
    return each_moved(uncertainty, [&](const Match& moved) {
        return moved.shut(speed, manifold_pressure).surplus_share() - share;
    });
}

ThresholdBand Match::threshold_band(double manifold_pressure, double lowest_speed, double highest_speed,
                                    const MatchUncertainty& uncertainty) const {
    ThresholdBand band{threshold(manifold_pressure, lowest_speed, highest_speed), {}, {}, {}};
    if (!band.threshold.rising) return band;
    const double rising = *band.threshold.rising;
    const auto shift = [&](const Match& moved) {
        const auto share = [&](double speed) { return moved.least_share(speed, manifold_pressure); };
        const double tolerance = 1e-7 * rising;
        const double at =
            rising_root(share, {rising, 1.0 / rising, lowest_speed, highest_speed, 0.1 * rising, tolerance},
                        Reason::no_pressure_balance);
        return at >= highest_speed && share(at) < 0.0 ? std::numeric_limits<double>::quiet_NaN()
                                                      : at - rising;
    };
    band.shifts = each_moved(uncertainty, shift);
    double square = 0.0;
    for (const double shift_of_one : band.shifts)
        if (!std::isnan(shift_of_one)) square += shift_of_one * shift_of_one;
    const double half_width = 2.0 * std::sqrt(square);
    band.low = std::fmax(rising - half_width, 0.0);
    if (std::ranges::none_of(band.shifts, [](double s) { return std::isnan(s); }))
        band.high = rising + half_width;
    return band;
}

/// The largest area at which a share of surplus, which falls as the area grows, is not below zero.
template <class Share>
double Match::area_where(double speed, double manifold_pressure, Share share) const {
    constexpr double smallest = 1e-5;
    constexpr double largest = 2e-2;
    const auto share_at = [&](double log_area) {
        Match other = *this;
        const double factor = std::exp(log_area) / turbine_.effective_area;
        other.turbine_.effective_area *= factor;
        if (other.turbine_.largest_area) *other.turbine_.largest_area *= factor;
        return share(other);
    };
    if (!(share_at(std::log(smallest)) >= 0.0)) {
        const Shut at = settled(speed, manifold_pressure, smallest / turbine_.effective_area);
        throw NoSolution(Reason::turbine_power_out_of_reach, {{at.breath.compressor_power, Quantity::power},
                                                              {at.expansion.power, Quantity::power}});
    }
    if (share_at(std::log(largest)) >= 0.0) return largest;
    return std::exp(root_between(share_at, std::log(smallest), std::log(largest), Reason::no_pressure_balance,
                                 {}, match_bits));
}

Match::AreaFor Match::area_for(double speed, double manifold_pressure) const {
    require("manifold_pressure", manifold_pressure, positive);
    return {
        area_where(speed, manifold_pressure,
                   [&](const Match& match) { return match.shut(speed, manifold_pressure).surplus_share(); }),
        area_where(speed, manifold_pressure,
                   [&](const Match& match) { return match.least_share(speed, manifold_pressure); })};
}

std::vector<SpoolMoment> Match::spool(double speed, double start_pressure, double target,
                                      double share) const {
    if (!turbine_.inertia) throw InvalidArgument("inertia", Reason::inertia_needed);
    require("start_pressure", start_pressure, positive);
    require("target", target, {start_pressure, std::numeric_limits<double>::infinity(), true, true});
    require("share", share, {0.0, 1.0, true, false});
    const auto at = [&](double pressure) { return shut(speed, pressure); };
    const auto shaft_speed = [](const Shut& state) {
        if (!state.breath.shaft_speed) throw InvalidArgument("wheel_diameter", Reason::shaft_speed_unknown);
        return *state.breath.shaft_speed;
    };
    // Faster than the target the pressure is held there.
    const double low = std::fmax(start_pressure, 1.002 * engine_.natural_filling(speed));
    const double slowest = shaft_speed(at(low));
    const Shut end = at(target);
    const double fastest = shaft_speed(end);
    const double wanted = share * end.breath.torque;
    double guess = low;
    const auto pressure_of = [&](double shaft) {
        if (shaft >= fastest) return target;
        if (shaft <= slowest) return low;
        const double slope = (fastest - slowest) / (target - low);
        guess = rising_root([&](double pressure) { return shaft_speed(at(pressure)) - shaft; },
                            {guess, slope, low, target, 0.2 * (target - low), 1e-10 * target},
                            Reason::no_pressure_balance);
        return guess;
    };
    // One shaft turns with its share of what all turbines give more than all compressors take up.
    const double each = 1.0 / turbine_.count;
    const boost::ShaftDrive drive{
        [&](double, double shaft) { return each * at(pressure_of(shaft)).surplus(); },
        [&](double, double shaft) { return at(pressure_of(shaft)).breath.torque - wanted; },
        *turbine_.inertia, slowest, 60.0};
    std::vector<SpoolMoment> moments;
    for (const boost::ShaftMoment& moment : boost::spin(drive)) {
        const double pressure = pressure_of(moment.speed);
        moments.push_back({moment.time, moment.speed, pressure, at(pressure).breath.torque});
    }
    if (moments.back().torque < wanted * (1.0 - 1e-6))
        throw NoSolution(Reason::boost_not_reached,
                         {{wanted, Quantity::torque}, {moments.back().torque, Quantity::torque}});
    return moments;
}

}  // namespace pullsheet::plan
