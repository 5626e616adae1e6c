// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>

#include "core/error.hpp"

namespace pullsheet {

// The library is written ::boost in this project, since pullsheet::boost is the room of turbochargers.

/// The root between two arguments with values of opposite sign, by TOMS 748, until `near_enough(left,
/// right)`. Values may be infinite. Throws NoSolution(reason, details) if `limit` evaluations do not suffice.
template <class F, class NearEnough>
double bracketed_root(F f, double low, double high, double f_low, double f_high, NearEnough near_enough,
                      Reason reason, std::initializer_list<Detail> details, std::uintmax_t limit) {
    std::uintmax_t evaluations = limit;
    // The secant of an infinite value is not a number.
    const auto bounded = [](double value) { return std::clamp(value, -1e150, 1e150); };
    const auto bracket =
        ::boost::math::tools::toms748_solve([&](double x) { return bounded(f(x)); }, low, high,
                                            bounded(f_low), bounded(f_high), near_enough, evaluations);
    if (evaluations >= limit) throw NoSolution(reason, details);
    return 0.5 * (bracket.first + bracket.second);
}

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
    // The algorithm would take NaN for a sign, and its argument for a root.
    const auto number = [&](double x) {
        const double value = f(x);
        if (std::isnan(value)) throw NoSolution(reason, details);
        return value;
    };
    return bracketed_root(number, low, high, f_low, f_high,
                          ::boost::math::tools::eps_tolerance<double>(static_cast<unsigned>(bits)), reason,
                          details, limit);
}

/// The fixed point x = f(x) in [low, high], sought from `low`: fixed-point iteration with the secant of the
/// last two steps (Steffensen 1933), safeguarded by `root_between` on f(x) − x where a step leaves the
/// interval or the secant does not fall. `low` if f(low) ≤ low. Relative tolerance 1e-11; at most 31
/// evaluations and those of `root_between`, whose errors it throws.
template <class F>
double fixed_point(F f, double low, double high, Reason reason, std::initializer_list<Detail> details = {}) {
    const auto step = [&](double x) { return f(x) - x; };
    double previous = low;
    double previous_step = step(low);
    if (previous_step <= 0.0) return low;
    double x = low + previous_step;
    for (int i = 0; i < 30 && x > low && x < high; ++i) {
        const double here = step(x);
        if (std::fabs(here) <= 1e-11 * x) return x + here;
        const double slope = (here - previous_step) / (x - previous);
        if (!(slope < 0.0)) break;
        previous = x;
        previous_step = here;
        x -= here / slope;
        if (std::fabs(x - previous) <= 1e-13 * x) return x;
    }
    return root_between(step, low, high, reason, details);
}

/// The initial guess, the bracket and the tolerance of `rising_root`.
struct RootSearch {
    double start;      ///< initial guess of the root
    double slope;      ///< df/dx expected there, above 0
    double low, high;  ///< interval of the root
    double longest;    ///< longest step in search of a bracket, above 0
    double tolerance;  ///< of the argument, above 0; an f of less than slope × tolerance counts as zero
};

/// The root of a rising function: bracketed from the initial guess outwards by secant steps, each at least
/// twice the one before, then found by TOMS 748. Few evaluations where the guess is good, since the ends of
/// the interval are evaluated only if the steps reach them. `low` if `f` is not below zero
/// there, `high` if it is not above zero there. `limit` is the greatest number of evaluations. Throws
/// NoSolution(reason, details) if `f` is not a number on the way or `limit` is reached.
template <class F>
double rising_root(F f, const RootSearch& search, Reason reason, std::initializer_list<Detail> details = {},
                   std::uintmax_t limit = 60) {
    std::uintmax_t left = limit;
    const auto number = [&](double x) {
        if (left-- == 0) throw NoSolution(reason, details);
        const double value = f(x);
        if (std::isnan(value)) throw NoSolution(reason, details);
        // Within the tolerance, by the expected slope: found.
        return std::abs(value) <= search.slope * search.tolerance ? 0.0 : value;
    };
    double x = std::clamp(search.start, search.low, search.high);
    double value = number(x);
    double slope = search.slope;
    double shortest = 4.0 * search.tolerance;
    for (;;) {
        if (value == 0.0) return x;
        const bool upwards = value < 0.0;
        const double end = upwards ? search.high : search.low;
        if (x == end) return x;
        // A little beyond the root of the secant, so that the next value brackets the root.
        const double distance = std::min(std::max(1.15 * std::abs(value) / slope, shortest), search.longest);
        shortest = 2.0 * distance;
        const double next = upwards ? std::min(x + distance, end) : std::max(x - distance, end);
        const double next_value = number(next);
        if (next_value == 0.0) return next;
        if (upwards != (next_value < 0.0)) {
            const auto near_enough = [&](double a, double b) { return std::abs(b - a) <= search.tolerance; };
            return upwards ? bracketed_root(number, x, next, value, next_value, near_enough, reason, details,
                                            left)
                           : bracketed_root(number, next, x, next_value, value, near_enough, reason, details,
                                            left);
        }
        const double secant = (next_value - value) / (next - x);
        if (secant > 0.1 * search.slope && secant < 10.0 * search.slope) slope = secant;
        x = next;
        value = next_value;
    }
}

}  // namespace pullsheet
