// SPDX-License-Identifier: Apache-2.0
#include "core/boost/charge_cooler.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "core/error.hpp"

namespace pullsheet::boost {
namespace {

// Definition of effectiveness (Incropera & DeWitt, ch. 11), evaluated independently.
TEST(IncroperaDeWittIdentities, ChargeTemperature) {
    EXPECT_NEAR(charge_temperature(410.0, 305.0, 0.72), 334.4, 5e-5);
    const double pressure_share = 180.0 / 188.0;
    EXPECT_NEAR(pressure_share * 410.0 / charge_temperature(410.0, 305.0, 0.72), 1.1739031, 5e-8);
}

// Incropera & DeWitt, table 11.3, and Mason (1954) for crossflow, both unmixed; the last column was verified
// by an independent march of the partial differential equations.
TEST(IncroperaDeWittIdentities, EffectivenessOfArrangements) {
    struct Row {
        double n, c, counter, parallel, cross;
    };
    for (const Row& row :
         {Row{1.0, 0.5, 0.5647334, 0.5179132, 0.5474898}, Row{2.0, 0.25, 0.8227658, 0.7343320, 0.7974223},
          Row{3.0, 0.8, 0.8043280, 0.5530463, 0.7355164}, Row{1.5, 1.0, 0.6, 0.4751065, 0.5601729}}) {
        EXPECT_NEAR(effectiveness(row.n, row.c, FlowArrangement::counterflow), row.counter, 5e-8);
        EXPECT_NEAR(effectiveness(row.n, row.c, FlowArrangement::parallel_flow), row.parallel, 5e-8);
        EXPECT_NEAR(effectiveness(row.n, row.c, FlowArrangement::crossflow), row.cross, 5e-8);
    }
}

// Nellis & Klein, Heat Transfer, example with UA = 75, C = 50 and 30 (2.5 transfer units, ratio 0.6): they
// print 0.7632 from the correlation; the exact solution, which is used here, is 0.7557 (1.0 % lower).
TEST(NellisKleinPrinted, CrossflowCorrelationLiesOnePercentHigh) {
    const double exact = effectiveness(75.0 / 30.0, 30.0 / 50.0, FlowArrangement::crossflow);
    EXPECT_NEAR(exact, 0.7557179, 5e-8);
    EXPECT_NEAR(0.7632 / exact, 1.010, 5e-4);
}

TEST(ChargeCoolerIdentities, EffectivenessIsTheInverseOfTemperature) {
    EXPECT_NEAR(charge_effectiveness(410.0, charge_temperature(410.0, 305.0, 0.72), 305.0), 0.72, 1e-12);
    // Iced coolant, and a coolant that heats.
    EXPECT_NEAR(charge_effectiveness(290.0, charge_temperature(290.0, 320.0, 0.5), 320.0), 0.5, 1e-12);
}

TEST(ChargeCoolerIdentities, TransferUnitsAreTheInverseOfEffectiveness) {
    for (auto arrangement :
         {FlowArrangement::counterflow, FlowArrangement::parallel_flow, FlowArrangement::crossflow}) {
        for (double c : {0.0, 0.3, 0.7, 1.0}) {
            for (double n : {0.1, 0.8, 2.5}) {
                EXPECT_NEAR(transfer_units(effectiveness(n, c, arrangement), c, arrangement), n, 1e-8 * n);
            }
        }
    }
}

TEST(ChargeCoolerIdentities, CounterflowNearEqualHeatCapacities) {
    EXPECT_NEAR(effectiveness(3.0, 1.0 - 1e-12, FlowArrangement::counterflow), 0.75, 1e-11);
}

TEST(ChargeCoolerErrors, Refusals) {
    EXPECT_THROW(charge_temperature(400.0, 300.0, 1.2), InvalidArgument);
    EXPECT_THROW(charge_effectiveness(400.0, 290.0, 300.0), InvalidArgument);
    EXPECT_THROW(charge_effectiveness(400.0, 410.0, 300.0), InvalidArgument);
    EXPECT_THROW(effectiveness(-1.0, 0.5, FlowArrangement::crossflow), InvalidArgument);
    EXPECT_THROW(effectiveness(std::nan(""), 0.5, FlowArrangement::crossflow), InvalidArgument);
    try {
        charge_effectiveness(300.0, 300.0, 300.0);
        FAIL();
    } catch (const InvalidArgument& error) {
        EXPECT_EQ(error.reason(), Reason::no_temperature_difference);
    }
    try {  // parallel flow of equal heat capacities cannot pass one half
        transfer_units(0.6, 1.0, FlowArrangement::parallel_flow);
        FAIL();
    } catch (const NoSolution& error) {
        EXPECT_EQ(error.reason(), Reason::effectiveness_out_of_reach);
        EXPECT_NEAR(error.details().at(1).value, 0.5, 1e-9);
    }
}

}  // namespace
}  // namespace pullsheet::boost
