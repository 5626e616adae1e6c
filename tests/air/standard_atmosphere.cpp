// SPDX-License-Identifier: Apache-2.0
#include "core/air/standard_atmosphere.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>

#include "core/air/viscosity.hpp"
#include "tests/quantities.hpp"

namespace pullsheet::air {
namespace {

using tests::celsius;

double ideal_gas_density(double altitude) {
    return standard_pressure(altitude) / (dry_air_gas_constant * standard_temperature(altitude));
}

// ISO 2533:1975 by its formulas, evaluated independently; geopotential altitude.
TEST(Iso2533Identities, Table) {
    struct Row {
        double altitude, temperature, pressure, density, viscosity;
    };
    for (const Row& row : {Row{-500, 291.400, 107477.51, 1.284891, 1.80502e-05},
                           Row{0, 288.150, 101325.00, 1.225000, 1.78938e-05},
                           Row{100, 287.500, 100129.44, 1.213283, 1.78624e-05},
                           Row{500, 284.900, 95460.84, 1.167269, 1.77366e-05},
                           Row{1000, 281.650, 89874.56, 1.111643, 1.75785e-05},
                           Row{1500, 278.400, 84555.99, 1.058067, 1.74195e-05},
                           Row{2000, 275.150, 79495.20, 1.006490, 1.72596e-05},
                           Row{2500, 271.900, 74682.52, 0.956859, 1.70989e-05},
                           Row{3000, 268.650, 70108.53, 0.909122, 1.69372e-05},
                           Row{4000, 262.150, 61640.21, 0.819129, 1.66111e-05},
                           Row{5000, 255.650, 54019.89, 0.736116, 1.62812e-05}}) {
        EXPECT_NEAR(standard_temperature(row.altitude), row.temperature, 1e-9);
        EXPECT_NEAR(standard_pressure(row.altitude), row.pressure, 0.0051);
        EXPECT_NEAR(ideal_gas_density(row.altitude), row.density, 5.1e-7);
        EXPECT_NEAR(viscosity(row.temperature), row.viscosity, 5.1e-11);
    }
}

TEST(Iso2533Identities, PressureAltitude) {
    EXPECT_NEAR(pressure_altitude(95000), 540.3371, 5.1e-5);
    EXPECT_NEAR(pressure_altitude(90000), 988.5001, 5.1e-5);
    EXPECT_NEAR(pressure_altitude(85000), 1457.2995, 5.1e-5);
    EXPECT_NEAR(pressure_altitude(103000), -138.5066, 5.1e-5);
}

// ASHRAE Handbook, Fundamentals 2017, chapter 1, table 1: pressures in whole pascals, rounded constants.
TEST(AshraeFundamentals2017Printed, StandardPressure) {
    EXPECT_NEAR(standard_pressure(-500), 107478, 1);
    EXPECT_NEAR(standard_pressure(0), 101325, 0.5);
    EXPECT_NEAR(standard_pressure(500), 95461, 1);
    EXPECT_NEAR(standard_pressure(1000), 89875, 1);
    EXPECT_NEAR(standard_pressure(4000), 61640, 1);
}

// U.S. Standard Atmosphere 1976, rows of 2 km and 4 km **geometric** altitude: geopotential altitude
// H = r Z / (r + Z) with r = 6 356 766 m.
TEST(UsStandardAtmosphere1976Printed, GeometricAltitude) {
    const auto geopotential = [](double z) { return 6356766.0 * z / (6356766.0 + z); };
    EXPECT_NEAR(standard_temperature(geopotential(4000)), 262.17, 0.0051);
    EXPECT_NEAR(standard_pressure(geopotential(2000)), 79501, 0.51);
    EXPECT_NEAR(standard_pressure(geopotential(4000)), 61660, 0.51);
    EXPECT_NEAR(ideal_gas_density(geopotential(2000)), 1.0066, 5.1e-5);
    EXPECT_NEAR(ideal_gas_density(geopotential(4000)), 0.81935, 5.1e-6);
    EXPECT_NEAR(viscosity(standard_temperature(geopotential(4000))), 1.6612e-5, 5.1e-10);
    // Geopotential is not geometric: 6 Pa at 2000 m.
    EXPECT_NEAR(standard_pressure(geopotential(2000)) - standard_pressure(2000), 6.2, 0.1);
}

// Density altitude of an ideal mixture with the saturation pressure of IAPWS, evaluated independently. Ours
// is up to 0.004 % of the vapour pressure away, which moves the altitude by less than 0.01 m, as does the
// rounding of the gas constant of vapour to 461.5 J/(kg·K) in the last row.
TEST(Iso2533Identities, DensityAltitude) {
    EXPECT_NEAR(density_altitude(celsius(35), 101325, 0.5), 801.616, 0.01);
    EXPECT_NEAR(density_altitude(celsius(35), 101325, 0.0), 693.513, 0.00051);
    EXPECT_NEAR(density_altitude(celsius(30), 84000, 0.3), 2470.237, 0.01);
    EXPECT_NEAR(density_altitude(celsius(25), 100000, 1010 / saturation_pressure(celsius(25))), 529.130,
                0.01);
}

// With CIPM-2007 for the air, the density altitude would be up to about 5 m lower, as the header says.
TEST(Picard2008Identities, DensityAltitudeOfRealAir) {
    for (double t : {15.0, 20.0, 27.0})
        for (double p : {80e3, 95e3, 101325.0, 103e3}) {
            const double real = density(celsius(t), p, 0.5);
            const double altitude = density_altitude(celsius(t), p, 0.5);
            EXPECT_GT(real, ideal_gas_density(altitude));
            EXPECT_LT(real, ideal_gas_density(altitude - 5.0)) << t << ' ' << p;
        }
}

TEST(StandardAtmosphereIdentities, RoundTrips) {
    for (double h = -5000; h <= 11000; h += 250) {
        EXPECT_NEAR(pressure_altitude(standard_pressure(h)), h, 1e-7);
        if (h > -5000 && h < 11000) {
            EXPECT_NEAR(density_altitude(standard_temperature(h), standard_pressure(h)), h, 1e-7);
        }
    }
    EXPECT_NEAR(density_altitude(288.15, 101325.0, 0.0), 0.0, 1e-8);
}

// 1 K above standard raises the density altitude by about 36.6 m (120 ft): common practice of aviation, no
// source.
TEST(CommonPractice, DensityAltitudeOfAKelvin) {
    const double standard = density_altitude(standard_temperature(0), 101325);
    EXPECT_NEAR((density_altitude(standard_temperature(0) + 10, 101325) - standard) / 10, 36.6, 3.0);
}

// Smithsonian Meteorological Tables (1951), p. 269: altimeter setting (hPa) of a station pressure (hPa) and
// elevation (m), here without the 0.3 hPa for a barometer 3 m above the ground. It takes 288 K instead of
// 288.15 K, which is 0.05 % of what the height takes away.
TEST(Smithsonian1951Printed, AltimeterSetting) {
    for (double elevation : {0.0, 250.0, 520.0, 1609.0, 2240.0})
        for (double setting : {98000.0, 101325.0, 103800.0}) {
            const double station = station_pressure(setting, elevation) / 100;
            const double published =
                station * std::pow(1 + 0.000084229 * elevation / std::pow(station, 0.19028), 5.2553);
            EXPECT_NEAR(published, setting / 100, 0.02 + 6e-4 * (setting / 100 - station)) << elevation;
        }
}

// The barometer on the wall shows less than the forecast.
TEST(StandardAtmosphereIdentities, StationPressure) {
    EXPECT_NEAR(station_pressure(101325, 1500), standard_pressure(1500), 1e-8);
    EXPECT_NEAR(station_pressure(102100, 0), 102100, 1e-8);
    EXPECT_NEAR(pressure_altitude(station_pressure(102100, 730)) - pressure_altitude(102100), 730, 1e-7);
    EXPECT_LT(station_pressure(101325, 500), 0.943 * 101325);
}

TEST(StandardAtmosphere, RefusesTheImpossible) {
    const double nan = std::numeric_limits<double>::quiet_NaN(),
                 inf = std::numeric_limits<double>::infinity();
    for (double bad : {nan, inf, -inf, -5001.0, 11001.0, 50000.0}) {
        EXPECT_THROW(standard_pressure(bad), InvalidArgument);
        EXPECT_THROW(standard_temperature(bad), InvalidArgument);
        EXPECT_THROW(station_pressure(101325, bad), InvalidArgument);
    }
    for (double bad : {nan, inf, 0.0, -1.0, 1013.25, 1e6}) {
        EXPECT_THROW(pressure_altitude(bad), InvalidArgument);
        EXPECT_THROW(station_pressure(bad, 100), InvalidArgument);
    }
    EXPECT_THROW(density_altitude(nan, 101325), InvalidArgument);
    EXPECT_THROW(density_altitude(celsius(20), nan), InvalidArgument);
    EXPECT_THROW(density_altitude(celsius(20), 101325, nan), InvalidArgument);
    EXPECT_THROW(density_altitude(celsius(20), 300e3), NoSolution);
    EXPECT_THROW(density_altitude(celsius(20), 20e3), NoSolution);
    // The ends of the pressures and of the altitudes meet.
    EXPECT_NEAR(standard_pressure(11000), possible::altitude_pressure.low, 0.1);
    EXPECT_NEAR(standard_pressure(-5000), possible::altitude_pressure.high, 20);
    EXPECT_LT(standard_pressure(-5000), possible::altitude_pressure.high);
    EXPECT_NEAR(standard_pressure(-2000), established::altitude_pressure.high, 10);
    EXPECT_LT(standard_pressure(-2000), established::altitude_pressure.high);
    // No place and no weather leaves the standard atmosphere.
    for (double pressure : {possible::sea_level_pressure.low, possible::sea_level_pressure.high})
        for (double elevation : {possible::elevation.low, possible::elevation.high})
            EXPECT_GT(station_pressure(pressure, elevation), 22632);
}

}  // namespace
}  // namespace pullsheet::air
