// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

#include "core/catalogue/sentences.hpp"

namespace pullsheet::catalogue {

/// The figures of a tyre size such as "255/35 R19": width and rim in m, aspect as a share.
struct TyreSize {
    double width;
    double aspect;
    double rim;
};

/// Reads a tyre size. Throws Refused with a sentence that shows the notation.
TyreSize read_tyre_size(std::string_view written, std::string_view parameter, Language language);

}  // namespace pullsheet::catalogue
