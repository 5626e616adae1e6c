// SPDX-License-Identifier: Apache-2.0
#include "core/dyno/correction.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/air/moist_air.hpp"
#include "core/air/standard_atmosphere.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::dyno {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double inf = std::numeric_limits<double>::infinity();

using tests::celsius;

bool warns(const std::vector<Warning>& warnings, Reason reason) {
    return std::any_of(warnings.begin(), warnings.end(),
                       [&](const Warning& w) { return w.reason == reason; });
}

// Six days, with the factors of the standards' formulas evaluated independently. The vapour pressure there is
// that of IAPWS (Wagner & Pruss 1993), printed to 1 mPa.
struct Day {
    double t, pressure, humidity, vapour;
    double iso, j1349, j607, din;
    double fa, fa_r85, fa_iso, fa_iso_coolant;
    double iso_50, r85_turbo_50, r85_turbo_70, r85_turbo_30;
};

constexpr Day days[] = {
    {25, 100000, -1, 1000.000, 1.0000000, 1.0000000, 1.0400472, 1.0216068, 1.0000000, 1.0000000, 1.0000000,
     1.0000000, 1.0000000, 1.0000000, 1.0000000, 1.0000000},
    {15, 101325, 0.0, 0.000, 0.9528138, 0.9534143, 0.9989955, 0.9911862, 0.9539859, 0.9347755, 0.9443967,
     0.9606526, 0.9693881, 0.9564601, 0.9222503, 0.9799687},
    {35, 100000, 0.6, 3377.434, 1.0501918, 1.0491528, 1.0833614, 1.0386064, 1.0485539, 1.0687874, 1.0582566,
     1.0409354, 1.0317866, 1.0448845, 1.0831026, 1.0201579},
    {10, 102500, 0.7, 859.679, 0.9393449, 0.9400470, 0.9872180, 0.9712812, 0.9394383, 0.9085601, 0.9227470,
     0.9468857, 0.9596062, 0.9386710, 0.8913010, 0.9716416},
    {30, 84000, 0.3, 1274.076, 1.2529337, 1.2439304, 1.2550412, 1.2263591, 1.2107432, 1.1626127, 1.1568236,
     1.1472391, 1.1345257, 1.1045544, 1.1981800, 1.0462381},
    {20, 95000, 0.5, 1169.597, 1.0557006, 1.0545233, 1.0881085, 1.0663158, 1.0426716, 1.0122346, 1.0173860,
     1.0260300, 1.0279628, 1.0080581, 1.0146994, 1.0036548},
};

/// The first day is given by its vapour pressure of 1 kPa: that is the reference day of ISO 1585.
double humidity(const Day& day) {
    return day.humidity >= 0.0 ? day.humidity : day.vapour / air::saturation_pressure(celsius(day.t));
}

// Our saturation pressure (CIPM-2007) is within 0.004 % of IAPWS up to 40 °C. An error Δe of the vapour
// pressure moves a factor f that goes with the power n of the dry pressure p by f n Δe / p; here n is at
// most 1.2 and f 1.26. Added is half a unit of the last printed digit.
double tolerance(const Day& day) {
    return 5.1e-8 + 1.26 * 1.2 * 4e-5 * day.vapour / (day.pressure - day.vapour);
}

TEST(WagnerPruss1993Independent, VapourPressureOfTheDays) {
    for (const Day& day : days)
        EXPECT_NEAR(air::vapour_pressure(celsius(day.t), humidity(day)), day.vapour,
                    5.1e-4 + 4e-5 * day.vapour);
}

TEST(Iso1585Identities, SparkIgnition) {
    for (const Day& day : days)
        for (Standard standard :
             {Standard::iso_1585, Standard::ece_r85, Standard::directive_80_1269_eec, Standard::jis_d_1001})
            EXPECT_NEAR(correction(standard, celsius(day.t), day.pressure, humidity(day)).factor, day.iso,
                        tolerance(day));
    EXPECT_NEAR(correction(Standard::iso_1585, celsius(35), 100e3, 0.6).dry_pressure, 96622.566,
                5.1e-4 + 4e-5 * 3377);
}

TEST(SaeJ1349Identities, SparkIgnition) {
    for (const Day& day : days)
        EXPECT_NEAR(correction(Standard::sae_j1349, celsius(day.t), day.pressure, humidity(day)).factor,
                    day.j1349, tolerance(day));
}

TEST(SaeJ607Identities, SparkIgnition) {
    for (const Day& day : days)
        EXPECT_NEAR(correction(Standard::sae_j607, celsius(day.t), day.pressure, humidity(day)).factor,
                    day.j607, tolerance(day));
}

// The total pressure counts, so the values hold to the printed digit whatever the vapour.
TEST(Din70020Identities, SparkIgnition) {
    for (const Day& day : days)
        EXPECT_NEAR(correction(Standard::din_70020, celsius(day.t), day.pressure, humidity(day)).factor,
                    day.din, 5.1e-8);
}

TEST(Iso1585Identities, CompressionIgnition) {
    const auto iso = DieselStandard::iso_1585;
    for (const Day& day : days) {
        const double T = celsius(day.t), h = humidity(day);
        const auto natural =
            diesel_correction(iso, DieselCharging::no_turbocharger, T, day.pressure, h, 0.050);
        EXPECT_NEAR(natural.atmospheric_factor, day.fa, tolerance(day));
        EXPECT_NEAR(natural.engine_factor, 0.66, 1e-12);
        EXPECT_NEAR(natural.factor, day.iso_50, tolerance(day));
        const auto air_cooled =
            diesel_correction(iso, DieselCharging::turbocharger, T, day.pressure, h, 0.050);
        EXPECT_NEAR(air_cooled.atmospheric_factor, day.fa_iso, tolerance(day));
        const auto liquid_cooled =
            diesel_correction(iso, DieselCharging::turbocharger_coolant, T, day.pressure, h, 0.050);
        EXPECT_NEAR(liquid_cooled.atmospheric_factor, day.fa_iso_coolant, tolerance(day));
    }
}

TEST(UnRegulation85Identities, CompressionIgnition) {
    for (DieselStandard standard : {DieselStandard::ece_r85, DieselStandard::directive_80_1269_eec})
        for (DieselCharging charging : {DieselCharging::turbocharger, DieselCharging::turbocharger_coolant})
            for (const Day& day : days) {
                const auto at = [&](double fuel) {
                    return diesel_correction(standard, charging, celsius(day.t), day.pressure, humidity(day),
                                             fuel);
                };
                EXPECT_NEAR(at(0.050).atmospheric_factor, day.fa_r85, tolerance(day));
                EXPECT_NEAR(at(0.050).factor, day.r85_turbo_50, tolerance(day));
                EXPECT_NEAR(at(0.070).factor, day.r85_turbo_70, tolerance(day));
                EXPECT_NEAR(at(0.030).factor, day.r85_turbo_30, tolerance(day));
            }
    for (const Day& day : days)
        EXPECT_NEAR(diesel_correction(DieselStandard::ece_r85, DieselCharging::no_turbocharger,
                                      celsius(day.t), day.pressure, humidity(day), 0.050)
                        .atmospheric_factor,
                    day.fa, tolerance(day));
}

double engine_factor(DieselStandard standard, double milligrams_per_litre, double boost_ratio = 1.0) {
    return diesel_correction(standard, DieselCharging::turbocharger, celsius(25), 100e3, 0.0,
                             milligrams_per_litre * 1e-3, boost_ratio)
        .engine_factor;
}

// The constants of the two texts differ.
TEST(UnRegulation85Identities, EngineFactorDiffersFromIso1585) {
    const auto iso = DieselStandard::iso_1585, r85 = DieselStandard::ece_r85;
    EXPECT_EQ(engine_factor(iso, 37.1), 0.2);
    EXPECT_EQ(engine_factor(r85, 37.1), 0.3);
    EXPECT_NEAR(engine_factor(iso, 37.3), 0.036 * 37.3 - 1.14, 1e-12);
    EXPECT_NEAR(engine_factor(iso, 39.0), 0.264, 1e-12);
    EXPECT_EQ(engine_factor(r85, 39.0), 0.3);
    EXPECT_NEAR(engine_factor(r85, 40.1), 0.036 * 40.1 - 1.14, 1e-12);
    for (DieselStandard standard : {iso, r85}) {
        EXPECT_NEAR(engine_factor(standard, 50.0), 0.66, 1e-12);
        EXPECT_NEAR(engine_factor(standard, 65.0), 1.2, 1e-12);
        EXPECT_EQ(engine_factor(standard, 65.1), 1.2);
        EXPECT_EQ(engine_factor(standard, 200.0), 1.2);
    }
}

// 6.5 g/s, 1.968 L, 3800 1/min, four strokes, boost ratio 2.30, evaluated independently with Z = 120 000.
TEST(Iso1585Identities, FuelPerCycle) {
    const double q = fuel_per_cycle(6.5e-3, 1.968e-3, 3800 * 2 * pi / 60);
    EXPECT_NEAR(q * 1e3, 104.3004, 5.1e-5);
    EXPECT_NEAR(engine_factor(DieselStandard::iso_1585, q * 1e3, 2.30), 0.4925278, 5.1e-8);
    EXPECT_NEAR(engine_factor(DieselStandard::ece_r85, q * 1e3, 2.30), 0.4925278, 5.1e-8);
    EXPECT_NEAR(fuel_per_cycle(6.5e-3, 1.968e-3, 3800 * 2 * pi / 60, 2), q / 2, 1e-15);
}

// The engine factor is an exponent, not a factor: UN Regulation No. 85, supplement 8.
TEST(UnRegulation85Identities, EngineFactorIsAnExponent) {
    const auto at = diesel_correction(DieselStandard::ece_r85, DieselCharging::turbocharger, celsius(35),
                                      100e3, 0.6, 0.05);
    EXPECT_NEAR(at.factor, std::pow(at.atmospheric_factor, at.engine_factor), 1e-15);
    EXPECT_GT(at.factor, 1.0);
    EXPECT_LT(at.atmospheric_factor * at.engine_factor, 1.0);
}

// Traps.

TEST(Din70020Identities, TakesTheTotalPressure) {
    EXPECT_EQ(correction(Standard::din_70020, celsius(35), 100e3, 0.6).factor,
              correction(Standard::din_70020, celsius(35), 100e3, 0.0).factor);
    EXPECT_NEAR(correction(Standard::din_70020, celsius(20), 101300, 0.8).factor, 1.0, 1e-15);
    // Taking the dry pressure would be 3.5 % off.
    EXPECT_GT(1.0749108 / correction(Standard::din_70020, celsius(35), 100e3, 0.6).factor, 1.034);
    for (Standard dry : {Standard::iso_1585, Standard::sae_j1349, Standard::sae_j607, Standard::ece_r85,
                         Standard::directive_80_1269_eec, Standard::jis_d_1001})
        EXPECT_GT(correction(dry, celsius(35), 100e3, 0.6).factor,
                  correction(dry, celsius(35), 100e3, 0.0).factor + 0.03);
}

TEST(SaeJ607Identities, RefersTo60FahrenheitAnd2992InchesDry) {
    const double sixty_fahrenheit = celsius((60.0 - 32.0) * 5.0 / 9.0);
    EXPECT_NEAR(correction(Standard::sae_j607, sixty_fahrenheit, 29.92 * 3386.388640341, 0.0).factor, 1.0,
                1e-12);
    EXPECT_GT(correction(Standard::sae_j607, sixty_fahrenheit, 29.92 * 3386.388640341, 0.5).factor, 1.005);
}

// The texts write 273 + t and 298 K: at 25 °C and 99 kPa dry their factors are 1 exactly, and at 15 °C they
// differ from those with 273.15 by 1.0e-5.
TEST(Iso1585Identities, Kelvin) {
    EXPECT_NEAR(correction(Standard::iso_1585, celsius(25), 99e3).factor, 1.0, 1e-14);
    EXPECT_NEAR(correction(Standard::iso_1585, celsius(15), 99e3).factor, std::pow(288.0 / 298.0, 0.6),
                1e-14);
    EXPECT_GT(std::fabs(std::pow(288.15 / 298.15, 0.6) - std::pow(288.0 / 298.0, 0.6)), 1e-5 * 0.98);
    EXPECT_NEAR(correction(Standard::sae_j1349, celsius(25), 99e3).factor, 1.0, 1e-14);
    EXPECT_NEAR(correction(Standard::din_70020, celsius(20), 101300).factor, 1.0, 1e-14);
}

// 0.93 … 1.07: a factor outside is given, with a warning.
TEST(Iso1585Identities, FactorOutsideItsLimitsCarriesAWarning) {
    const Correction high = correction(Standard::iso_1585, celsius(30), 84e3, 0.3);
    EXPECT_NEAR(high.factor, 1.2529337, 1e-6);
    ASSERT_EQ(high.warnings.size(), 1u);
    EXPECT_EQ(high.warnings[0].reason, Reason::factor_outside_standard);
    ASSERT_EQ(high.warnings[0].details.size(), 3u);
    EXPECT_EQ(high.warnings[0].details[0].value, high.factor);
    EXPECT_EQ(high.warnings[0].details[1].value, 0.93);
    EXPECT_EQ(high.warnings[0].details[2].value, 1.07);

    EXPECT_TRUE(correction(Standard::iso_1585, celsius(25), 100e3, 0.3).warnings.empty());
    const Correction low = correction(Standard::iso_1585, celsius(15), 104e3, 0.0);
    EXPECT_LT(low.factor, 0.93);
    EXPECT_TRUE(warns(low.warnings, Reason::factor_outside_standard));
}

TEST(Iso1585Identities, TestConditionsOutsideItsLimitsCarryAWarning) {
    EXPECT_TRUE(correction(Standard::iso_1585, celsius(15), 99e3).warnings.empty());
    EXPECT_TRUE(correction(Standard::iso_1585, celsius(35), 99e3).warnings.empty());
    const auto cold = correction(Standard::iso_1585, celsius(14.9), 99e3).warnings;
    ASSERT_EQ(cold.size(), 1u);
    EXPECT_EQ(cold[0].reason, Reason::test_temperature_outside_standard);
    EXPECT_TRUE(warns(correction(Standard::iso_1585, celsius(35.1), 99e3).warnings,
                      Reason::test_temperature_outside_standard));
    EXPECT_TRUE(warns(correction(Standard::iso_1585, celsius(25), 79.9e3).warnings,
                      Reason::test_pressure_outside_standard));
    // The dry pressure counts: 80.5 kPa with 1.3 kPa of vapour.
    EXPECT_TRUE(warns(correction(Standard::iso_1585, celsius(25), 80.5e3, 0.4).warnings,
                      Reason::test_pressure_outside_standard));
    EXPECT_TRUE(warns(correction(Standard::sae_j1349, celsius(25), 89.9e3).warnings,
                      Reason::test_pressure_outside_standard));
    for (const double inside : {90.1e3, 104.9e3})
        EXPECT_FALSE(warns(correction(Standard::sae_j1349, celsius(25), inside).warnings,
                           Reason::test_pressure_outside_standard));
    EXPECT_TRUE(warns(correction(Standard::sae_j1349, celsius(25), 105.1e3).warnings,
                      Reason::test_pressure_outside_standard));
    for (Standard without : {Standard::din_70020, Standard::sae_j607})
        EXPECT_TRUE(correction(without, celsius(-20), 60e3, 0.5).warnings.empty());
    const auto diesel = [](double t, double p) {
        return diesel_correction(DieselStandard::iso_1585, DieselCharging::turbocharger, celsius(t), p, 0.0,
                                 0.1, 1.5)
            .warnings;
    };
    EXPECT_TRUE(diesel(10, 99e3).empty());
    EXPECT_TRUE(diesel(40, 99e3).empty());
    EXPECT_TRUE(warns(diesel(40.5, 99e3), Reason::test_temperature_outside_standard));
    EXPECT_TRUE(warns(diesel(25, 79e3), Reason::test_pressure_outside_standard));
    EXPECT_TRUE(warns(diesel(25, 79e3), Reason::factor_outside_standard));
}

// What the standards allow, all of it at its edges: factor, temperature of the air, dry pressure.
TEST(SaeJ1349Identities, LimitsAtTheirEdges) {
    const auto expect = [](const StandardLimits& is, Interval factor, double cold, double hot, double low,
                           double high) {
        EXPECT_EQ(is.factor.low, factor.low);
        EXPECT_EQ(is.factor.high, factor.high);
        EXPECT_NEAR(is.temperature.low, celsius(cold), 1e-9);
        EXPECT_NEAR(is.temperature.high, celsius(hot), 1e-9);
        EXPECT_EQ(is.dry_pressure.low, low);
        EXPECT_EQ(is.dry_pressure.high, high);
    };
    expect(limits(Standard::sae_j1349), {0.93, 1.07}, 15.0, 35.0, 90e3, 105e3);
    for (const Standard standard :
         {Standard::iso_1585, Standard::ece_r85, Standard::directive_80_1269_eec, Standard::jis_d_1001})
        expect(limits(standard), {0.93, 1.07}, 15.0, 35.0, 80e3, 110e3);
    for (const DieselStandard standard : {DieselStandard::iso_1585, DieselStandard::ece_r85})
        expect(limits(standard), {0.9, 1.1}, 10.0, 40.0, 80e3, 110e3);
}

// A forecast's pressure is reduced to sea level. Used at 1500 m in place of the station's, it would lose 20 %
// of the correction.
TEST(StandardAtmosphereIdentities, SeaLevelPressureIsNotStationPressure) {
    const double forecast = 101325;
    const double station = air::station_pressure(forecast, 1500);
    EXPECT_LT(correction(Standard::iso_1585, celsius(25), forecast).factor, 1.0);
    EXPECT_GT(correction(Standard::iso_1585, celsius(25), station).factor, 1.2);
}

// Mechanical efficiency of 85 %: 1.18 and 0.18 round 1/0.85 and 0.15/0.85; 0.059 % at 1500 m and 30 °C, 0.014
// % at 35 °C.
TEST(SaeJ1349Identities, RoundingOfTheMechanicalEfficiency) {
    struct Row {
        double t, pressure, humidity, exact, deviation;
    };
    for (const Row& row : {Row{30, 84e3, 0.3, 1.2432008, 0.00059}, Row{35, 100e3, 0.6, 1.0490058, 0.00014}}) {
        const double factor =
            correction(Standard::sae_j1349, celsius(row.t), row.pressure, row.humidity).factor;
        EXPECT_NEAR(factor / row.exact - 1, row.deviation, 5e-6);
    }
}

// Spread of the standards on one day: SAE J607 and DIN 70020 over SAE J1349 on the reference day of ISO 1585.
TEST(SaeJ607Identities, SpreadOfTheStandards) {
    const double h = 1000 / air::saturation_pressure(celsius(25));
    const auto restated = [&](Standard to) {
        return restated_power(100e3, Standard::sae_j1349, to, celsius(25), 100e3, h).power / 100e3;
    };
    EXPECT_NEAR(restated(Standard::sae_j607), 1.040047, 5.1e-7);
    EXPECT_NEAR(restated(Standard::din_70020), 1.021607, 5.1e-7);
}

TEST(CorrectionIdentities, RestatedPower) {
    const Standard all[] = {Standard::iso_1585,  Standard::sae_j1349, Standard::sae_j607,
                            Standard::din_70020, Standard::ece_r85,   Standard::directive_80_1269_eec,
                            Standard::jis_d_1001};
    for (Standard from : all)
        for (Standard to : all) {
            const double there = restated_power(250e3, from, to, celsius(31), 96.4e3, 0.45).power;
            EXPECT_NEAR(restated_power(there, to, from, celsius(31), 96.4e3, 0.45).power, 250e3, 1e-7);
            EXPECT_NEAR(there,
                        250e3 / correction(from, celsius(31), 96.4e3, 0.45).factor *
                            correction(to, celsius(31), 96.4e3, 0.45).factor,
                        1e-7);
        }
    EXPECT_EQ(restated_power(0.0, Standard::iso_1585, Standard::sae_j607, celsius(25), 99e3).power, 0.0);
    // A warning that both standards give in the same words is given once; another one is added.
    EXPECT_EQ(restated_power(1e3, Standard::iso_1585, Standard::ece_r85, celsius(10), 99e3).warnings.size(),
              1u);
    EXPECT_EQ(restated_power(1e3, Standard::din_70020, Standard::sae_j607, celsius(10), 99e3).warnings.size(),
              0u);
    EXPECT_EQ(restated_power(1e3, Standard::iso_1585, Standard::din_70020, celsius(10), 99e3).warnings.size(),
              1u);
    EXPECT_EQ(restated_power(1e3, Standard::iso_1585, Standard::sae_j1349, celsius(25), 79e3).warnings.size(),
              4u);
}

TEST(CorrectionIdentities, CrankPower) {
    EXPECT_NEAR(crank_power(170e3), 200e3, 1e-9);
    EXPECT_NEAR(crank_power(170e3, 0.10, 10e3), 200e3, 1e-9);
    EXPECT_EQ(crank_power(123e3, 0.0), 123e3);
    EXPECT_EQ(crank_power(0.0, 0.15, 0.0), 0.0);
    for (double bad : {nan, inf, -1.0}) {
        EXPECT_THROW(crank_power(bad), InvalidArgument);
        EXPECT_THROW(crank_power(1e5, 0.15, bad), InvalidArgument);
    }
    for (double bad : {nan, -0.01, 0.91, 1.0, 15.0}) EXPECT_THROW(crank_power(1e5, bad), InvalidArgument);
}

TEST(Correction, RefusesTheImpossible) {
    const auto expect_refused = [](auto call, const char* parameter) {
        try {
            call();
            ADD_FAILURE() << parameter;
        } catch (const InvalidArgument& error) {
            EXPECT_STREQ(error.parameter(), parameter);
        }
    };
    const Standard iso = Standard::iso_1585, din = Standard::din_70020;
    for (double bad : {nan, inf, -inf, 0.0, 25.0, 374.0}) {
        expect_refused([&] { correction(iso, bad, 99e3); }, "temperature");
        expect_refused([&] { diesel_correction(DieselStandard::iso_1585, {}, bad, 99e3, 0.0, 0.05); },
                       "temperature");
    }
    for (double bad : {nan, inf, 0.0, 99.0, 990.0, 1013e3}) {
        expect_refused([&] { correction(iso, 298.15, bad); }, "pressure");
        expect_refused([&] { correction(din, 298.15, bad); }, "pressure");
        expect_refused([&] { diesel_correction(DieselStandard::iso_1585, {}, 298.15, bad, 0.0, 0.05); },
                       "pressure");
    }
    for (double bad : {nan, -0.1, 1.1, 50.0}) {
        expect_refused([&] { correction(iso, 298.15, 99e3, bad); }, "humidity");
        expect_refused([&] { correction(din, 298.15, 99e3, bad); }, "humidity");
    }
    expect_refused([&] { correction(iso, celsius(90), 60e3, 1.0); }, "humidity");
    for (double bad : {nan, 0.0, -0.05, 50.0}) {
        expect_refused([&] { diesel_correction(DieselStandard::ece_r85, {}, 298.15, 99e3, 0.0, bad); },
                       "fuel_per_cycle");
        expect_refused([&] { fuel_per_cycle(bad > 1 ? nan : bad, 2e-3, 400); }, "fuel_flow");
    }
    for (double bad : {nan, 0.0, 0.99, 11.0})
        expect_refused([&] { diesel_correction(DieselStandard::ece_r85, {}, 298.15, 99e3, 0.0, 0.05, bad); },
                       "boost_ratio");
    for (double bad : {nan, inf, -1.0})
        expect_refused([&] { restated_power(bad, iso, din, 298.15, 99e3); }, "power");
    expect_refused([&] { fuel_per_cycle(6.5e-3, 0.0, 400); }, "displacement");
    expect_refused([&] { fuel_per_cycle(6.5e-3, 2e-3, 0.0); }, "speed");
    expect_refused([&] { fuel_per_cycle(6.5e-3, 2e-3, 400, 3); }, "strokes");
}

// Finite and positive over everything possible, and falling as the pressure rises.
TEST(Correction, SweepOfThePossibleRange) {
    for (Standard standard :
         {Standard::iso_1585, Standard::sae_j1349, Standard::sae_j607, Standard::din_70020})
        for (double T = possible::temperature.low; T <= celsius(60); T += 3.0)
            for (double h : {0.0, 0.3, 1.0}) {
                double before = inf;
                for (double p = possible::pressure.low; p <= possible::pressure.high; p += 5e3) {
                    const double factor = correction(standard, T, p, h).factor;
                    ASSERT_TRUE(std::isfinite(factor) && factor > 0.0 && factor < before)
                        << T << ' ' << p << ' ' << h;
                    before = factor;
                }
            }
}

}  // namespace
}  // namespace pullsheet::dyno
