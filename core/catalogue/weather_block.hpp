// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "core/catalogue/block.hpp"
#include "core/road/vehicle.hpp"

namespace pullsheet::catalogue {

/// The weather block as the catalogue takes it.
const BlockSchema& weather_schema();

/// The day, SI. Without a block: the standard atmosphere at sea level, dry and still.
struct Day {
    double temperature = 288.15;  ///< K
    double pressure = 101325.0;   ///< Pa, at the station
    double humidity = 0.0;        ///< share
    double headwind = 0.0;        ///< m/s
    double slope = 0.0;           ///< rise / run
};

/// The day from its block; a sea-level pressure is turned into the station's. Throws Refused.
Day day_from(const Block& block, std::string_view parameter, Language language);

/// What the road sees of the day. Adds a warning outside the range of the density formula.
road::Surroundings road_weather(const Day& day);

}  // namespace pullsheet::catalogue
