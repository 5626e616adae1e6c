// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/fuel/fuel.hpp"

namespace pullsheet::fuel {

/// Octane number of a blend, linear on the molar share of ethanol: (1 − x)·base + x·ethanol. Anderson et al.
/// (2010), Energy & Fuels 24, 6576; Anderson et al. (2012), Fuel 97, 585. Works for RON and for MON.
/// `ethanol` 0…1 by volume in `gasoline`, whose density and molar mass give the molar share; octane numbers
/// 0…150. Base gasolines differ by several octane from the line (Anderson & Wallington 2020, Energy & Fuels
/// 34, 4023).
double octane(double base_ron, double ethanol, double ethanol_ron, const Gasoline& gasoline = {});

/// Research octane number of a blend, from that of its gasoline and 108 of ethanol.
double ron(const Fuel& fuel);

/// Motor octane number of a blend, from that of its gasoline and 90 of ethanol.
double mon(const Fuel& fuel);

/// Anti-knock index (RON + MON)/2, the number on a North American pump. 16 CFR 306. It is not RON.
double aki(double ron, double mon);

}  // namespace pullsheet::fuel
