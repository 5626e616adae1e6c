// SPDX-License-Identifier: Apache-2.0
#pragma once

/// Molar masses of the elements, kg/mol. IUPAC abridged standard atomic weights.
namespace pullsheet::fuel::atoms {

inline constexpr double carbon = 0.012011;
inline constexpr double hydrogen = 0.001008;
inline constexpr double oxygen = 0.015999;

}  // namespace pullsheet::fuel::atoms
