// SPDX-License-Identifier: Apache-2.0
#include "core/statistics/solving.hpp"

#include <algorithm>
#include <array>
#include <boost/math/tools/minima.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <cstdint>
#include <limits>

namespace pullsheet::statistics {

namespace {

struct Place {
    double x;
    double above;  // function − target; NaN where the function has no value
};

class SolutionScan {
  public:
    SolutionScan(const std::function<double(double)>& function, double target)
        : function_(function), target_(target) {}

    Place at(double x) {
        const double value = function_(x);
        if (std::isfinite(value)) {
            lowest_ = std::min(lowest_, value);
            highest_ = std::max(highest_, value);
            return {x, value - target_};
        }
        return {x, std::numeric_limits<double>::quiet_NaN()};
    }

    // Adds the solutions between two neighbouring places with opposite signs.
    void bracket(Place a, Place b) {
        if (a.above * b.above < 0.0) {
            // Not root_between: a jump need not converge, and the search goes on behind it.
            std::uintmax_t evaluations = 200;
            const auto [left, right] = ::boost::math::tools::toms748_solve(
                [this](double place) { return at(place).above; }, a.x, b.x, a.above, b.above,
                ::boost::math::tools::eps_tolerance<double>(50), evaluations);
            const double x = 0.5 * (left + right);
            // Across a jump the sign changes without a solution: there the function does not approach the
            // target.
            const double off = std::abs(at(x).above);
            const double steepest = std::max(std::abs(a.above), std::abs(b.above));
            if (off <= 1e-6 * steepest + rounding()) add(x);
        }
    }

    // The argument between `a` and `c` where the function comes nearest to the target, `b` being nearer
    // than both.
    Place nearest(Place a, Place b, Place c) {
        const double sign = b.above > 0.0 ? 1.0 : -1.0;
        std::uintmax_t evaluations = 60;
        const auto found = ::boost::math::tools::brent_find_minima(
            [this, sign](double x) {
                const double above = at(x).above;
                return std::isfinite(above) ? sign * above : std::numeric_limits<double>::max();
            },
            a.x, c.x, std::numeric_limits<double>::digits / 2, evaluations);
        const Place best{found.first, sign * found.second};
        return std::abs(best.above) < std::abs(b.above) || best.above * b.above < 0.0 ? best : b;
    }

    /// Between a place with a value and one without: the last place with a value.
    Place edge(Place inside, Place outside) {
        for (int i = 0; i < 60; ++i) {
            const double middle = 0.5 * (inside.x + outside.x);
            if (middle == inside.x || middle == outside.x) break;
            const Place there = at(middle);
            (std::isfinite(there.above) ? inside : outside) = there;
        }
        return inside;
    }

    void add(double x) { solutions_.push_back(x); }
    double rounding() const {
        return 1e-12 * std::max({std::abs(target_), std::abs(lowest_), std::abs(highest_)});
    }
    double lowest() const { return lowest_; }
    double highest() const { return highest_; }
    std::vector<double>& solutions() { return solutions_; }

  private:
    const std::function<double(double)>& function_;
    double target_;
    double lowest_ = std::numeric_limits<double>::infinity();
    double highest_ = -std::numeric_limits<double>::infinity();
    std::vector<double> solutions_;
};

}  // namespace

Solution solve(const std::function<double(double)>& function, double target, double low, double high) {
    constexpr std::size_t steps = 32;
    require("target", target, finite);
    require("low", low, finite);
    require("high", high, {low, std::numeric_limits<double>::infinity(), true, true});

    SolutionScan search(function, target);
    std::vector<Place> places;
    for (std::size_t i = 0; i <= steps; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(steps);
        places.push_back(search.at(i == steps ? high : low + share * (high - low)));
    }
    if (!(search.lowest() <= search.highest())) throw NoSolution(Reason::not_finite);

    // The edge of the domain of the function is a place as well, and may be the solution.
    for (std::size_t i = 0; i + 1 < places.size(); ++i) {
        const bool here = std::isfinite(places[i].above);
        if (here == std::isfinite(places[i + 1].above)) continue;
        const Place edge =
            here ? search.edge(places[i], places[i + 1]) : search.edge(places[i + 1], places[i]);
        if (std::abs(edge.above) <= search.rounding()) search.add(edge.x);
        if (edge.x == places[i].x || edge.x == places[i + 1].x) continue;
        places.insert(places.begin() + static_cast<std::ptrdiff_t>(i) + 1, edge);
        ++i;
    }
    for (const Place& place : places)
        if (place.above == 0.0) search.add(place.x);
    for (std::size_t i = 0; i + 1 < places.size(); ++i) search.bracket(places[i], places[i + 1]);
    for (std::size_t i = 1; i + 1 < places.size(); ++i) {
        const auto [a, b, c] = std::array{places[i - 1], places[i], places[i + 1]};
        const bool same_side = a.above * b.above > 0.0 && b.above * c.above > 0.0;
        if (!same_side || std::abs(b.above) > std::abs(a.above) || std::abs(b.above) > std::abs(c.above))
            continue;
        const Place best = search.nearest(a, b, c);
        if (best.above * b.above < 0.0) {
            search.bracket(a, best);
            search.bracket(best, c);
        } else if (std::abs(best.above) <= search.rounding()) {
            search.add(best.x);
        }
    }

    std::vector<double>& found = search.solutions();
    std::sort(found.begin(), found.end());
    const double same = 1e-9 * (high - low);
    found.erase(std::unique(found.begin(), found.end(), [same](double a, double b) { return b - a <= same; }),
                found.end());
    if (found.empty()) throw NoSolution(Reason::target_not_reached, {{search.lowest()}, {search.highest()}});
    Solution solution{found.front(), {}};
    if (found.size() > 1)
        solution.warnings.push_back({Reason::several_solutions, {counted(found.size()), {found[1]}}});
    return solution;
}

}  // namespace pullsheet::statistics
