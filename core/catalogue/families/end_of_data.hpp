// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "core/catalogue/sentences.hpp"
#include "core/error.hpp"

namespace pullsheet::catalogue::families {

/// Where the data of a part end. In a cell it is said in English: a value of a cell is the same in every
/// language.
std::string end_of_data(const Warning& why, Language language = Language::english);
std::string not_known_beyond(double power, Language language = Language::english);

}  // namespace pullsheet::catalogue::families
