// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet::fuel {

/// Coefficient of thermal expansion at 15 °C of a petroleum product, 1/K; density in kg/m³ at 15 °C.
/// API MPMS chapter 11.1 (1980) / ASTM D1250, table 54B: gasoline below 770.5, transition zone below 787.5,
/// jet fuel below 839, fuel oil above. The zones do not meet exactly: the coefficient jumps by 0.1 % at
/// 770.5. Established 653 … 1075 kg/m³; any positive density is computed by the nearest zone.
double thermal_expansion(double density);

/// Volume at 15 °C divided by volume at `temperature` (K), which is also density divided by density at 15 °C.
/// API MPMS chapter 11.1 (1980), table 54B: exp(−α ΔT (1 + 0.8 α ΔT)).
double volume_correction(double density, double temperature);

}  // namespace pullsheet::fuel
