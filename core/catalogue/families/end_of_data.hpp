// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "core/catalogue/sentences.hpp"
#include "core/error.hpp"
#include "core/plan/stage_limit.hpp"

namespace pullsheet::catalogue::families {

/// Where the data of a part end. In a cell it is said in English: a value of a cell is the same in every
/// language.
std::string end_of_data(const Warning& why, Language language = Language::english);
std::string not_known_beyond(double power, Language language = Language::english);

/// What limits a stage, as a cell says it; `names` of its parts.
std::string limited_by(const plan::LimitedBy& limit, const std::vector<std::string>& names);

}  // namespace pullsheet::catalogue::families
