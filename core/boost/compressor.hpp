// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet::boost {

/// A gas of constant heat capacity.
struct Gas {
    double heat_capacity_ratio;  ///< κ, ratio, above 1
    double heat_capacity;        ///< at constant pressure, J/(kg·K)
};

/// Air near room temperature: κ = 1.400, 1005 J/(kg·K). Çengel & Boles, Thermodynamics, table A-2 (300 K).
inline constexpr Gas compressed_air{1.4, 1005.0};

/// Pressure ratio of the compressor, total to total and absolute: outlet over inlet, where the inlet has lost
/// `intake_loss` to filter and pipe, and the outlet must still pay `charge_loss` for cooler and pipes before
/// the manifold: (ambient + boost + charge loss) / (ambient − intake loss). `boost` Pa over the surroundings
/// (−ambient … ), `ambient_pressure` Pa > 0, `intake_loss` Pa 0 … ambient, `charge_loss` Pa >= 0. Throws
/// InvalidArgument. Definition.
double pressure_ratio(double boost, double ambient_pressure, double intake_loss = 0.0,
                      double charge_loss = 0.0);

/// Temperature after the compressor, K: T₁·(1 + (Π^((κ−1)/κ) − 1)/η), total to total isentropic efficiency.
/// `inlet_temperature` K > 0, `pressure_ratio` >= 1, `efficiency` above 0 to 1. Throws InvalidArgument.
/// Source: Dixon & Hall, Fluid Mechanics and Thermodynamics of Turbomachinery, 7th ed. 2014, ch. 1 and 2.
double compressor_temperature(double inlet_temperature, double pressure_ratio, double efficiency,
                              Gas gas = compressed_air);

/// Isentropic efficiency (share) from the two measured temperatures, K, and the pressure ratio (above 1).
/// Throws InvalidArgument; with Reason::colder_than_isentropic where the outlet is colder than a loss-free
/// compressor would make it, which is a measuring error. Source as for compressor_temperature.
double compressor_efficiency(double inlet_temperature, double outlet_temperature, double pressure_ratio,
                             Gas gas = compressed_air);

/// Shaft power that the air takes up, W: ṁ·c_p·(T₂ − T₁). `air_flow` kg/s >= 0, the rest as for
/// compressor_temperature. Bearing friction is not in it.
double compressor_power(double air_flow, double inlet_temperature, double pressure_ratio, double efficiency,
                        Gas gas = compressed_air);

/// The state in which a compressor map gives its flow and speed. Maps differ: 25 °C and 100 kPa are common
/// with turbochargers, 15 °C and 101.325 kPa (ISO 2533) with aircraft, 85 °F and 28.4 inHg in older American
/// maps.
struct Reference {
    double temperature = 298.15;  ///< K, above 0
    double pressure = 100e3;      ///< Pa, absolute, above 0

    bool operator==(const Reference&) const = default;
};

/// Flow as it stands in the map, kg/s: ṁ·√(T₁/T_ref)/(p₁/p_ref). `air_flow` kg/s >= 0, `inlet_temperature` K
/// and `inlet_pressure` Pa absolute at the compressor inlet. Throws InvalidArgument. Similarity of
/// turbomachines, Dixon & Hall 2014, ch. 2.
double corrected_flow(double air_flow, double inlet_temperature, double inlet_pressure,
                      Reference reference = {});

/// Shaft speed as it stands in the map, in the unit given: N/√(T₁/T_ref).
double corrected_speed(double shaft_speed, double inlet_temperature, Reference reference = {});

/// The inverse of corrected_speed.
double speed_from_corrected(double corrected_speed, double inlet_temperature, Reference reference = {});

}  // namespace pullsheet::boost
