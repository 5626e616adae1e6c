// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/fuel/fuel.hpp"

namespace pullsheet::fuel {

/// Heat capacities at constant pressure near 25 °C, J/(kg·K), taken as constant.
namespace heat_capacity {
inline constexpr double air = 3.5 * dry_air_gas_constant;  ///< diatomic, κ = 1.4 (ISO 2533)
inline constexpr double liquid_gasoline = 2400.0;          ///< Çengel & Boles, table A-27
inline constexpr double liquid_ethanol = 2440.0;           ///< Çengel & Boles, table A-27
inline constexpr double gasoline_vapour = 1700.0;          ///< Heywood (1988), table D.4, from memory
inline constexpr double ethanol_vapour = 1420.0;  ///< NIST WebBook (65 J/(mol·K) at 25 °C), from memory
}  // namespace heat_capacity

namespace possible {
inline constexpr Interval charge_temperature{zero_celsius - 50.0, zero_celsius + 250.0};  ///< K
}
namespace established {
/// Where constant heat capacities and latent heats hold to a few per cent, K.
inline constexpr Interval charge_temperature{zero_celsius - 20.0, zero_celsius + 100.0};
}  // namespace established

/// Fall in temperature, K, of air and fuel, both at `temperature` (K), when the share `evaporated` (0…1) of
/// the fuel has evaporated without heat from outside and at constant pressure; lambda 0.4…4. Enthalpy
/// balance: f·e·L(T) = ΔT·[c_air + f·((1 − e)·c_liquid + e·c_vapour)] with f kg fuel for each kg dry air and
/// the latent heat at T by Kirchhoff's law, L(T) = L(25 °C) + (c_vapour − c_liquid)·(T − 25 °C). It is the
/// most the charge can cool: in an engine the walls give part of the heat, and a cold charge may be saturated
/// with fuel vapour before all has evaporated.
double charge_cooling(const Fuel& fuel, double lambda, double evaporated, double temperature);

}  // namespace pullsheet::fuel
