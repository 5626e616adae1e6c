// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/block.hpp"
#include "core/cycle/cycle.hpp"
#include "core/plan/parts.hpp"

namespace pullsheet::catalogue {

/// The schema of the engine block.
const BlockSchema& engine_schema();

/// Displacement of all cylinders, m³, given itself or by bore and stroke. Throws Refused.
double displacement_from(const Block& block, std::string_view parameter, Language language);

/// Volumetric efficiency, given as a number or as the points of a curve over engine speed. Throws Refused.
engine::VolumetricEfficiency volumetric_efficiency_from(const Block& block, std::string_view parameter,
                                                        Language language);

/// The engine data for an operating point. Throws Refused.
plan::Engine engine_from(const Block& block, std::string_view parameter, Language language);

/// The engine data for a cycle. Without bore and stroke, the bore is assumed equal to the stroke; without a
/// rod length, 1.7 strokes are assumed. A warning states each assumption. Throws Refused.
cycle::Cylinder cylinder_from(const Block& block, std::string_view parameter, Language language,
                              Warnings& warnings);

}  // namespace pullsheet::catalogue
