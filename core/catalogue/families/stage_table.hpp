// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/families/families.hpp"

namespace pullsheet::catalogue::families {

/// What BUILD.TABLE answers.
Answer stage_table(Call& call);

}  // namespace pullsheet::catalogue::families
