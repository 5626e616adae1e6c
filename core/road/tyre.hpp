// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace pullsheet::road {

/// Rolling radius divided by the unloaded radius of a radial tyre: the radius at which the tyre rolls on the
/// road divided by half the nominal diameter. The ETRTO Standards Manual takes the rolling circumference of a
/// radial tyre as 3.05 times its nominal diameter, a share of 3.05/π = 0.971 for a free-rolling wheel (from
/// memory); a driven wheel that pulls hard slips by about half a per cent more, which gives the 0.965 used
/// here (common practice).
inline constexpr double rolling_radius_share = 0.965;

/// Nominal outer diameter of a tyre, m: rim diameter plus twice the section height (ETRTO Standards Manual,
/// design dimensions; ISO 4000-1). `width` nominal section width, m (0.05 … 0.6); `aspect` section height
/// divided by width (0.15 … 1.0); `rim` nominal rim diameter, m (0.15 … 0.8; the code 19 stands for 19 in =
/// 0.4826 m). Throws InvalidArgument outside these ranges.
double tyre_diameter(double width, double aspect, double rim);

/// Rolling radius of a tyre, m: half the nominal diameter times `rolling_share` (0.9 … 1.0). Errors as
/// tyre_diameter.
double rolling_radius(double width, double aspect, double rim, double rolling_share = rolling_radius_share);

}  // namespace pullsheet::road
