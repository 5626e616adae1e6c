// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/block.hpp"
#include "core/cycle/cycle.hpp"
#include "core/plan/parts.hpp"

namespace pullsheet::catalogue {

/// The engine block as the catalogue takes it.
const BlockSchema& engine_schema();

/// Displacement of all cylinders, m³, given itself or by bore and stroke. Throws Refused.
double displacement_from(const Block& block, std::string_view parameter, Language language);

/// Volumetric efficiency, given as a number or as the points of a curve over engine speed. Throws Refused.
engine::VolumetricEfficiency volumetric_efficiency_from(const Block& block, std::string_view parameter,
                                                        Language language);

/// What an operating point needs of the engine. Throws Refused.
plan::Engine engine_from(const Block& block, std::string_view parameter, Language language);

/// What a cycle needs of the engine. Without bore and stroke the cylinder is taken as square, without a rod
/// its length as 1.7 strokes; both are said. Throws Refused.
cycle::Cylinder cylinder_from(const Block& block, std::string_view parameter, Language language,
                              Warnings& warnings);

}  // namespace pullsheet::catalogue
