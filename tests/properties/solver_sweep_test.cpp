// SPDX-License-Identifier: Apache-2.0
// Every search, iteration and integration of the core over its whole domain. Each answers, and the answer put
// back into the forward function gives what was asked for, or it throws one of its typed errors. Bounds on
// evaluations are those of the headers.
//
// clang-format off
//   root_between                     core/solve.hpp                  at most limit + 2 evaluations
//   rising_root                      core/solve.hpp                  at most limit evaluations
//   statistics::solve                core/statistics/solving.hpp     at most 23 000 evaluations
//   boost::effectiveness             core/boost/charge_cooler.hpp    a series of some 1200 terms at most
//   boost::transfer_units            core/boost/charge_cooler.hpp    root_between
//   boost::CompressorMap::nearest    core/boost/compressor_map.hpp   four root_between
//   boost::friction_factor           core/boost/pipe.hpp             closed form (Lambert W)
//   plan::operating_point           core/plan/operating_point.hpp  135 air paths
//   plan::limits                    core/plan/limits.hpp           700 chains, those through the compressor map included
//   plan::stage_on_fuel             core/plan/stage_table.hpp      90 rounds at each speed
//   cycle::FrozenGas::temperature_at core/cycle/charge.hpp           100 steps of Newton's method
//   cycle::BurnedGas                 core/cycle/burned_gas.hpp       101 steps of Newton's method
//   cycle::run                       core/cycle/cycle.hpp            a fixed grid of angles, 61 steps of Newton's method in
//                                                                    each, 50 for the exhaust; Brent's method for its peak
//   cycle::best_torque_spark, spark_limit, boost_limit, calibrate
//                                    core/cycle/knock.hpp            18, 63, 900 and 21 cycles
//   dyno::MeasuredCurve::band        core/dyno/curve.hpp             two root_between
//   road::speed_run, distance_run    core/road/acceleration.hpp      gears × (gears + 1)/2 runs of 200 000 steps
//   road::shift_speeds               core/road/acceleration.hpp      root_between for each gear
//   road::power_for_time, power_for_trap_speed
//                                    core/road/power_for_time.hpp    112 times as many runs
//   road::TorqueCurve::peak          core/road/torque_curve.hpp      Brent's method between the points
// clang-format on
#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <utility>

#include "core/air/moist_air.hpp"
#include "core/boost/charge_cooler.hpp"
#include "core/boost/compressor_map.hpp"
#include "core/boost/pipe.hpp"
#include "core/boost/turbine.hpp"
#include "core/cycle/boost_limit.hpp"
#include "core/cycle/burned_gas.hpp"
#include "core/cycle/charge.hpp"
#include "core/cycle/filling.hpp"
#include "core/dyno/curve.hpp"
#include "core/fuel/octane.hpp"
#include "core/plan/chain.hpp"
#include "core/plan/limits.hpp"
#include "core/plan/operating_point.hpp"
#include "core/plan/stage_table.hpp"
#include "core/road/acceleration.hpp"
#include "core/road/gear_search.hpp"
#include "core/road/power_for_time.hpp"
#include "core/road/tyre.hpp"
#include "core/solve.hpp"
#include "core/statistics/solving.hpp"
#include "tests/boost/invented_map.hpp"
#include "tests/plan/invented_plan.hpp"
#include "tests/properties/counts.hpp"
#include "tests/properties/points.hpp"
#include "tests/watched.hpp"

namespace pullsheet {
namespace {

using catalogue::properties::LatinHypercube;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// Runs one call that may refuse with a typed error; anything else that is thrown fails the test.
template <class Call>
bool solves(Call call) {
    try {
        call();
    } catch (const NoSolution& error) {
        // A guard that no car needs.
        EXPECT_NE(error.reason(), Reason::integration_failed);
        return false;
    } catch (const InvalidArgument& error) {
        ADD_FAILURE() << error.parameter() << " " << error.value();
        return false;
    } catch (const Error&) {
        return false;
    }
    return true;
}

// ---- root_between
// -------------------------------------------------------------------------------------------------

TEST(SweptRootBetween, MeetsItsBoundOnHostileFunctions) {
    const std::vector<std::pair<const char*, std::function<double(double, double)>>> functions = {
        {"straight", [](double x, double a) { return x - a; }},
        {"flat at the root", [](double x, double a) { return std::pow(x - a, 9); }},
        {"a wall", [](double x, double a) { return std::atan(1e8 * (x - a)); }},
        {"steeper than any power",
         [](double x, double a) { return std::exp(40.0 * x) - std::exp(40.0 * a); }},
        {"from the rounding up", [](double x, double a) { return 1e-300 * (x - a); }},
        {"a jump", [](double x, double a) { return x < a ? -1.0 : 1.0; }},
        {"a pole", [](double x, double a) { return 1.0 / (x - a - 1e-13); }},
    };
    const LatinHypercube points(200, 1);
    for (const auto& named : functions) {
        const auto& name = named.first;
        const auto& called = named.second;
        for (std::size_t k = 0; k < points.count(); ++k) {
            const double a = points.share(k, 0);
            std::uintmax_t evaluations = 0;
            double root = nan;
            const bool found = solves([&] {
                root = root_between(
                    [&](double x) {
                        ++evaluations;
                        return called(x, a);
                    },
                    0.0, 1.0, Reason::target_not_reached);
            });
            EXPECT_LE(evaluations, 102u) << name << ", " << a;
            if (found) {
                EXPECT_NEAR(root, a, std::string(name).starts_with("flat") ? 0.06 : 1e-12) << name;
            }
        }
    }
}

TEST(SweptRootBetween, RefusesWhatIsNoNumberOnTheWay) {
    for (const double hole : {0.3, 0.5, 0.62}) {
        const auto function = [hole](double x) { return std::abs(x - hole) < 0.1 ? nan : x - hole; };
        EXPECT_THROW(root_between(function, 0.0, 1.0, Reason::target_not_reached), NoSolution) << hole;
    }
    EXPECT_THROW(root_between([](double) { return nan; }, 0.0, 1.0, Reason::target_not_reached), NoSolution);
    EXPECT_THROW(root_between([](double x) { return x + 1.0; }, 0.0, 1.0, Reason::target_not_reached),
                 NoSolution);
}

TEST(SweptRisingRoot, MeetsItsBoundOnHostileFunctions) {
    constexpr double endless = std::numeric_limits<double>::infinity();
    const std::vector<std::pair<const char*, std::function<double(double, double)>>> functions = {
        {"straight", [](double x, double a) { return x - a; }},
        {"flat at the root", [](double x, double a) { return std::pow(x - a, 9); }},
        {"a wall", [](double x, double a) { return std::atan(1e8 * (x - a)); }},
        {"a jump", [](double x, double a) { return x < a ? -1.0 : 1.0; }},
        {"endless below", [](double x, double a) { return x < a ? -endless : x - a; }},
        {"endless", [](double x, double a) { return x < a ? -endless : endless; }},
        {"falling", [](double x, double a) { return a - x; }},
        {"waves", [](double x, double a) { return std::sin(50.0 * (x - a)); }},
        {"a hole", [](double x, double a) { return std::abs(x - a) < 0.05 ? nan : x - a; }},
        {"nothing", [](double, double) { return nan; }},
    };
    const LatinHypercube points(200, 4);
    for (const auto& named : functions)
        for (std::size_t k = 0; k < points.count(); ++k) {
            const auto& name = named.first;
            const double a = points.between(k, 0, -0.2, 1.2);
            const RootSearch search{points.between(k, 1, -0.5, 1.5),
                                    points.decades(k, 2, 1e-3, 1e3),
                                    0.0,
                                    1.0,
                                    points.decades(k, 3, 1e-2, 10.0),
                                    1e-9};
            std::uintmax_t evaluations = 0;
            double root = nan;
            const bool found = solves([&] {
                root = rising_root(
                    [&](double x) {
                        EXPECT_TRUE(x >= 0.0 && x <= 1.0) << name << ": " << x;
                        ++evaluations;
                        return named.second(x, a);
                    },
                    search, Reason::target_not_reached, {}, 70);
            });
            EXPECT_LE(evaluations, 70u) << name << ", " << a;
            if (!found) continue;
            EXPECT_TRUE(root >= 0.0 && root <= 1.0) << name << ", " << a << ": " << root;
            const bool rises = std::string_view(name) == "straight" || std::string_view(name) == "a wall" ||
                               std::string_view(name).starts_with("endless") ||
                               std::string_view(name) == "a jump";
            // A value below slope times tolerance counts as found.
            if (rises) {
                EXPECT_NEAR(root, std::clamp(a, 0.0, 1.0), 1e-9 * std::max(1.0, search.slope) + 1e-9)
                    << name << ", " << a;
            }
        }
}

// ---- statistics::solve
// --------------------------------------------------------------------------------------------

TEST(SweptSolve, AnswersOrSaysWhyNot) {
    const std::vector<std::pair<const char*, std::function<double(double, double)>>> functions = {
        {"straight", [](double x, double a) { return a * x; }},
        {"many solutions", [](double x, double a) { return std::sin(30.0 * a * x); }},
        {"faster than the search", [](double x, double a) { return std::sin(4000.0 * a * x); }},
        {"a touch", [](double x, double a) { return (x - a) * (x - a); }},
        {"steps", [](double x, double a) { return std::floor(9.0 * a * x); }},
        {"a pole", [](double x, double a) { return 1.0 / (x - a); }},
        {"nothing on one side", [](double x, double a) { return x < a ? nan : std::log(x); }},
        {"a constant", [](double, double a) { return a; }},
        {"overflow", [](double x, double a) { return std::exp(1000.0 * a * x); }},
    };
    const LatinHypercube points(60, 2);
    std::size_t most = 0;
    for (const auto& named : functions) {
        const auto& name = named.first;
        const auto& called = named.second;
        for (std::size_t k = 0; k < points.count(); ++k) {
            const double a = points.between(k, 0, 0.05, 1.0), target = points.between(k, 1, -0.2, 1.2);
            std::size_t evaluations = 0;
            const std::function<double(double)> counted = [&](double x) {
                ++evaluations;
                return called(x, a);
            };
            double found = nan;
            if (solves([&] { found = statistics::solve(counted, target, 0.0, 1.0).argument; })) {
                EXPECT_NEAR(called(found, a), target, 1e-5) << name << ", " << a << ", " << target;
            }
            most = std::max(most, evaluations);
            ASSERT_LE(evaluations, 23000u) << name;
            if (std::string(name) == "straight" && target >= 0.0 && target <= a) {
                EXPECT_NEAR(found, target / a, 1e-9);
            }
        }
    }
    RecordProperty("most_evaluations", static_cast<int>(most));
}

// ---- boost
// --------------------------------------------------------------------------------------------------------

TEST(SweptChargeCooler, TransferUnitsGiveTheEffectivenessBack) {
    const LatinHypercube points(300, 2);
    for (const auto arrangement : {boost::FlowArrangement::counterflow, boost::FlowArrangement::parallel_flow,
                                   boost::FlowArrangement::crossflow}) {
        int answered = 0;
        for (std::size_t k = 0; k < points.count() + 4; ++k) {
            const bool corner = k >= points.count();
            const double wanted = corner ? (k % 2 == 0 ? 0.0 : 0.999) : points.share(k, 0);
            const double ratio = corner ? (k % 4 < 2 ? 0.0 : 1.0) : points.share(k, 1);
            answered += solves([&] {
                const double units = boost::transfer_units(wanted, ratio, arrangement);
                EXPECT_NEAR(boost::effectiveness(units, ratio, arrangement), wanted, 1e-11)
                    << wanted << ", " << ratio;
            });
        }
        EXPECT_GT(answered, tests::fewest(150));
    }
}

TEST(SweptChargeCooler, EffectivenessIsAShareThatGrows) {
    const LatinHypercube points(200, 2);
    for (const auto arrangement : {boost::FlowArrangement::counterflow, boost::FlowArrangement::parallel_flow,
                                   boost::FlowArrangement::crossflow})
        for (std::size_t k = 0; k < points.count(); ++k) {
            const double units = points.decades(k, 0, 1e-6, 900.0), ratio = points.share(k, 1);
            const double here = boost::effectiveness(units, ratio, arrangement);
            EXPECT_GE(here, 0.0);
            EXPECT_LE(here, 1.0);
            EXPECT_GE(boost::effectiveness(1.1 * units, ratio, arrangement), here * (1.0 - 1e-13));
        }
}

TEST(SweptPipe, FrictionFactorMeetsColebrook) {
    const LatinHypercube points(2000, 2);
    for (std::size_t k = 0; k < points.count(); ++k) {
        const double reynolds = points.decades(k, 0, 1e-3, 1e12);
        const double roughness = k % 7 == 0 ? 0.0 : points.decades(k, 1, 1e-9, 0.5);
        const double f = boost::friction_factor(reynolds, roughness);
        ASSERT_TRUE(std::isfinite(f) && f > 0.0) << reynolds << ", " << roughness;
        if (reynolds < 4000.0) continue;
        const double root = 1.0 / std::sqrt(f);
        EXPECT_NEAR(root, -2.0 * std::log10(roughness / 3.7 + 2.51 * root / reynolds), 1e-9 * root)
            << reynolds << ", " << roughness;
    }
}

TEST(SweptTurbine, PressureRatioGivesThePowerBack) {
    const LatinHypercube points(500, 4);
    int answered = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        const double power = points.decades(k, 0, 1.0, 1e6), flow = points.decades(k, 1, 1e-3, 5.0),
                     temperature = points.between(k, 2, 300.0, 1600.0),
                     efficiency = points.between(k, 3, 0.01, 1.0);
        answered += solves([&] {
            const double ratio = boost::turbine_pressure_ratio(flow, temperature, power, efficiency);
            EXPECT_GE(ratio, 1.0);
            EXPECT_NEAR(boost::turbine_power(flow, temperature, ratio, efficiency), power, 1e-9 * power)
                << ratio;
        });
    }
    EXPECT_GT(answered, tests::fewest(100));
}

/// The smallest map that is accepted: two speed lines of three points.
std::vector<boost::MapPoint> smallest_map() {
    return {{6e3, 0.05, 1.40, 0.60}, {6e3, 0.10, 1.35, 0.70}, {6e3, 0.15, 1.15, 0.55},
            {9e3, 0.09, 2.20, 0.62}, {9e3, 0.16, 2.05, 0.72}, {9e3, 0.22, 1.50, 0.56}};
}

TEST(SweptCompressorMap, ReadsEverywhereOrSaysWhereItEnds) {
    for (const auto& map_points : {boost::invented_map(), smallest_map()}) {
        const boost::CompressorMap map(map_points);
        double lowest_speed = map_points.front().shaft_speed, highest_speed = 0.0, lowest = 1.0,
               highest = 0.0;
        for (const auto& p : map_points) {
            lowest_speed = std::min(lowest_speed, p.shaft_speed);
            highest_speed = std::max(highest_speed, p.shaft_speed);
            lowest = std::min(lowest, p.efficiency);
            highest = std::max(highest, p.efficiency);
        }
        const LatinHypercube points(3000, 2);
        int inside = 0;
        for (std::size_t k = 0; k < points.count(); ++k) {
            const double flow = points.decades(k, 0, 1e-3 * map.highest_flow(), 10.0 * map.highest_flow());
            const double ratio = k % 10 == 0 ? points.decades(k, 1, 0.01, 100.0)
                                             : points.between(k, 1, 1.0, map.highest_ratio());
            const auto reading = map.nearest(flow, ratio);
            ASSERT_TRUE(reading.efficiency >= lowest && reading.efficiency <= highest)
                << flow << ", " << ratio;
            ASSERT_TRUE(reading.shaft_speed >= lowest_speed && reading.shaft_speed <= highest_speed)
                << flow << ", " << ratio;
            ASSERT_TRUE(std::isfinite(reading.surge_margin) && std::isfinite(reading.choke_margin))
                << flow << ", " << ratio;
            const bool read = solves([&] { map.at(flow, ratio); });
            inside += read;
            if (read) {
                EXPECT_GE(boost::clearance(reading), -1e-8);
                // The edges of the map at this ratio lie on the map themselves.
                EXPECT_NEAR(map.nearest(reading.right_flow, ratio).choke_margin, 0.0, 1e-9);
                EXPECT_NEAR(map.nearest(reading.left_flow, ratio).surge_margin, 0.0, 1e-9);
            }
        }
        EXPECT_GT(inside, tests::fewest(150));
    }
}

// ---- build
// --------------------------------------------------------------------------------------------------------

TEST(SweptOperatingPoint, PressuresBalance) {
    const LatinHypercube points(400, 6);
    int answered = 0;
    for (const bool with_parts : {false, true})
        for (std::size_t k = 0; k < points.count(); ++k) {
            plan::Parts parts;
            if (with_parts) parts = plan::invented_parts();
            fuel::Fuel fuel;
            fuel.ethanol_share = points.share(k, 0);
            const plan::Weather day{points.between(k, 1, 230.0, 325.0), points.between(k, 2, 55e3, 110e3),
                                    points.share(k, 3)};
            const double power = points.decades(k, 4, 1e2, 2e6);
            const double speed = with_parts ? points.between(k, 5, 2000.0, 7500.0) * plan::rpm
                                            : points.decades(k, 5, 50.0, 30000.0) * plan::rpm;
            answered += solves([&] {
                auto engine = plan::invented_engine();
                if (!with_parts) engine.volumetric_efficiency = 0.95;
                counts::taken(counts::air_paths);
                const auto at = plan::operating_point(engine, fuel, power, speed, day, parts);
                const int air_paths = counts::taken(counts::air_paths);
                EXPECT_GT(air_paths, 0);
                EXPECT_LE(air_paths, 135) << power << " W at " << speed;
                const double delivered = at.pressure_ratio * (day.pressure - at.intake_loss) - at.charge_loss;
                if (at.pressure_ratio > 1.0) {
                    EXPECT_NEAR(at.manifold_pressure, delivered, 1e-8 * delivered)
                        << power << " W at " << speed;
                } else {
                    EXPECT_LE(at.manifold_pressure, delivered * (1.0 + 1e-9));
                }
                EXPECT_GT(at.charge_temperature, 0.0);
            });
        }
    EXPECT_GT(answered, tests::fewest(200));
}

TEST(SweptLimits, APartIsAtItsLimitAtThePowerItCarries) {
    const LatinHypercube points(24, 4);
    int checked = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        const auto parts = plan::invented_parts();
        fuel::Fuel fuel;
        fuel.ethanol_share = points.share(k, 0);
        const plan::Weather day{points.between(k, 1, 250.0, 320.0), points.between(k, 2, 70e3, 105e3), 0.5};
        const double speed = points.between(k, 3, 2500.0, 7400.0) * plan::rpm;
        solves([&] {
            counts::taken(counts::chains);
            const auto limits = plan::limits(plan::invented_engine(), parts, fuel, speed, day);
            const int chains = counts::taken(counts::chains);
            EXPECT_GT(chains, 0);
            EXPECT_LE(chains, 700) << speed;
            for (std::size_t i = 0; i < parts.size(); ++i) {
                if (!limits.parts[i].power || !(*limits.parts[i].power > 0.0)) continue;
                EXPECT_GE(*limits.parts[i].power, limits.power * (1.0 - 1e-12));
                if (std::holds_alternative<plan::Compressor>(parts[i]))
                    continue;  // its use changes meaning from edge to edge
                const auto at = [&](double power) {
                    return plan::limits(plan::invented_engine(), parts, fuel, speed, day, power).parts[i];
                };
                const auto there = at(*limits.parts[i].power),
                           beyond = at(*limits.parts[i].power * (1.0 + 1e-6));
                // It has no more to give, or it breaks: a rail beyond the curve of the pump, boost above the
                // rail.
                if (!beyond.broken) {
                    EXPECT_NEAR(there.load.use, 1.0, 1e-6) << "part " << i << " at " << speed;
                }
                EXPECT_LE(there.load.use, 1.0 + 1e-6);
                EXPECT_GT(beyond.load.use, 1.0 - 1e-9);
                ++checked;
            }
        });
    }
    EXPECT_GT(checked, tests::fewest(60));
}

/// Pipes of different widths, none like another, some of them narrow.
plan::Parts row_of_pipes(std::size_t count, double length) {
    plan::Parts row;
    for (std::size_t i = 0; i < count; ++i) {
        const double width = 1.0 + 0.3 * std::sin(static_cast<double>(i));
        row.push_back(plan::PlacedPipe{{0.080 * width, length, 0.1 * length}, plan::PipePlace::intake});
    }
    return row;
}

// What was solved for one pipe helps the next: the number of solutions for each pipe does not grow with
// theirs.
TEST(SweptLimits, TheChainIsSolvedSomeTwentyTimesForEachPipe) {
    for (const double length : {0.1, 1.0, 10.0}) {
        for (const int count : {1, 10, 100}) {
            counts::taken(counts::chains);
            (void)plan::limits(plan::invented_engine(),
                               row_of_pipes(static_cast<std::size_t>(count), length / count), plan::e85,
                               6500 * plan::rpm);
            const int chains = counts::taken(counts::chains);
            EXPECT_GE(chains, count);
            EXPECT_LE(chains, 30 * count) << length << ", " << count;
        }
    }
}

/// The corrected flow at a power; 0 where there is no such operating point.
double chain_flow(const plan::Chain& chain, double power) {
    auto point = chain.fuel_side(power);
    try {
        chain.add_air(point);
    } catch (const NoSolution&) {
    }
    return point.corrected_flow;
}

/// The power that the map carries is the last inside it: compared with a dense sampling.
TEST(SweptLimits, NoPowerBeyondTheLimitOfTheMapLiesInside) {
    const LatinHypercube points(160, 8);
    int limited = 0, passed_over = 0, most = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        auto engine = plan::invented_engine();
        engine.displacement *= points.decades(k, 0, 0.2, 6.0);
        engine.efficiency = points.between(k, 1, 0.15, 0.45);
        fuel::Fuel fuel;
        fuel.ethanol_share = points.share(k, 2);
        const plan::Weather day{points.between(k, 3, 250.0, 320.0), points.between(k, 4, 60e3, 105e3), 0.5};
        const double speed = points.between(k, 5, 2000.0, 7500.0) * plan::rpm;
        plan::Compressor compressor{};
        compressor.map.emplace(k % 5 == 0 ? smallest_map() : boost::invented_map(0.75));
        if (k % 3 == 0) compressor.max_shaft_speed = points.between(k, 6, 60e3, 160e3) * plan::rpm;
        if (k % 4 == 0) compressor.max_pressure_ratio = points.between(k, 7, 1.2, 4.0);
        plan::ChargeCooler cooler{points.share(k, 6)};
        cooler.pressure_loss = points.between(k, 7, 0.0, 20e3);
        cooler.reference_flow = 0.25;
        plan::Parts parts = {compressor};
        if (k % 2 == 0) parts.emplace_back(cooler);
        if (k % 7 == 0) parts.emplace_back(plan::PlacedPipe{{points.between(k, 7, 0.04, 0.09), 1.0, 1.0}});
        solves([&] {
            counts::taken(counts::chains);
            const double power = plan::limits(engine, parts, fuel, speed, day).parts[0].bound().value();
            const int chains = counts::taken(counts::chains);
            EXPECT_GT(chains, 0);
            EXPECT_LE(chains, 700) << k;
            most = std::max(most, chains);
            const plan::Chain chain(engine, fuel, speed, day, parts);
            const auto inside = [&](double at) {
                auto point = chain.fuel_side(at);
                try {
                    chain.add_air(point);
                } catch (const NoSolution&) {
                    return false;
                }
                const auto excess = chain.loads().excess(0, point);
                return excess && *excess < 0.0;
            };
            if (power > 0.0) {
                EXPECT_TRUE(inside(power * (1.0 - 1e-6))) << k << ": " << power;
                EXPECT_FALSE(inside(power * (1.0 + 1e-6))) << k << ": " << power;
            }
            limited += power > 0.0;
            // It is sampled at sixteen places up to the power whose flow is the greatest of the map: a
            // narrower stretch inside may be passed over.
            double stretch = 0.0, widest = 0.0, right = 0.0;
            for (double at = 1e3, last = at; at < 3e6; last = at, at *= 1.01) {
                stretch = at > power * (1.0 + 1e-6) && inside(at) ? stretch + at - last : 0.0;
                widest = std::max(widest, stretch);
                if (chain_flow(chain, at) < compressor.map->highest_flow()) right = at;
            }
            EXPECT_LT(widest, right / 16.0) << k << ": inside beyond " << power;
            passed_over += widest > 0.0;
        });
    }
    RecordProperty("most_chains", most);
    RecordProperty("limited", limited);
    RecordProperty("passed_over", passed_over);
    EXPECT_GT(limited, tests::fewest(150));
    EXPECT_LE(passed_over, 1);
}

/// A stage of any size and quality, good and bad, and the engine around it. `ordinary`: as it may stand in a
/// workshop.
struct SweptStage {
    plan::TableBase base;
    plan::Parts parts;
    plan::OfferedFuel fuel;
};

SweptStage swept_stage(const LatinHypercube& points, std::size_t k, bool ordinary) {
    const auto in = [&](std::size_t dimension, Interval usual, Interval whole) {
        const Interval& range = ordinary ? usual : whole;
        return points.between(k, dimension, range.low, range.high);
    };
    constexpr double degree = pi / 180.0;
    SweptStage s;
    const double bore = in(0, {0.07, 0.1}, {0.04, 0.15}), stroke = in(1, {0.07, 0.1}, {0.04, 0.15});
    const auto cylinders = static_cast<int>(1 + k % (ordinary ? 8 : 16));
    const double filling = in(2, {0.8, 1.1}, {0.2, 1.5});
    s.base.engine.displacement = cylinders * pi / 4.0 * bore * bore * stroke;
    s.base.engine.volumetric_efficiency = filling;
    s.base.engine_model.cylinder.crank = {bore, stroke, stroke * points.between(k, 3, 1.4, 2.0),
                                          in(4, {8.0, 13.0}, {5.0, 20.0})};
    s.base.engine_model.cylinder.cylinders = cylinders;
    s.base.engine_model.cylinder.volumetric_efficiency = filling;
    s.base.engine_model.cylinder.burn_duration = in(5, {35.0, 80.0}, {10.0, 150.0}) * degree;
    s.base.engine_model.cylinder.octane_offset = in(6, {-5.0, 5.0}, {-20.0, 20.0});
    s.base.redline = in(7, {5000.0, 9000.0}, {600.0, 19000.0}) * plan::rpm;
    s.base.engine_model.latest_half_burned = points.between(k, 8, 10.0, 40.0) * degree;
    s.base.weather = {points.between(k, 9, 250.0, 320.0), points.between(k, 10, 60e3, 105e3),
                      points.share(k, 11)};
    s.fuel.fuel.ethanol_share = points.share(k, 12);
    s.fuel.fuel.gasoline.ron = in(13, {90.0, 102.0}, {60.0, 120.0});
    s.fuel.lambda = in(14, {0.78, 1.0}, {0.6, 1.5});
    // Parts for an engine of this size, from far too small to far too large.
    const double size = s.base.engine.displacement * s.base.redline / (2e-3 * 700.0);
    if (k % 2 == 1)
        s.parts.emplace_back(plan::Injectors{
            static_cast<double>(cylinders),
            points.decades(k, 15, 100.0, 4000.0) * plan::cc_per_minute * size * 4.0 / cylinders});
    if (k % 3 != 0) {
        plan::Compressor compressor{};
        compressor.efficiency = points.between(k, 16, 0.3, 0.8);
        if (k % 4 != 0) compressor.max_corrected_flow = points.decades(k, 17, 0.02, 2.0) * size;
        s.parts.emplace_back(compressor);
    }
    if (k % 5 != 0) {
        plan::ChargeCooler cooler{points.share(k, 18)};
        if (k % 7 == 1) cooler.max_charge_temperature = points.between(k, 19, 325.0, 380.0);
        cooler.pressure_loss = points.between(k, 20, 0.0, 30e3);
        cooler.reference_flow = 0.25 * size;
        s.parts.emplace_back(cooler);
    }
    if (k % 7 == 3) s.parts.emplace_back(plan::PlacedPipe{{points.between(k, 21, 0.02, 0.09), 1.0, 1.0}});
    return s;
}

class SweptStages : public testing::TestWithParam<bool> {};

INSTANTIATE_TEST_SUITE_P(Domain, SweptStages, testing::Bool(),
                         [](const auto& domain) { return domain.param ? "Ordinary" : "Whole"; });

TEST_P(SweptStages, AnswerOrSayWhyNot) {
    const LatinHypercube points(300, 22);
    int answered = 0, by_knock = 0, most = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        const SweptStage s = swept_stage(points, k, GetParam());
        counts::taken(counts::chains);
        answered += solves([&] {
            const auto cell = plan::stage_on_fuel(s.base, s.parts, s.fuel);
            EXPECT_TRUE(cell.power > 0.0 && std::isfinite(cell.power)) << k;
            EXPECT_LT(cell.power_low, cell.power) << k;
            EXPECT_GT(cell.power_high, cell.power) << k;
            EXPECT_GE(cell.torque * cell.power_speed, cell.power * (1.0 - 1e-12)) << k;
            if (cell.limited_by.part) return;
            // Charge temperature and knock limit agree.
            ++by_knock;
            plan::Engine engine = s.base.engine;
            engine.lambda = s.fuel.lambda;
            cycle::CyclePoint point;
            point.angular_speed = cell.power_speed;
            // The cycle burns the dry air of the manifold.
            const plan::Weather& day = s.base.weather;
            point.manifold_pressure = cell.manifold_pressure *
                                      air::dry_pressure(day.temperature, day.pressure, day.humidity) /
                                      day.pressure;
            point.lambda = s.fuel.lambda;
            point.ambient_pressure = s.base.weather.pressure;
            point.spark_angle = cell.spark_angle;
            // What exhaust pressure leaves of the filling.
            engine.volumetric_efficiency =
                s.base.engine.volumetric_efficiency.at(cell.power_speed) *
                cycle::filling_factor(
                    cycle::exhaust_pressure(s.base.engine_model.cylinder, point) / point.manifold_pressure,
                    s.base.engine_model.cylinder.crank.compression_ratio);
            plan::Chain chain(engine, s.fuel.fuel, cell.power_speed, s.base.weather, s.parts);
            // The efficiency is that of the cycle there; the charge temperature follows from the fuel burned.
            point.manifold_temperature = 320.0;
            double temperature = 0.0;
            for (int round = 0; round < 60 && std::abs(temperature - point.manifold_temperature) > 1e-3;
                 ++round) {
                if (temperature > 0.0)
                    point.manifold_temperature += 0.3 * (temperature - point.manifold_temperature);
                const auto result = cycle::run(s.base.engine_model.cylinder, point, s.fuel.fuel);
                auto state = chain.fuel_side(result.power / result.efficiency * engine.efficiency);
                chain.add_air(state);
                temperature = state.charge_temperature;
            }
            EXPECT_NEAR(cycle::run(s.base.engine_model.cylinder, point, s.fuel.fuel).power, cell.power,
                        4e-3 * cell.power)
                << k;
        });
        const int chains = counts::taken(counts::chains);
        most = std::max(most, chains);
    }
    RecordProperty("answered", answered);
    RecordProperty("by_knock", by_knock);
    RecordProperty("most_chains", most);
    EXPECT_GT(answered, tests::fewest(GetParam() ? 250 : 190));
    EXPECT_GT(by_knock, tests::fewest(60));
}

// ---- cycle
// --------------------------------------------------------------------------------------------------------

TEST(SweptBurnedGas, KeepsItsElementsEverywhere) {
    using enum cycle::Species;
    const LatinHypercube points(1500, 4);
    int answered = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        fuel::Fuel fuel;
        fuel.ethanol_share = points.share(k, 0);
        const auto f = cycle::fuel_elements(fuel);
        const auto a = cycle::air_elements();
        const double air = points.between(k, 1, 0.6, 3.0) * 14.0;
        const double share = 1.0 / (1.0 + air);
        const auto mixed = [&](double of_fuel, double of_air) {
            return share * of_fuel + (1.0 - share) * of_air;
        };
        const cycle::Elements elements{mixed(f.carbon, a.carbon), mixed(f.hydrogen, a.hydrogen),
                                       mixed(f.oxygen, a.oxygen), mixed(f.nitrogen, a.nitrogen),
                                       mixed(f.argon, a.argon)};
        const double temperature = points.between(k, 2, 300.0, 4000.0),
                     pressure = points.decades(k, 3, 1e2, 1e8);
        answered += solves([&] {
            const auto n = cycle::BurnedGas(elements).composition(temperature, pressure);
            const auto amount = [&](cycle::Species s) { return n[static_cast<std::size_t>(s)]; };
            for (const double one : n)
                EXPECT_TRUE(std::isfinite(one) && one >= 0.0) << temperature << " K, " << pressure;
            EXPECT_NEAR(amount(co) + amount(co2), elements.carbon, 1e-8 * elements.carbon);
            EXPECT_NEAR(2 * amount(h2) + 2 * amount(h2o) + amount(h) + amount(oh), elements.hydrogen,
                        1e-8 * elements.hydrogen);
            EXPECT_NEAR(2 * amount(n2) + amount(no), elements.nitrogen, 1e-8 * elements.nitrogen);
            EXPECT_NEAR(amount(co) + 2 * amount(co2) + amount(h2o) + amount(oh) + amount(no) +
                            2 * amount(o2) + amount(cycle::Species::o),
                        elements.oxygen, 1e-7 * elements.oxygen)
                << temperature << " K, " << pressure;
        });
    }
    // Outside of what an engine reaches it may refuse; inside it must not.
    EXPECT_GT(answered, tests::fewest(1200));
}

TEST(SweptFrozenGas, TemperatureGivesTheEnthalpyBack) {
    const LatinHypercube points(300, 2);
    for (std::size_t k = 0; k < points.count(); ++k) {
        fuel::Fuel fuel;
        fuel.ethanol_share = points.share(k, 0);
        for (const auto& gas : {cycle::air(), cycle::fuel_vapour(fuel)}) {
            const double temperature = points.between(k, 1, 150.0, 3500.0);
            EXPECT_NEAR(gas.temperature_at(gas.enthalpy(temperature)), temperature, 1e-6 * temperature) << k;
        }
    }
}

cycle::Cylinder swept_engine(const LatinHypercube& points, std::size_t k) {
    constexpr double degree = pi / 180.0;
    cycle::Cylinder e;
    e.crank.bore = points.between(k, 0, 0.05, 0.15);
    e.crank.stroke = points.between(k, 1, 0.05, 0.15);
    e.crank.rod = e.crank.stroke * points.between(k, 2, 1.2, 2.2);
    e.crank.compression_ratio = points.between(k, 3, 5.0, 20.0);
    e.volumetric_efficiency = points.between(k, 4, 0.2, 1.5);
    e.burn_duration = points.between(k, 5, 10.0, 150.0) * degree;
    e.evaporated = points.share(k, 6);
    e.octane_offset = points.between(k, 7, -20.0, 20.0);
    e.intake_valve_closing = points.between(k, 8, 0.0, 100.0) * degree;
    e.exhaust_valve_opening = points.between(k, 9, 0.0, 90.0) * degree;
    return e;
}

cycle::CyclePoint swept_point(const LatinHypercube& points, std::size_t k) {
    const auto in = [&](std::size_t dimension, Interval range) {
        return points.between(k, dimension, range.low, range.high);
    };
    cycle::CyclePoint p;
    p.angular_speed = in(10, cycle::possible::angular_speed);
    p.manifold_pressure = in(11, cycle::possible::manifold_pressure);
    p.manifold_temperature = in(12, cycle::possible::manifold_temperature);
    p.lambda = in(13, cycle::possible::lambda);
    p.spark_angle = in(14, cycle::possible::spark_angle);
    return p;
}

fuel::Fuel swept_fuel(const LatinHypercube& points, std::size_t k) {
    fuel::Fuel f;
    f.ethanol_share = points.share(k, 15);
    return f;
}

TEST(SweptCycle, AnswersOrSaysWhyNot) {
    const LatinHypercube points(400, 16);
    int answered = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        const auto engine = swept_engine(points, k);
        const auto point = swept_point(points, k);
        answered += solves([&] {
            const auto r = cycle::run(engine, point, swept_fuel(points, k));
            for (const double figure :
                 {r.torque, r.power, r.exhaust_temperature, r.knock_integral, r.efficiency, r.wall_heat})
                EXPECT_TRUE(std::isfinite(figure)) << k;
            EXPECT_GT(r.peak_pressure, point.manifold_pressure * 0.5) << k;
            EXPECT_GE(r.knock_integral, 0.0) << k;
            EXPECT_NEAR(r.power, r.torque * point.angular_speed, 1e-9 * std::abs(r.power));
            EXPECT_NEAR(r.brake_mean_pressure,
                        r.gross_mean_pressure - r.pumping_mean_pressure - r.friction_mean_pressure,
                        1e-9 * std::abs(r.gross_mean_pressure));
        });
    }
    RecordProperty("answered", answered);
    EXPECT_GT(answered, tests::fewest(300));
}

TEST(SweptCycle, CornersAnswerOrSayWhyNot) {
    const LatinHypercube points(128, 16);
    for (std::size_t k = 0; k < points.count(); ++k) {
        auto engine = swept_engine(points, k);
        auto point = swept_point(points, k);
        const auto end = [&](std::size_t dimension, Interval range) {
            return points.share(k, dimension) < 0.5 ? range.low : range.high;
        };
        engine.crank.compression_ratio = end(3, cycle::possible::compression_ratio);
        engine.volumetric_efficiency = end(4, {0.2, 1.5});
        engine.burn_duration = end(5, {10.0 * pi / 180.0, 150.0 * pi / 180.0});
        point.angular_speed = end(10, cycle::possible::angular_speed);
        point.manifold_pressure = end(11, cycle::possible::manifold_pressure);
        point.manifold_temperature = end(12, cycle::possible::manifold_temperature);
        point.lambda = end(13, cycle::possible::lambda);
        point.spark_angle = end(14, cycle::possible::spark_angle);
        solves([&] {
            const auto r = cycle::run(engine, point, swept_fuel(points, k));
            EXPECT_TRUE(std::isfinite(r.torque) && std::isfinite(r.knock_integral) &&
                        std::isfinite(r.exhaust_temperature))
                << k;
        });
    }
}

/// Counts the cycles that a search asks for.
class CountedCycles : public cycle::Cycles {
  public:
    using Cycles::Cycles;
    cycle::CycleResult run(const cycle::CyclePoint& point) const override {
        ++count_;
        return Cycles::run(point);
    }
    double knock_integral(const cycle::CyclePoint& point) const override {
        ++count_;
        return Cycles::knock_integral(point);
    }
    /// Those since it was asked last.
    int count() const { return std::exchange(count_, 0); }

  protected:
    mutable int count_ = 0;
};

/// Torque, knock and peak pressure that no engine has, over the spark and the logarithm of pressure.
class HostileCycles : public CountedCycles {
  public:
    using Shape = std::function<double(double spark, double log_pressure)>;
    HostileCycles(const cycle::Cylinder& engine, const fuel::Fuel& fuel, Shape torque, Shape knock,
                  Shape peak)
        : CountedCycles(engine, fuel),
          torque_(std::move(torque)),
          knock_(std::move(knock)),
          peak_(std::move(peak)) {}
    cycle::CycleResult run(const cycle::CyclePoint& point) const override {
        ++count_;
        cycle::CycleResult result{};
        result.torque = at(torque_, point);
        result.knock_integral = at(knock_, point);
        result.peak_pressure = at(peak_, point);
        result.exhaust_temperature = 1000.0;
        return result;
    }
    double knock_integral(const cycle::CyclePoint& point) const override {
        ++count_;
        return at(knock_, point);
    }

  private:
    static double at(const Shape& shape, const cycle::CyclePoint& point) {
        return shape(point.spark_angle, std::log(point.manifold_pressure / 1e5));
    }
    Shape torque_, knock_, peak_;
};

/// A point of the whole domain, or of an engine as it may stand in a workshop.
struct SweptKnock : testing::TestWithParam<bool> {
    cycle::Cylinder engine;
    cycle::CyclePoint point;
    fuel::Fuel fuel;
    const CountedCycles cycles{engine, fuel};

    void choose(const LatinHypercube& points, std::size_t k) {
        engine = swept_engine(points, k);
        point = swept_point(points, k);
        fuel = swept_fuel(points, k);
        cycles.count();
        if (!GetParam()) return;
        engine.crank.compression_ratio = points.between(k, 3, 8.0, 13.0);
        engine.burn_duration = points.between(k, 5, 35.0, 80.0) * pi / 180.0;
        engine.intake_valve_closing = points.between(k, 8, 20.0, 70.0) * pi / 180.0;
        point.angular_speed = points.between(k, 10, 1000.0, 8000.0) * pi / 30.0;
        point.manifold_pressure = points.between(k, 11, 40e3, 350e3);
        point.manifold_temperature = points.between(k, 12, 270.0, 380.0);
    }
};

INSTANTIATE_TEST_SUITE_P(Domain, SweptKnock, testing::Bool(),
                         [](const auto& domain) { return domain.param ? "Ordinary" : "Whole"; });

TEST_P(SweptKnock, LimitsHoldWhatTheyPromise) {
    const LatinHypercube points(GetParam() ? 40 : 120, 16);
    int limited = 0, boosted = 0, calibrated = 0, most = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        choose(points, k);
        const auto within = [&](int bound) {
            const int count = cycles.count();
            EXPECT_GT(count, 0) << k;
            EXPECT_LE(count, bound) << k;
            most = std::max(most, count);
        };
        limited += solves([&] {
            const auto limit = cycle::spark_limit(cycles, point);
            within(63);
            EXPECT_LE(limit.result.knock_integral, 1.0 + 1e-4) << k;
            if (limit.limited_by == cycle::SparkLimited::knock) {
                EXPECT_NEAR(limit.result.knock_integral, 1.0, 1e-3) << k;
            }
            // Not earlier than best torque.
            EXPECT_LE(limit.spark_angle, cycle::best_torque_spark(engine, point, fuel) + 1e-6) << k;
        });
        cycles.count();
        boosted += solves([&] {
            cycle::BoostBounds bounds;
            bounds.highest_peak_pressure = points.between(k, 0, 60e5, 200e5);
            const auto limit = cycle::boost_limit(cycles, point, bounds);
            within(900);
            EXPECT_LE(limit.result.knock_integral, 1.0 + 1e-3) << k;
            if (limit.limited_by == cycle::BoostLimited::peak_pressure) {
                EXPECT_NEAR(limit.result.peak_pressure, bounds.highest_peak_pressure,
                            1e-3 * bounds.highest_peak_pressure)
                    << k;
            }
        });
        calibrated += solves([&] {
            point.spark_angle = points.between(k, 14, -5.0, 30.0) * pi / 180.0;
            const auto calibration = cycle::calibrate(engine, point, fuel);
            EXPECT_NEAR(calibration.result.knock_integral, 1.0, 1e-8) << k;
        });
    }
    RecordProperty("most_cycles", most);
    RecordProperty("limited", limited);
    RecordProperty("boosted", boosted);
    RecordProperty("calibrated", calibrated);
    EXPECT_GT(limited, tests::fewest(15));
    EXPECT_GT(boosted, tests::fewest(15));
    EXPECT_GT(calibrated, tests::fewest(8));
}

TEST_P(SweptKnock, NoPossibleSparkGivesMoreTorqueThanTheBest) {
    const LatinHypercube points(150, 16);
    int answered = 0, most = 0;
    double farthest = 0.0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        choose(points, k);
        answered += solves([&] {
            point.spark_angle = cycle::best_torque_spark(cycles, point);
            const int count = cycles.count();
            EXPECT_LE(count, 18) << k;
            most = std::max(most, count);
            const auto best = cycle::run(engine, point, fuel);
            const double gross_torque =
                best.gross_mean_pressure * engine.cylinders * engine.crank.displaced_volume() / (4.0 * pi);
            constexpr Interval sparks = cycle::possible::spark_angle;
            for (int i = 0; i <= 125; ++i) {
                auto other = point;
                other.spark_angle = std::lerp(sparks.low, sparks.high, i / 125.0);
                const double more = (cycle::run(engine, other, fuel).torque - best.torque) / gross_torque;
                farthest = std::max(farthest, more);
                EXPECT_LT(more, 1e-5) << k << ", " << other.spark_angle << ", not " << point.spark_angle;
            }
        });
    }
    RecordProperty("most_cycles", most);
    RecordProperty("farthest_off", std::to_string(farthest * 1e6) + "e-6");
    EXPECT_GT(answered, tests::fewest(140));
}

TEST(SweptKnockSearch, MeetsItsBoundWhateverTheCycleSays) {
    using Shape = HostileCycles::Shape;
    const auto noise = [](double x) { return std::sin(1e7 * x) * std::sin(3e5 * x); };
    const std::vector<std::pair<const char*, Shape>> torques = {
        {"smooth", [](double s, double) { return 1.0 - (s - 0.3) * (s - 0.3); }},
        {"a cusp", [](double s, double) { return -std::pow(std::abs(s - 0.31), 0.05); }},
        {"flat", [](double, double) { return 1.0; }},
        {"rising", [](double s, double) { return s; }},
        {"falling", [](double s, double) { return -std::exp(9.0 * s); }},
        {"stairs", [](double s, double) { return std::floor(40.0 * s) * std::floor(7.0 - 9.0 * s); }},
        {"noise", [&](double s, double) { return noise(s); }},
        {"no number", [](double, double) { return nan; }},
        {"a hole", [](double s, double) { return std::abs(s - 0.3) < 0.1 ? nan : -s * s; }},
        {"endless", [](double, double) { return -std::numeric_limits<double>::infinity(); }},
    };
    const std::vector<std::pair<const char*, Shape>> knocks = {
        {"smooth", [](double s, double p) { return std::exp(4.0 * (s - 0.2) + 2.0 * (p - 0.6)); }},
        {"a wall", [](double s, double p) { return s + p < 0.713 ? 1e-300 : 1e300; }},
        {"from nothing", [](double s, double p) { return s + p < 0.713 ? 0.0 : 2.0; }},
        {"steep", [](double s, double p) { return std::exp(1e5 * (s + p - 0.713)); }},
        {"hardly rising", [](double s, double p) { return std::exp(1e-7 * (s + p - 0.713)); }},
        {"falling", [](double s, double p) { return std::exp(-3.0 * (s + p - 0.713)); }},
        {"always", [](double, double) { return 3.0; }},
        {"never", [](double, double) { return 0.0; }},
        {"just", [](double, double) { return 1.0; }},
        {"noise", [&](double s, double p) { return std::exp(noise(s + p)); }},
        {"waves", [](double s, double p) { return std::exp(std::sin(40.0 * (s + p))); }},
        {"no number", [](double, double) { return nan; }},
        {"a hole",
         [](double s, double p) { return std::abs(s + p - 0.7) < 0.05 ? nan : std::exp(s + p - 0.7); }},
        {"endless", [](double, double) { return std::numeric_limits<double>::infinity(); }},
    };
    const std::vector<std::pair<const char*, Shape>> peaks = {
        {"none", [](double, double) { return 0.0; }},
        {"smooth", [](double, double p) { return std::exp(p); }},
        {"a wall", [](double, double p) { return p < 0.2 ? 1e-300 : 1e300; }},
        {"too high", [](double, double) { return 9.0; }},
        {"noise", [&](double, double p) { return std::exp(noise(p)); }},
        {"no number", [](double, double) { return nan; }},
    };
    const cycle::Cylinder engine = [] {
        cycle::Cylinder e;
        e.crank = {0.086, 0.086, 0.143, 10.0};
        return e;
    }();
    const fuel::Fuel fuel{};
    int answered = 0, no_best_torque = 0;
    for (const auto& [torque_name, torque] : torques)
        for (const auto& [knock_name, knock] : knocks)
            for (const auto& [peak_name, peak] : peaks)
                for (const double start : {0.0, 60e3, 200e3, 590e3}) {
                    cycle::CyclePoint point;
                    point.angular_speed = 300.0;
                    point.manifold_temperature = 320.0;
                    const HostileCycles cycles(engine, fuel, torque, knock, peak);
                    const auto which =
                        fmt::format("{} torque, {} knock, {} peak", torque_name, knock_name, peak_name);
                    const auto attempt = [&](int bound, auto search) {
                        try {
                            search();
                            ++answered;
                        } catch (const NoSolution& error) {
                            no_best_torque += error.reason() == Reason::no_best_torque;
                        }
                        EXPECT_LE(cycles.count(), bound) << which;
                    };
                    point.manifold_pressure = std::max(start, 100e3);
                    attempt(18, [&] { cycle::best_torque_spark(cycles, point); });
                    attempt(63, [&] { cycle::spark_limit(cycles, point); });
                    point.manifold_pressure = start;
                    cycle::BoostBounds bounds;
                    bounds.highest_peak_pressure = 1.7;
                    attempt(900, [&] { cycle::boost_limit(cycles, point, bounds); });
                }
    EXPECT_GT(answered, 0);
    EXPECT_GT(no_best_torque, 0);
    // Iterations that are used up are no answer.
    const auto reason = [&](const Shape& torque) {
        try {
            cycle::CyclePoint point;
            point.angular_speed = 300.0;
            point.manifold_temperature = 320.0;
            point.manifold_pressure = 100e3;
            cycle::best_torque_spark(HostileCycles(engine, fuel, torque, torque, torque), point);
        } catch (const NoSolution& error) {
            return error.reason();
        }
        return Reason::out_of_range;
    };
    EXPECT_EQ(reason([](double, double) { return nan; }), Reason::no_best_torque);
}

// ---- dyno
// ---------------------------------------------------------------------------------------------------------

TEST(SweptBand, EndsWhereTheCurveLeavesTheShare) {
    const LatinHypercube points(300, 10);
    for (std::size_t k = 0; k < points.count(); ++k) {
        std::vector<double> speeds, torques;
        for (std::size_t i = 0; i < 9; ++i) {
            speeds.push_back(2000.0 + 500.0 * static_cast<double>(i));
            torques.push_back(points.between(k, i, 300.0, 400.0));
        }
        const double share = points.between(k, 9, 0.01, 1.0);
        solves([&] {
            const dyno::MeasuredCurve curve(speeds, torques);
            const auto band = curve.band(share);
            const auto peak = curve.peak();
            EXPECT_LE(band.from, peak.speed);
            EXPECT_GE(band.to, peak.speed);
            for (const double end : {band.from, band.to}) {
                const double value = curve.at(end);
                const bool at_an_end = end == curve.curve().first() || end == curve.curve().last();
                if (at_an_end) {
                    EXPECT_GE(value, share * peak.value * (1.0 - 1e-9));
                } else {
                    EXPECT_NEAR(value, share * peak.value, 1e-9 * peak.value);
                }
            }
        });
    }
}

// ---- road
// ---------------------------------------------------------------------------------------------------------

struct SweptRun {
    road::Vehicle vehicle;
    road::TorqueCurve curve;
    road::Surroundings surroundings;
    double from;
    double to;
};

/// Makes a call for a run to a goal, and checks the bound on the runs that its search over the gears
/// integrates.
template <class Call>
bool solves_within_runs(const SweptRun& run, const road::Goal& goal, std::size_t& most, Call call) {
    road::RunOptions options;
    options.from = run.from;
    const bool solved = solves([&] { call(options); });
    std::size_t runs = 0;
    solves([&] {
        const road::Car car(run.vehicle, run.curve, run.surroundings);
        const road::Task task{run.from, goal, {}, 0.0};
        road::GearSearch search(car, task, options);
        const bool found = solves([&] { (void)search.quickest(); });
        EXPECT_TRUE(found || !solved);
        runs = search.runs();
    });
    const std::size_t gears = run.vehicle.gears.size();
    EXPECT_LE(runs, gears * (gears + 1) / 2) << gears;
    if (solved) {
        EXPECT_GT(runs, 0u);
    }
    most = std::max(most, runs);
    return solved;
}

/// Makes a call that scales the curve for each run, and once more for the answer.
template <class Call>
bool solves_within_curves(const SweptRun& run, int& most, Call call) {
    road::RunOptions options;
    options.from = run.from;
    counts::taken(counts::scaled_curves);
    const bool solved = solves([&] { call(options); });
    const int curves = counts::taken(counts::scaled_curves);
    EXPECT_LE(curves, 112 + 1);
    if (solved) {
        EXPECT_GT(curves, 1);
    }
    most = std::max(most, curves);
    return solved;
}

/// A car out of the whole range of cars, good and bad.
SweptRun swept_run(const LatinHypercube& points, std::size_t k) {
    road::Vehicle car;
    car.mass = points.decades(k, 0, 200.0, 20000.0);
    car.drive = static_cast<road::Drive>(k % 3);
    car.rolling_radius = points.between(k, 1, 0.2, 0.6);
    car.drag_area = points.between(k, 2, 0.0, 5.0);
    car.rolling_resistance = points.between(k, 3, 0.0, 0.1);
    car.centre_of_gravity_height = points.between(k, 4, 0.0, 1.2);
    car.grip = points.between(k, 5, 0.05, 3.0);
    const std::size_t gears = 1 + k % 8;
    double ratio = points.between(k, 6, 2.0, 6.0);
    for (std::size_t g = 0; g < gears; ++g, ratio *= 0.72) car.gears.push_back(ratio);
    car.final_drives = {points.between(k, 7, 1.0, 6.0)};
    car.shift_time = points.between(k, 8, 0.0, 2.0);
    car.torque_in_shift = k % 4 == 0 ? points.share(k, 8) : 0.0;
    car.driveline_efficiency = points.between(k, 9, 0.3, 1.0);
    car.engine_inertia = points.between(k, 10, 0.0, 2.0);
    car.rise_time_of_torque = k % 2 == 0 ? points.between(k, 11, 0.0, 5.0) : 0.0;
    std::vector<double> speeds, torques;
    const double peak = points.decades(k, 12, 20.0, 3000.0);
    for (int i = 0; i < 8; ++i) {
        speeds.push_back((1000.0 + 900.0 * i) * pi / 30.0);
        torques.push_back(peak * (1.0 - 0.04 * (i - 3) * (i - 3)));
    }
    torques.back() = std::max(torques.back(), 0.0);
    road::Surroundings day;
    day.headwind = points.between(k, 13, -20.0, 20.0);
    day.slope = k % 3 == 0 ? points.between(k, 14, -0.3, 0.3) : 0.0;
    const double from = k % 2 == 0 ? 0.0 : points.between(k, 15, 0.0, 60.0);
    return {car, road::TorqueCurve(speeds, torques), day, from, from + points.between(k, 16, 1.0, 80.0)};
}

TEST(SweptRuns, EndOrSayWhyNot) {
    const LatinHypercube points(400, 17);
    int answered = 0;
    std::size_t most = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        const SweptRun run = swept_run(points, k);
        answered += solves_within_runs(run, {run.to, road::unbounded}, most, [&](road::RunOptions options) {
            const auto to_speed =
                road::speed_run(run.vehicle, run.curve, run.from, run.to, run.surroundings, options);
            EXPECT_TRUE(std::isfinite(to_speed.time) && to_speed.time > 0.0) << k;
            EXPECT_GT(to_speed.distance, 0.0) << k;
            for (const auto& shift : to_speed.shifts) EXPECT_LE(shift.speed, run.to * (1.0 + 1e-9)) << k;
            // The run over the distance it took arrives at the speed, at the same time.
            options.first_gear = to_speed.first_gear;
            if (to_speed.shifts.empty() && to_speed.distance < 1e5) {
                const auto over =
                    road::distance_run(run.vehicle, run.curve, to_speed.distance, run.surroundings, options);
                EXPECT_LE(over.time, to_speed.time * (1.0 + 1e-6)) << k;
            }
        });
        solves_within_runs(run, {road::unbounded, 402.336}, most, [&](const road::RunOptions& options) {
            const auto over = road::distance_run(run.vehicle, run.curve, 402.336, run.surroundings, options);
            EXPECT_TRUE(std::isfinite(over.time) && over.time > 0.0 && over.trap_speed > 0.0) << k;
        });
    }
    RecordProperty("answered", answered);
    RecordProperty("most_runs", static_cast<int>(most));
    EXPECT_GT(answered, tests::fewest(60));
}

TEST(SweptRuns, AShiftIsWhereBothGearsPullAlike) {
    const LatinHypercube points(300, 17);
    int between = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        const SweptRun run = swept_run(points, k);
        solves([&] {
            for (const auto& shift : road::shift_speeds(run.vehicle, run.curve, run.surroundings)) {
                const auto gain = [&](std::size_t gear, double engine_speed) {
                    const double ratio = road::overall_ratio(run.vehicle, gear);
                    const double force = run.curve.torque(engine_speed) * ratio *
                                         run.vehicle.driveline_efficiency / run.vehicle.rolling_radius;
                    const double air_speed = shift.speed + run.surroundings.headwind;
                    const double load =
                        road::road_load(run.vehicle, run.surroundings, -run.surroundings.headwind) +
                        0.5 * run.surroundings.air_density * run.vehicle.drag_area * air_speed *
                            std::abs(air_speed);
                    return (force - load) / road::effective_mass(run.vehicle, gear);
                };
                if (shift.at_rev_limit || shift.engine_speed_after <= run.curve.lowest_speed() * (1.0 + 1e-9))
                    continue;
                const double here = gain(shift.gear, shift.engine_speed),
                             next = gain(shift.gear + 1, shift.engine_speed_after);
                EXPECT_NEAR(here, next, 1e-8 * (std::abs(here) + 1.0)) << k;
                ++between;
            }
        });
    }
    EXPECT_GT(between, tests::fewest(50));
}

TEST(SweptRuns, ThePowerForATimeTakesThatTime) {
    const LatinHypercube points(60, 18);
    int answered = 0, most = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        const SweptRun run = swept_run(points, k);
        const double time = points.decades(k, 17, 1.0, 200.0);
        road::PowerForTime power{};
        const bool solved = solves_within_curves(run, most, [&](const road::RunOptions& options) {
            power = road::power_for_time(run.vehicle, run.curve, run.from, run.to, time, run.surroundings,
                                         options);
        });
        answered += solved && solves([&] {
                        const auto again = road::speed_run(run.vehicle, run.curve.scaled(power.factor),
                                                           run.from, run.to, run.surroundings);
                        EXPECT_NEAR(again.time, time, 1e-5 * time) << k;
                    });
    }
    RecordProperty("answered", answered);
    RecordProperty("most_runs", most);
    EXPECT_GT(answered, tests::fewest(10));
}

// Where another shift becomes worth while, the trap speed jumps; inside the jump it is the power at the jump.
TEST(SweptRuns, ThePowerForATrapSpeedReachesIt) {
    const LatinHypercube points(80, 18);
    int answered = 0, jumps = 0, most = 0;
    for (std::size_t k = 0; k < points.count(); ++k) {
        const SweptRun run = swept_run(points, k);
        const double trap = points.between(k, 17, 15.0, 80.0);
        double factor = 0.0;
        const bool solved = solves_within_curves(run, most, [&](road::RunOptions options) {
            options.from = 0.0;
            factor =
                road::power_for_trap_speed(run.vehicle, run.curve, 402.336, trap, run.surroundings, options)
                    .factor;
        });
        answered += solved && solves([&] {
                        const auto reached = [&](double share) {
                            return road::distance_run(run.vehicle, run.curve.scaled(factor * share), 402.336,
                                                      run.surroundings)
                                .trap_speed;
                        };
                        EXPECT_LE(reached(1.0 - 1e-8), trap * (1.0 + 1e-5)) << k;
                        EXPECT_GE(reached(1.0 + 1e-8), trap * (1.0 - 1e-5)) << k;
                        jumps += reached(1.0 + 1e-8) - reached(1.0 - 1e-8) > 1e-5 * trap;
                    });
    }
    RecordProperty("answered", answered);
    RecordProperty("most_runs", most);
    EXPECT_GT(answered, tests::fewest(10));
    EXPECT_GT(jumps, 0);
}

TEST(SweptTorqueCurve, NoPlaceIsAboveThePeak) {
    const LatinHypercube points(300, 9);
    for (std::size_t k = 0; k < points.count(); ++k) {
        std::vector<double> speeds, torques;
        for (std::size_t i = 0; i < 8; ++i) {
            speeds.push_back(100.0 * (1.0 + static_cast<double>(i)));
            torques.push_back(points.between(k, i, 0.0, 500.0));
        }
        const road::TorqueCurve curve(speeds, torques);
        const double up_to = points.between(k, 8, 150.0, 900.0);
        const auto peak = curve.peak(up_to);
        EXPECT_NEAR(peak.speed * curve.torque(peak.speed), peak.power, 1e-9 * peak.power);
        for (double speed = 100.0; speed <= std::min(up_to, 800.0); speed += 0.7) {
            EXPECT_LE(speed * curve.torque(speed), peak.power * (1.0 + 1e-9)) << k << ", " << speed;
            EXPECT_LE(curve.torque(speed), peak.torque * (1.0 + 1e-12)) << k << ", " << speed;
        }
    }
}

}  // namespace
}  // namespace pullsheet
