// SPDX-License-Identifier: Apache-2.0
#include "core/dyno/correction.hpp"

#include <cmath>
#include <cstddef>
#include <utility>

#include "core/air/moist_air.hpp"

namespace pullsheet::dyno {
namespace {

constexpr Interval unlimited{};
constexpr double reference_dry_pressure = 99e3;        // Pa
constexpr double inch_of_mercury = 3386.388640341;     // Pa, at 0 °C (NIST SP 811)
constexpr double reference_temperature = 298.0;        // K, as the texts write 25 °C
constexpr double sixty_fahrenheit = 519.67 * 5.0 / 9;  // K

/// °C as K, exactly.
constexpr Interval celsius(double low, double high) {
    return {zero_celsius + low, zero_celsius + high};
}

/// The temperature as the texts of the standards write it: 273 + t, not 273.15 + t.
constexpr double text_kelvin(double temperature) {
    return temperature - zero_celsius + 273.0;
}

/// The formula shared by ISO 1585, UN R 85, 80/1269/EEC and JIS D 1001.
double harmonised_factor(double dry_pressure, double temperature) {
    return std::pow(reference_dry_pressure / dry_pressure, 1.2) *
           std::pow(text_kelvin(temperature) / reference_temperature, 0.6);
}

double require_dry_pressure(double temperature, double pressure, double humidity) {
    require("temperature", temperature, possible::temperature);
    require("pressure", pressure, possible::pressure);
    return air::dry_pressure(temperature, pressure, humidity);
}

constexpr StandardLimits harmonised_limits{{0.93, 1.07}, celsius(15, 35), {80e3, 110e3}};
constexpr StandardLimits sae_j1349_limits{{0.93, 1.07}, celsius(15, 35), {90e3, 105e3}};
constexpr StandardLimits no_limits{unlimited, unlimited, unlimited};
constexpr StandardLimits diesel_limits{{0.9, 1.1}, celsius(10, 40), {80e3, 110e3}};

const StandardLimits& limits_of(Standard standard) {
    switch (standard) {
        case Standard::iso_1585:
        case Standard::ece_r85:
        case Standard::directive_80_1269_eec:
        case Standard::jis_d_1001: return harmonised_limits;
        case Standard::sae_j1349: return sae_j1349_limits;
        case Standard::sae_j607:
        case Standard::din_70020: break;
    }
    return no_limits;
}

std::vector<Warning> warnings(const StandardLimits& limits, double factor, double temperature,
                              double dry_pressure) {
    std::vector<Warning> result;
    const auto check = [&result](Reason reason, double value, Interval allowed, Quantity quantity) {
        if (!allowed.contains(value))
            result.push_back(
                {reason, {{value, quantity}, {allowed.low, quantity}, {allowed.high, quantity}}});
    };
    check(Reason::factor_outside_standard, factor, limits.factor, Quantity::ratio);
    check(Reason::test_temperature_outside_standard, temperature, limits.temperature, Quantity::temperature);
    check(Reason::test_pressure_outside_standard, dry_pressure, limits.dry_pressure, Quantity::pressure);
    return result;
}

double atmospheric_factor(DieselStandard standard, DieselCharging charging, double dry_pressure,
                          double temperature) {
    const double pressure_ratio = reference_dry_pressure / dry_pressure;
    const double temperature_ratio = text_kelvin(temperature) / reference_temperature;
    if (charging == DieselCharging::no_turbocharger) return pressure_ratio * std::pow(temperature_ratio, 0.7);
    double exponent = 1.5;
    if (standard == DieselStandard::iso_1585) exponent = charging == DieselCharging::turbocharger ? 1.2 : 0.7;
    return std::pow(pressure_ratio, 0.7) * std::pow(temperature_ratio, exponent);
}

double engine_factor(DieselStandard standard, double corrected_fuel_per_cycle) {
    const double q_c = corrected_fuel_per_cycle * 1e3;  // mg/L
    const bool iso = standard == DieselStandard::iso_1585;
    if (q_c < (iso ? 37.2 : 40.0)) return iso ? 0.2 : 0.3;
    if (q_c > 65.0) return 1.2;
    return 0.036 * q_c - 1.14;
}

}  // namespace

StandardLimits limits(Standard standard) {
    return limits_of(standard);
}

StandardLimits limits(DieselStandard) {
    return diesel_limits;
}

Correction correction(Standard standard, double temperature, double pressure, double humidity) {
    const double dry_pressure = require_dry_pressure(temperature, pressure, humidity);
    const auto factor = [&] {
        switch (standard) {
            case Standard::sae_j1349:
                return 1.18 * (reference_dry_pressure / dry_pressure) *
                           std::sqrt(text_kelvin(temperature) / reference_temperature) -
                       0.18;
            case Standard::sae_j607:
                return 29.92 * inch_of_mercury / dry_pressure * std::sqrt(temperature / sixty_fahrenheit);
            case Standard::din_70020:
                return 101300.0 / pressure * std::sqrt(text_kelvin(temperature) / 293.0);
            case Standard::iso_1585:
            case Standard::ece_r85:
            case Standard::directive_80_1269_eec:
            case Standard::jis_d_1001: break;
        }
        return harmonised_factor(dry_pressure, temperature);
    }();
    return {factor, dry_pressure, warnings(limits_of(standard), factor, temperature, dry_pressure)};
}

RestatedPower restated_power(double power, Standard from_standard, Standard to_standard, double temperature,
                             double pressure, double humidity) {
    require("power", power, not_negative);
    const Correction from = correction(from_standard, temperature, pressure, humidity);
    Correction to = correction(to_standard, temperature, pressure, humidity);
    RestatedPower result{power / from.factor * to.factor, std::move(to.warnings)};
    const std::size_t own = result.warnings.size();
    for (const Warning& warning : from.warnings) {
        // What both standards say in the same words is said once.
        bool said = false;
        for (std::size_t i = 0; i < own; ++i) {
            const Warning& other = result.warnings[i];
            said = said ||
                   (other.reason == warning.reason && other.details[0].value == warning.details[0].value &&
                    other.details[1].value == warning.details[1].value &&
                    other.details[2].value == warning.details[2].value);
        }
        if (!said) result.warnings.push_back(warning);
    }
    return result;
}

DieselCorrection diesel_correction(DieselStandard standard, DieselCharging charging, double temperature,
                                   double pressure, double humidity, double fuel_per_cycle,
                                   double boost_ratio) {
    const double dry_pressure = require_dry_pressure(temperature, pressure, humidity);
    require("fuel_per_cycle", fuel_per_cycle, possible::fuel_per_cycle);
    require("boost_ratio", boost_ratio, possible::boost_ratio);
    const double atmospheric = atmospheric_factor(standard, charging, dry_pressure, temperature);
    const double engine = engine_factor(standard, fuel_per_cycle / boost_ratio);
    const double factor = std::pow(atmospheric, engine);
    return {factor, atmospheric, engine, dry_pressure,
            warnings(diesel_limits, factor, temperature, dry_pressure)};
}

double fuel_per_cycle(double fuel_flow, double displacement, double speed, int strokes) {
    require("fuel_flow", fuel_flow, positive);
    require("displacement", displacement, positive);
    require("speed", speed, positive);
    if (strokes != 2 && strokes != 4)
        throw InvalidArgument("strokes", Reason::neither_two_nor_four, {{static_cast<double>(strokes)}});
    const double cycles_per_second = speed / (2.0 * pi) / (strokes / 2.0);
    return fuel_flow / (displacement * cycles_per_second);
}

double crank_power(double wheel_power, double loss_share, double fixed_loss) {
    require("wheel_power", wheel_power, not_negative);
    require("loss_share", loss_share, possible::loss_share);
    require("fixed_loss", fixed_loss, not_negative);
    return (wheel_power + fixed_loss) / (1.0 - loss_share);
}

}  // namespace pullsheet::dyno
