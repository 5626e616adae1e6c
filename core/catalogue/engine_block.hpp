// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/build/parts.hpp"
#include "core/catalogue/block.hpp"

namespace pullsheet::catalogue {

/// The engine block as the catalogue takes it.
const BlockSchema& engine_schema();

/// Displacement of all cylinders, m³, given itself or by bore and stroke. Throws Refused.
double displacement_from(const Block& block, std::string_view parameter, Language language);

/// What an operating point needs of the engine. Throws Refused.
build::Engine engine_from(const Block& block, std::string_view parameter, Language language);

}  // namespace pullsheet::catalogue
