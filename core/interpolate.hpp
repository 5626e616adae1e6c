// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <boost/math/interpolators/cubic_hermite.hpp>
#include <cstddef>
#include <utility>

namespace pullsheet {

template <class Container>
using CubicHermite = ::boost::math::interpolators::cubic_hermite<Container>;

/// Slopes of a monotone cubic through points with ascending x, two or more: Fritsch & Butland (1984), SIAM J.
/// Sci. Stat. Comput. 5:300; one-sided differences at the ends. The slopes of Boost.Math's pchip, which wants
/// four points.
template <class Container>
Container monotone_slopes(const Container& x, const Container& y) {
    Container slopes = x;
    const std::size_t last = x.size() - 1;
    const auto secant = [&](std::size_t k) { return (y[k + 1] - y[k]) / (x[k + 1] - x[k]); };
    slopes[0] = secant(0);
    slopes[last] = secant(last - 1);
    for (std::size_t k = 1; k < last; ++k) {
        const double before = secant(k - 1);
        const double after = secant(k);
        const double w1 = 2.0 * (x[k + 1] - x[k]) + (x[k] - x[k - 1]);
        const double w2 = (x[k + 1] - x[k]) + 2.0 * (x[k] - x[k - 1]);
        slopes[k] = before * after > 0.0 ? (w1 + w2) / (w1 / before + w2 / after) : 0.0;
    }
    return slopes;
}

/// The curve through the points that rises and falls only where they do. Two points give a straight line. The
/// caller sees to it that x ascends strictly and that the curve is not asked outside of it.
template <class Container>
CubicHermite<Container> monotone_cubic(Container x, Container y) {
    Container slopes = monotone_slopes(x, y);
    return {std::move(x), std::move(y), std::move(slopes)};
}

}  // namespace pullsheet
