// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/function.hpp"

/// Parameters that several families take in the same sense.
namespace pullsheet::catalogue::families {

/// Lambda of the mixture, 0.85 when omitted.
Parameter lambda();
/// Brake efficiency, 0.30 when omitted.
Parameter brake_efficiency();
/// Fuel flow of the whole engine.
Parameter fuel_flow(Interval range);

}  // namespace pullsheet::catalogue::families
