// SPDX-License-Identifier: Apache-2.0
// The stage table at each of its speeds against something outside it.
#include <gtest/gtest.h>

#include <cmath>

#include "core/fuel/fuel.hpp"
#include "core/injection/injector.hpp"
#include "core/plan/stage_table.hpp"
#include "tests/plan/invented_plan.hpp"

namespace pullsheet::plan {
namespace {

// Four cylinders made up for these tests: INVENTED.
TableBase four_cylinders() {
    TableBase base;
    base.engine = invented_engine();
    base.engine.volumetric_efficiency = 0.95;
    base.engine_model.cylinder.crank = {0.0825, 0.0928, 0.1545, 9.8};
    base.engine_model.cylinder.cylinders = 4;
    base.engine_model.cylinder.volumetric_efficiency = 0.95;
    base.redline = 7000 * rpm;
    base.full_boost_from = 2000 * rpm;
    return base;
}

Parts with_injectors(double flow) {
    Compressor compressor{};
    compressor.max_corrected_flow = 2.0;
    return {Injectors{4, flow}, compressor, ChargeCooler{0.8}};
}

OfferedFuel of_strong_ethanol() {
    OfferedFuel offer;
    offer.fuel.gasoline.ron = 95.0;
    offer.fuel.ethanol_share = 0.8;
    return offer;
}

// Where small injectors are the limit, the fuel flow is known at every speed without the cycle: rated flow
// times duty. The brake efficiency that the predicted torque then implies must be one that engines have.
// Heywood (1988), section 2.9, from memory: the best brake efficiency of spark-ignition engines is 0.25 to
// 0.35; a rich mixture burns only as much of its fuel as there is air for, so that lambda below 1 takes its
// share off the range.
TEST(Heywood1988PrintedFromMemory, BrakeEfficiencyAtEverySpeedThatInjectorsLimit) {
    const OfferedFuel fuel = of_strong_ethanol();
    const Parts parts = with_injectors(380 * cc_per_minute);
    const Injectors injectors = std::get<Injectors>(parts[0]);
    const double fuel_flow =
        4 * injectors.max_duty * fuel::density(fuel.fuel) *
        injection::injector_flow(injectors.rated_flow, injectors.rated_pressure, injectors.fuel_pressure,
                                 injectors.rated_density, fuel::density(fuel.fuel));
    const TableCell cell = stage_on_fuel(four_cylinders(), parts, fuel);
    ASSERT_EQ(cell.speeds.size(), cell.torques.size());
    int limited = 0;
    for (std::size_t i = 0; i < cell.speeds.size(); ++i) {
        if (cell.speeds[i] < 2000 * rpm) continue;
        const double efficiency =
            cell.torques[i] * cell.speeds[i] / (fuel_flow * fuel::heating_value(fuel.fuel));
        EXPECT_GT(efficiency, 0.25 * fuel.lambda) << cell.speeds[i] / rpm;
        EXPECT_LT(efficiency, 0.35) << cell.speeds[i] / rpm;
        ++limited;
    }
    EXPECT_GE(limited, 4);
}

// Knock sets the torque at every speed: brake mean effective pressure of turbocharged spark-ignition engines,
// 12.5 to 17 bar for those of 1988 (Heywood, section 2.7, from memory) and 24 bar and more since (SAE
// 2009-01-1503, abstract: 24 bar at rated power, two-stage). The engine of this table has no other limit and
// is not calibrated.
TEST(Heywood1988PrintedFromMemory, MeanPressureAtEverySpeedThatKnockLimits) {
    const TableBase base = four_cylinders();
    for (const double ron : {91.0, 95.0, 98.0}) {
        OfferedFuel fuel;
        fuel.fuel.gasoline.ron = ron;
        const TableCell cell = stage_on_fuel(base, with_injectors(4000 * cc_per_minute), fuel);
        const double displacement = 4 * 3.14159265358979 / 4 * 0.0825 * 0.0825 * 0.0928;
        for (std::size_t i = 0; i < cell.speeds.size(); ++i) {
            if (cell.speeds[i] < 2000 * rpm) continue;
            const double bar = 4 * 3.14159265358979 * cell.torques[i] / displacement / 1e5;
            EXPECT_GT(bar, 12.5) << ron << " RON, " << cell.speeds[i] / rpm;
            EXPECT_LT(bar, 28.0) << ron << " RON, " << cell.speeds[i] / rpm;
        }
    }
}

// A stated boost is no stated power: what the engine makes of it is computed, and as uncertain as that. A
// stated torque is as uncertain as its rating.
TEST(StageTableIdentities, ABoostIsNoStatedPower) {
    const auto relative_band = [](const BoostControl& control) {
        Parts parts = with_injectors(4000 * cc_per_minute);
        parts.emplace_back(control);
        OfferedFuel fuel;
        fuel.fuel.gasoline.ron = 98.0;
        TableBase base = four_cylinders();
        base.uncertainty.guessed_octane = 0.0;  // by its spark: see Band.AGuessAtAStatedBoost
        const TableCell cell = stage_on_fuel(base, parts, fuel);
        EXPECT_EQ(cell.limited_by.part, parts.size() - 1);
        return (cell.power_high - cell.power_low) / (2.0 * cell.power);
    };
    const TableUncertainty u;
    const double guess = std::hypot(u.guessed_efficiency, u.guessed_burn);
    EXPECT_NEAR(relative_band({.max_boost = 60e3}), 2.0 * std::hypot(u.part_rating, guess), 1e-6);
    EXPECT_NEAR(relative_band({.max_torque = 250.0}), 2.0 * u.part_rating, 1e-6);
    // The torque is set high, the boost is what limits.
    EXPECT_NEAR(relative_band({.max_boost = 60e3, .max_torque = 900.0}),
                2.0 * std::hypot(u.part_rating, guess), 1e-6);
}

}  // namespace
}  // namespace pullsheet::plan
