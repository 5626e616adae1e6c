// SPDX-License-Identifier: Apache-2.0
#include "core/plan/limits.hpp"

#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "core/plan/chain.hpp"
#include "core/solve.hpp"

namespace pullsheet::plan {

namespace {

constexpr double start = 100e3;  // W, initial guess without a wanted power
constexpr double most = 100e6;   // W, above which a part does not limit
constexpr double least = 1.0;    // W, below which a part carries nothing
constexpr double broken = 1e3;   // excess where there is no operating point
constexpr int solver_bits = 40;
constexpr int map_samples = 16;

/// The limits of one part after another, from operating points that they share.
class PowerSearch {
  public:
    PowerSearch(const Chain& chain, double from) : chain_(chain), loads_(chain.loads()), from_(from) {}

    /// The load of a part at a power. Throws NoSolution and NoData.
    PartLoad load(std::size_t part, double power) const {
        if (const OperatingPoint* here = for_part(part, power)) return loads_.load(part, *here);
        throw NoSolution(Reason::no_pressure_ratio, {{power, Quantity::power}});
    }

    /// A part at a trial power.
    struct Trial {
        double excess;
        bool part_breaks = false;   // the part does not work at all there
        bool chain_breaks = false;  // there is no operating point, whatever the part
    };

    Trial trial(std::size_t part, double power) const {
        try {
            const OperatingPoint* here = for_part(part, power);
            if (!here) return {.excess = broken, .chain_breaks = true};
            if (const auto excess = loads_.excess(part, *here)) return {*excess};
        } catch (const NoSolution&) {
            // as where there is no excess
        }
        return {.excess = broken, .part_breaks = true};
    }

    double excess(std::size_t part, double power) const { return trial(part, power).excess; }

    /// The power at which the excess crosses zero, rising with power: bracketed, then TOMS 748.
    std::optional<double> limit(std::size_t part) const {
        if (!loads_.limited(part)) return std::nullopt;
        const double low_known = last_known_inside(part);
        double low = low_known > 0.0 ? low_known : from_;
        double f = excess(part, low);
        if (f < 0.0) {
            // Many loads grow about as the power does: the next trial lies a little beyond that extrapolated
            // limit.
            for (double high = low; high < most;) {
                high *= f > -0.9 ? std::fmax(1.02 / (1.0 + f), 1.1) : 4.0;
                const Trial there = trial(part, high);
                if (there.chain_breaks) return before_break(part, low, high);
                if (!(there.excess < 0.0)) return inside(part, low, high);
                low = high;
                f = there.excess;
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
    /// last power inside. 0 if no point lies inside.
    std::optional<double> map_limit(std::size_t part, const boost::CompressorMap& map) const {
        double power = start;
        while (!with_air(power) && power > least) power *= 0.25;
        const OperatingPoint* here = with_air(power);
        if (!here) return 0.0;
        // Flow grows at least as power does, so all points beyond this one are right of the map.
        double beyond = 1.01 * power * map.highest_flow() / here->corrected_flow;
        const double step = beyond / map_samples;
        for (power = beyond - step; power > least; power = power > 1.5 * step ? power - step : 0.5 * power) {
            if (excess(part, power) < 0.0) return inside(part, power, beyond);
            beyond = power;
        }
        return 0.0;
    }

    /// The power at which the turbine first gives less than the compressor takes up, from below: beyond it
    /// the turbine may drive again, but the boost does not get there.
    std::optional<double> turbine_limit(std::size_t part) const {
        constexpr double step = 1.06;
        double low = from_;
        while (low > least && !without_boost(low)) low *= 0.5;
        if (!(low > least)) return 0.0;
        for (double high = step * low; high < most; high *= step) {
            const Trial there = trial(part, high);
            if (there.chain_breaks) return before_break(part, low, high);
            if (!(there.excess < 0.0)) return inside(part, low, high);
            low = high;
        }
        return std::nullopt;
    }

    /// Why a part is not known just beyond a power that it carries; none where that is its limit.
    std::optional<Warning> data_end(std::size_t part, double power) const {
        if (!loads_.by_points(part)) return std::nullopt;
        constexpr double beyond = 1.0 + 1e-6;
        const OperatingPoint* here = for_part(part, beyond * std::fmax(power, least));
        return here ? loads_.data_end(part, *here) : std::nullopt;
    }

  private:
    bool without_boost(double power) const {
        const OperatingPoint* here = with_air(power);
        return here && !(here->compressor_power > 0.0);
    }

    /// The chain at a power as far as a part needs it; null where there is no such operating point.
    const OperatingPoint* for_part(std::size_t part, double power) const {
        return loads_.needs_air(part) ? with_air(power) : &alone_.emplace(chain_.fuel_side(power));
    }

    /// The chain at a power; null where there is no such operating point. The first points are kept for all
    /// parts, of later ones the last.
    const OperatingPoint* with_air(double power) const {
        const auto known = kept_.find(power);
        if (known != kept_.end()) return known->second ? &*known->second : nullptr;
        if (kept_.size() < most_kept) {
            std::optional<OperatingPoint>& place = kept_[power];
            place = solved(power);
            return place ? &*place : nullptr;
        }
        if (power != last_power_) {
            last_ = solved(power);
            last_power_ = power;
        }
        return last_ ? &*last_ : nullptr;
    }

    std::optional<OperatingPoint> solved(double power) const {
        try {
            OperatingPoint point = chain_.fuel_side(power);
            chain_.add_air(point);
            return point;
        } catch (const NoSolution&) {
            return std::nullopt;
        }
    }

    /// Of the powers solved for other parts, the last that the part carries before the first that it does
    /// not; 0 if there is none.
    double last_known_inside(std::size_t part) const {
        double last = 0.0;
        if (!loads_.needs_air(part)) return last;
        for (const auto& [power, point] : kept_) {
            if (!point || !(excess(part, power) < 0.0)) break;
            last = power;
        }
        return last;
    }

    /// Between a power that the part carries and one without an operating point the part may reach its
    /// limit.
    std::optional<double> before_break(std::size_t part, double low, double high) const {
        for (int i = 0; i < 6; ++i) {
            const double middle = 0.5 * (low + high);
            const Trial there = trial(part, middle);
            if (there.chain_breaks) {
                high = middle;
            } else if (there.excess < 0.0) {
                low = middle;
            } else {
                return inside(part, low, middle);
            }
        }
        return std::nullopt;
    }

    /// The root, on the side that the part carries; none where there is no operating point just beyond it.
    std::optional<double> inside(std::size_t part, double low, double high) const {
        const double root = root_between([&](double power) { return excess(part, power); }, low, high,
                                         Reason::no_limit, {}, solver_bits, 400);
        const Trial beyond = trial(part, root * (1.0 + 1e-9));
        if (beyond.chain_breaks) return std::nullopt;
        return beyond.part_breaks ? root * (1.0 - 1e-9) : root;
    }

    const Chain& chain_;
    const PartLoads& loads_;
    double from_;
    // Each part goes through what is kept: with more, the time would grow with the square of their number.
    static constexpr std::size_t most_kept = 128;
    mutable std::map<double, std::optional<OperatingPoint>> kept_;
    mutable std::optional<OperatingPoint> last_;
    mutable double last_power_ = 0.0;
    mutable std::optional<OperatingPoint> alone_;
};

}  // namespace

Limits limits(const Engine& engine, const Parts& parts, const fuel::Fuel& fuel, double speed,
              const Weather& weather, std::optional<double> wanted) {
    if (wanted) require("power", *wanted, positive);
    const Chain chain(engine, fuel, speed, weather, parts);
    const PowerSearch search(chain, wanted.value_or(start));
    Limits result{std::vector<PartLimit>(parts.size()), parts.size(), std::numeric_limits<double>::infinity(),
                  0.0};
    const auto map_of = [&](std::size_t i) -> const boost::CompressorMap* {
        const auto* compressor = std::get_if<Compressor>(&parts[i]);
        return compressor && compressor->map ? &*compressor->map : nullptr;
    };
    double carried = std::numeric_limits<double>::infinity();  // by the limiting one of those that carry any
    // First the compressor map: the many points solved for it serve all other parts.
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (map_of(i)) result.parts[i].power = search.map_limit(i, *map_of(i));
    }
    for (std::size_t i = 0; i < parts.size(); ++i) {
        PartLimit& limit = result.parts[i];
        if (!map_of(i))
            limit.power =
                std::holds_alternative<boost::Turbine>(parts[i]) ? search.turbine_limit(i) : search.limit(i);
        if (!limit.power) continue;
        if (map_of(i) && *limit.power == 0.0)
            limit.data_end = {0.0, {Reason::map_missed, {{speed, Quantity::angular_speed}}}};
        else if (auto why = search.data_end(i, *limit.power))
            limit.data_end = {*limit.power, *std::move(why)};
        if (*limit.power < result.power) {
            result.power = *limit.power;
            result.weakest = i;
        }
        if (*limit.power > 0.0) carried = std::fmin(carried, *limit.power);
        if (limit.data_end) limit.power.reset();
    }
    if (result.weakest == parts.size()) throw NoData(Reason::no_limit);
    result.wanted = wanted.value_or(carried < std::numeric_limits<double>::infinity() ? carried : start);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        PartLimit& limit = result.parts[i];
        const auto breaks = [&](const auto& error) {
            limit.load.use = std::numeric_limits<double>::infinity();
            limit.broken = Warning{error.reason(), error.details()};
        };
        try {
            limit.load = search.load(i, result.wanted);
        } catch (const NoSolution& error) {
            breaks(error);
        } catch (const NoData& error) {
            breaks(error);
        }
    }
    return result;
}

}  // namespace pullsheet::plan
