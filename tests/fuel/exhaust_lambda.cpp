// SPDX-License-Identifier: Apache-2.0
#include "core/fuel/exhaust_lambda.hpp"

#include <gtest/gtest.h>

#include "core/fuel/stoichiometry.hpp"

namespace pullsheet::fuel {
namespace {

/// Dry exhaust of CHyOz burned at a known lambda in air whose gases other than oxygen are inert: element
/// balance with the water-gas equilibrium K = 3.5 between the products of a rich mixture.
Exhaust exhaust_of(double y, double z, double lambda) {
    constexpr double inert = (1.00004 - 0.20946) / 0.20946;
    constexpr double k = 3.5;
    const double oxygen = lambda * (1 + 0.25 * y - 0.5 * z);
    if (lambda >= 1.0) {
        const double left = (lambda - 1.0) * (1 + 0.25 * y - 0.5 * z);
        const double total = 1.0 + left + inert * oxygen;
        return {1.0 / total, 0.0, left / total};
    }
    // co2 = 1 − co, h2o = atoms − …: oxygen atoms 2·co2 + co + h2o = 2·oxygen + z, k = co·h2o/(co2·h2).
    const double atoms = 2 * oxygen + z;
    double low = 0.0;
    double high = 1.0;
    for (int i = 0; i < 200; ++i) {
        const double co = 0.5 * (low + high);
        const double h2o = atoms - 2 + co;
        const double h2 = 0.5 * y - h2o;
        (co * h2o - k * (1 - co) * h2 < 0.0 ? low : high) = co;
    }
    const double co = 0.5 * (low + high);
    const double h2 = 0.5 * y - (atoms - 2 + co);
    const double total = 1.0 + h2 + inert * oxygen;
    return {(1 - co) / total, co / total, 0.0};
}

Fuel with_hydrogen(double share, double hydrogen_per_carbon) {
    Fuel fuel{share, {}};
    fuel.gasoline.hydrogen_per_carbon = hydrogen_per_carbon;
    return fuel;
}

// Compositions in per cent from an independent balance of the elements with K = 3.5; they are printed to 1e-6
// %.
TEST(Brettschneider1979Independent, PrintedCompositions) {
    const Fuel gasoline;
    EXPECT_NEAR(exhaust_lambda({0.15293113, 0.0, 0.0}, gasoline), 1.0, 1e-9);
    EXPECT_NEAR(exhaust_lambda({0.13175491, 0.0, 0.02900255}, gasoline), 1.15, 1e-7);
    EXPECT_NEAR(exhaust_lambda({0.11568576, 0.05608220, 0.0}, gasoline), 0.85, 1e-7);
    EXPECT_NEAR(exhaust_lambda({0.09779878, 0.08387558, 0.0}, gasoline), 0.78, 1e-7);
    // CH3O0.5 is ethanol.
    EXPECT_NEAR(exhaust_lambda({0.10814340, 0.06573332, 0.0}, {1.0, {}}), 0.8, 1e-7);
}

TEST(Brettschneider1979Independent, TrueLambdaOfExactCompositions) {
    for (const double share : {0.0, 0.1, 0.5, 0.85, 1.0})
        for (const double hydrogen : {1.73, 1.87, 1.93})
            for (const double lambda : {0.75, 0.78, 0.85, 0.9, 0.99, 1.0, 1.05, 1.15, 1.5}) {
                const Fuel fuel = with_hydrogen(share, hydrogen);
                const Formula f = formula(fuel);
                EXPECT_NEAR(exhaust_lambda(exhaust_of(f.hydrogen, f.oxygen, lambda), fuel), lambda, 1e-9);
            }
}

// The balance above gives the printed composition, so that the two are independent of the formula under test.
TEST(Brettschneider1979Independent, BalanceOfTheTest) {
    const Exhaust rich = exhaust_of(2.74, 0.385, 0.9);
    EXPECT_NEAR(100 * rich.co, 3.320528, 5e-7);
    EXPECT_NEAR(100 * rich.co2, 12.903345, 5e-7);
    const Exhaust lean = exhaust_of(1.87, 0.0, 1.15);
    EXPECT_NEAR(100 * lean.o2, 2.900255, 5e-7);
}

// Measured-looking compositions evaluated independently; hydrocarbons as single carbon atoms.
TEST(Brettschneider1979Independent, WithHydrocarbons) {
    const Fuel gasoline;
    EXPECT_NEAR(exhaust_lambda({0.147, 0.005, 0.006, 0.0002}, gasoline, 1.0), 1.0112941, 5e-8);
    EXPECT_NEAR(exhaust_lambda({0.149, 0.0, 0.0, 0.0}, gasoline, 1.0), 1.0, 1e-12);
    EXPECT_NEAR(exhaust_lambda({0.115, 0.050, 0.004, 0.0005}, gasoline, 1.0), 0.8754186, 5e-8);
    EXPECT_NEAR(exhaust_lambda({0.126, 0.001, 0.032, 0.0001}, gasoline, 1.0), 1.1673764, 5e-8);
    // The analyser's hexane counts six carbon atoms.
    EXPECT_NEAR(exhaust_lambda({0.147, 0.005, 0.006, 0.0002 / 6}, gasoline), 1.0112941, 5e-8);
    EXPECT_LT(exhaust_lambda({0.147, 0.005, 0.006, 0.0002}, gasoline, 12.0),
              exhaust_lambda({0.147, 0.005, 0.006, 0.0002}, gasoline));
}

// An atom of oxygen is half a molecule of it, whether nitrogen holds it or not.
TEST(ExhaustLambdaIdentities, NitricOxideCountsAsHalfAsMuchOxygen) {
    for (const double nitric_oxide : {0.0002, 0.004, 0.02})
        EXPECT_NEAR(exhaust_lambda({0.14, 0.005, 0.01, 0.0, nitric_oxide}, {}),
                    exhaust_lambda({0.14, 0.005, 0.01 + 0.5 * nitric_oxide, 0.0}, {}), 1e-14);
}

TEST(ExhaustLambdaErrors, NameTheArgument) {
    const auto field = [](const Exhaust& exhaust) -> std::string {
        try {
            exhaust_lambda(exhaust, {});
        } catch (const InvalidArgument& error) {
            return error.parameter();
        }
        return "";
    };
    EXPECT_EQ(field({15.3, 0.0, 0.0}), "co2");
    EXPECT_EQ(field({0.153, 0.5, 0.0}), "co");
    EXPECT_EQ(field({0.153, 0.0, 0.5}), "o2");
    EXPECT_EQ(field({0.153, 0.0, 0.0, 200.0}), "hydrocarbons");
    EXPECT_EQ(field({0.153, 0.0, 0.0, 0.0, 1.0}), "nitric_oxide");
    EXPECT_EQ(field({0.0, 0.0, 0.209}), "co2");
    EXPECT_EQ(field({0.0, 0.01, 0.209}), "");
}

}  // namespace
}  // namespace pullsheet::fuel
