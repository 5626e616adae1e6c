// SPDX-License-Identifier: Apache-2.0
#include "core/road/gear_search.hpp"

#include <algorithm>
#include <boost/math/tools/roots.hpp>
#include <utility>

#include "core/solve.hpp"

namespace pullsheet::road {

namespace {

/// Where a cubic has its minimum inside an interval, or nothing.
std::optional<double> minimum_inside(const auto& cubic, double low, double high) {
    // Newton's differences over thirds of the interval; the derivative in thirds from `low` is a quadratic.
    const double third = (high - low) / 3.0;
    const double g0 = cubic(low), g1 = cubic(low + third), g2 = cubic(high - third), g3 = cubic(high);
    const double d1 = g1 - g0, d2 = g2 - 2.0 * g1 + g0, d3 = g3 - 3.0 * (g2 - g1) - g0;
    const double a = 0.5 * d3, b = d2 - d3, c = d1 - 0.5 * d2 + d3 / 3.0;
    const auto [left, right] = ::boost::math::tools::quadratic_roots(a, b, c);
    for (const double u : {left, right})
        if (u > 0.0 && u < 3.0 && 2.0 * a * u + b > 0.0) return low + u * third;
    return std::nullopt;
}

std::vector<double> best_upshifts(const Car& car) {
    std::vector<double> speeds;
    for (std::size_t gear = 1; gear < car.gear_count(); ++gear) speeds.push_back(best_upshift(car, gear));
    return speeds;
}

}  // namespace

double best_upshift(const Car& car, std::size_t gear) {
    const double high = car.rev_limited_speed(gear);
    const double low = car.lowest_speed(gear + 1);
    const auto gain = [&](double v) {
        return car.closed_acceleration(gear + 1, v, 1.0) - car.closed_acceleration(gear, v, 1.0);
    };
    if (!(low < high) || !(gain(high) > 0.0)) return high;
    // From the top down, between neighbouring points of the curve in either gear.
    const std::span<const double> knots = car.curve().speeds();
    const double turns = car.engine_speed(gear, 1.0), next_turns = car.engine_speed(gear + 1, 1.0);
    auto here = knots.rbegin(), there = knots.rbegin();
    double above = high;
    while (above > low) {
        while (here != knots.rend() && *here / turns >= above) ++here;
        while (there != knots.rend() && *there / next_turns >= above) ++there;
        double below = low;
        if (here != knots.rend()) below = std::max(below, *here / turns);
        if (there != knots.rend()) below = std::max(below, *there / next_turns);
        // In between the gain is a cubic of the speed and may have a minimum.
        if (const auto dip = minimum_inside(gain, below, above); dip && !(gain(*dip) > 0.0))
            return root_between(gain, *dip, above, Reason::integration_failed);
        if (!(gain(below) > 0.0)) return root_between(gain, below, above, Reason::integration_failed);
        above = below;
    }
    return low;
}

GearSearch::GearSearch(const Car& car, const Task& task, const RunOptions& options)
    : car_(car), task_(task), options_(options), shift_speeds_(best_upshifts(car)) {}

Course GearSearch::quickest() {
    const std::size_t last = car_.gear_count();
    require_below_rev_limit(last);
    if (!car_.may_reach(task_.goal, last))
        throw NoSolution(Reason::speed_beyond_gearing, {{car_.rev_limited_speed(last), Quantity::speed}});
    const auto arrived = [&] { return best_.time < unbounded; };
    if (options_.first_gear) {
        require("first_gear", static_cast<double>(*options_.first_gear), {1.0, static_cast<double>(last)});
        require_below_rev_limit(*options_.first_gear);
        start_in(*options_.first_gear);
    } else {
        std::size_t gear = 1;
        while (!(task_.from < car_.rev_limited_speed(gear))) ++gear;
        do start_in(gear);
        while (++gear <= last && !(task_.from < car_.lowest_speed(gear)));
        // A gear that pulls the engine below its curve is tried only where no other arrives.
        if (!arrived())
            for (; gear <= last; ++gear) start_in(gear);
    }
    if (!arrived()) throw NoSolution(refusal_.value());
    return std::move(best_);
}

void GearSearch::require_below_rev_limit(std::size_t gear) const {
    const double limit = car_.rev_limited_speed(gear);
    if (!(task_.from < limit)) throw NoSolution(Reason::speed_beyond_gearing, {{limit, Quantity::speed}});
}

// All runs that start in a gear: one shifts up at each upshift, the others hold one of the gears to the end.
void GearSearch::start_in(std::size_t gear) {
    attempt([&] {
        Run run(car_, shift_speeds_, gear, task_, options_.tolerance, incumbent_);
        while (run.run_to_upshift()) {
            if (run.may_hold())
                attempt([&, held = run]() mutable {
                    held.hold();
                    held.run_to_upshift();
                    keep(std::move(held).course());
                });
            run.shift_up();
        }
        keep(std::move(run).course());
    });
}

void GearSearch::keep(Course course) {
    incumbent_.engaged.insert(incumbent_.engaged.end(), course.engaged.begin(), course.engaged.end());
    if (!(course.time < best_.time)) return;
    best_ = std::move(course);
    incumbent_.time = best_.time;
}

// Of several errors the one with the highest speed reached is the most informative.
template <class F>
void GearSearch::attempt(F run) {
    ++runs_;
    try {
        run();
    } catch (const NoSolution& refusal) {
        const auto speed = [](const NoSolution& r) {
            return r.reason() == Reason::speed_not_reached ? r.details().front().value : -unbounded;
        };
        if (!refusal_ || speed(refusal) > speed(*refusal_)) refusal_ = refusal;
    }
}

}  // namespace pullsheet::road
