// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "core/constants.hpp"
#include "core/error.hpp"

namespace pullsheet::dyno {

/// Standards for the power of spark-ignition engines. Each says what power the engine would give in its own
/// reference air; none makes a bad day's measurement a good one. T is the temperature in the text's own
/// kelvin (273 + t in °C unless said otherwise), p the total pressure at the place, p_d the dry pressure (p
/// less the vapour).
enum class Standard {
    /// ISO 1585:1992 (2020): (99 kPa / p_d)^1.2 (T / 298)^0.6. Not where boost control compensates for the
    /// surroundings. Formula from memory of the text.
    iso_1585,
    /// SAE J1349, form of 1985 to June 1990: 1.18 (99 kPa / p_d) √(T / 298) − 0.18, that is with an assumed
    /// mechanical efficiency of 85 % rounded to two decimals: the form in use. From secondary copies of the
    /// text. Later revisions keep the structure; the exact 1/0.85 differs by 0.06 % at 1500 m.
    sae_j1349,
    /// SAE J607: (29.92 inHg / p_d) √(T / 519.67 °R), 60 °F; T is true temperature, inHg at 0 °C. Withdrawn,
    /// still in use, 4 % above SAE J1349 on the same day. From secondary copies of the text.
    sae_j607,
    /// DIN 70020 (1976 to 1986): (1013 mbar / p) √(T / 293). The total pressure: humidity does not count.
    /// Formula from memory of the text.
    din_70020,
    /// UN Regulation No. 85: the formula of ISO 1585; from supplement 7 (2015) none where charging
    /// compensates
    /// for temperature and altitude. Formula from memory of the text.
    ece_r85,
    /// Directive 80/1269/EEC as amended by 88/195/EEC: the formula of UN Regulation No. 85. From memory.
    directive_80_1269_eec,
    /// JIS D 1001:1993: the formula of ISO 1585. From memory of the text.
    jis_d_1001,
};

/// Limits that a standard itself sets. Infinite where it sets none.
struct StandardLimits {
    Interval factor;        ///< of the correction factor
    Interval temperature;   ///< of the intake air, K
    Interval dry_pressure;  ///< Pa
};

/// A correction factor and what should be known beside it.
struct Correction {
    double factor;        ///< corrected power = factor × measured power; the same for torque
    double dry_pressure;  ///< total pressure less the vapour, Pa (not what DIN 70020 counts with)
    std::vector<Warning>
        warnings;  ///< limits of the standard that are not kept; the factor is given all the same
};

/// What the air of a power test can physically be.
namespace possible {
inline constexpr Interval temperature{zero_celsius - 60.0, zero_celsius + 100.0};  ///< K
inline constexpr Interval pressure{30e3, 120e3};                  ///< total pressure at any place on land, Pa
inline constexpr Interval fuel_per_cycle{0.0, 0.5, true, false};  ///< kg for each m³ displaced and cycle
inline constexpr Interval boost_ratio{1.0, 10.0};
inline constexpr Interval loss_share{0.0, 0.9};
}  // namespace possible

namespace established {
/// Loss between crank and roller as a share of crank power; common practice, no source.
inline constexpr Interval loss_share{0.05, 0.30};
}  // namespace established

/// The limits of a standard for spark-ignition engines.
StandardLimits limits(Standard standard);

/// Factor on measured power or torque of a spark-ignition engine. temperature of the intake air in K,
/// possible −60 … 100 °C; pressure is the total pressure at the place (not the one reduced to sea level) in
/// Pa, possible 300 … 1200 hPa; humidity 0…1. Source and form: see Standard. The vapour pressure is
/// air::vapour_pressure. Outside the limits of the standard the factor carries warnings
/// (factor_outside_standard, test_temperature_outside_standard, test_pressure_outside_standard). Refuses
/// vapour whose pressure reaches the whole pressure.
Correction correction(Standard standard, double temperature, double pressure, double humidity = 0.0);

/// A power restated on another standard.
struct RestatedPower {
    double power;                   ///< W
    std::vector<Warning> warnings;  ///< of the standard left and of the standard entered
};

/// Power by another standard of a power already corrected by one, on the same day: undoes one factor, applies
/// the other. power in W, zero or more; temperature, pressure and humidity of the day as for correction.
RestatedPower restated_power(double power, Standard from_standard, Standard to_standard, double temperature,
                             double pressure, double humidity = 0.0);

/// Standards with a factor for compression-ignition engines.
enum class DieselStandard {
    iso_1585,               ///< ISO 1585:1992 (2020)
    ece_r85,                ///< UN Regulation No. 85
    directive_80_1269_eec,  ///< Directive 80/1269/EEC as amended by 88/195/EEC: as UN Regulation No. 85
};

/// How a compression-ignition engine is charged. UN Regulation No. 85 treats all turbocharged engines alike.
enum class DieselCharging {
    no_turbocharger,       ///< naturally aspirated or charged by a mechanically driven compressor
    turbocharger,          ///< turbocharged without a charge cooler or with one cooled by air
    turbocharger_coolant,  ///< turbocharged with a charge cooler cooled by liquid
};

/// A correction factor of a compression-ignition engine and its two parts.
struct DieselCorrection {
    double factor;                  ///< atmospheric factor to the power of the engine factor
    double atmospheric_factor;      ///< of temperature and dry pressure
    double engine_factor;           ///< of the fuel burnt in a cycle
    double dry_pressure;            ///< Pa
    std::vector<Warning> warnings;  ///< limits of the standard that are not kept
};

/// The limits of a standard for compression-ignition engines.
StandardLimits limits(DieselStandard standard);

/// Factor on measured power or torque of a compression-ignition engine: f_a^f_m. temperature, pressure and
/// humidity as for correction; fuel_per_cycle is the fuel burnt at full load in kg for each m³ of
/// displacement and working cycle (1 kg/m³ = 1000 mg/L), 0 … 0.5 without 0; boost_ratio is absolute pressure
/// after compressor or charge cooler divided by that of the surroundings, 1 … 10 (1: naturally aspirated).
///
/// Without turbocharger: f_a = (99 kPa / p_d) (T / 298)^0.7.
///
/// Turbocharger, ISO 1585: f_a = (99 kPa / p_d)^0.7 (T / 298)^1.2, with a liquid-cooled cooler
/// (T / 298)^0.7. Turbocharger, UN R 85: f_a = (99 kPa / p_d)^0.7 (T / 298)^1.5.
///
/// f_m = 0.036 q_c − 1.14, q_c = fuel_per_cycle / boost_ratio in mg/L. ISO 1585: from 37.2 to 65 mg/L, 0.2
/// below, 1.2 above. UN R 85: from 40 to 65 mg/L, 0.3 below, 1.2 above.
///
/// ISO 1585:1992 and UN Regulation No. 85, annex 5, from secondary copies of the texts. Before supplement 8
/// (2018) UN R 85 printed f_m as a factor; it is an exponent.
DieselCorrection diesel_correction(DieselStandard standard, DieselCharging charging, double temperature,
                                   double pressure, double humidity, double fuel_per_cycle,
                                   double boost_ratio = 1.0);

/// Fuel burnt in a working cycle, kg for each m³ of displacement; fuel_flow in kg/s (> 0), displacement in m³
/// (> 0), engine speed in rad/s (> 0), strokes 4 or 2. ISO 1585:1992: Z = 120 000 for four strokes, 60 000
/// for two.
double fuel_per_cycle(double fuel_flow, double displacement, double speed, int strokes = 4);

/// Crank power of a power at the wheels, W: (wheel_power + fixed_loss) / (1 − loss_share); both powers in W,
/// zero or more, loss_share 0 … 0.9 (established 0.05 … 0.30). Common practice, no source: the loss is
/// assumed, not measured; a coast-down measures it.
double crank_power(double wheel_power, double loss_share = 0.15, double fixed_loss = 0.0);

}  // namespace pullsheet::dyno
