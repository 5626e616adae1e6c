// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>

#include "core/error.hpp"

namespace pullsheet {

// The library is written ::boost in this project, since pullsheet::boost is the room of turbochargers.

/// The argument in [low, high] at which `f` crosses zero, by TOMS 748 (Alefeld, Potra & Shi 1995;
/// Boost.Math). `bits` is the number of equal leading bits of the two ends at which it stops, `limit` the
/// greatest number of evaluations (beside those at the two ends). Throws NoSolution(reason, details) if `f`
/// has the same sign at both ends, is not a number at an end or on the way, or if `limit` is reached.
template <class F>
double root_between(F f, double low, double high, Reason reason, std::initializer_list<Detail> details = {},
                    int bits = 44, std::uintmax_t limit = 100) {
    const double f_low = f(low);
    if (f_low == 0.0) return low;
    const double f_high = f(high);
    if (f_high == 0.0) return high;
    if (!(f_low * f_high < 0.0)) throw NoSolution(reason, details);
    std::uintmax_t evaluations = limit;
    // The algorithm would take NaN for a sign, and the place for a root.
    const auto number = [&](double x) {
        const double value = f(x);
        if (std::isnan(value)) throw NoSolution(reason, details);
        return value;
    };
    const auto bracket = ::boost::math::tools::toms748_solve(
        number, low, high, f_low, f_high,
        ::boost::math::tools::eps_tolerance<double>(static_cast<unsigned>(bits)), evaluations);
    if (evaluations >= limit) throw NoSolution(reason, details);
    return 0.5 * (bracket.first + bracket.second);
}

}  // namespace pullsheet
