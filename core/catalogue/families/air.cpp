// SPDX-License-Identifier: Apache-2.0
#include "core/air/moist_air.hpp"
#include "core/air/standard_atmosphere.hpp"
#include "core/catalogue/families/families.hpp"

namespace pullsheet::catalogue::families {
namespace {

Parameter temperature(Interval established) {
    return number("temperature", "air temperature", Quantity::temperature, "°C",
                  Si(air::possible::temperature))
        .established(Si(established));
}

Parameter pressure() {
    return number("pressure", "absolute station pressure: the barometer on the wall, not the forecast",
                  Quantity::pressure, "kPa", Si(air::possible::pressure))
        .of(figures::air_pressure);
}

Parameter humidity() {
    return share("humidity", "relative humidity").of(figures::share).otherwise(0);
}

Parameter altitude() {
    return number("altitude", "geopotential altitude", Quantity::length, "m", Si(air::possible::altitude))
        .established(Si(air::established::altitude));
}

}  // namespace

std::vector<Function> air() {
    return {
        {
            .name = "AIR.VAPOUR.PRESSURE",
            .summary = "Partial pressure of the water vapour in air",
            .parameters = {temperature(air::established::vapour_temperature),
                           share("humidity", "relative humidity").of(figures::share)},
            .result = Result::number("partial pressure of water vapour", Quantity::pressure, "kPa")
                          .of(figures::vapour_pressure),
            .method = "Saturation formula of CIPM-2007 times the humidity; the enhancement factor of moist "
                      "air (1.004 near 1 bar) is left out, as in the power standards.",
            .formula = "p_v = φ·exp(A·T^2 + B·T + C + D/T)",
            .symbols = "φ humidity, T temperature in K, p_v in Pa; A = 1.2378847e-5, B = -1.9121316e-2, C = "
                       "33.93711047, D = -6343.1645",
            .sources = {"Picard 2008"},
            .example = {{25.0, 0.5}, 1.58487849, 1e-8},
            .compute = [](Call& call) -> Answer { return air::vapour_pressure(call.si(0), call.si(1)); },
            .accuracy = "within 0.01 % of IAPWS (Wagner & Pruss 1993) from 0 to 50 °C",
        },
        {
            .name = "AIR.HUMIDITY",
            .summary = "Relative humidity from the dew point",
            .parameters = {temperature(air::established::vapour_temperature),
                           number("dew_point", "dew point, not above the temperature", Quantity::temperature,
                                  "°C", Si(air::possible::temperature))
                               .established(Si(air::established::vapour_temperature))},
            .result = Result::plain("relative humidity, 0 to 1", Quantity::share).of(figures::share),
            .method =
                "Ratio of the saturation pressures (CIPM-2007) at the dew point and at the temperature.",
            .formula = "φ = p_sat(t_d)/p_sat(t)",
            .symbols = "p_sat saturation pressure, t_d dew point, t temperature",
            .sources = {"Picard 2008"},
            .example = {{25.0, 13.863973}, 0.4999763211, 1e-8},
            .compute = [](Call& call) -> Answer { return air::humidity(call.si(0), call.si(1)); },
        },
        {
            .name = "AIR.STATION.PRESSURE",
            .summary = "Station pressure from the sea-level pressure of a forecast",
            .parameters = {number("sea_level_pressure",
                                  "altimeter setting, or the pressure a forecast gives for sea level",
                                  Quantity::pressure, "kPa", Si(air::possible::sea_level_pressure))
                               .established(Si(air::established::sea_level_pressure)),
                           number("elevation", "elevation above sea level", Quantity::length, "m",
                                  Si(air::possible::elevation))
                               .of(figures::height)},
            .result = Result::number("absolute pressure at the station", Quantity::pressure, "kPa")
                          .of(figures::air_pressure),
            .method = "The altimeter setting is reduced to the elevation in the ISA; the result is what a "
                      "barometer on the wall reads. Power standards and air flow need this pressure.",
            .formula = "p = p_0·(1 - L·(H_0 + h)/T_0)^(g/(R·L)); H_0 = T_0/L·(1 - (p_s/p_0)^(R·L/g))",
            .symbols = "p_s sea-level pressure, h elevation, p_0 101.325 kPa, T_0 288.15 K, L 6.5 K/km, g "
                       "9.80665 m/s², R 287.05287 J/(kg·K)",
            .sources = {"ICAO Doc 7488", "ISO 2533"},
            .example = {{101.6, 310.0}, 97.92283208, 1e-8},
            .compute = [](Call& call) -> Answer { return air::station_pressure(call.si(0), call.si(1)); },
            .accuracy = "up to 500 m, the sea-level pressure of a weather map gives the same result within "
                        "about 1 hPa",
        },
        {
            .name = "AIR.DENSITY",
            .summary = "Density of moist air",
            .parameters = {temperature(air::established::density_temperature),
                           pressure().established(Si(air::established::density_pressure)), humidity()},
            .result = Result::number("density", Quantity::density, "kg/m³").of(figures::air_density),
            .method = "CIPM-2007 with a carbon dioxide share of 0.0004 in the dry air.",
            .formula = "ρ = p·M_a/(Z·R·T)·(1 - x_v·(1 - M_v/M_a))",
            .symbols = "p pressure, T temperature, x_v molar share of vapour, Z compressibility factor, M_a "
                       "28.96546 g/mol, M_v 18.01528 g/mol, R 8.314472 J/(mol·K)",
            .sources = {"Picard 2008"},
            .example = {{20.0, 101.325, 0.5}, 1.1993139, 1e-7},
            .compute = [](Call& call) -> Answer { return air::density(call.si(0), call.si(1), call.si(2)); },
            .accuracy = "22 parts per million in the established range, as stated by the authors",
        },
        {
            .name = "AIR.STANDARD.PRESSURE",
            .summary = "Pressure of the standard atmosphere",
            .parameters = {altitude()},
            .result =
                Result::number("absolute pressure", Quantity::pressure, "kPa").of(figures::air_pressure),
            .method = "ISO 2533, constant lapse rate up to 11 000 m; geopotential altitude.",
            .formula = "p = p_0·(1 - L·H/T_0)^(g/(R·L))",
            .symbols =
                "H altitude, p_0 101.325 kPa, T_0 288.15 K, L 6.5 K/km, g 9.80665 m/s², R 287.05287 J/(kg·K)",
            .sources = {"ISO 2533"},
            .example = {{1000.0}, 89.87456, 1e-7},
            .compute = [](Call& call) -> Answer { return air::standard_pressure(call.si(0)); },
        },
        {
            .name = "AIR.STANDARD.TEMPERATURE",
            .summary = "Temperature of the standard atmosphere",
            .parameters = {altitude()},
            .result = Result::number("temperature", Quantity::temperature, "°C").of(figures::air_temperature),
            .method = "ISO 2533, 6.5 K for each kilometre up to 11 000 m; geopotential altitude.",
            .formula = "T = T_0 - L·H",
            .symbols = "H altitude, T_0 288.15 K, L 6.5 K/km",
            .sources = {"ISO 2533"},
            .example = {{1000.0}, 8.5},
            .compute = [](Call& call) -> Answer { return air::standard_temperature(call.si(0)); },
        },
        {
            .name = "AIR.PRESSURE.ALTITUDE",
            .summary = "Pressure altitude: altitude at which the standard atmosphere has the given pressure",
            .parameters = {number("pressure", "absolute pressure at the station", Quantity::pressure, "kPa",
                                  Si(air::possible::altitude_pressure))
                               .of(figures::air_pressure)
                               .established(Si(air::established::altitude_pressure))},
            .result = Result::number("geopotential altitude", Quantity::length, "m").of(figures::altitude),
            .method = "ISO 2533 solved for the altitude.",
            .formula = "H = T_0/L·(1 - (p/p_0)^(R·L/g))",
            .symbols =
                "p pressure, p_0 101.325 kPa, T_0 288.15 K, L 6.5 K/km, g 9.80665 m/s², R 287.05287 J/(kg·K)",
            .sources = {"ISO 2533"},
            .example = {{95.0}, 540.3371, 1e-6},
            .compute = [](Call& call) -> Answer { return air::pressure_altitude(call.si(0)); },
        },
        {
            .name = "AIR.DENSITY.ALTITUDE",
            .summary =
                "Density altitude: altitude at which the standard atmosphere has the air density of the day",
            .parameters = {temperature(air::established::vapour_temperature), pressure(), humidity()},
            .result = Result::number("geopotential altitude", Quantity::length, "m").of(figures::altitude),
            .method = "Altitude of equal density in the ISA. Both are treated as ideal gases, so that "
                      "standard air gives its own altitude.",
            .formula = "H = T_0/L·(1 - (ρ/ρ_0)^(R·L/(g - R·L)))",
            .symbols = "ρ density of the moist air, ρ_0 = p_0/(R·T_0), p_0 101.325 kPa, T_0 288.15 K, L 6.5 "
                       "K/km, g 9.80665 m/s², R 287.05287 J/(kg·K)",
            .sources = {"ISO 2533", "Picard 2008"},
            .example = {{35.0, 101.325, 0.5}, 801.6119326, 1e-8},
            .compute = [](Call& call) -> Answer {
                return air::density_altitude(call.si(0), call.si(1), call.si(2));
            },
        },
    };
}

}  // namespace pullsheet::catalogue::families
