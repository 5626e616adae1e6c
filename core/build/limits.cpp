// SPDX-License-Identifier: Apache-2.0
#include "core/build/limits.hpp"

#include <cmath>
#include <limits>

#include "core/build/chain.hpp"
#include "core/solve.hpp"

namespace pullsheet::build {

namespace {

constexpr double start = 100e3;  // W, where the search begins without a wanted power
constexpr double most = 100e6;   // W, above which a part is said not to limit
constexpr double least = 1.0;    // W, below which a part is said to carry nothing
constexpr double broken = 1e3;   // excess where the chain does not hold
constexpr int solver_bits = 40;
constexpr int map_samples = 24;

/// The chain at many powers, for one part after another.
class Search {
  public:
    Search(const Chain& chain, double from) : chain_(chain), from_(from) {}

    OperatingPoint point(std::size_t part, double power) const {
        OperatingPoint point = chain_.fuel_side(power);
        if (chain_.needs_air(part)) chain_.add_air(point);
        return point;
    }

    double excess(std::size_t part, double power) const {
        try {
            return chain_.excess(part, point(part, power));
        } catch (const NoSolution&) {
            return broken;
        }
    }

    /// The power at which the excess crosses zero, and the excess rises with power.
    std::optional<double> limit(std::size_t part) const {
        double low = from_;
        double f = excess(part, low);
        if (f < 0.0) {
            // Many loads grow about as the power does: look a little beyond where they would meet the limit.
            for (double high = low; high < most;) {
                high *= f > -0.9 ? std::fmax(1.02 / (1.0 + f), 1.1) : 4.0;
                const double g = excess(part, high);
                if (!(g < 0.0)) return inside(part, low, high);
                low = high;
                f = g;
            }
            return std::nullopt;
        }
        for (double high = low; high > least;) {
            const double smaller = high * (f < 9.0 ? std::fmin(0.98 / (1.0 + f), 0.9) : 0.25);
            const double g = excess(part, smaller);
            if (g < 0.0) return inside(part, smaller, high);
            high = smaller;
            f = g;
        }
        return 0.0;
    }

    /// The same through a compressor map, which the operating points of one speed may enter and leave: the
    /// last power inside. None of the points inside gives 0.
    std::optional<double> map_limit(std::size_t part, const boost::CompressorMap& map) const {
        const OperatingPoint here = point(part, from_);
        const double end = from_ * map.highest_flow() / here.corrected_flow * 1.01;
        double beyond = end;
        for (int k = map_samples - 1; k > 0; --k) {
            const double power = end * k / map_samples;
            if (excess(part, power) < 0.0) return inside(part, power, beyond);
            beyond = power;
        }
        return 0.0;
    }

  private:
    /// The root, on the side on which the part still holds.
    double inside(std::size_t part, double low, double high) const {
        const double root = root_between([&](double power) { return excess(part, power); }, low, high,
                                         Reason::not_finite, {}, solver_bits);
        return excess(part, root) < 0.5 * broken ? root : root * (1.0 - 1e-9);
    }

    const Chain& chain_;
    double from_;
};

}  // namespace

Limits limits(const Engine& engine, const Parts& parts, const fuel::Fuel& fuel, double speed,
              const Weather& weather, std::optional<double> wanted) {
    if (wanted) require("power", *wanted, positive);
    const Chain chain(engine, fuel, speed, weather, parts);
    const Search search(chain, wanted.value_or(start));
    Limits result{{}, parts.size(), std::numeric_limits<double>::infinity(), 0.0};
    for (std::size_t i = 0; i < parts.size(); ++i) {
        PartLimit limit{};
        const auto* compressor = std::get_if<Compressor>(&parts[i]);
        limit.power = compressor && compressor->map ? search.map_limit(i, *compressor->map) : search.limit(i);
        if (limit.power && *limit.power < result.power) {
            result.power = *limit.power;
            result.weakest = i;
        }
        result.parts.push_back(limit);
    }
    if (result.weakest == parts.size()) throw NoData(Reason::no_limit);
    result.wanted = wanted.value_or(result.power);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        PartLimit& limit = result.parts[i];
        try {
            if (result.wanted > 0.0) limit.load = chain.load(i, search.point(i, result.wanted));
        } catch (const NoSolution& error) {
            limit.load.use = std::numeric_limits<double>::infinity();
            limit.broken = Warning{error.reason(), error.details()};
        }
        const auto* compressor = std::get_if<Compressor>(&parts[i]);
        if (compressor && compressor->map && limit.power == 0.0) {
            limit.broken = Warning{Reason::map_missed, {{speed, Quantity::angular_speed}}};
        }
    }
    return result;
}

}  // namespace pullsheet::build
