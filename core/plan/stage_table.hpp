// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "core/plan/band.hpp"
#include "core/plan/basis.hpp"
#include "core/plan/stage_limit.hpp"
#include "core/road/acceleration.hpp"

namespace pullsheet::plan {

/// What does not change from stage to stage.
struct TableBase : StageBase {
    /// rad/s; below it the torque falls in proportion to speed. 0: from 45 % of the redline
    double full_boost_from = 0.0;
    double redline = 0.0;  ///< rad/s, above 0; at most what the cycle computes
    std::optional<road::Vehicle> vehicle{};
    road::Surroundings road_weather{};
    TableUncertainty uncertainty{};
};

/// The speeds, rad/s, at which a stage is predicted.
std::vector<double> curve_speeds(double redline);

/// A time with its interval.
struct Span {
    double value;
    double low;
    double high;
};

/// One stage on one fuel: the limit at the speed of greatest power, and what follows from the curve.
struct TableCell : StageLimit {
    double torque = 0.0;                      ///< N·m, greatest
    double power_speed = 0.0;                 ///< rad/s, of greatest power
    double power_low = 0.0;                   ///< W, two standard uncertainties below
    double power_high = 0.0;                  ///< W, two above
    Effects effects{};                        ///< of the assumptions on the power
    Basis basis{};                            ///< of the power
    std::optional<LimitedBy> missing{};       ///< a part whose data bound the power at any speed, and why
    std::optional<Span> time_100_200{};       ///< s, 100 to 200 km/h
    std::optional<Span> time_60_130{};        ///< s, 60 to 130 mph
    std::optional<Span> time_quarter_mile{};  ///< s, from rest
    std::vector<double> speeds{};             ///< rad/s
    std::vector<double> torques{};            ///< N·m, the curve predicted
    std::optional<Warning> impossible{};      ///< why there is no such build; nothing else is then told
};

/// What a stage brings over the one before it on the same fuel.
struct StageGain {
    /// Of the gain, against its own uncertainty.
    enum class Verdict {
        pays,       ///< more than two standard uncertainties and more than 3 % of the power
        uncertain,  ///< more than 1 %, less than two standard uncertainties
        little,     ///< more than 1 %, no more than 3 %: what two days on the rollers differ by
        none,       ///< within 1 % of the power of the stage before
        loss,       ///< less power than the stage before
    };
    double power;        ///< W
    double uncertainty;  ///< W, one standard uncertainty: assumptions that move both stages alike cancel
    Verdict verdict;
};

/// The gain of `cell` over `before`, neither of them impossible.
StageGain stage_gain(const TableCell& before, const TableCell& cell);

/// Predicts one stage on one fuel by its limit (stage_limit) at each of five speeds. The brake efficiency
/// comes from the cycle, which burns the dry air of the manifold; that water vapour slows knock a little is
/// left out. Times by road::speed_run and road::distance_run; none without a vehicle, or where the car does
/// not reach the speed. Low and high: two standard uncertainties of effects_on, for the times by running the
/// scaled curve. Throws NoSolution(no_power)
/// where there is none at any speed; InvalidArgument and NoSolution as the functions named do.
TableCell stage_on_fuel(const TableBase& base, const Parts& parts, const OfferedFuel& fuel);

/// Every stage on every fuel, stage by stage. The cells do not depend on one another and are computed side by
/// side on the machine's cores. Where one has no solution, that cell says so; of other errors the first in
/// the order of the cells is thrown.
std::vector<TableCell> stage_table(const TableBase& base, std::span<const Parts> stages,
                                   std::span<const OfferedFuel> fuels);

}  // namespace pullsheet::plan
