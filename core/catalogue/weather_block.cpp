// SPDX-License-Identifier: Apache-2.0
#include "core/catalogue/weather_block.hpp"

#include "core/air/moist_air.hpp"
#include "core/air/standard_atmosphere.hpp"
#include "core/catalogue/reader.hpp"

namespace pullsheet::catalogue {

const BlockSchema& weather_schema() {
    static const BlockSchema schema{
        .name = "weather",
        .labels =
            {
                Label("temperature", "air temperature", Quantity::temperature, "°C", between(-60, 60))
                    .of(figures::air_temperature)
                    .otherwise(15),
                Label("pressure", "station pressure, absolute: the barometer on the wall", Quantity::pressure,
                      "kPa", between(40, 115))
                    .of(figures::air_pressure)
                    .optional(),
                Label("sea level pressure",
                      "pressure reduced to sea level, as in a forecast; needs the elevation",
                      Quantity::pressure, "kPa", between(85, 110))
                    .of(figures::sea_level_pressure)
                    .optional(),
                Label("elevation", "height above sea level", Quantity::length, "m", between(-500, 6000))
                    .of(figures::height)
                    .optional(),
                Label("humidity", "relative humidity", Quantity::share, "", unit_share).otherwise(0),
                Label("headwind", "headwind; negative for a tailwind", Quantity::speed, "km/h",
                      between(-150, 150))
                    .of(figures::wind)
                    .otherwise(0),
                Label("slope", "rise of the track / its length, uphill positive", Quantity::share, "",
                      between(-0.5, 0.5))
                    .of(figures::slope)
                    .otherwise(0),
            },
        .one_of = {{"pressure", "sea level pressure"}},
    };
    return schema;
}

Day day_from(const Block& block, std::string_view parameter, Language language) {
    Day day;
    day.temperature = block.number("temperature");
    day.humidity = block.number("humidity");
    day.headwind = block.number("headwind");
    day.slope = block.number("slope");
    const auto refuse = [&](Phrase phrase) {
        return Refused{FailureKind::wrong_argument,
                       say(language, phrase, {{"parameter", std::string(parameter)}})};
    };
    if (const auto sea_level = block.find("sea level pressure")) {
        const auto elevation = block.find("elevation");
        if (!elevation) throw refuse(Phrase::weather_elevation_missing);
        day.pressure = air::station_pressure(*sea_level, *elevation);
    } else if (const auto pressure = block.find("pressure")) {
        day.pressure = *pressure;
    } else if (const auto elevation = block.find("elevation")) {
        // If only the altitude is known, the pressure is that of the standard atmosphere.
        day.pressure = air::station_pressure(day.pressure, *elevation);
    }
    return day;
}

road::Surroundings road_weather(const Day& day) {
    road::Surroundings weather;
    weather.air_density = air::density(day.temperature, day.pressure, day.humidity);
    weather.headwind = day.headwind;
    weather.slope = day.slope;
    return weather;
}

}  // namespace pullsheet::catalogue
