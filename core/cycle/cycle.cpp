// SPDX-License-Identifier: Apache-2.0
#include "core/cycle/cycle.hpp"

#include <algorithm>
#include <array>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <utility>

#include "core/cycle/autoignition.hpp"
#include "core/cycle/burn.hpp"
#include "core/cycle/charge.hpp"
#include "core/cycle/filling.hpp"
#include "core/cycle/heat_transfer.hpp"
#include "core/cycle/two_zone.hpp"
#include "core/fuel/octane.hpp"
#include "core/fuel/stoichiometry.hpp"

namespace pullsheet::cycle {

namespace {

/// Burned at once when the burn starts, so that the burned zone has a mass.
constexpr double kernel = 1e-3;
/// Beyond this burned share the rest of the unburned gas is too little to knock audibly. An assumption of
/// this model.
constexpr double knock_share = 0.9;
/// The reference duration of the burn belongs to this share of residual gas.
constexpr double reference_residual_share = 0.05;
/// With as much residual gas a charge hardly burns, and the flame speed is not known.
constexpr double most_residual_share = 0.35;

/// With the half-burned angle later than this, the knock integral rises with an earlier spark: swept over
/// what is possible, its maximum lies between 20° before and 5° after top dead centre, and later only where
/// the burn is so short that the charge ignites before it.
constexpr double rising_from_usually = 8.0 * pi / 180.0;
constexpr double rising_from_with_short_burn = 40.0 * pi / 180.0;
constexpr double short_burn = 20.0 * pi / 180.0;
/// How much later a spark is looked at to see on which side of its maximum the integral is.
constexpr double beside_spark = 0.5 * pi / 180.0;
constexpr int maximum_bits = 11;  // the integral errs by less than 1e-5 of itself

/// No delay is computed for octane numbers beyond these.
constexpr double lowest_octane = 20.0;
constexpr double highest_octane = 200.0;

constexpr double fewest_burn_steps = 12.0;
constexpr Interval possible_step{0.05 * pi / 180.0, 5.0 * pi / 180.0};

/// How far the gain of the octane number by residual gas goes with its share.
constexpr double octane_by_residual = 0.3;

/// Coolant to which intake_heating belongs, and how much of its change the charge feels. That hotter coolant
/// asks for more octane as hotter air does is in SAE 960497.
constexpr double reference_coolant = 363.15;
constexpr double heating_by_coolant = 0.2;

double intake_heating(const Cylinder& cylinder) {
    return cylinder.intake_heating + heating_by_coolant * (cylinder.coolant_temperature - reference_coolant);
}

void check(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel) {
    constexpr double degree = pi / 180.0;
    cylinder.crank.require_possible();
    require("compression_ratio", cylinder.crank.compression_ratio, possible::compression_ratio);
    require("cylinders", cylinder.cylinders, {1, 24});
    require("burn_duration", cylinder.burn_duration, {10.0 * degree, 150.0 * degree});
    require("burn_speed", cylinder.burn_speed, possible::angular_speed);
    require("burn_lambda", cylinder.burn_lambda, possible::lambda);
    require("coolant_temperature", cylinder.coolant_temperature, {250.0, 450.0});
    require("wall_over_coolant", cylinder.wall_over_coolant, {0.0, 300.0});
    require("intake_heating", cylinder.intake_heating, {0.0, 100.0});
    require("evaporated", cylinder.evaporated, unit_share);
    require("intake_valve_closing", cylinder.intake_valve_closing, {0.0, 100.0 * degree});
    require("exhaust_valve_opening", cylinder.exhaust_valve_opening, {0.0, 90.0 * degree});
    require("back_pressure_loss", cylinder.back_pressure_loss, {0.0, 200e3});
    require("back_pressure_per_boost", cylinder.back_pressure_per_boost, {0.0, 5.0});
    require("efficiency_factor", cylinder.efficiency_factor, possible::efficiency_factor);
    require("wall_heat_factor", cylinder.wall_heat_factor, possible::wall_heat_factor);
    require("exhaust_heat_transfer", cylinder.exhaust_heat_transfer, possible::exhaust_heat_transfer);
    require("probe_reads_low_by", cylinder.probe_reads_low_by, possible::probe_reads_low_by);
    require("octane_exponent", cylinder.knock_delay.octane_exponent, {1.0, 10.0});
    require("pressure_exponent", cylinder.knock_delay.pressure_exponent, {0.5, 4.0});
    require("activation_temperature", cylinder.knock_delay.activation_temperature, {0.0, 20000.0});
    require("octane_index_k", cylinder.octane_index_k, possible::octane_index_k);
    require("speed", point.angular_speed, possible::angular_speed);
    require("volumetric_efficiency", cylinder.volumetric_efficiency.at(point.angular_speed), {0.2, 1.5});
    require("manifold_pressure", point.manifold_pressure, possible::manifold_pressure);
    require("manifold_temperature", point.manifold_temperature, possible::manifold_temperature);
    require("lambda", point.lambda, possible::lambda);
    require("spark_angle", point.spark_angle, possible::spark_angle);
    require("ambient_pressure", point.ambient_pressure, {30e3, 120e3});
    if (point.exhaust_pressure) require("exhaust_pressure", *point.exhaust_pressure, {15e3, 2000e3});
    fuel::require_possible(fuel);
    const double index = octane_index(cylinder, fuel);
    require("octane_offset", cylinder.octane_offset,
            {std::max(-60.0, lowest_octane - index), std::min(60.0, highest_octane - index)});
}

/// Woschni's walls: piston crown and head, each a disc of the bore, and the bared liner.
struct CylinderWall {
    double temperature;
    double bore;
    double bore_area;
    double displaced_volume;
    double mean_piston_speed;
    double factor;
    double reference_volume = 1.0, reference_pressure = 1.0, reference_temperature = 1.0;

    double area(double volume) const { return 2.0 * bore_area + 4.0 * volume / bore; }
    void start(double volume, double pressure, double unburned_temperature) {
        reference_volume = volume;
        reference_pressure = pressure;
        reference_temperature = unburned_temperature;
    }
    double conductance(double, double volume, double pressure, double mean_temperature, bool burning) const {
        double rise = 0.0;
        if (burning)
            rise =
                std::max(0.0, pressure - reference_pressure * std::exp(woschni::motored_exponent *
                                                                       std::log(reference_volume / volume)));
        const double velocity =
            woschni::gas_velocity(mean_piston_speed, displaced_volume, reference_temperature,
                                  reference_pressure, reference_volume, rise);
        return factor * woschni::coefficient(bore, pressure, mean_temperature, velocity) * area(volume);
    }
};

struct Autoignition {
    double factor;  // s
    KnockDelay delay;
    double rate(double pressure, double temperature) const {
        return std::exp(delay.pressure_exponent * std::log(pressure / douaud_eyzat::atmosphere) -
                        delay.activation_temperature / temperature) /
               factor;
    }
};

/// What fills the cylinder.
struct Filling {
    double air;                   // kg
    double fuel;                  // kg
    double residual;              // kg
    double residual_temperature;  // K
    double exhaust_pressure;      // Pa
    double mass() const { return air + fuel + residual; }
    double residual_share() const { return residual / mass(); }
};

/// Fresh charge by volumetric efficiency. Residual gas: what the clearance volume holds at exhaust pressure
/// and the temperature that an ideal constant-volume cycle with κ = 1.3 leaves (expansion of the cylinder's
/// rest to exhaust pressure; Heywood (1988), section 5.4). Its heat content, p V/(κ − 1), hardly depends on
/// that temperature. Throws NoSolution(too_much_residual_gas): such a charge would not burn.
Filling fill(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel) {
    constexpr double kappa = 1.3;
    const engine::SliderCrank& crank = cylinder.crank;
    const double stoich = fuel::stoich(fuel);
    Filling f;
    f.exhaust_pressure = exhaust_pressure(cylinder, point);
    const double filled =
        filling_factor(f.exhaust_pressure / point.manifold_pressure, crank.compression_ratio);
    if (!(filled > 0.0))
        throw NoSolution(Reason::too_much_residual_gas,
                         {{1.0, Quantity::share}, {f.exhaust_pressure, Quantity::pressure}});
    f.air = filled * cylinder.volumetric_efficiency.at(point.angular_speed) * point.manifold_pressure *
            crank.displaced_volume() / (dry_air_gas_constant * point.manifold_temperature);
    f.fuel = f.air / (point.lambda * stoich);
    const double heat = fuel::heating_value(fuel) * std::min(f.fuel, f.air / stoich) / (f.air + f.fuel);
    const double start = point.manifold_temperature + intake_heating(cylinder);
    const double cv = dry_air_gas_constant / (kappa - 1.0);
    const double rise = 1.0 + heat / (cv * start * std::pow(crank.compression_ratio, kappa - 1.0));
    const double over = f.exhaust_pressure / (rise * point.manifold_pressure);
    f.residual_temperature = std::clamp(rise * start * std::pow(over, (kappa - 1.0) / kappa), 600.0, 2000.0);
    f.residual =
        f.exhaust_pressure * crank.clearance_volume() / (dry_air_gas_constant * f.residual_temperature);
    if (!(f.residual_share() < most_residual_share))
        throw NoSolution(Reason::too_much_residual_gas,
                         {{f.residual_share(), Quantity::share}, {f.exhaust_pressure, Quantity::pressure}});
    return f;
}

double octane_with(const Cylinder& cylinder, const fuel::Fuel& fuel, const Filling& filling) {
    return (octane_index(cylinder, fuel) + cylinder.octane_offset) *
           (1.0 + octane_by_residual * filling.residual_share());
}

Wiebe wiebe(const Cylinder& cylinder, const CyclePoint& point, const Filling& filling) {
    const double ratio =
        burn_duration_ratio({point.angular_speed, point.lambda, filling.residual_share()},
                            {cylinder.burn_speed, cylinder.burn_lambda, reference_residual_share});
    return {-point.spark_angle, cylinder.burn_duration * ratio, kernel};
}

/// The cycle ready to run.
struct Setup {
    Filling filling;
    Charge charge;
    double charge_temperature;
    Wiebe burn;
    CylinderWall wall;
    Stages stages;
    double octane;
};

Setup prepare(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel, double burn_step,
              double slow_step) {
    const engine::SliderCrank& crank = cylinder.crank;
    Setup s;
    s.filling = fill(cylinder, point, fuel);
    s.charge = mix(fuel, point.lambda, s.filling.residual_share());
    const double heating = (s.charge.air_share + s.charge.fuel_share) *
                           air().heat_capacity(point.manifold_temperature) * intake_heating(cylinder);
    s.charge_temperature =
        mixing_temperature(s.charge, fuel::latent_heat(fuel), cylinder.evaporated, point.manifold_temperature,
                           s.filling.residual_temperature, heating);
    s.burn = wiebe(cylinder, point, s.filling);
    s.wall.temperature = cylinder.coolant_temperature + cylinder.wall_over_coolant;
    s.wall.bore = crank.bore;
    s.wall.bore_area = crank.bore_area();
    s.wall.displaced_volume = crank.displaced_volume();
    s.wall.mean_piston_speed = crank.stroke * point.angular_speed / pi;
    s.wall.factor = cylinder.wall_heat_factor;
    s.stages.closing = cylinder.intake_valve_closing - pi;
    s.stages.burn_start = s.burn.start;
    s.stages.knock_end = s.burn.angle(knock_share);
    s.stages.opening = pi - cylinder.exhaust_valve_opening;
    s.stages.burn_step = std::min(burn_step, (s.stages.knock_end - s.stages.burn_start) / fewest_burn_steps);
    s.stages.slow_step = slow_step;
    s.octane = octane_with(cylinder, fuel, s.filling);
    return s;
}

template <class Observer>
TracePoint integrate(const Cylinder& cylinder, const CyclePoint& point, Setup& s, Observer observe) {
    const EquilibriumGas burned{BurnedGas(s.charge.elements)};
    const KnockDelay& of_fuel = cylinder.knock_delay;
    const Autoignition delay{douaud_eyzat::fuel_factor(s.octane, of_fuel.octane_exponent), of_fuel};
    TwoZone zones(s.charge.unburned, burned, cylinder.crank, s.burn, s.wall, delay, s.filling.mass(),
                  point.angular_speed);
    return zones.run(s.stages, s.charge_temperature, observe);
}

/// The knock integral of a cycle with the spark of the point, whatever later sparks give.
double own_knock_integral(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel) {
    Setup s = prepare(cylinder, point, fuel, usual_step, 2.0 * usual_step);
    s.stages.opening = std::clamp(s.stages.knock_end, s.stages.closing, s.stages.opening);
    return integrate(cylinder, point, s, [](const TracePoint&) {}).knock_integral;
}

/// The greatest knock integral of a spark and all later ones. A charge that is burned before top dead centre
/// is gone before it is hottest, so the integral of a very early spark falls again; an engine that knocks at
/// a spark knocks at every earlier one. `own`: the integral of the point's spark, which rises to one maximum
/// over the spark.
double with_later_sparks(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                         double own, const Wiebe& burn) {
    const double half_burned = burn.angle(0.5);
    const double rising_from = burn.duration < short_burn ? rising_from_with_short_burn : rising_from_usually;
    if (half_burned >= rising_from) return own;
    const auto at = [&](double spark) {
        CyclePoint other = point;
        other.spark_angle = spark;
        return own_knock_integral(cylinder, other, fuel);
    };
    if (!(at(point.spark_angle - beside_spark) > own)) return own;
    // The bracket does not rest on the point's spark, so all early sparks get the same maximum.
    const double latest = point.spark_angle + half_burned - rising_from;
    std::uintmax_t iterations = 60;  // a golden section alone takes 20
    const auto least =
        ::boost::math::tools::brent_find_minima([&](double spark) { return -at(spark); }, latest,
                                                possible::spark_angle.high, maximum_bits, iterations);
    return std::max(own, -least.second);
}

/// The highest pressure, Pa, and its angle, rad, between the points of a grid: the polynomial of the
/// logarithm of pressure through the highest point and its two neighbours on either side.
std::pair<double, double> peak(const std::vector<TracePoint>& points) {
    const auto lower = [](const TracePoint& a, const TracePoint& b) { return a.pressure < b.pressure; };
    const auto highest = std::max_element(points.begin(), points.end(), lower) - points.begin();
    const auto size = static_cast<std::ptrdiff_t>(points.size());
    if (highest < 2 || highest + 2 >= size) {
        const TracePoint& p = points[static_cast<std::size_t>(highest)];
        return {p.angle, p.pressure};
    }
    constexpr std::size_t n = 5;
    std::array<double, n> angle, coefficient;  // Newton's divided differences
    for (std::size_t i = 0; i < n; ++i) {
        const TracePoint& p = points[static_cast<std::size_t>(highest) - 2 + i];
        angle[i] = p.angle;
        coefficient[i] = std::log(p.pressure);
    }
    for (std::size_t k = 1; k < n; ++k)
        for (std::size_t i = n; i-- > k;)
            coefficient[i] = (coefficient[i] - coefficient[i - 1]) / (angle[i] - angle[i - k]);
    const auto negative = [&](double x) {
        double y = coefficient[n - 1];
        for (std::size_t i = n - 1; i-- > 0;) y = y * (x - angle[i]) + coefficient[i];
        return -y;
    };
    constexpr int bits = 26;
    std::uintmax_t iterations = 100;  // a golden section alone takes 40
    const auto [at, value] =
        ::boost::math::tools::brent_find_minima(negative, angle[1], angle[3], bits, iterations);
    return {at, std::exp(-value)};
}

/// Mean temperature, K, of the gas that flows out: energy left in the cylinder when the exhaust valve opens,
/// less the work until top dead centre, less heat to the walls during the exhaust stroke (Woschni's gas
/// exchange coefficient at exhaust pressure, one mean value). The gas keeps the composition it has when the
/// valve opens.
double exhaust_temperature(const Cylinder& cylinder, const CyclePoint& point, const Setup& s,
                           const TracePoint& end, double blowdown_work) {
    const engine::SliderCrank& crank = cylinder.crank;
    const double mass = s.filling.mass();
    const double p_e = s.filling.exhaust_pressure;
    const double share = end.burned_share;
    FrozenGas gas;
    gas.add(s.charge.unburned, 1.0 - share);
    double energy = mass * (1.0 - share) * s.charge.unburned.internal_energy(end.unburned_temperature);
    if (share > 0.0) {
        const Composition n = BurnedGas(s.charge.elements).composition(end.burned_temperature, end.pressure);
        const FrozenGas burned{gas_constant(n), frozen(n)};
        gas.add(burned, share);
        energy += mass * share * burned.internal_energy(end.burned_temperature);
    }
    const double v_bottom = crank.volume(pi);
    const double mean_temperature = end.pressure * end.volume / (mass * gas.gas_constant);
    const double ratio = gas.gas_constant / gas.heat_capacity(mean_temperature);
    const double cooled = mean_temperature * std::pow(std::min(1.0, p_e / end.pressure), ratio);
    const double coefficient = woschni::coefficient(crank.bore, p_e, cooled,
                                                    woschni::gas_exchange_factor * s.wall.mean_piston_speed);
    const double time = (2.0 * pi - end.angle) / point.angular_speed;
    const double area = s.wall.area(0.5 * (v_bottom + crank.clearance_volume()));
    const double heat = s.wall.factor * coefficient * area * (cooled - s.wall.temperature) * time;
    const double left = energy - blowdown_work + p_e * (v_bottom - crank.clearance_volume()) - heat;
    // left = (m − m_r) h + m_r u = m h − m_r R T
    double t = cooled;
    for (int i = 0; i < 50; ++i) {
        const double f = mass * gas.enthalpy(t) - s.filling.residual * gas.gas_constant * t - left;
        const double step = -f / (mass * gas.heat_capacity(t) - s.filling.residual * gas.gas_constant);
        t = std::max(200.0, t + step);
        if (std::abs(step) < 1e-9 * t) return t;
    }
    throw NoSolution(Reason::no_cylinder_state, {{end.angle, Quantity::angle}});
}

}  // namespace

double exhaust_pressure(const Cylinder& cylinder, const CyclePoint& point) {
    if (point.exhaust_pressure) return *point.exhaust_pressure;
    const double boost = std::max(0.0, point.manifold_pressure - point.ambient_pressure);
    return point.ambient_pressure + cylinder.back_pressure_loss + cylinder.back_pressure_per_boost * boost;
}

double gas_temperature_reading(const Cylinder& cylinder, const CycleResult& result) {
    return result.gas_temperature - cylinder.probe_reads_low_by;
}

double octane_index(const Cylinder& cylinder, const fuel::Fuel& fuel) {
    const double ron = fuel::ron(fuel);
    return ron - cylinder.octane_index_k * (ron - fuel::mon(fuel) - cylinder.calibration_sensitivity);
}

double octane(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel) {
    check(cylinder, point, fuel);
    return octane_with(cylinder, fuel, fill(cylinder, point, fuel));
}

double spark_for_half_burned(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                             double half_burned_angle) {
    check(cylinder, point, fuel);
    const Wiebe burn = wiebe(cylinder, point, fill(cylinder, point, fuel));
    return burn.angle(0.5) - burn.start - half_burned_angle;
}

CycleResult run(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel, double step) {
    check(cylinder, point, fuel);
    require("angle_step", step, possible_step);
    const engine::SliderCrank& crank = cylinder.crank;
    Setup s = prepare(cylinder, point, fuel, step, 2.0 * step);
    std::vector<TracePoint> points;
    points.reserve(256);
    const TracePoint end = integrate(cylinder, point, s, [&](const TracePoint& z) { points.push_back(z); });

    const double v_d = crank.displaced_volume();
    const double v_bottom = crank.volume(pi);
    const double p_e = s.filling.exhaust_pressure;
    // Before the intake valve closes the piston moves at manifold pressure; after the exhaust valve opens the
    // pressure falls to exhaust pressure in a straight line over volume.
    const double filling_work = -point.manifold_pressure * (v_bottom - crank.volume(s.stages.closing));
    const double blowdown_work = 0.5 * (end.pressure + p_e) * (v_bottom - end.volume);
    const auto [peak_angle, peak_pressure] = peak(points);

    CycleResult r;
    r.gross_mean_pressure = cylinder.efficiency_factor * (end.work + filling_work + blowdown_work) / v_d;
    r.pumping_mean_pressure = p_e - point.manifold_pressure;
    r.friction_mean_pressure = cylinder.friction.mean_pressure(peak_pressure, s.wall.mean_piston_speed);
    r.indicated_mean_pressure = r.gross_mean_pressure - r.pumping_mean_pressure;
    r.brake_mean_pressure = r.indicated_mean_pressure - r.friction_mean_pressure;
    const double displacement = cylinder.cylinders * v_d;
    r.torque = r.brake_mean_pressure * displacement / (4.0 * pi);
    r.power = r.torque * point.angular_speed;
    r.peak_pressure = peak_pressure;
    r.peak_pressure_angle = peak_angle;
    r.half_burned_angle = s.burn.angle(0.5);
    r.burn_duration = s.burn.duration;
    r.exhaust_temperature = exhaust_temperature(cylinder, point, s, end, blowdown_work);
    r.knock_integral = with_later_sparks(cylinder, point, fuel, end.knock_integral, s.burn);
    r.octane = s.octane;
    const double cycles = cylinder.cylinders * point.angular_speed / (4.0 * pi);  // 1/s
    r.air_flow = cycles * s.filling.air;
    r.fuel_flow = cycles * s.filling.fuel;
    r.gas_temperature =
        port::gas_temperature(r.exhaust_temperature, r.air_flow + r.fuel_flow, cylinder.cylinders,
                              cylinder.coolant_temperature, cylinder.exhaust_heat_transfer);
    const double fuel_energy = s.filling.fuel * fuel::heating_value(fuel);
    r.efficiency = r.power / (cycles * fuel_energy);
    r.residual_share = s.charge.residual_share;
    r.charge_temperature = s.charge_temperature;
    r.charge_pressure = points.front().pressure;
    r.exhaust_pressure = p_e;
    r.wall_heat = end.heat_loss / fuel_energy;
    r.warnings = knock_warnings(r.knock_integral, s.octane);
    return r;
}

std::vector<Warning> knock_warnings(double knock_integral, double octane) {
    std::vector<Warning> warnings;
    if (knock_integral > 1.0) warnings.push_back({Reason::knocks, {{knock_integral, Quantity::number}}});
    if (!douaud_eyzat::established_octane.contains(octane))
        warnings.push_back({Reason::octane_outside_correlation,
                            {{octane, Quantity::number},
                             {douaud_eyzat::established_octane.low, Quantity::number},
                             {douaud_eyzat::established_octane.high, Quantity::number}}});
    return warnings;
}

double knock_integral(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel) {
    check(cylinder, point, fuel);
    const Wiebe burn = wiebe(cylinder, point, fill(cylinder, point, fuel));
    return with_later_sparks(cylinder, point, fuel, own_knock_integral(cylinder, point, fuel), burn);
}

std::vector<TracePoint> trace(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                              double step) {
    check(cylinder, point, fuel);
    require("angle_step", step, possible_step);
    Setup s = prepare(cylinder, point, fuel, step, step);
    std::vector<TracePoint> points;
    points.reserve(static_cast<std::size_t>((s.stages.opening - s.stages.closing) / step) + 5);
    integrate(cylinder, point, s, [&](const TracePoint& z) { points.push_back(z); });
    return points;
}

double efficiency_factor(const Cylinder& cylinder, const CyclePoint& point, const fuel::Fuel& fuel,
                         double power) {
    require("power", power, positive);
    Cylinder plain = cylinder;
    plain.efficiency_factor = 1.0;
    const CycleResult r = run(plain, point, fuel);
    if (!(r.gross_mean_pressure > 0.0)) throw NoSolution(Reason::no_indicated_work);
    const double torque = power / point.angular_speed;
    const double wanted = torque * 4.0 * pi / (cylinder.cylinders * cylinder.crank.displaced_volume());
    return (wanted + r.friction_mean_pressure + r.pumping_mean_pressure) / r.gross_mean_pressure;
}

}  // namespace pullsheet::cycle
