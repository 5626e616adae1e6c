// SPDX-License-Identifier: Apache-2.0
#include "core/road/tyre.hpp"

#include "core/error.hpp"

namespace pullsheet::road {

double tyre_diameter(double width, double aspect, double rim) {
    require("width", width, {0.05, 0.6});
    require("aspect", aspect, {0.15, 1.0});
    require("rim", rim, {0.15, 0.8});
    return rim + 2.0 * width * aspect;
}

double rolling_radius(double width, double aspect, double rim, double rolling_share) {
    require("rolling_share", rolling_share, {0.9, 1.0});
    return 0.5 * rolling_share * tyre_diameter(width, aspect, rim);
}

}  // namespace pullsheet::road
