// SPDX-License-Identifier: Apache-2.0
#include "core/air/moist_air.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "tests/quantities.hpp"

namespace pullsheet::air {
namespace {

using tests::celsius;

// Saturation pressure by the reference equation of IAPWS, Pa: Wagner & Pruss (1993), J. Phys. Chem. Ref. Data
// 22, 783, equation 1; coefficients from memory, anchored below.
double wagner_pruss(double temperature) {
    const double u = 1.0 - temperature / 647.096;
    return 22.064e6 * std::exp(647.096 / temperature *
                               (-7.85951783 * u + 1.84408259 * std::pow(u, 1.5) -
                                11.7866497 * std::pow(u, 3) + 22.6807411 * std::pow(u, 3.5) -
                                15.9618719 * std::pow(u, 4) + 1.80122502 * std::pow(u, 7.5)));
}

// The formula of CIPM-2007 evaluated independently; four decimals printed.
TEST(Picard2008Identities, SaturationPressure) {
    struct Row {
        double t, pressure;
    };
    for (const Row& row :
         {Row{0.01, 611.6569}, Row{10, 1228.1149}, Row{20, 2339.1632}, Row{25, 3169.7570}, Row{35, 5628.8646},
          Row{40, 7384.8239}, Row{50, 12351.9009}, Row{100, 101383.5955}})
        EXPECT_NEAR(saturation_pressure(celsius(row.t)), row.pressure, 5e-5) << row.t;
}

// The whole formula evaluated independently at five states; nine digits printed.
TEST(Picard2008Identities, Density) {
    struct Row {
        double pressure, t, humidity, density;
    };
    for (const Row& row :
         {Row{101325, 20, 0.5, 1.19931390}, Row{100000, 25, 0.4, 1.16321866}, Row{95000, 18, 0.7, 1.13059874},
          Row{101325, 15, 0.0, 1.22552134}, Row{80000, 27, 0.3, 0.92405599}})
        EXPECT_NEAR(density(celsius(row.t), row.pressure, row.humidity), row.density, 5e-9) << row.t;
}

// The enhancement factor takes the temperature in °C. In kelvin it would be 4.8 % greater and the density
// 0.02 % smaller.
TEST(Picard2008Identities, EnhancementFactorTakesCelsius) {
    const double celsius_form = density(celsius(20), 101325, 0.5);
    const double kelvin_form_vapour_share = 0.5 * (1.00062 + 3.14e-8 * 101325 + 5.6e-7 * 293.15 * 293.15) *
                                            saturation_pressure(celsius(20)) / 101325;
    const double kelvin_form = 101325 * 28.96546e-3 / (0.999614768 * 8.314472 * 293.15) *
                               (1 - kelvin_form_vapour_share * (1 - 18.01528 / 28.96546));
    EXPECT_GT((celsius_form - kelvin_form) / celsius_form, 1.8e-4);
}

// 22 parts in a million are claimed for CIPM-2007 against its predecessor's 64 parts in a million lower
// values (Picard et al. 2008, abstract); an ideal mixture lies about 0.04 % below.
TEST(Picard2008Identities, IdealMixtureLiesBelow) {
    const double ideal = 101325 / (gas_constant(celsius(20), 101325, 0.5) * celsius(20));
    EXPECT_NEAR(ideal, 1.1988520, 5e-6);  // evaluated independently with IAPWS saturation pressure
    EXPECT_NEAR(ideal / density(celsius(20), 101325, 0.5) - 1, -0.00039, 5e-6);
}

// Anchors: the triple point 611.657 Pa and the normal boiling point 373.1243 K (Wagner & Pruss 1993, table 1,
// from memory).
TEST(WagnerPruss1993PrintedFromMemory, AnchorsOfTheReference) {
    EXPECT_NEAR(wagner_pruss(273.16), 611.657, 5e-4);
    EXPECT_NEAR(wagner_pruss(373.1243), 101325, 0.5);
}

// What the header claims of the established range: within 0.01 %.
TEST(WagnerPruss1993Independent, SaturationPressureInEstablishedRange) {
    for (double t = 0.01; t <= 50.0; t += 0.5)
        EXPECT_NEAR(saturation_pressure(celsius(t)) / wagner_pruss(celsius(t)), 1.0, 1e-4) << t;
    EXPECT_NEAR(saturation_pressure(celsius(100)) / wagner_pruss(celsius(100)), 1.0, 4e-4);
}

// ASHRAE Handbook, Fundamentals 2017, chapter 1, table 3: saturation pressure 872.6, 3169.7, 12351.3,
// 101418.0 Pa at 5, 25, 50, 100 °C.
TEST(AshraeFundamentals2017Printed, SaturationPressure) {
    EXPECT_NEAR(saturation_pressure(celsius(5)), 872.6, 872.6 * 3e-4);
    EXPECT_NEAR(saturation_pressure(celsius(25)), 3169.7, 3169.7 * 1e-4);
    EXPECT_NEAR(saturation_pressure(celsius(50)), 12351.3, 12351.3 * 1e-4);
    EXPECT_NEAR(saturation_pressure(celsius(100)), 101418.0, 101418.0 * 4e-4);
}

// 40 CFR 1065.645: worked values 1.186581 kPa at 282.65 K, and 2.3371 kPa, which with 50.77 % at 99.980 kPa
// gives a share of 0.011868. Its Goff–Gratch formula lies 0.09 % below IAPWS.
TEST(Cfr40Part1065Printed, WorkedExamples) {
    EXPECT_NEAR(saturation_pressure(282.65), 1186.581, 1186.581 * 1.1e-3);
    EXPECT_NEAR(vapour_pressure(celsius(20), 0.5077) / 99980, 0.011868, 0.011868 * 1.1e-3);
}

// Published package for the ASHRAE formulas (psychrolib 1.1.1 of the npm registry): humidity ratios, vapour
// pressures and dew points at two states; it computes with Hyland & Wexler's saturation pressure, which is
// within 0.02 % of ours.
TEST(PsychrolibIndependent, HumidityRatioAndDewPoint) {
    EXPECT_NEAR(humidity_ratio(celsius(25), 101325, 0.5), 0.009881044, 0.009881044 * 2.5e-4);
    EXPECT_NEAR(humidity_ratio(celsius(35), 100000, 0.6), 0.02173509, 0.02173509 * 2.5e-4);
    EXPECT_NEAR(vapour_pressure(celsius(25), 0.5), 1584.60824, 1584.60824 * 2e-4);
    EXPECT_NEAR(vapour_pressure(celsius(35), 0.6), 3376.69167, 3376.69167 * 2e-4);
    EXPECT_NEAR(humidity(celsius(25), celsius(13.863973)), 0.5, 1e-4);
    EXPECT_NEAR(humidity(celsius(35), celsius(26.068027)), 0.6, 1e-4);
}

TEST(MoistAirIdentities, LimitsOfHumidity) {
    EXPECT_EQ(vapour_pressure(celsius(20), 0.0), 0.0);
    EXPECT_EQ(vapour_pressure(celsius(20), 1.0), saturation_pressure(celsius(20)));
    EXPECT_EQ(humidity(celsius(20), celsius(20)), 1.0);
    EXPECT_NEAR(gas_constant(celsius(20), 101325, 0.0), dry_air_gas_constant, 1e-12 * dry_air_gas_constant);
    EXPECT_EQ(dry_pressure(celsius(20), 101325, 0.0), 101325.0);
    EXPECT_LT(density(celsius(30), 101325, 1.0), density(celsius(30), 101325, 0.0));
}

TEST(MoistAir, RefusesTheImpossible) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (double bad : {nan, -1.0, 0.0, 173.0, 574.0, std::numeric_limits<double>::infinity()}) {
        EXPECT_THROW(saturation_pressure(bad), InvalidArgument);
        EXPECT_THROW(density(bad, 101325, 0.5), InvalidArgument);
        EXPECT_THROW(humidity(bad, celsius(10)), InvalidArgument);
        EXPECT_THROW(humidity(celsius(10), bad), InvalidArgument);
    }
    for (double bad : {nan, -0.01, 1.01, 50.0}) {
        EXPECT_THROW(vapour_pressure(celsius(20), bad), InvalidArgument);
        EXPECT_THROW(density(celsius(20), 101325, bad), InvalidArgument);
    }
    for (double bad : {nan, 0.0, -101325.0, 101.325, 3e6}) {
        EXPECT_THROW(density(celsius(20), bad, 0.5), InvalidArgument);
        EXPECT_THROW(dry_pressure(celsius(20), bad, 0.5), InvalidArgument);
    }
    try {
        humidity(celsius(10), celsius(12));
        FAIL() << "a dew point above the temperature was taken";
    } catch (const InvalidArgument& error) {
        EXPECT_STREQ(error.parameter(), "dew_point");
        EXPECT_EQ(error.reason(), Reason::dew_point_above_temperature);
    }
    for (const auto function : {dry_pressure, humidity_ratio, gas_constant, density}) {
        try {
            function(celsius(120), 101325, 1.0);
            FAIL() << "vapour above the whole pressure was taken";
        } catch (const InvalidArgument& error) {
            EXPECT_STREQ(error.parameter(), "humidity");
            EXPECT_EQ(error.reason(), Reason::vapour_reaches_pressure);
        }
    }
}

// Finite and positive over everything possible.
TEST(MoistAir, SweepOfThePossibleRange) {
    for (double T = possible::temperature.low; T <= possible::temperature.high; T += 2.0)
        for (double p : {1e3, 1e4, 5e4, 1e5, 3e5, 2e6})
            for (double h : {0.0, 0.01, 0.5, 1.0}) {
                double rho = 0.0;
                try {
                    rho = density(T, p, h);
                } catch (const InvalidArgument& error) {
                    ASSERT_EQ(error.reason(), Reason::vapour_reaches_pressure);
                    continue;
                }
                ASSERT_TRUE(std::isfinite(rho) && rho > 0.0) << T << ' ' << p << ' ' << h;
            }
}

}  // namespace
}  // namespace pullsheet::air
